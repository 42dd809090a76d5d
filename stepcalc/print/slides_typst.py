"""Slides as PDF: one page for each stage, so that any viewer reveals a step line by line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.print import views
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import prepare
from stepcalc.print.slides import slides_of, starts_with_sign
from stepcalc.print.typst import (
    compile_typst,
    document_date,
    document_title,
    typst_environment,
)

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = ["slides_typst_files", "to_slides_pdf"]


def slides_typst_files(
    document: b.Document, options: Options = DEFAULT, *, reveal: bool = True, folder: str = ""
) -> dict[str, bytes]:
    """Return the Typst source of slides and the pictures that they show, by file name.

    Parameters
    ----------
    document : Document
    options : Options, optional
        The paper is not used: a slide is 254 mm by 142.9 mm.
    reveal : bool
        A page for each stage; otherwise one page a slide.
    folder : str
        Stands before the name of each picture.

    Returns
    -------
    dict of str to bytes
        ``main.typ`` is the source.
    """
    ready = prepare(document, "svg", folder=folder)
    ours = typst_environment(options.templates)
    ours.filters["starts_with_sign"] = starts_with_sign
    source = ours.get_template("typst/slides.typ.j2").render(
        title=document_title(document), date=document_date(document.title),
        slides=slides_of(ready), reveal=reveal, safety=views.SAFETY, identity=options.identity,
        prepared=ready,
    )  # fmt: skip
    files = {"main.typ": source.encode()}
    files.update({picture.file: picture.content for picture in ready.pictures.values()})
    return files


def to_slides_pdf(
    document: b.Document, options: Options = DEFAULT, *, reveal: bool = True
) -> bytes:
    """Return a document as slides in a PDF, tagged and archival as the sheets are.

    Raises
    ------
    PrintError
        If a part of the document cannot be set; the message names the part.
    """
    return compile_typst(slides_typst_files(document, options, reveal=reveal))

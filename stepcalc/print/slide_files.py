"""Slides written to a file: HTML that reveals by keys, PDF with a page for each stage, Typst."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from stepcalc.errors import PrintError
from stepcalc.print.options import Options
from stepcalc.print.package import settled, write_figures, write_whole

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = ["SLIDE_SUFFIXES", "print_slides"]

SLIDE_SUFFIXES = (".html", ".pdf", ".typ")


def print_slides(
    document: b.Document,
    path: str | Path,
    *,
    templates: str | Path | None = None,
    allow_stale: bool = False,
    provenance: str = "",
    reveal: bool = True,
) -> Path:
    """Write a document as slides.

    Parameters
    ----------
    document : Document
    path : str or Path
        Ends in ``.html``, ``.pdf`` or ``.typ``. The file appears whole or not at all.
    templates, allow_stale, provenance
        As in :func:`stepcalc.print.print_document`.
    reveal : bool
        In PDF and Typst a page for each stage; otherwise one page a slide.

    Returns
    -------
    Path
        Where the file is.

    Raises
    ------
    PrintError
        If the suffix is another, the file cannot be written, or a part cannot be set.
    StaleError
        If the document holds stale results and they are not allowed.
    """
    target = Path(path)
    suffix = target.suffix.lower()
    if suffix not in SLIDE_SUFFIXES:
        ends = f"ends in {target.suffix!r}" if target.suffix else "has no suffix"
        wanted = ", ".join(SLIDE_SUFFIXES)
        raise PrintError(f"{target.name!r} {ends}; slides are written to {wanted}")
    document = settled(document, allow_stale=allow_stale)
    own = Path(templates) if templates is not None else None
    options = Options(templates=own, provenance=provenance)
    try:
        if suffix == ".html":
            from stepcalc.print.slides_html import to_slides_html

            write_whole(target, to_slides_html(document, options).encode())
        elif suffix == ".pdf":
            from stepcalc.print.slides_typst import to_slides_pdf

            write_whole(target, to_slides_pdf(document, options, reveal=reveal))
        else:
            from stepcalc.print.slides_typst import slides_typst_files

            folder = f"{target.stem}-figures/"
            files = slides_typst_files(document, options, reveal=reveal, folder=folder)
            source = files.pop("main.typ")
            write_figures(target, {Path(name).name: made for name, made in files.items()})
            write_whole(target, source)
    except OSError as error:
        reason = error.strerror or str(error)
        raise PrintError(f"cannot write {target}: {reason[:1].lower()}{reason[1:]}") from error
    return target

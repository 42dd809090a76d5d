"""Printing a document to a file: the suffix says in which form."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from stepcalc.errors import PrintError, StaleError
from stepcalc.print.disposition import with_dispositions
from stepcalc.print.options import Options, front_of_profile, made_options
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b
from stepcalc.render.document import read_document

SUFFIXES = (".pdf", ".html", ".tex", ".typ")


def print_document(
    document: b.Document | Mapping[str, Any],
    path: str | Path,
    *,
    paper: str = "letter",
    templates: str | Path | None = None,
    allow_stale: bool = False,
    provenance: str = "",
    usual_front: bool = False,
    **choices: Any,
) -> Path:
    """Write a document as PDF, as one HTML file, as TeX or as Typst source.

    Parameters
    ----------
    document : Document or mapping
        A mapping is read as :func:`stepcalc.render.document.read_document` does.
    path : str or Path
        Ends in ``.pdf``, ``.html``, ``.tex`` or ``.typ``. The file appears whole or not at all. TeX
        and Typst have their figures in the folder ``NAME-figures`` beside it.
    paper : {"letter", "a4"}
    templates : str or Path, optional
        A folder whose templates replace ours of the same name.
    allow_stale : bool
        Print results that no longer follow from what is above them, marked STALE.
    provenance : str
        A few words for the foot of every sheet.
    usual_front : bool
        Whether a package gets the front pages that packages have unless ``choices`` say otherwise.
    **choices
        ``cover``, ``contents``, ``front``, ``seal`` and ``trace`` of
        :class:`stepcalc.print.options.Options`.

    Returns
    -------
    Path
        Where the file is.

    Raises
    ------
    PrintError
        If the suffix is another, the file cannot be written, or a part cannot be set.
    SheetFileError
        If the document does not follow its schema.
    StaleError
        If it holds stale results and they are not allowed.
    """
    target = Path(path)
    write = _writer(target)
    record = document if isinstance(document, b.Document) else read_document(document)
    record = settled(record, allow_stale=allow_stale)
    if record.profile == "package":
        record = with_dispositions(record)
    own = Path(templates) if templates is not None else None
    if usual_front:
        choices = front_of_profile(record.profile) | choices
    chosen = made_options(paper=paper, templates=own, provenance=provenance, **choices)
    try:
        write(record, target, chosen)
    except OSError as error:
        reason = error.strerror or str(error)
        msg = f"cannot write {target}: {reason[:1].lower()}{reason[1:]}"
        raise PrintError(msg) from error
    return target


_Writer = Callable[[b.Document, Path, Options], None]


def _writer(target: Path) -> _Writer:
    writers: dict[str, _Writer] = {
        ".pdf": _write_pdf, ".html": _write_html, ".tex": _write_tex, ".typ": _write_typst,
    }  # fmt: skip
    writer = writers.get(target.suffix.lower())
    if writer is None:
        ends = f"ends in {target.suffix!r}" if target.suffix else "has no suffix"
        msg = f"{target.name!r} {ends}, which no printer writes; want {', '.join(SUFFIXES)}"
        raise PrintError(msg)
    return writer


def settled(document: b.Document, *, allow_stale: bool) -> b.Document:
    """Return a document that hides nothing out of date: it has none, or its first page says so.

    Raises
    ------
    StaleError
        If it holds stale results and they are not allowed.
    """
    stale = [
        (sheet.title, getattr(block, "name", ""))
        for sheet in document.sheets
        for block in every_block(sheet.blocks)
        if getattr(block, "stale", False)
    ]
    if not stale:
        return document
    title, name = stale[0]
    what = f"{len(stale)} results are stale, the first being {name!r} of sheet {title!r}"
    if not allow_stale:
        msg = f"{what}; run the sheet again from top to bottom, or allow stale results to print"
        raise StaleError(msg)
    notices = (*document.notices, f"STALE: {what}; do not use these sheets")
    return b.Document(document.title, document.profile, document.sheets, notices)


def _write_pdf(document: b.Document, target: Path, options: Options) -> None:
    from stepcalc.print.typst import to_pdf

    write_whole(target, to_pdf(document, options))


def _write_html(document: b.Document, target: Path, options: Options) -> None:
    from stepcalc.print.html import to_html

    write_whole(target, to_html(document, options).encode())


def _write_tex(document: b.Document, target: Path, options: Options) -> None:
    from stepcalc.print.tex import to_tex

    made = to_tex(document, options)
    write_figures(target, made.figures)
    write_whole(target, made.source.encode())


def _write_typst(document: b.Document, target: Path, options: Options) -> None:
    from stepcalc.print.typst import typst_files

    files = typst_files(document, options, folder=f"{target.stem}-figures/")
    source = files.pop("main.typ")
    write_figures(target, {Path(name).name: content for name, content in files.items()})
    write_whole(target, source)


def write_figures(target: Path, figures: Mapping[str, bytes]) -> None:
    """Write the figures of a source into the folder that it looks for them in."""
    if not figures:
        return
    folder = target.with_name(f"{target.stem}-figures")
    folder.mkdir(exist_ok=True)
    for name, content in figures.items():
        write_whole(folder / name, content)


def write_whole(target: Path, content: bytes) -> None:
    """Write beside the target and rename, so that nobody finds half a file."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=target.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        part.chmod(0o666 & ~_mask())
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask

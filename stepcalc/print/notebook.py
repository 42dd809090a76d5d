"""An executed notebook printed as a calculation package, without running it again.

What a cell stored beside its LaTeX is data, so the sheets print as well from a file that is years
old. A notebook that was never run, that ended in an error, or whose cells were run out of order
is refused in plain words: what is shown must come from one run from top to bottom.
"""

from __future__ import annotations

import json
import warnings
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stepcalc.errors import PrintError, StaleError
from stepcalc.print.disposition import Disposition, with_dispositions
from stepcalc.print.notebook_document import NotebookReader, source_of
from stepcalc.print.notebook_file import read_notebook
from stepcalc.print.notebook_traces import with_traces
from stepcalc.print.package import print_document
from stepcalc.print.prepared import every_block
from stepcalc.print.slide_files import print_slides
from stepcalc.render import blocks as b

__all__ = ["notebook_document", "print_notebook", "read_notebook", "run_notebook", "verdicts_of"]

DEFAULT_TIMEOUT = 600
WALKTHROUGH = "walkthrough"
_QUIET = "--log-level=ERROR"  # a fresh kernel would tell the terminal about its sockets


def print_notebook(
    path: str | Path,
    out: str | Path,
    run: bool = False,
    *,
    paper: str = "letter",
    templates: str | Path | None = None,
    code: bool | str | None = None,
    profile: str | None = None,
    allow_stale: bool = False,
    timeout: int = DEFAULT_TIMEOUT,
    dispositions: Mapping[str, Disposition] | None = None,
    **choices: Any,
) -> list[str]:
    """Print a notebook as PDF, as one HTML file, as TeX or as Typst source.

    Parameters
    ----------
    path : str or Path
        The ``.ipynb`` file; it is only read.
    out : str or Path
        Ends in ``.pdf``, ``.html``, ``.tex`` or ``.typ``.
    run : bool
        Run all cells first, from top to bottom in a fresh kernel; the file keeps its outputs.
    paper : {"letter", "a4"}
    templates : str or Path, optional
        A folder whose templates replace ours of the same name.
    code : {"none", "tagged", "all"} or bool, optional
        Which code cells are printed; see :class:`~stepcalc.print.notebook_document.CodeChoice`.
        When left out, homework prints those tagged ``show-code`` and a package none.
    profile : {"package", "homework", "walkthrough"}, optional
        Homework if the title block names a course, an assignment or a student. A walkthrough is
        slides: ``.html``, ``.pdf`` or ``.typ``.
    allow_stale : bool
        Print cells that were run out of order and results that are out of date, marked STALE.
    timeout : int
        Seconds for one cell, with ``run``.
    dispositions : mapping of a check's name to what was decided, optional
        Of checks that are N.G.; others are left blank.
    **choices
        ``cover``, ``contents``, ``front``, ``seal`` and ``trace`` of
        :class:`stepcalc.print.options.Options`; a package has all front pages if left out.

    Returns
    -------
    list of str
        The verdict of every check printed, ``"OK"`` or ``"N.G."``.

    Raises
    ------
    PrintError
        If the file is no notebook, was not run, or a cell ended in an error.
    StaleError
        If results do not follow from the cells shown, and that is not allowed.
    SheetFileError
        If what a cell stored does not follow the schema.
    """
    source = Path(path)
    slides = profile == WALKTHROUGH
    if slides:
        profile, code = None, "none" if code is None else code
    document, provenance = notebook_document(
        read_notebook(source), source, run=run, code=code, profile=profile,
        allow_stale=allow_stale, timeout=timeout,
    )  # fmt: skip
    if slides:
        print_slides(
            document, out, templates=templates, allow_stale=allow_stale, provenance=provenance
        )
    else:
        if dispositions:
            document = with_dispositions(document, dispositions)
        print_document(
            document, out, paper=paper, templates=templates,
            allow_stale=allow_stale, provenance=provenance, usual_front=True, **choices,
        )  # fmt: skip
    return verdicts_of(document)


def verdicts_of(document: b.Document) -> list[str]:
    """Return the verdict of every check of a document, ``"OK"`` or ``"N.G."``."""
    return [
        block.verdict
        for sheet in document.sheets
        for block in every_block(sheet.blocks)
        if isinstance(block, b.Check)
    ]


def notebook_document(
    notebook: Mapping[str, Any],
    source: Path,
    *,
    run: bool = False,
    code: bool | str | None = None,
    profile: str | None = None,
    allow_stale: bool = False,
    timeout: int = DEFAULT_TIMEOUT,
) -> tuple[b.Document, str]:
    """Return the document that a notebook's outputs hold, and where it comes from in words.

    Parameters
    ----------
    notebook : mapping
        As nbformat reads it; ``source`` is the file it is read from, for messages.
    run, code, profile, allow_stale, timeout
        As in :func:`print_notebook`.

    Raises
    ------
    PrintError, StaleError, SheetFileError
        As in :func:`print_notebook`.
    """
    if run:
        notebook = run_notebook(notebook, source, timeout)
    _refuse_unfinished(notebook, source)
    reader = NotebookReader(source.name, code=code)
    reader.read(notebook["cells"])
    disorder = _disorder(notebook, source) or reader.lost
    if disorder:
        if not allow_stale:
            raise StaleError(f"{disorder}; run it from top to bottom, or print it with --run")
        reader.notices.append(f"STALE: {disorder}")
    provenance = f"{source.name}, " + ("run for this print" if run else "as last run")
    if not reader.has_sheets:
        reader.notices.append(
            f"no cell of {source.name} shows a calculation sheet: its text and outputs are printed "
            "as they are, and nothing on these pages was checked"
        )
    return with_traces(reader.document(profile), notebook), provenance


def run_notebook(notebook: Any, source: Path, timeout: int = DEFAULT_TIMEOUT) -> Mapping[str, Any]:
    """Run a notebook from top to bottom in a fresh kernel, beside its file.

    Raises
    ------
    PrintError
        If a cell ends in an error or takes too long, or there is no kernel.
    """
    import nbformat
    from jupyter_client.kernelspec import NoSuchKernel
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError, CellTimeoutError, DeadKernelError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # older files lack cell ids, which nothing here needs
        notebook = nbformat.reads(json.dumps(notebook), as_version=4)
    resources = {"metadata": {"path": str(source.resolve().parent)}}
    for kernel in (None, "python3"):
        client = NotebookClient(
            notebook, timeout=timeout, resources=resources, extra_arguments=[_QUIET]
        )
        if kernel is not None:
            client.kernel_name = kernel
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # of the kernel's own machinery
                ran: Mapping[str, Any] = client.execute()
        except NoSuchKernel as error:
            if kernel is not None:
                raise PrintError(f"cannot run {source.name}: no Python kernel is found") from error
        except CellExecutionError as error:
            said = f"{error.ename}: {error.evalue}"
            raise PrintError(f"{source.name} stopped while it was run: {said}") from error
        except CellTimeoutError as error:
            raise PrintError(
                f"{source.name} was stopped: a cell took longer than {timeout} s"
            ) from error
        except DeadKernelError as error:
            raise PrintError(f"{source.name} was stopped: its kernel died") from error
        else:
            return ran
    raise AssertionError("unreachable: the second kernel returns or raises")


def _code_cells(notebook: Mapping[str, Any]) -> list[tuple[int, Mapping[str, Any]]]:
    cells = enumerate(notebook["cells"], 1)
    return [(n, c) for n, c in cells if c["cell_type"] == "code" and source_of(c).strip()]


def _refuse_unfinished(notebook: Mapping[str, Any], source: Path) -> None:
    cells = _code_cells(notebook)
    unrun = [(number, cell) for number, cell in cells if cell.get("execution_count") is None]
    if not cells:
        raise PrintError(f"{source.name} has no code cells, so there is no calculation to print")
    if len(unrun) == len(cells):
        raise PrintError(
            f"{source.name} was never run, so it holds no results; run it from top to bottom and "
            "save it, or print it with --run"
        )
    if unrun:
        number, cell = unrun[0]
        raise PrintError(
            f"cell {number} of {source.name} was not run ({_begins(cell)}); run the notebook from "
            "top to bottom and save it, or print it with --run"
        )
    for number, cell in cells:
        for output in cell.get("outputs", ()):
            if output.get("output_type") == "error":
                said = f"{output.get('ename', 'error')}: {output.get('evalue', '')}"
                raise PrintError(
                    f"cell {number} of {source.name} ended in an error ({said[:300]}); "
                    "set it right and run the notebook again"
                )


def _disorder(notebook: Mapping[str, Any], source: Path) -> str:
    """Return what is wrong with the order in which the cells were run, or nothing."""
    last = (0, 0)
    for number, cell in _code_cells(notebook):
        count = int(cell["execution_count"])
        if count <= last[1]:
            return (
                f"the cells of {source.name} were run out of order: cell {number} as number "
                f"{count}, cell {last[0]} above it as number {last[1]}"
            )
        last = (number, count)
    return ""


def _begins(cell: Mapping[str, Any]) -> str:
    first = source_of(cell).strip().splitlines()[0]
    return "it begins " + repr(first if len(first) <= 50 else first[:47] + "...")

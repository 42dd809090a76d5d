"""The verbs ``handout`` and ``key``: the two papers of one homework."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import ALL_OK
from stepcalc.cli.files import FORMS, check_form, check_place
from stepcalc.errors import PrintError

__all__ = ["add", "add_room", "write_handout"]

_EXITS = "exit codes: 0 written; 2 the input or the run failed"
_SOURCE = "an executed notebook (.ipynb), or a sheet that to_json() wrote (.json)"


def add(verbs: Any) -> None:
    """Add the verbs to the parser of the command line."""
    student = verbs.add_parser(
        "handout",
        help="the student's paper of a homework: numbers or formulas left blank",
        description="Print a homework with its numbers, or its formulas too, left for the student "
        "to fill in; a name that ends in .ipynb gives the student's copy of the notebook. Nothing "
        "of the solution is in the file. Cells tagged 'instructor' are left out, those tagged "
        "'solution' are room to work; in a notebook, so is every cell that shows results, unless "
        "it is tagged 'example'.",
        epilog=_EXITS,
    )
    _common(student)
    student.add_argument(
        "--blank", choices=("numbers", "formulas"), default="numbers",
        help="what the student fills in: numbers, or formulas too (numbers)",
    )  # fmt: skip
    student.add_argument(
        "--fill", metavar="GIVEN", action="append", default=[],
        help="a given that the student chooses, such as a shape; may be repeated",
    )  # fmt: skip
    add_room(student)
    student.set_defaults(run=_handout)

    whole = verbs.add_parser(
        "key",
        help="the instructor's key, with the band that hand rounding allows",
        description="Print a homework with its solution and the band within which an answer worked "
        "by hand is right.",
        epilog=_EXITS,
    )
    _common(whole)
    whole.add_argument(
        "--digits", type=_digits, default=3, help="significant figures that hand work carries (3)"
    )
    whole.set_defaults(run=_key)


def add_room(parser: Any) -> None:
    """Add what leaves room on a student's paper: lines to work on, and a pledge."""
    parser.add_argument(
        "--lines", type=_lines, default=4, help="lines of room to work below each step (4)"
    )
    parser.add_argument(
        "--pledge", metavar="WORDS", default="",
        help="words that the student signs at the end; a line is left for name and date",
    )  # fmt: skip


def _common(parser: Any) -> None:
    parser.add_argument("source", metavar="SOURCE", type=Path, help=_SOURCE)
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True,
        help="a .pdf, .html, .tex or .typ file",
    )  # fmt: skip
    parser.add_argument("--run", action="store_true", dest="execute", help="run the notebook first")
    parser.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper size (letter)"
    )


def _lines(text: str) -> int:
    number = int(text)
    if not 0 <= number <= 60:
        raise argparse.ArgumentTypeError("want 0 to 60 lines")
    return number


def _digits(text: str) -> int:
    number = int(text)
    if not 2 <= number <= 8:
        raise argparse.ArgumentTypeError("want 2 to 8 digits")
    return number


def _handout(options: argparse.Namespace) -> int:
    return write_handout(
        options.source, options.output, paper=options.paper, run=options.execute,
        blank=options.blank, lines=options.lines, fills=options.fill,
        pledge=options.pledge,
    )  # fmt: skip


def write_handout(
    source: Path,
    output: Path,
    *,
    paper: str,
    run: bool,
    blank: str = "numbers",
    lines: int = 4,
    fills: Iterable[str] = (),
    pledge: str = "",
) -> int:
    """Write the handout of a notebook or of a sheet's file; return the exit code."""
    from stepcalc.classroom.handout import handout
    from stepcalc.classroom.notebook_papers import notebook_handout
    from stepcalc.print import print_document
    from stepcalc.print.notebook_sheets import sheets_of_file

    check_place(output)
    check_form(output, (*FORMS, ".ipynb"))
    if output.suffix.lower() == ".ipynb":
        return _student_notebook(source, output, run)
    choices: dict[str, Any] = {
        "blank": blank,
        "lines": lines,
        "student_fills": fills,
        "pledge": pledge,
    }
    if source.suffix.lower() == ".ipynb":
        made = notebook_handout(_notebook(source, run), source, **choices)
    else:
        made = handout(sheets_of_file(source)[0], **choices)
    print_document(made, output, paper=paper)
    print(f"written: {output}")
    return ALL_OK


def _student_notebook(source: Path, output: Path, run: bool) -> int:
    """Write the student's copy of a notebook, to be worked in; return the exit code."""
    from stepcalc.classroom.student_notebook import student_notebook

    if source.suffix.lower() != ".ipynb":
        raise PrintError(f"{source} is no notebook, so there is no student's copy of it to write")
    student_notebook(source, output, run=run)
    print(f"written: {output}")
    return ALL_OK


def _key(options: argparse.Namespace) -> int:
    from stepcalc.classroom.key import key
    from stepcalc.classroom.notebook_papers import notebook_key
    from stepcalc.print import print_document
    from stepcalc.print.notebook_sheets import sheets_of_file

    check_place(options.output)
    check_form(options.output)
    source = options.source
    if source.suffix.lower() == ".ipynb":
        made = notebook_key(_notebook(source, options.execute), source, digits=options.digits)
    else:
        made = key(sheets_of_file(source)[0], digits=options.digits)
    print_document(made, options.output, paper=options.paper)
    print(f"written: {options.output}")
    return ALL_OK


def _notebook(source: Path, run: bool) -> Mapping[str, Any]:
    from stepcalc.print.notebook import read_notebook, run_notebook

    notebook = read_notebook(source)
    return run_notebook(notebook, source) if run else notebook

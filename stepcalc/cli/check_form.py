"""The verb ``check-form``: an independent check, in which the checker cannot see what to find."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import ALL_OK, SOME_NG
from stepcalc.cli.files import check_form, check_place, text_of, whole_file
from stepcalc.errors import FormulaError, PrintError

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    parser = verbs.add_parser(
        "check-form",
        help="the form of an independent check: inputs only, then both numbers",
        description="Print the inputs of a designer's sheet with room for the checker's results. "
        "The designer's number for a line is hidden until the checker's is entered; then both are "
        "shown with their difference and the disposition.",
        epilog="exit codes: 0 every result is entered and agrees; 1 one is missing or differs; 2 "
        "the input failed",
    )
    parser.add_argument(
        "source", metavar="DESIGN", type=Path,
        help="the designer's: an executed notebook, or a sheet's .json",
    )  # fmt: skip
    parser.add_argument(
        "--entries", metavar="ENTRIES.json", type=Path,
        help="the checker's file; read if it exists, and written with what is entered now",
    )  # fmt: skip
    parser.add_argument(
        "--enter", nargs=2, metavar=("RESULT", "VALUE"), action="append", default=[],
        help="the checker's number for a result, such as M_u '918 kip-ft'; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--dispose", nargs=2, metavar=("RESULT", "WORDS"), action="append", default=[],
        help="what was decided about a result that both have; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--result", metavar="NAME", action="append", default=[],
        help="a step or check to compare (what the checks compare, and their ratios)",
    )  # fmt: skip
    parser.add_argument(
        "--within", metavar="PERCENT", type=float, default=2.0,
        help="per cent by which the two may differ (2; common practice)",
    )  # fmt: skip
    parser.add_argument("-o", "--output", metavar="FORM", type=Path, help="print the form")
    parser.add_argument(
        "--template", metavar="BLANK.ipynb", type=Path,
        help="write a notebook with the inputs only, for the checker to work in",
    )  # fmt: skip
    parser.set_defaults(run=_check)


def _check(options: argparse.Namespace) -> int:
    from stepcalc.print.check_template import check_template
    from stepcalc.print.independent_check import IndependentCheck
    from stepcalc.print.notebook_sheets import sheets_of_file
    from stepcalc.print.package import print_document

    for path in filter(None, (options.output, options.entries, options.template)):
        check_place(path)
    if options.output:
        check_form(options.output)
    if (options.enter or options.dispose) and options.entries is None:
        raise PrintError("what is entered wants a file to stand in; name it with --entries")
    if not 0.0 <= options.within <= 50.0:
        raise FormulaError(f"--within is {options.within:g}; want 0 to 50 per cent")
    sheet = sheets_of_file(options.source)[0]
    form = IndependentCheck(sheet, options.result, tolerance=options.within / 100)
    if options.entries is not None and options.entries.exists():
        form.read(text_of(options.entries, "the checker's entries"))
    for name, value in options.enter:
        form.enter(name, _quantity(name, value))
    for name, words in options.dispose:
        form.dispose(name, words)
    if options.enter or options.dispose:
        with whole_file(options.entries) as part:
            part.write_text(form.to_json() + "\n", encoding="utf-8")
    if options.template:
        with whole_file(options.template) as part:
            part.write_text(check_template(sheet, form.names), encoding="utf-8")
    if options.output:
        print_document(form.document(), options.output)
    print("\n".join(columns([["result", "checker", "designer", "difference", ""], *form.rows()])))
    for path in filter(None, (options.template, options.output)):
        print(f"written: {path}")
    return ALL_OK if form.agrees else SOME_NG


def _quantity(name: str, text: str) -> Any:
    from stepcalc.classroom.answers import read_answer
    from stepcalc.units.registry import Q_

    answer = read_answer(text)
    if answer.number is None or answer.problem:
        raise FormulaError(f"the checker's {name!r} is {text!r}: {answer.problem}")
    return answer.number if answer.info is None else Q_(answer.number, answer.info.unit)

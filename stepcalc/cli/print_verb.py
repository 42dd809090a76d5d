"""The verb ``print``: an executed notebook as a package, homework, slides or a handout."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import EXITS, NOTICE, exit_code
from stepcalc.cli.files import FORMS, SLIDE_FORMS, check_form, check_place, text_of
from stepcalc.cli.print_choices import add_choices, chosen

__all__ = ["add"]

_PROFILES = ("package", "homework", "walkthrough", "handout")


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    printing = verbs.add_parser(
        "print",
        help="print an executed notebook as a calculation package",
        description="Print an executed notebook as a calculation package, as homework, as slides "
        "or as a handout. Nothing is run unless --run asks for it.",
        epilog=f"{EXITS}. {NOTICE}",
    )
    printing.add_argument("notebook", metavar="NOTEBOOK.ipynb", type=Path, help="the notebook")
    printing.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True,
        help="a .pdf, .html, .tex or .typ file",
    )  # fmt: skip
    printing.add_argument(
        "--run", action="store_true", dest="execute", help="run it first, in a fresh kernel"
    )
    printing.add_argument(
        "--profile", choices=_PROFILES, default=None,
        help="package or homework: whose head the sheets get (left out, the title block decides); "
        "walkthrough: slides that reveal each step line by line; handout: the student's paper",
    )  # fmt: skip
    printing.add_argument(
        "--code", nargs="?", const="all", choices=("none", "tagged", "all"), default=None,
        help="print the code cells too: all, or those tagged show-code (as homework does)",
    )  # fmt: skip
    printing.add_argument(
        "--allow-stale", action="store_true", help="print what is out of date, marked STALE"
    )
    add_choices(printing)
    printing.add_argument(
        "--dispositions", metavar="FILE.toml", type=Path,
        help="what was decided about checks that are N.G.: [name] with disposition, reason, by",
    )  # fmt: skip
    printing.set_defaults(run=_print)


def _print(options: argparse.Namespace) -> int:
    """Print a notebook."""
    if options.profile == "handout":
        return _handout(options)
    from stepcalc.print import print_notebook  # heavy, and only this verb needs it

    check_place(options.output)
    check_form(options.output, SLIDE_FORMS if options.profile == "walkthrough" else FORMS)
    decided: dict[str, Any] = {}
    if options.dispositions:
        from stepcalc.print.disposition import read_dispositions

        decided = {"dispositions": read_dispositions(text_of(options.dispositions, "dispositions"))}
    verdicts = print_notebook(
        options.notebook, options.output, run=options.execute, profile=options.profile,
        code=options.code, paper=options.paper, allow_stale=options.allow_stale,
        **chosen(options),
        **decided,
    )  # fmt: skip
    print(f"written: {options.output}")
    if options.profile == "homework":
        _say_format(options)
    return exit_code(verdicts)


def _say_format(options: argparse.Namespace) -> None:
    """Say which parts of a homework are missing."""
    from stepcalc.classroom.homework_format import format_warnings
    from stepcalc.print.notebook import notebook_document, read_notebook

    source = options.notebook
    if options.execute or options.allow_stale:
        return  # the file itself holds other outputs, or none that are sure
    document, _ = notebook_document(read_notebook(source), source, profile="homework")
    for words in format_warnings(document):
        print(f"homework format: {words}")


def _handout(options: argparse.Namespace) -> int:
    from stepcalc.cli.papers import write_handout

    return write_handout(options.notebook, options.output, paper=options.paper, run=options.execute)

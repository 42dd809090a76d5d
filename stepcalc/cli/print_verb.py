"""The verb ``print``: an executed notebook as a calculation package."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import EXITS, NOTICE, exit_code
from stepcalc.cli.files import check_form, check_place

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    printing = verbs.add_parser(
        "print",
        help="print an executed notebook as a calculation package",
        description="Print an executed notebook as a calculation package.",
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
        "--profile", choices=("package", "homework"), default=None,
        help="whose head the sheets get; left out, the title block decides",
    )  # fmt: skip
    printing.add_argument("--code", action="store_true", help="print the code cells too")
    printing.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper size (letter)"
    )
    printing.add_argument(
        "--allow-stale", action="store_true", help="print what is out of date, marked STALE"
    )
    printing.set_defaults(run=_print)


def _print(options: argparse.Namespace) -> int:
    """Print a notebook."""
    from stepcalc.print import print_notebook  # heavy, and only this verb needs it

    check_place(options.output)
    check_form(options.output)
    verdicts = print_notebook(
        options.notebook, options.output, run=options.execute, profile=options.profile,
        code=options.code, paper=options.paper, allow_stale=options.allow_stale,
    )  # fmt: skip
    print(f"written: {options.output}")
    return exit_code(verdicts)

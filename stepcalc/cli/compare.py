"""The verb ``compare``: what differs between two states of a calculation."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import ALL_OK, SOME_NG
from stepcalc.cli.files import check_form, check_place

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    comparing = verbs.add_parser(
        "compare",
        help="what differs between two states of a calculation",
        description="Show the inputs, results and verdicts that differ between two sheets, two "
        "files of results (--json), two executed notebooks, or two bridge files, which are "
        "calculated first. Except for results, what is printed holds the new sheets too, each "
        "changed line marked.",
        epilog="exit codes: 0 nothing differs; 1 something differs; 2 the input failed",
    )
    comparing.add_argument("old", metavar="OLD", type=Path, help="a .json, .ipynb or .toml file")
    comparing.add_argument("new", metavar="NEW", type=Path, help="a file of the same kind")
    comparing.add_argument(
        "-o", "--output", metavar="OUT", type=Path, help="print it too: .pdf, .html, .tex or .typ"
    )
    comparing.set_defaults(run=_compare)


def _compare(options: argparse.Namespace) -> int:
    """Show what differs between two states of a calculation."""
    from stepcalc.print.compare import compare  # heavy, and only this verb needs it

    if options.output:
        check_place(options.output)
        check_form(options.output)
    states = [_state(path) for path in (options.old, options.new)]
    found = replace(compare(*states), old=options.old.name, new=options.new.name)
    if options.output:
        found.print(options.output)
    print(found.text())
    if options.output:
        print(f"written: {options.output}")
    return SOME_NG if found.changed else ALL_OK


def _state(path: Path) -> Any:
    """Return what a file holds for comparison: of a bridge file the sheets of its calculation."""
    if path.suffix.lower() != ".toml":
        return path
    from stepcalc.bridge.bridge_file import read_bridge_file
    from stepcalc.bridge.whole.any_girder import calculation_of

    return calculation_of(read_bridge_file(path)).package()

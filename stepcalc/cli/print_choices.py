"""The choices of a print at the command line: one set, for every verb that prints."""

from __future__ import annotations

import argparse
from typing import Any

from stepcalc.print.options import LISTS, PAPERS, SEALS

__all__ = ["add_choices", "chosen"]

_NAMES = ("cover", "contents", "front", "seal", "trace")


def add_choices(parser: Any, *, paper: bool = True) -> None:
    """Add the choices of a print to the parser of a verb.

    Parameters
    ----------
    parser : argparse.ArgumentParser
    paper : bool
        Whether the paper is among them.
    """
    group = parser.add_argument_group("the printed package")
    if paper:
        group.add_argument("--paper", choices=PAPERS, default="letter", help="paper size (letter)")
    yes_or_no = argparse.BooleanOptionalAction
    group.add_argument("--cover", action=yes_or_no, default=None, help="a cover (packages have it)")
    group.add_argument(
        "--contents", action=yes_or_no, default=None, help="contents with page numbers"
    )
    group.add_argument(
        "--front", metavar="LISTS", default=None,
        help="lists before the sheets: all, none, or some of " + ", ".join(LISTS),
    )  # fmt: skip
    group.add_argument(
        "--seal", choices=SEALS, default=None,
        help="where room is left for seal and signature (none); nothing is drawn there",
    )  # fmt: skip
    group.add_argument(
        "--trace", action="store_true", default=None,
        help="list the givens and results that nothing uses",
    )  # fmt: skip


def chosen(options: argparse.Namespace) -> dict[str, Any]:
    """Return the choices that were made; those left out are not in it."""
    made = {name: getattr(options, name, None) for name in _NAMES}
    return {name: value for name, value in made.items() if value is not None}

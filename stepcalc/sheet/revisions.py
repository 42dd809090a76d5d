"""A line of the revision table of a package."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from typing import Any

from stepcalc.errors import FormulaError

__all__ = ["Revision", "revision_rows"]


@dataclass(frozen=True, slots=True)
class Revision:
    """A revision: its number or letter, its date, who made it, and what changed.

    The program fills in nothing by itself; what is left blank is a line to fill in.

    Raises
    ------
    FormulaError
        If a field is not a text, or the number is blank.
    """

    revision: str
    date: str = ""
    by: str = ""
    description: str = ""

    def __post_init__(self) -> None:
        """Refuse a field that is not a text."""
        for value in astuple(self):
            if not isinstance(value, str):
                message = f"a revision is texts, such as Revision('1', '2026-11-25'), not {value!r}"
                raise FormulaError(message[:200])
        if not self.revision.strip():
            message = "a revision needs its number or letter first, such as Revision('0')"
            raise FormulaError(message)


def revision_rows(revisions: Sequence[Revision]) -> tuple[Revision, ...]:
    """Return the rows of a revision table, or refuse what is none.

    Raises
    ------
    FormulaError
        If an item is something else.
    """
    items: list[Any] = list(revisions)
    for item in items:
        if not isinstance(item, Revision):
            message = (
                f"revisions of a package are Revision('1', date, by, description), not {item!r}"
            )
            raise FormulaError(message[:200])
    return tuple(items)

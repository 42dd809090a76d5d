"""The title block: who made, checked and reviewed what, for which job."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from stepcalc.errors import FormulaError
from stepcalc.sheet import ports
from stepcalc.sheet.revisions import revision_rows

__all__ = ["TitleBlock"]


@dataclass(frozen=True, kw_only=True)
class TitleBlock:
    """The fields at the head of every printed sheet; those left empty print as lines to fill in.

    ``revisions`` are the rows of the revision table, each a ``Revision``, oldest first.

    The program never fills in a name by itself and draws neither seal nor initials.
    """

    project: str = ""
    subject: str = ""
    structure: str = ""
    owner: str = ""
    job: str = ""
    prepared_by: str = ""
    prepared_on: str = ""
    checked_by: str = ""
    checked_on: str = ""
    reviewed_by: str = ""
    reviewed_on: str = ""
    revision: str = ""
    course: str = ""
    assignment: str = ""
    student: str = ""
    date: str = ""
    revisions: Any = ()

    def __post_init__(self) -> None:
        """Refuse a field that is not a text.

        Raises
        ------
        FormulaError
            If a field is something else, such as a number.
        """
        object.__setattr__(self, "revisions", revision_rows(self.revisions))
        given: dict[str, Any] = dict(self.fields())
        for name, value in given.items():
            if not isinstance(value, str):
                message = f"{name} of the title block is a text, not {value!r}"
                raise FormulaError(message[:200])

    def fields(self) -> dict[str, str]:
        """Return all fields of one line by name, the empty ones too."""
        return {
            field.name: getattr(self, field.name)
            for field in fields(self)
            if field.name != "revisions"
        }

    @property
    def warnings(self) -> list[str]:
        """What a reader should know: a checker who is the preparer is no check."""
        same = _person(self.prepared_by)
        if same and same == _person(self.checked_by):
            return ["checked by the person who prepared it: an independent check is still open"]
        return []

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("title_bundle", self)


def _person(name: str) -> str:
    """Return a name without what two spellings of one name differ by: case, dots and spaces."""
    return "".join(letter for letter in name.casefold() if letter.isalnum())

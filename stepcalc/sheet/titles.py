"""The title block: who made, checked and reviewed what, for which job."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from stepcalc.errors import FormulaError
from stepcalc.sheet import ports

__all__ = ["TitleBlock"]


@dataclass(frozen=True, kw_only=True)
class TitleBlock:
    """The fields at the head of every printed sheet; those left empty print as lines to fill in.

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

    def __post_init__(self) -> None:
        """Refuse a field that is not a text.

        Raises
        ------
        FormulaError
            If a field is something else, such as a number.
        """
        for name, value in asdict(self).items():
            if not isinstance(value, str):
                message = f"{name} of the title block is a text, not {value!r}"
                raise FormulaError(message[:200])

    def fields(self) -> dict[str, str]:
        """Return all fields by name, the empty ones too."""
        return asdict(self)

    @property
    def warnings(self) -> list[str]:
        """What a reader should know: a checker who is the preparer is no check."""
        same = self.prepared_by.strip().lower()
        if same and same == self.checked_by.strip().lower():
            return ["checked by the person who prepared it: an independent check is still open"]
        return []

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("title_bundle", self)

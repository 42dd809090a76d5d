"""What is to become of each check that is N.G.: a field that is blank until somebody decides."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace

from stepcalc.errors import SheetFileError
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b

__all__ = ["CAPTION", "DECISIONS", "Disposition", "read_dispositions", "with_dispositions"]

DECISIONS = ("accept with reason", "revise", "owner's waiver")

CAPTION = "Disposition of checks that are N.G. (to be filled in by the engineer)"
_HEADER = ("Check", "D/C", "Disposition", "Reason", "By, date")
_CHOICES = "☐\u00a0accept with reason  ☐\u00a0revise  ☐\u00a0owner's\u00a0waiver"
_LINE = "____________"


@dataclass(frozen=True, slots=True)
class Disposition:
    """What the engineer decided about a check that is N.G., why, and who says so."""

    decision: str
    reason: str = ""
    by: str = ""


def read_dispositions(text: str) -> dict[str, Disposition]:
    r"""Return the dispositions of a TOML text: a table by the name of each check.

    Parameters
    ----------
    text : str
        ``["Flexure"]`` with ``disposition``, one of :data:`DECISIONS`, ``reason`` and ``by``.

    Raises
    ------
    SheetFileError
        If the text is no TOML, or something in it does not fit.

    Examples
    --------
    >>> read_dispositions('[Flexure]\ndisposition = "revise"')["Flexure"].decision
    'revise'
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SheetFileError(f"the dispositions are no TOML: {error}") from error
    found = {}
    for name, record in data.items():
        if not isinstance(record, Mapping) or not all(isinstance(x, str) for x in record.values()):
            raise SheetFileError(f"the disposition of {name!r} is no table of texts")
        unknown = sorted(set(record) - {"disposition", "reason", "by"})
        decision = record.get("disposition", "")
        if unknown or decision not in DECISIONS:
            said = f"has {unknown[0]!r}" if unknown else f"is {decision!r}"
            raise SheetFileError(
                f"the disposition of {name!r} {said}; want disposition = {' or '.join(DECISIONS)}, "
                "with reason and by"
            )
        if decision == DECISIONS[0] and not record.get("reason", "").strip():
            raise SheetFileError(f"the check {name!r} is accepted with reason, but none is given")
        found[name] = Disposition(decision, record.get("reason", ""), record.get("by", ""))
    return found


def with_dispositions(
    document: b.Document, filled: Mapping[str, Disposition | str] | None = None
) -> b.Document:
    """Return a document in which each sheet with a check that is N.G. ends in the fields for it.

    Parameters
    ----------
    document : Document
        Returned as it is when nothing is N.G., or when it has the fields already.
    filled : mapping of a check's name to what was decided, optional
        The program decides nothing: other fields stay blank.

    Raises
    ------
    SheetFileError
        If something was decided about a check that is not N.G. here.
    """
    failed = {check.name for sheet in document.sheets for check in _failed(sheet)}
    unknown = sorted(set(filled or {}) - failed)
    if unknown:
        raise SheetFileError(f"{unknown[0]!r} has a disposition, but is no check that is N.G. here")
    sheets = tuple(_with_fields(sheet, filled or {}) for sheet in document.sheets)
    return document if sheets == document.sheets else replace(document, sheets=sheets)


def _failed(sheet: b.SheetPages) -> list[b.Check]:
    blocks = every_block(sheet.blocks)
    return [block for block in blocks if isinstance(block, b.Check) and block.verdict != "OK"]


def _with_fields(sheet: b.SheetPages, filled: Mapping[str, Disposition | str]) -> b.SheetPages:
    blocks = list(every_block(sheet.blocks))
    if any(isinstance(block, b.Table) and block.caption == CAPTION for block in blocks):
        return sheet
    failed = _failed(sheet)
    if not failed:
        return sheet
    rows = tuple(_row(check, filled.get(check.name)) for check in failed)
    table = b.Table(_HEADER, rows, CAPTION, "lrlll")
    return replace(sheet, blocks=(*sheet.blocks, table))


def _row(check: b.Check, decided: Disposition | str | None) -> tuple[str, ...]:
    ratio = check.ratio or "undefined"
    name = f"{check.name}, {check.location}" if check.location else check.name
    if isinstance(decided, str) and decided:
        decided = Disposition(decided)
    if isinstance(decided, Disposition):
        return (name, ratio, decided.decision, decided.reason, decided.by or _LINE)
    return (name, ratio, _CHOICES, _LINE, _LINE)

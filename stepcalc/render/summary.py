"""The summary of all checks, and the verdict with its scope."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.render.block_parts import LAYOUT
from stepcalc.render.step_parts import check_parts

if TYPE_CHECKING:
    from stepcalc.render.node_blocks import Block


def summary_rows(sheet: Any) -> list[Block]:
    """Return one row for each registered check, none left out, the governing one marked.

    Parameters
    ----------
    sheet : Sheet
    """
    governing = sheet.governing
    return [_row(check, check.slot == governing.slot) for check in sheet.checks]


def _row(check: Any, governs: bool) -> Block:
    parts = check_parts(check, LAYOUT)
    row: Block = {
        "name": check.name,
        "location": check.location or "",
        "demand": parts.demand if parts.demand is not None else "undefined",
        "capacity": parts.capacity if parts.capacity is not None else "undefined",
        "ratio": check.shown_ratio,
        "verdict": check.verdict,
        "ref": check.ref or "",
        "governs": governs,
    }
    return row


def conclusion_block(sheet: Any, entry: Any) -> Block:
    """Return the verdict in words, its scope, the recommendation and the summary.

    Parameters
    ----------
    sheet : Sheet
    entry : ConclusionEntry
    """
    return {
        "kind": "conclusion",
        "verdict": _verdict(sheet, entry.text),
        "governing": _governing(sheet),
        "scope_checked": list(entry.checked) or [check.name for check in sheet.checks],
        "scope_not_checked": list(entry.not_checked),
        "recommendation": list(entry.recommendation),
        "summary": summary_rows(sheet),
    }


def _verdict(sheet: Any, text: str) -> str:
    checks = sheet.checks
    failed = [check for check in checks if not check.passed]
    if not checks:
        words = "No check was made."
    elif not failed:
        words = f"All {len(checks)} checks are OK." if len(checks) > 1 else "The one check is OK."
    else:
        names = ", ".join(check.name for check in failed)
        words = f"N.G.: {len(failed)} of {len(checks)} checks: {names}."
    outside = [check.name for check in checks if not check.in_range]
    if outside:
        words += f" Outside a range of application: {', '.join(outside)}."
    return f"{words} {text}".strip()


def _governing(sheet: Any) -> str:
    check = sheet.governing
    if check is None:
        return ""
    where = f", {check.location}" if check.location else ""
    return f"{check.name}{where}: D/C = {check.shown_ratio}, {check.verdict}"

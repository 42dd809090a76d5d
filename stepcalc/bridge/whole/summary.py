"""The summary of both girders: every check beside its sister, the governing one told in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.fields import Specification
from stepcalc.bridge.verdict import REVIEW, verdict_in_words
from stepcalc.bridge.whole.exterior_compared import compare_girders
from stepcalc.bridge.whole.scope import not_checked
from stepcalc.bridge.whole.standard_scope import standard_not_checked
from stepcalc.sheet.sheet import Sheet

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData

__all__ = ["advice", "check_labels", "summary_sheet"]

_GOVERNS = "GOVERNS"


def summary_sheet(interior: Sheet, exterior: Sheet, data: BridgeData) -> Sheet:
    """Return the page with the matrix girder by check, and the resistances compared.

    Parameters
    ----------
    interior, exterior : Sheet
        The calculations of both girders.
    data : BridgeData
        The bridge.

    Returns
    -------
    Sheet
        The checks of 2.5.2.7.1, whose operands come from the girders' sheets, and the matrix.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.7.1; from memory.
    """
    page = Sheet("Summary of both girders")
    with page.part("Exterior girder not weaker than the interior one"):
        compare_girders(page, interior, exterior, data)
    with page.part("Demand over resistance"):
        page.note(
            "Every check of both girders as first calculated. The greatest ratio of each girder is "
            f"marked {_GOVERNS}; OK up to 1.000, decided on the unrounded value."
        )
        page.table(
            ["Check", "Article", "Interior", "Exterior"],
            _matrix(interior, exterior),
            "Summary matrix, D/C and verdict",
        )
    with page.part("Conclusion"):
        _conclusion(page, interior, exterior, data)
    return page


def _conclusion(page: Sheet, interior: Sheet, exterior: Sheet, data: BridgeData) -> None:
    for which, sheet in (("interior", interior), ("exterior", exterior)):
        page.note(verdict_in_words(sheet, subject=f"{which} girder") + ".")
    for line in advice(interior, exterior, page):
        page.note(f"Recommendation: {line}.")
    if page.checks:
        words = verdict_in_words(page, subject="exterior girder against an interior one")
        page.note(words + ".")
    older = data.specification is not Specification.LRFD
    left_open = (standard_not_checked if older else not_checked)(data, exterior=True)
    page.table(
        ["No.", "Not checked"],
        [[str(i), what] for i, what in enumerate(left_open, 1)],
        "What this package says nothing about",
    )
    page.note(
        "The verdicts speak of the checks in the matrix above and of nothing else; they say "
        f"nothing of the bridge as a whole. {REVIEW}"
    )


def check_labels(sheet: Sheet) -> list[tuple[str, Any]]:
    """Return the checks with names that tell them apart, by their place where a name comes twice.

    Parameters
    ----------
    sheet : Sheet
        The calculation of one girder.

    Returns
    -------
    list of (label, Check)
    """
    names = [check.name for check in sheet.checks]
    labels = [
        check.name if names.count(check.name) == 1 else f"{check.name}, {_place(check)}"
        for check in sheet.checks
    ]
    return [
        (label if labels.count(label) == 1 else f"{label}, {_part(check)}", check)
        for label, check in zip(labels, sheet.checks, strict=True)
    ]


def _part(check: Any) -> str:
    """Return the part that a check stands in; the whole way to it where parts may be alike."""
    return str(check.path.removesuffix(f"/{check.name}").replace("/", ", "))


def _place(check: Any) -> str:
    """Return where a check is made: its location, or the part of the sheet it stands in."""
    return str(check.location or check.path.removesuffix(f"/{check.name}").split("/")[-1])


def _matrix(interior: Sheet, exterior: Sheet) -> list[list[Any]]:
    columns, articles = [], {}
    for sheet in (interior, exterior):
        governing, column = sheet.governing, {}
        for label, check in check_labels(sheet):
            column[label] = _cell(check, governing is not None and check.path == governing.path)
            articles[label] = check.ref or ""
        columns.append(column)
    return [
        [label, article, *(column.get(label, "not made") for column in columns)]
        for label, article in articles.items()
    ]


def _cell(check: Any, governs: bool) -> str:
    ratio = check.shown_ratio if check.defined else "undefined"
    mark = f", {_GOVERNS}" if governs else ""
    return f"{ratio} {check.verdict}{mark}"


_REMEDIES = (
    ("Exterior girder not weaker", "a wider overhang, so that its slab is no narrower, or the "
     "disposition that the note beside the check describes"),
    ("Fatigue", "a better detail or a section with a greater modulus; a higher yield strength does "
     "not help. The attachment may be moved away from the greatest moment"),
    ("Live-load deflection", "a deeper section; a higher yield strength does not help"),
    ("flange buckling, pour", "closer cross-frames, a wider top flange, or another pour sequence"),
    ("Shear", "a thicker web or closer stiffeners"),
    ("Web", "a thicker web or bearing stiffeners"),
    ("Stud", "closer pitch or more studs in a row"),
    ("pitch", "fewer or thinner studs in a row, or a greater pitch with more in a row"),
    ("", "a heavier or deeper section"),
)  # fmt: skip


def advice(interior: Sheet, exterior: Sheet, summary: Sheet | None = None) -> tuple[str, ...]:
    """Return what to look at first for every check that fails.

    Parameters
    ----------
    interior, exterior : Sheet
        The calculations of both girders.
    summary : Sheet, optional
        The page with the checks of both girders against each other.

    Returns
    -------
    tuple of str
        One line for each; a line that says so if none fails.

    Source
    ------
    Common practice, no source.
    """
    lines = []
    sheets = [("interior girder", interior), ("exterior girder", exterior)]
    if summary is not None:
        sheets.append(("both girders", summary))
    for which, sheet in sheets:
        for check in sheet.checks:
            if check.passed:
                continue
            cure = next(words for key, words in _REMEDIES if key.lower() in check.name.lower())
            lines.append(f"{which}, {check.name} ({check.ref}): look first at {cure}")
    return tuple(lines) or ("no change is asked for by the checks that were made",)

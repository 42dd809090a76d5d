"""Other shapes for both girders at once: each a full re-check of both calculations."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.alternatives_page import DECISION
from stepcalc.bridge.recommend import Alternative, all_alternatives, series_of
from stepcalc.sheet.sheet import Sheet
from stepcalc.units.numbers import ratio_text

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["for_both_girders", "search_shapes", "shape_words", "shapes_sheet"]


def for_both_girders(interior: Sheet, exterior: Sheet) -> tuple[Alternative, ...]:
    """Check every shape of the table on both sheets.

    Parameters
    ----------
    interior, exterior : Sheet
        The calculations of rolled girders.

    Returns
    -------
    tuple of Alternative
        The checks of both, their names preceded by the girder.
    """
    return tuple(
        Alternative(
            inner.shape,
            inner.weight,
            {f"interior: {name}": ratio for name, ratio in inner.ratios.items()}
            | {f"exterior: {name}": ratio for name, ratio in outer.ratios.items()},
            inner.in_range and outer.in_range,
        )
        for inner, outer in zip(all_alternatives(interior), all_alternatives(exterior), strict=True)
    )


def search_shapes(
    interior: Sheet, exterior: Sheet
) -> tuple[dict[str, Alternative], tuple[Alternative, Alternative | None, Alternative | None]]:
    """Search the table for both girders.

    Parameters
    ----------
    interior, exterior : Sheet
        The calculations of rolled girders.

    Returns
    -------
    dict, tuple
        Every shape by name; the given one, the next heavier of its series, the lightest that
        passes.
    """
    found = {item.shape: item for item in for_both_girders(interior, exterior)}
    given = found[interior["shape"].value]
    own = next(group for group in series_of(given.shape).values() if given.shape in group)
    heavier = next((found[n] for n in own if found[n].weight > given.weight), None)
    return found, (given, heavier, _lightest(found.values()))


def shapes_sheet(interior: Sheet, exterior: Sheet) -> Sheet:
    """Return the page of other shapes.

    Parameters
    ----------
    interior, exterior : Sheet
        The calculations of rolled girders.

    Returns
    -------
    Sheet
        A table and a recommendation in words; no steps of its own.
    """
    page = Sheet("Alternatives and recommendation")
    found, (given, heavier, best) = search_shapes(interior, exterior)
    groups = series_of(given.shape)
    rows = [("given", given), ("next heavier of its series", heavier), ("lightest of all", best)]
    rows += [(f"lightest, {label}", _lightest(found[n] for n in g)) for label, g in groups.items()]
    page.note(
        "Each shape is the whole calculation of both girders run again, with its own weight, "
        "stiffness, distribution and resistance; the same shape for every girder."
    )
    page.table(
        ["Which", "Shape", "lb/ft", "Governing check", "D/C", "All checks"],
        [_row(label, item) for label, item in rows],
        "Other shapes for both girders",
    )
    for line in shape_words(given, heavier, best):
        page.note(line)
    page.note(DECISION)
    return page


def _lightest(items: Iterable[Alternative]) -> Alternative | None:
    passing = [item for item in items if item.passed]
    return min(passing, key=lambda item: (item.weight, item.worst), default=None)


def _row(label: str, item: Alternative | None) -> list[str]:
    if item is None:
        return [label, "none passes", "", "", "", ""]
    verdict = "OK" if item.passed else "N.G."
    return [
        label, item.shape, f"{item.weight:g}", item.governing, ratio_text(item.worst), verdict,
    ]  # fmt: skip


def shape_words(
    given: Alternative, heavier: Alternative | None, best: Alternative | None
) -> tuple[str, ...]:
    """Return what the search found, in sentences.

    Parameters
    ----------
    given : Alternative
        The shape at hand.
    heavier, best : Alternative or None
        The next heavier one of its series, and the lightest that passes.

    Returns
    -------
    tuple of str
    """
    state = "passes every check made" if given.passed else "does not pass every check"
    lines = [
        f"{given.shape} {state}; the greatest D/C is {ratio_text(given.worst)}, {given.governing}."
    ]
    if heavier is not None and not given.passed:
        state = "passes" if heavier.passed else "does not pass either"
        lines.append(
            f"The next heavier shape of its series, {heavier.shape}, {state}: greatest D/C "
            f"{ratio_text(heavier.worst)}, {heavier.governing}."
        )
    if best is None:
        lines.append("No W shape of the table passes every check of both girders.")
    else:
        lines.append(
            f"The lightest W shape that passes every check of both girders is {best.shape}, "
            f"{best.weight:g} lb/ft: greatest D/C {ratio_text(best.worst)}, {best.governing}."
        )
    return tuple(lines)

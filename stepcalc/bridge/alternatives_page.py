"""The page "Alternatives and recommendation": what the search of the shapes found, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.recommend import PASSES
from stepcalc.sheet.sheet import Sheet
from stepcalc.units.numbers import ratio_text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stepcalc.bridge.recommend import Alternative, Limit, Recommendation

OUTSIDE = "outside a formula's range"
_COLUMNS = 7
DECISION = (
    "These are computed alternatives for the same checks, not a design: availability, clearance, "
    "cost, what was not checked, and the choice itself are the engineer's."
)


def alternatives_sheet(found: Recommendation, *, base: Mapping[str, str]) -> Sheet:
    """Return the page of alternatives.

    Parameters
    ----------
    found : Recommendation
        From :func:`stepcalc.bridge.recommend.recommend`.
    base : mapping of str to str
        What the alternatives start from, in words: ``{"span": "62 ft"}``.

    Returns
    -------
    Sheet
        Notes and tables; it holds no steps of its own.
    """
    page = Sheet("Alternatives and recommendation")
    stated = ", ".join(f"{name} {value}" for name, value in base.items())
    page.note(
        f"Starting from: {stated}. Each alternative is the whole calculation run again: every step "
        "and every check of the calculation sheet, with the weight, stiffness and distribution of "
        "the alternative itself."
    )
    with page.part("Shapes"):
        _shape_table(page, found)
    if found.limits:
        with page.part("Span and spacing of the given shape"):
            _limit_table(page, found)
    with page.part("Recommendation"):
        for line in recommendation_lines(found):
            page.note(line)
        page.note(DECISION)
    return page


def recommendation_lines(found: Recommendation) -> tuple[str, ...]:
    """Return the recommendation as sentences.

    Parameters
    ----------
    found : Recommendation
        The result of the search.

    Returns
    -------
    tuple of str
        The given shape, the lightest shapes, the next heavier one, and the limits of span and
        spacing; the closest approach if nothing passes.
    """
    lines = [f"Given: {_given_line(found.given)}"]
    if found.lightest is None and found.closest.worst <= PASSES:
        lines.append(
            "No W shape passes within the range of every formula: a range of application rules out "
            "all of them, so that nothing is recommended. See the warnings."
        )
    elif found.lightest is None:
        lines.append(
            f"No W shape of the table passes every check. The closest is "
            f"{_described(found.closest)}: change the span, the spacing, the steel or the kind of "
            "girder."
        )
    else:
        lines.append(f"Lightest W shape that passes every check: {_described(found.lightest)}.")
    for label, best in found.series:
        text = _described(best) if best else "none passes every check"
        lines.append(f"Lightest in the series {label}: {text}.")
    if found.next_heavier is not None:
        lines.append(
            f"Next heavier in the series of the given shape: {_described(found.next_heavier)}."
        )
    else:
        lines.append("The given shape is the heaviest of its series.")
    lines += [_limit_line(limit, found.given.shape) for limit in found.limits]
    return tuple(lines)


def _given_line(given: Alternative) -> str:
    failed = [name for name, ratio in given.ratios.items() if not ratio <= 1 + 1e-9]
    if given.passed:
        return f"{_described(given)}; it passes all {len(given.ratios)} checks made."
    if not failed:
        return f"{_described(given)}; no ratio of it is trusted."
    return (
        f"{_described(given)}; {len(failed)} of {len(given.ratios)} checks fail: "
        f"{'; '.join(failed)}."
    )


def _described(item: Alternative) -> str:
    ratio = ratio_text(item.ratios[item.governing])
    start = f"{item.shape}, {item.weight:g} lb/ft: {_verdict(item)}"
    return f"{start}, greatest D/C {ratio} ({item.governing})"


def _limit_line(limit: Limit, shape: str) -> str:
    low, high = limit.tried
    if limit.value is None:
        return (
            f"Greatest {limit.dimension} for {shape}: none between {low:g} and {high:g} ft passes "
            f"({limit.held})."
        )
    ends = (
        f"beyond it {limit.governing} fails"
        if limit.governing
        else "no check fails; the range tried or a formula's range of application ends there"
    )
    return f"Greatest {limit.dimension} for {shape}: {limit.value:.2f} ft ({limit.held}); {ends}."


def _shape_table(page: Sheet, found: Recommendation) -> None:
    rows: dict[str, tuple[Alternative, list[str]]] = {}

    def add(item: Alternative | None, why: str) -> None:
        if item is not None:
            rows.setdefault(item.shape, (item, []))[1].append(why)

    add(found.given, "given")
    add(found.next_heavier, "next heavier")
    for label, best in found.series:
        add(best, f"lightest of {label}")
    add(found.lightest, "lightest of all")
    if found.lightest is None:
        add(found.closest, "closest approach")
    page.table(
        ["Shape", "lb/ft", "Listed as", "Greatest D/C", "Verdict"],
        [
            [item.shape, f"{item.weight:g}", "; ".join(why), _greatest(item), _verdict(item)]
            for item, why in rows.values()
        ],
        "Shapes from the table, each a full re-check.",
    )
    items = [item for item, _ in rows.values()][:_COLUMNS]
    page.table(
        ["D/C of the check", *(item.shape for item in items)],
        [[name, *(ratio_text(item.ratios[name]) for item in items)] for name in found.given.ratios],
        "Every check of these shapes.",
    )


def _greatest(item: Alternative) -> str:
    return f"{ratio_text(item.ratios[item.governing])}, {item.governing}"


def _verdict(item: Alternative) -> str:
    if item.passed:
        return "OK"
    return "N.G." if item.worst > PASSES else OUTSIDE


def _limit_table(page: Sheet, found: Recommendation) -> None:
    page.table(
        ["Varied", "Held", "Greatest value", "Tried", "Ended by"],
        [
            [limit.dimension, limit.held,
             "none passes" if limit.value is None else f"{limit.value:.2f} ft",
             f"{round(limit.tried[0], 2):g} to {round(limit.tried[1], 2):g} ft",
             limit.governing or "end of range"]
            for limit in found.limits
        ],
        f"{found.given.shape}: the greatest dimension at which every check passes.",
    )  # fmt: skip

"""Small sheets that prove the lever rule: wheels placed and drawn, the sum of moments."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from stepcalc.bridge.lanes.wheels import (
    WHEELS,
    exterior_arms,
    interior_distances,
    multiple_presence,
)
from stepcalc.bridge.proof_body import summed
from stepcalc.expr.functions import maximum
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft
from stepcalc.units.numbers import shown_text

__all__ = [
    "LRFD_RULES",
    "STANDARD_RULES",
    "exterior_of_a_number",
    "exterior_of_every_number",
    "interior_of_every_number",
]


@dataclass(frozen=True)
class Rules:
    """Articles of one code: where wheels stand, the lever rule, several lanes."""

    wheels: str
    lever: str
    presence: str


LRFD_RULES = Rules("LRFD 3.6.1.3.1", "LRFD C4.6.2.2.1", "LRFD 3.6.1.1.2")
STANDARD_RULES = Rules("Std 3.7.6", "Std 3.23.2.3.1.2", "Std 3.12.1")


def exterior_of_a_number(
    spacing: float, curb: float, first: float, lane: float, lanes: str
) -> Sheet:
    """Return the proof: wheels with their distances to the hinge, and the sum of moments.

    Parameters
    ----------
    spacing, curb, first, lane : float
        As for `wheels.exterior_arms`, ft.
    lanes : str
        Lanes loaded.

    Returns
    -------
    Sheet
        The last step is the reaction in lanes, without multiple presence.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.2.1, 3.6.1.3.1; from memory.
    """
    count = int(lanes)
    sheet = Sheet(f"lever rule, exterior girder, {_lanes(count)}")
    deck = _Exterior(sheet, spacing, curb, first, lane, count)
    deck.draw(count)
    sheet.step(
        "R", deck.reaction(count), None, "reaction in lanes, without m", ref=LRFD_RULES.lever
    )
    return sheet


def exterior_of_every_number(
    spacing: float, curb: float, first: float, lane: float, lanes: float, m_1: float, m_2: float,
    m_3: float, m_4: float, rules: Rules = LRFD_RULES,
) -> Sheet:  # fmt: skip
    """Return the proof for two lanes and more: every number with its multiple presence.

    Parameters
    ----------
    spacing, curb, first, lane : float
        As for `wheels.exterior_arms`, ft.
    lanes : float
        Design lanes.
    m_1, m_2, m_3, m_4 : float
        Multiple presence.
    rules : Rules
        The articles of the code.

    Returns
    -------
    Sheet
        The last step is the largest of m R.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.2.1, Art. 3.6.1.1.2, 3.6.1.3.1; Standard Specifications,
    17th ed. (2002), Art. 3.23.2.3.1.2, 3.12.1; from memory.
    """
    most = round(lanes)
    sheet = Sheet("lever rule, exterior girder, every number of lanes")
    deck = _Exterior(sheet, spacing, curb, first, lane, most, rules)
    reactions = {
        count: deck.reaction(count) for count in (range(2, most + 1) if most > 1 else (1,))
    }
    wheels = {count: deck.counting(count) for count in reactions}
    return _every_number(sheet, reactions, wheels, (m_1, m_2, m_3, m_4), deck.draw, rules)


def interior_of_every_number(
    spacing: float, lanes: float, girders: float, m_1: float, m_2: float, m_3: float, m_4: float
) -> Sheet:
    """Return the proof for an interior girder; an empty sheet where the equations decide.

    Parameters
    ----------
    spacing : float
        Girder spacing, ft.
    lanes, girders : float
        Design lanes; girders.
    m_1, m_2, m_3, m_4 : float
        Multiple presence.

    Returns
    -------
    Sheet
        The last step is the largest of m R, where the rule decides.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.2.1, Art. 3.6.1.1.2, 3.6.1.3.1; from memory.
    """
    most = round(lanes)
    sheet = Sheet("lever rule, interior girder, every number of lanes")
    if spacing <= 16 and girders > 3:
        return sheet
    S = sheet.given("S", spacing * ft, "spacing", source="as above")
    terms: list[Any] = []
    reactions, wheels = {}, {}
    for count, pair in enumerate(interior_distances(most), 1):
        terms += [1 - x * ft / S if x else 1 for x in pair if x < spacing]
        reactions[count], wheels[count] = summed(terms) / 2, len(terms)
    if most > 1:
        del reactions[1]

    def draw(count: int) -> None:
        _draw_interior(sheet, spacing, count)

    return _every_number(sheet, reactions, wheels, (m_1, m_2, m_3, m_4), draw)


class _Exterior:
    """The wheels of the lever rule of an exterior girder, as steps of a proof."""

    def __init__(
        self, sheet: Sheet, spacing: float, curb: float, first: float, lane: float, lanes: int,
        rules: Rules = LRFD_RULES,
    ) -> None:  # fmt: skip
        self.sheet, self.spacing, self.curb = sheet, spacing, curb
        given = sheet.given
        self.S = given("S", spacing * ft, "spacing", source="as above")
        d_e = given("d_e", curb * ft, "girder to curb", source="as above")
        b = given("b_w", first * ft, "curb to wheel", source="as above")
        self.arms = [float(arm) for arm in exterior_arms(spacing, curb, first, lane, lanes)]
        further = any(arm > 0 for arm in self.arms[2:])
        s = given("s_l", lane * ft, "truck to truck", source="as above") if further else None
        self.parts: list[Any] = []
        for index, arm in enumerate(self.arms):
            if arm <= 0:
                continue
            truck, wheel = divmod(index, len(WHEELS))
            formula: Any = self.S + d_e - b
            if truck and s is not None:
                formula = formula - truck * s
            if wheel:
                formula = formula - WHEELS[wheel] * ft
            what = f"truck {truck + 1}, wheel line {wheel + 1}, to the hinge"
            self.parts.append(sheet.step(f"x_{index + 1}", formula, ft, what,
                                         ref=rules.wheels))  # fmt: skip
        left = len(self.arms) - len(self.parts)
        if left:
            sheet.note(f"{left} wheel lines stand beyond the hinge and do not count.")

    def counting(self, lanes: int) -> int:
        """Return how many wheel lines of the first lanes count."""
        return sum(arm > 0 for arm in self.arms[: len(WHEELS) * lanes])

    def reaction(self, lanes: int) -> Any:
        """Return the formula of the reaction in lanes, without multiple presence."""
        parts = self.parts[: self.counting(lanes)]
        return summed(parts) / (2 * self.S) if parts else 0 * self.S / self.S

    def draw(self, lanes: int) -> None:
        """Draw the deck from the hinge over the first interior girder to the curb."""
        arms = sorted(arm for arm in self.arms[: len(WHEELS) * lanes] if arm > 0)
        if not arms:
            return
        end = max(self.spacing + max(self.curb, 0.0), max(arms))
        marks = [
            {"x": 0.0, "label": "hinge, first interior girder"},
            {"x": end, "label": "curb"},
        ]
        caption = "Wheel lines P/2 on the deck, a simple beam from hinge to exterior girder"
        _draw(self.sheet, end, [0.0, self.spacing], arms, self.spacing, marks, caption)


def _every_number(
    sheet: Sheet, reactions: dict[int, Any], wheels: dict[int, int], factors: Sequence[float],
    draw: Any, rules: Rules = LRFD_RULES,
) -> Sheet:  # fmt: skip
    """Write R and m R of every number that adds a wheel, and the largest; draw that one."""
    rows: list[list[Any]] = []
    kept: list[tuple[int, Any]] = []
    last = None
    for count, formula in reactions.items():
        if wheels[count] == last:
            rows.append([f"{count}", "no further wheel counts", "", "less"])
            continue
        last = wheels[count]
        R = sheet.step(f"R_{count}", formula, None, f"{_lanes(count)}, without m", ref=rules.lever)
        m = multiple_presence(count, factors)
        g = sheet.step(f"g_{count}", m * R, None, f"{_lanes(count)}, with m", ref=rules.presence)
        kept.append((count, g))
        rows.append([f"{count}", R, f"{m:g}", g])
    best = max(kept, key=lambda item: float(item[1].value.magnitude))[0]
    draw(best)
    if len(rows) > 1:
        sheet.table(["lanes", "R", "m", "m R"], rows, "Every number of lanes that fits")
    largest = [g for _, g in kept]
    sheet.step("g", maximum(*largest) if len(largest) > 1 else 1 * largest[0], None,
               f"the largest: {_lanes(best)}", ref=rules.presence)  # fmt: skip
    return sheet


def _draw_interior(sheet: Sheet, spacing: float, lanes: int) -> None:
    places = []
    for number, pair in enumerate(interior_distances(lanes)):
        sign = -1.0 if number % 2 else 1.0
        places += [spacing + sign * x for x in pair if x < spacing]
    marks = [{"x": x, "label": "hinge, next girder"} for x in (0.0, 2 * spacing)]
    _draw(sheet, 2 * spacing, [0.0, spacing, 2 * spacing], sorted(places), spacing, marks,
          "Wheel lines P/2 on the deck, simple beams from girder to girder")  # fmt: skip


def _draw(
    sheet: Sheet, end: float, supports: list[float], places: list[float], girder: float,
    marks: list[dict[str, Any]], caption: str,
) -> None:  # fmt: skip
    stops = sorted([0.0, *places, girder, supports[-1]])
    data = {
        "kind": "free_body", "span": end, "length_unit": "ft", "supports": supports,
        "loads": [{"x": x, "label": "P/2", "size": 16.0} for x in places],
        "uniform": [], "reactions": [{"x": girder, "label": "R"}],
        "dimensions": [
            {"start": a, "end": z, "label": f"{shown_text(z - a)} ft"}
            for a, z in pairwise(stops)
            if z - a > 1e-6
        ],
        "marks": marks,
    }  # fmt: skip
    sheet.figure(data, caption)


def _lanes(count: int) -> str:
    return "one lane" if count == 1 else f"{count} lanes"

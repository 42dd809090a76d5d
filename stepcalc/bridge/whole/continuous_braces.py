"""Unbraced lengths of a continuous girder: brace points, C_b, and the deck pour between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.gradient import moment_gradient
from stepcalc.bridge.whole.continuous_flexure import Unbraced, ratio_table, strength_moments
from stepcalc.bridge.whole.continuous_pours import Pours, pour_flanges, pour_order
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all, greatest
from stepcalc.expr.functions import any_of, cases, maximum
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.span_tables import PourTable
    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.bridge.whole.continuous_line import Place, Segment
    from stepcalc.bridge.whole.continuous_pours import PourAtPlace
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["negative_places", "pour_everywhere"]


def _within(effects: Effects, segment: Segment) -> list[tuple[Place, int]]:
    """Return the places of an unbraced length with their sections; both at a section change."""
    found = []
    for place in effects.line.places:
        inside = segment.start.feet - 1e-6 <= place.feet <= segment.end.feet + 1e-6
        if place.span != segment.start.span or not inside or place.kinds == ("middle",):
            continue
        section = place.section if place.section in segment.sections else segment.sections[0]
        found.append((place, section))
    return found


def _gradient(
    sheet: Sheet, effects: Effects, segment: Segment, value: Callable[[Place], Operand]
) -> tuple[Operand, Operand]:
    """Write L_b and C_b of an unbraced length from values at its ends and its middle."""
    length = effects.spans[segment.start.span - 1]
    L_b = sheet.step(
        "L_b", round(segment.end.fraction - segment.start.fraction, 12) * length, ft,
        "unbraced length", ref="framing plan",
    )  # fmt: skip
    gradient = moment_gradient(
        sheet, first=value(segment.start), middle=value(segment.middle), second=value(segment.end)
    )
    C_b = gradient.modifier
    if len(segment.sections) > 1:
        C_b = _over_change(sheet, effects, segment, value, C_b)
    return L_b, C_b


def _over_change(
    sheet: Sheet, effects: Effects, segment: Segment, value: Callable[[Place], Operand],
    C_b: Operand,
) -> Operand:  # fmt: skip
    """Write C_b of an unbraced length with a section change: 1 unless the change may be ignored.

    It may be ignored within 20 percent of the length from the brace with the smaller moment, if
    the lateral inertia of the smaller flange is at least half of the larger one's.
    """
    change = next(
        p for p in effects.line.places
        if p.span == segment.start.span and "change" in p.kinds
        and segment.start.feet < p.feet < segment.end.feet
    )  # fmt: skip
    share = (change.feet - segment.start.feet) / segment.length
    flanges = [effects.sections[n - 1].bare.steel.bottom for n in segment.sections]
    inertias = [plate.thickness * plate.width**3 for plate in flanges]
    smaller = any_of(
        *(2 * one < other for one in inertias for other in inertias if one is not other)
    )
    first, last = value(segment.start), value(segment.end)
    return sheet.step(
        "C_bt",
        cases(
            (smaller, 1.0, "the smaller flange has less than half of the lateral inertia"),
            (first <= last, C_b if share <= 0.2 else 1.0,
             "change near the brace with the smaller moment" if share <= 0.2
             else "the change of section counts"),
            otherwise=(C_b if share >= 0.8 else 1.0,
                       "change near the brace with the smaller moment" if share >= 0.8
                       else "the change of section counts"),
        ),
        None, "moment gradient modifier with the section change", ref="LRFD 6.10.8.2.3",
    )  # fmt: skip


def negative_places(sheet: Sheet, effects: Effects) -> list[tuple[AtPlace, int, Unbraced]]:
    """Write L_b and C_b of every unbraced length by the Strength I envelope of the bottom flange.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives steps and table, within a part with tables only.
    effects : Effects
        With the moments at all places.

    Returns
    -------
    list of (AtPlace, section, Unbraced)
        Every place of every unbraced length; the list of brace points stands in the table.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.3; from memory.
    """
    stresses: dict[tuple[int, float], Operand] = {}

    def value(place: Place) -> Operand:
        if place.at not in stresses:
            section = effects.sections[place.section - 1]
            steel, hog = section.elastic.steel, section.hogging
            with sheet.part(f"Bottom flange at {place.label}"):
                M = strength_moments(sheet, effects.write("moment", place), -1)
                stresses[place.at] = sheet.step(
                    "f_c",
                    M.on_steel / steel.S_bottom + (M.on_long_term + M.on_short_term) / hog.S_bottom,
                    ksi, "bottom flange, compression positive, envelope of Strength I",
                    ref="LRFD 6.10.8.2.3",
                )  # fmt: skip
        return stresses[place.at]

    found, rows = [], []
    for segment in effects.line.segments:
        with sheet.part(f"Length {segment.number}"):
            L_b, C_b = _gradient(sheet, effects, segment, value)
        unbraced = Unbraced(segment.number, L_b, C_b)
        places = _within(effects, segment)
        for place, section in places:
            found.append((effects.write("moment", place), section, unbraced))
            if "change" in place.kinds:
                found += [
                    (effects.write("moment", place), other, unbraced)
                    for other in segment.sections if other != section
                ]  # fmt: skip
        rows.append([
            str(segment.number), segment.start.label, segment.end.label,
            " and ".join(map(str, segment.sections)), L_b, value(segment.start),
            value(segment.middle), value(segment.end), C_b,
        ])  # fmt: skip
    sheet.table(
        ["Length", "Brace", "Next brace", "Section", "Lb", "f first", "f middle", "f last",
         "Cb"],
        rows,
        "Brace points of the bottom flange; stresses of the Strength I envelope, compression "
        "positive",
        instead=True,
    )  # fmt: skip
    return found


def pour_everywhere(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, *, exterior: bool
) -> dict[tuple[int, float], PourAtPlace]:
    """Write the deck pour: moments at every place, every unbraced length, the governing in full.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, effects
        Of the girder.
    exterior : bool
        Brackets load the exterior girder.

    Returns
    -------
    dict of place to PourAtPlace

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3, 3.4.2; from memory.
    """
    details = bridge.data.details
    assert details is not None
    pours = pour_order(effects.line, details.pours)
    writer = Pours(sheet, effects, pours)
    sheet.note(_order_in_words(pours, stated=bool(details.pours)))
    found: dict[tuple[int, float], PourAtPlace] = {}
    with sheet.part("Moments of the pours", tables_only=True):
        rows = []
        for place in effects.line.places:
            with sheet.part(place.label):
                at = found[place.at] = writer.at(place)
            if place.kinds != ("middle",):
                rows.append([
                    place.label, place.words, *at.moments.sums[:1], at.moments.sums[-1],
                    at.moments.sagging, at.moments.hogging,
                ])  # fmt: skip
        sheet.table(
            ["Place", "What", "Steel", "After its pour", "Mcu max", "Mcu min"],
            rows, "Moments of the pours on bare steel, and both construction combinations",
            instead=True,
        )  # fmt: skip
    _pour_lengths(sheet, bridge, effects, found, exterior=exterior)
    return found


def _order_in_words(pours: Sequence[PourTable], *, stated: bool) -> str:
    if not stated:
        return (
            "The whole deck is cast at once; no order of pours is in the data. An order may be "
            "more severe and is written as [[pours]]."
        )
    parts = ", ".join(
        f"{i}: {pour.start:g} to {pour.end:g} ft" for i, pour in enumerate(pours, 1)
    )  # fmt: skip
    return (
        f"Order of the pours, from the first bearing: {parts}. Each acts on bare steel where the "
        "deck is still open, and on the short-term section where an earlier pour has hardened; the "
        "stiffness of the girder follows."
    )


def _pour_lengths(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects,
    found: dict[tuple[int, float], PourAtPlace], *, exterior: bool,
) -> None:  # fmt: skip
    quiet, lead, cases_ = Tabulated(sheet), {}, {}
    with sheet.part("Unbraced lengths in the pour", tables_only=True):
        for segment in effects.line.segments:
            for positive in (True, False):
                worst = _worst(effects, segment, found, positive=positive)
                if worst is None:
                    continue
                flange = "top" if positive else "bottom"
                name = f"length {segment.number}, {flange} flange"
                with sheet.part(f"Length {segment.number}, {flange} flange compressed"):
                    L_b, C_b = _gradient(
                        sheet, effects, segment, _pour_stress(effects, found, positive=positive)
                    )
                    made = []
                    for place, section in worst:
                        M = _moment(found[place.at], positive=positive)
                        made.append(pour_flanges(
                            quiet.as_sheet, bridge, effects.sections[section - 1],
                            moment=sheet.step(f"M_{section}", maximum(M, 0 * kip_ft), kip_ft,
                                              f"at {place.label}", ref="LRFD 3.4.2.1"),
                            unbraced=L_b, gradient=C_b, positive=positive, exterior=exterior,
                            location=f"{name}, section {section}",
                        ) if len(worst) == 1 else _in_part(
                            sheet, quiet, bridge, effects, (place, section, name), M,
                            (L_b, C_b), positive=positive, exterior=exterior,
                        ))  # fmt: skip
                for (place, section), (f, F) in zip(worst, made, strict=True):
                    location = f"{name}, section {section}"
                    cases_[location] = (place, section, L_b, C_b, positive)
                    lead[location] = [f"{segment.number}, {flange}", place.label, str(section),
                                      L_b, C_b, f, F]  # fmt: skip
        ratio_table(
            sheet, quiet.ratios, lead,
            ["Length, flange", "Place", "Sec.", "Lb", "Cb", "fbu", "Fnc"],
            "Compressed flange of every unbraced length in the pour, at its greatest moment",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all unbraced lengths")
    worst_of = greatest(quiet.ratios).location
    place, section, L_b, C_b, positive = cases_[worst_of]
    with sheet.part("Governing length in the pour"):
        sheet.note(f"The greatest ratio of the table above: {worst_of}, at {place.label}, in full.")
        M = _moment(found[place.at], positive=positive)
        pour_flanges(
            sheet, bridge, effects.sections[section - 1], moment=M, unbraced=L_b, gradient=C_b,
            positive=positive, exterior=exterior, location=f"{place.label}, pour",
        )  # fmt: skip


def _in_part(
    sheet: Sheet, quiet: Tabulated, bridge: BridgeNodes, effects: Effects,
    where: tuple[Place, int, str], M: Operand, length: tuple[Operand, Operand], *,
    positive: bool, exterior: bool,
) -> tuple[Operand, Operand]:  # fmt: skip
    place, section, name = where
    with sheet.part(f"Section {section}"):
        return pour_flanges(
            quiet.as_sheet, bridge, effects.sections[section - 1],
            moment=sheet.step(f"M_{section}", maximum(M, 0 * kip_ft), kip_ft, f"at {place.label}",
                              ref="LRFD 3.4.2.1"),
            unbraced=length[0], gradient=length[1], positive=positive, exterior=exterior,
            location=f"{name}, section {section}",
        )  # fmt: skip


def _moment(at: PourAtPlace, *, positive: bool) -> Operand:
    return at.moments.sagging if positive else -1 * at.moments.hogging


def _number(at: PourAtPlace, *, positive: bool) -> float:
    of = at.moments.sagging if positive else at.moments.hogging
    value: float = of.number  # type: ignore[attr-defined]  # a step
    return value if positive else -value


def _worst(
    effects: Effects, segment: Segment, found: dict[tuple[int, float], PourAtPlace], *,
    positive: bool,
) -> list[tuple[Place, int]] | None:  # fmt: skip
    """Return the place of the greatest moment for every section of an unbraced length."""
    worst = []
    for section in segment.sections:
        places = [
            place for place, of in _within(effects, segment)
            if of == section or "change" in place.kinds
        ]  # fmt: skip
        if not places:
            continue
        place = max(places, key=lambda place: _number(found[place.at], positive=positive))
        if _number(found[place.at], positive=positive) > 0:
            worst.append((place, section))
    return worst or None


def _pour_stress(
    effects: Effects, found: dict[tuple[int, float], PourAtPlace], *, positive: bool
) -> Callable[[Place], Operand]:
    def value(place: Place) -> Operand:
        steel = effects.sections[place.section - 1].elastic.steel
        S = steel.S_top if positive else steel.S_bottom
        return _moment(found[place.at], positive=positive) / S

    return value

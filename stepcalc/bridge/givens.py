"""The data of a bridge as givens of a sheet, and what follows from them by geometry."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite_fields import ALL_FIELDS
from stepcalc.bridge.constants import use
from stepcalc.bridge.feet_inches import feet_inches_text
from stepcalc.bridge.fields import HaunchDatum, Specification
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, floor
from stepcalc.units import ft, ksi, percent
from stepcalc.units.info import read_unit

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Choice
    from stepcalc.sheet.sheet import Sheet

__all__ = ["BridgeNodes", "WalkNodes", "state_bridge"]


@dataclass(frozen=True)
class WalkNodes:
    """The nodes of a sidewalk.

    Attributes
    ----------
    width, thickness : Operand, [length]
        ``b_w`` clear, ``t_w`` above the deck.
    edge : Operand, [length]
        Edge of the deck to the outer edge of the walk.
    rail_weight : Operand or None, [force / length]
        Of the rail outside a separated walk.
    rail_width : Operand or None, [length]
    """

    width: Operand
    thickness: Operand
    edge: Operand
    rail_weight: Operand | None
    rail_width: Operand | None


@dataclass(frozen=True)
class BridgeNodes:
    """The nodes that stand for one bridge on one sheet.

    Attributes
    ----------
    data : BridgeData
        What they were made of; only its options (configuration) may be asked in Python.
    span, spacing, overhang, barrier_width : Operand, [length]
        ``L``, ``S``, ``OH``, ``b_bar``.
    girders : Operand
        ``N_b``.
    deck, slab, haunch : Operand, [length]
        ``t`` total, ``t_s`` structural, ``t_h`` (``t_hw`` where it is measured to the web).
    barrier_weight, wearing_surface, forms, construction_load, concrete_weight : Operand
        ``w_bar``, ``q_ws``, ``q_f``, ``q_C``, ``gamma_c``.
    miscellaneous : Operand
        ``p_m``, a share of the beam's weight, or ``w_m``, a weight per length.
    chosen : Choice or None
        ``shape``, a choice of the W shapes; None for a welded girder.
    yield_strength, modular_ratio : Operand
        ``F_y``, ``n``.
    brace_spacing, bearing_length : Operand, [length]
        ``L_b``, ``N``.
    deck_width, roadway : Operand, [length]
        ``W_d``, ``w_r``.
    lanes : Operand
        ``N_L``.
    sidewalk : WalkNodes or None
        A sidewalk.
    """

    data: BridgeData
    span: Operand
    girders: Operand
    spacing: Operand
    overhang: Operand
    barrier_width: Operand
    deck: Operand
    slab: Operand
    haunch: Operand
    barrier_weight: Operand
    wearing_surface: Operand
    forms: Operand
    miscellaneous: Operand
    construction_load: Operand
    concrete_weight: Operand
    chosen: Choice | None
    yield_strength: Operand
    modular_ratio: Operand
    brace_spacing: Operand
    bearing_length: Operand
    deck_width: Operand
    roadway: Operand
    lanes: Operand
    sidewalk: WalkNodes | None = None

    @property
    def walk(self) -> WalkNodes:
        """The sidewalk of a bridge that has one."""
        if self.sidewalk is None:
            raise RangeError("the bridge has no sidewalk")
        return self.sidewalk

    @property
    def shape(self) -> Choice:
        """The rolled shape, a choice of the W shapes."""
        if self.chosen is None:
            raise RangeError("a welded girder has no rolled shape; its plates stand for it")
        return self.chosen


def article(data: BridgeData, lrfd: str, standard: str) -> str:
    """Return a reference to the code by which a bridge is designed.

    Parameters
    ----------
    data : BridgeData
    lrfd, standard : str
        Where the rule stands in AASHTO LRFD, and where in the Standard Specifications.
    """
    if data.specification is Specification.LRFD:
        return f"LRFD {lrfd}"
    return f"Std {standard}"


def state_bridge(sheet: Sheet, data: BridgeData) -> BridgeNodes:
    r"""Write the bridge data on the sheet, and derive roadway, lanes and modular ratio.

    .. math:: W_d = (N_b - 1) S + 2\,OH, \qquad w_r = W_d - 2 b_{bar}, \qquad
        N_L = \lfloor w_r / 12\,\mathrm{ft} \rfloor

    Two lanes of half the roadway from 20 to 24 ft; one lane below.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    data : BridgeData
        The bridge.

    Returns
    -------
    BridgeNodes
        Every node by its meaning.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.1.1 (lanes), C6.10.1.1.1b (modular ratio); from memory.
    """
    put = _Givens(sheet, data)
    L = put("L", "span")
    N_b = put("N_b", "girders")
    S = put("S", "girder_spacing")
    overhang = put("OH", "overhang")
    b_bar = put("b_bar", "barrier_width")
    deck, slab = put("t", "deck_thickness"), put("t_s", "structural_thickness")
    to_web = data.haunch_datum is HaunchDatum.TOP_OF_WEB
    haunch = put("t_hw" if to_web else "t_h", "haunch", f", {data.haunch_datum.value}")
    w_bar = put("w_bar", "barrier_weight")
    q_ws = put("q_ws", "wearing_surface", f", {data.wearing_basis.value}")
    q_f = put("q_f", "forms")
    share = read_unit(data.miscellaneous.units).dim is read_unit(percent).dim
    miscellaneous = put("p_m" if share else "w_m", "miscellaneous")
    q_C = put("q_C", "construction_load")
    gamma_c = put("gamma_c", "concrete_weight")
    shape = None if data.welded else put("shape", "shape", choices="w_shapes")
    L_b = put("L_b", "diaphragm_spacing")
    bearing = put("N", "bearing_length")
    table = article(data, "Table 6.4.1-1", "Table 10.2A")
    F_y = sheet.given(
        "F_y",
        data.grade_strength,
        f"yield strength, ASTM A709 grade {data.steel_grade}",
        source=f"{data.source_of('steel_grade')}; {table} (from memory)",
    )
    n = _modular_ratio(sheet, put, data)
    step = sheet.step
    W_d = step("W_d", (N_b - 1) * S + 2 * overhang, ft, "width of the deck", ref="geometry")
    walk = None if data.sidewalks is None else _walk(put, data, b_bar)
    taken: Any = 2 * b_bar
    if walk is not None:
        aside = walk.width if walk.rail_width is None else walk.width + walk.rail_width
        taken = taken + (aside if data.sidewalks == 1 else 2 * aside)
    w_r = step("w_r", W_d - taken, ft, "clear roadway", ref="geometry")
    standard = data.specification is not Specification.LRFD
    lane = 12 * ft if standard else use(sheet, "b_lane")
    N_L = step(
        "N_L",
        cases(
            (w_r < 20 * ft, 1, "one lane"),
            (w_r < 24 * ft, 2, "two lanes of half the roadway"),
            otherwise=(floor(w_r / lane), "12 ft lanes"),
        ),
        description="number of design lanes",
        ref=article(data, "3.6.1.1.1", "3.6"),
    )
    _name_sources_of_words(sheet, data)
    return BridgeNodes(
        data,
        L,
        N_b,
        S,
        overhang,
        b_bar,
        deck,
        slab,
        haunch,
        w_bar,
        q_ws,
        q_f,
        miscellaneous,
        q_C,
        gamma_c,
        shape,
        F_y,
        n,
        L_b,
        bearing,
        W_d,
        w_r,
        N_L,
        walk,
    )


class _Givens:
    """Writes one field of the data as a given, with its meaning and its source."""

    def __init__(self, sheet: Sheet, data: BridgeData) -> None:
        self.sheet = sheet
        self.data = data

    def __call__(self, name: str, key: str, more: str = "", *, choices: Any = None) -> Any:
        rule, data = ALL_FIELDS[key], self.data
        default = type(data).__dataclass_fields__[key].default_factory
        value = getattr(data, key)
        assumed = None
        if rule.assumed and key not in data.sources and callable(default) and value == default():
            assumed = rule.assumed
        return self.sheet.given(
            name,
            value,
            rule.meaning + more + _on_plans(value),
            choices=choices,
            assumed=assumed,
            source=None if assumed else data.source_of(key),
        )


_WORDS = (
    "top_flange", "utilities", "wearing_basis", "haunch_datum", "barrier_sharing",
    "barrier_percentages", "walk_sharing", "live_load_maximum",
)  # fmt: skip
"""Fields that stand on a sheet as words, so that no line of a given holds their source."""


def _name_sources_of_words(sheet: Sheet, data: BridgeData) -> None:
    told = [
        f"{ALL_FIELDS[key].meaning}: {data.sources[key]}" for key in _WORDS if key in data.sources
    ]
    if told:
        sheet.note(f"Sources of what is given in words: {'; '.join(told)}.")


def _walk(put: _Givens, data: BridgeData, barrier: Operand) -> WalkNodes:
    width, thickness = put("b_w", "sidewalk_width"), put("t_w", "sidewalk_thickness")
    if not data.sidewalk_separated:
        return WalkNodes(width, thickness, barrier, None, None)
    rail = put("b_rail", "rail_width")
    return WalkNodes(width, thickness, rail, put("w_rail", "rail_weight"), rail)


def _on_plans(value: Any) -> str:
    """Return a length as the plans write it, where its decimals run on."""
    if str(getattr(value, "units", "")) not in ("foot", "ft"):
        return ""
    feet = float(value.magnitude)
    text = "" if feet == round(feet, 4) else feet_inches_text(feet)
    return f", {text}" if text else ""


def _modular_ratio(sheet: Sheet, put: _Givens, data: BridgeData) -> Operand:
    if data.modular_ratio is not None:
        return put("n", "modular_ratio")  # type: ignore[no-any-return]  # a given of the sheet
    f_c = put("f'_c", "concrete_strength")
    rows = ((2.4, 11), (2.9, 10), (3.6, 9), (4.6, 8), (6.0, 7))
    branches = [(f_c < limit * ksi, ratio, f"below {limit:g} ksi") for limit, ratio in rows]
    return sheet.step(
        "n",
        cases(*branches, otherwise=(6, "6 ksi and more")),
        description="modular ratio, steel to concrete",
        ref=article(data, "C6.10.1.1.1b", "10.38.1.3"),
    )

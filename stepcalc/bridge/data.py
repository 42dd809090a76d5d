"""The data of one bridge: what an engineer reads off the plans before the first line is written."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite_fields import ALL_FIELDS
from stepcalc.bridge.deck_load_checks import check_deck_loads
from stepcalc.bridge.field_checks import checked
from stepcalc.bridge.fields import (
    FIELDS,
    BarrierSharing,
    Condition,
    GirderEccentricity,
    HaunchDatum,
    LiveLoadMaximum,
    PermitKind,
    Specification,
    System,
    TopFlange,
    WalkSharing,
    WearingBasis,
)
from stepcalc.bridge.section_rules import check_along_span, refuse_older
from stepcalc.data.tables import table
from stepcalc.errors import RangeError, TableError, UnknownNameError
from stepcalc.units import Q_

if TYPE_CHECKING:
    from stepcalc.bridge.composite_data import CompositeData

__all__ = ["BridgeData"]

_ROUND_OFF = 1e-9
_PLANS_AGREE_FT = 1 / 96
"""An eighth of an inch: plans round dimensions, so a cross-check must allow as much."""


@dataclass(frozen=True, kw_only=True)
class BridgeData:
    """A simple-span bridge of steel girders with a concrete deck.

    Rolled beams without shear connectors, or composite girders, rolled or welded, with `details`.

    Every quantity is a pint quantity of :mod:`stepcalc.units` in whatever unit the plans use.  The
    meaning, the possible values and an example of every field stand in
    :data:`stepcalc.bridge.fields.FIELDS`.

    Parameters
    ----------
    span, girder_spacing, overhang, barrier_width : Quantity, [length]
        Centre to centre of bearings and of girders; edge of deck beyond the exterior girder.
    girders : int
        Number of girders, 3 or more.
    deck_thickness, structural_thickness : Quantity, [length]
        Total, and without the sacrificial surface.
    haunch : Quantity, [length]
        From the bottom of the slab down to `haunch_datum`.
    haunch_datum : HaunchDatum
        The plane to which the haunch is measured.
    barrier_weight : Quantity, [force / length]
        One barrier; both are shared by all girders.
    wearing_surface : Quantity, [force / length**2]
        Weight on the area, carried as `wearing_basis` says.
    wearing_basis : WearingBasis
        Shared by all girders over the roadway, or by the tributary width of the girder.
    forms : Quantity, [force / length**2]
        Stay-in-place forms together with the concrete in their valleys.
    miscellaneous : Quantity, dimensionless or [force / length]
        Diaphragms, stiffeners and bolts: a share of the beam's weight, or a weight per length.
    shape : str
        The W shape on trial, any letter case; none for a welded girder.
    composite : bool
        Whether shear connectors make the deck part of the girder.
    details : CompositeData or None
        What a composite girder has beyond this record; goes with `composite`.
    diaphragm_spacing, bearing_length : Quantity, [length]
        Brace points of the bare beam, and the bearing along the girder.
    top_flange : TopFlange
        How the hardened deck holds the top flange; there is no default, because it can turn the
        verdict.
    steel_grade : str
        A grade of ASTM A709 in which shapes are rolled.
    concrete_strength : Quantity, [stress]
        28-day strength of the deck.
    roadway, yield_strength : Quantity or None
        Cross-checks of what follows from the other data.
    modular_ratio : float or None
        ``E/E_c``; None takes the table of the code by the concrete's strength.
    concrete_weight, construction_load : Quantity
        Unit weight of concrete, and the construction live load of the pour.
    specification, live_load_maximum, girder_eccentricity : options
        See :mod:`stepcalc.bridge.fields`.
    barrier_sharing : BarrierSharing
        Which girders carry a barrier; `barrier_girders` or `barrier_shares` go with it.
    utilities : str or None
        As :func:`stepcalc.bridge.utilities.read_utilities` takes them.
    sidewalk_width, sidewalk_thickness, sidewalks, sidewalk_separated : optional
        Sidewalks, all four; `rail_width` and `rail_weight` where the barrier separates them.
    walk_sharing : WalkSharing
        Which girders carry walks and pedestrians.
    eta_D, eta_R, eta_I, gamma_DC, gamma_DW, gamma_LL, gamma_LL2, gamma_SII : float or None
        Load modifiers and the owner's load factors.
    condition, system, rating_trucks, overlay_measured, rating_impact, legal_factor : optional
        Load rating, which is made where `condition` is given.
    permit_vehicle, permit_kind : str, PermitKind
        A vehicle that is rated too, and its trips.
    sources : mapping of str to str
        Where a field was read, such as ``{"span": "plans, sheet 3"}``.
    source : str
        Where the fields without an entry in `sources` were read.
    title : mapping of str to str
        Fields of the title block.

    Raises
    ------
    RangeError
        If a value is impossible, or two values contradict each other; the message names the key.
    DimensionError
        If a quantity has the wrong dimension, or is not a quantity.
    TableError
        If the shape or the grade is not in its table.

    Source
    ------
    No clause.  Roadway 3.6.1.1.1, bracing C6.10.1.6, grades Table 6.4.1-1 of AASHTO LRFD, 8th ed.
    (2017), from memory.
    """

    span: Any
    girders: int
    girder_spacing: Any
    overhang: Any
    barrier_width: Any
    deck_thickness: Any
    structural_thickness: Any
    haunch: Any
    haunch_datum: HaunchDatum
    barrier_weight: Any
    wearing_surface: Any
    wearing_basis: WearingBasis
    forms: Any
    miscellaneous: Any
    shape: str = ""
    diaphragm_spacing: Any
    top_flange: TopFlange
    bearing_length: Any
    steel_grade: str
    concrete_strength: Any
    composite: bool = False
    details: CompositeData | None = None
    roadway: Any = None
    yield_strength: Any = None
    modular_ratio: float | None = None
    barrier_sharing: BarrierSharing = BarrierSharing.EQUAL
    barrier_girders: int | None = None
    barrier_shares: str | None = None
    utilities: str | None = None
    sidewalk_width: Any = None
    sidewalk_thickness: Any = None
    sidewalks: int | None = None
    sidewalk_separated: bool | None = None
    rail_width: Any = None
    rail_weight: Any = None
    walk_sharing: WalkSharing = WalkSharing.EQUAL
    eta_D: float | None = None
    eta_R: float | None = None
    eta_I: float | None = None
    gamma_DC: float | None = None
    gamma_DW: float | None = None
    gamma_LL: float | None = None
    gamma_LL2: float | None = None
    gamma_SII: float | None = None
    condition: Condition | None = None
    system: System = System.REDUNDANT
    rating_trucks: float | None = None
    overlay_measured: bool | None = None
    rating_impact: float | None = None
    legal_factor: float | None = None
    permit_vehicle: str | None = None
    permit_kind: PermitKind = PermitKind.SINGLE
    construction_load: Any = field(default_factory=lambda: Q_(20, "psf"))
    concrete_weight: Any = field(default_factory=lambda: Q_(150, "pcf"))
    specification: Specification = Specification.LRFD
    live_load_maximum: LiveLoadMaximum = LiveLoadMaximum.SEPARATE
    girder_eccentricity: GirderEccentricity = GirderEccentricity.CODE
    sources: Mapping[str, str] = field(default_factory=dict)
    source: str = "bridge data"
    title: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for key, rule in FIELDS.items():
            value = getattr(self, key)
            if key == "shape" and self.welded:
                self._refuse_shape()
            elif value is not None or rule.required:
                self._set(key, checked(rule, value))
        unknown = sorted(set(self.sources) - set(ALL_FIELDS))
        if unknown:
            msg = f"sources names {unknown[0]!r}, which is no key of a bridge"
            raise UnknownNameError(msg)
        self._check_composite()
        if not self.welded:
            self._set("shape", _row_name("shape", "w_shapes", self.shape))
        self._set("steel_grade", _row_name("steel_grade", "steel_grades", self.steel_grade))
        self._set("sources", MappingProxyType(dict(self.sources)))
        self._set("title", MappingProxyType(dict(self.title)))
        self._check_grade()
        check_deck_loads(self)
        self._check_geometry()

    def _set(self, name: str, value: object) -> None:
        object.__setattr__(self, name, value)

    @property
    def welded(self) -> bool:
        """Whether the girder is made of plates."""
        return self.details is not None and self.details.welded

    @property
    def girder_words(self) -> str:
        """The girder in words: its shape, or the depth of its web."""
        if self.details is not None and self.details.welded:
            return f"plate girder, web {_text(self.details.web_depth)}"
        return self.shape

    @property
    def grade_strength(self) -> Any:
        """Yield strength that the grade guarantees."""
        return Q_(table("steel_grades").value(self.steel_grade, "Fy"), "ksi")

    @property
    def web_strength(self) -> Any:
        """Yield strength of the web: that of the grade, or of the web of a hybrid girder."""
        if self.details is None or self.details.web_grade is None:
            return self.grade_strength
        return Q_(table("steel_grades").value(self.details.web_grade, "Fy"), "ksi")

    @property
    def deck_width(self) -> float:
        """Width of the deck, ft."""
        return (self.girders - 1) * _feet(self.girder_spacing) + 2 * _feet(self.overhang)

    @property
    def roadway_width(self) -> float:
        """Clear roadway between the barriers, sidewalks taken off, ft."""
        walks = 0.0
        if self.sidewalks is not None:
            rail = _feet(self.rail_width) if self.sidewalk_separated else 0.0
            walks = self.sidewalks * (_feet(self.sidewalk_width) + rail)
        return self.deck_width - 2 * _feet(self.barrier_width) - walks

    @property
    def owner_factors(self) -> dict[str, float]:
        """Load modifiers and load factors that the file sets, by symbol."""
        keys = (rule.key for rule in FIELDS.values() if rule.section == "factors")
        return {key: value for key in keys if (value := getattr(self, key)) is not None}

    @property
    def lanes(self) -> int:
        """Number of design lanes: whole 12 ft lanes, two from 20 ft on, at least one."""
        whole = math.floor(self.roadway_width / 12 + _ROUND_OFF)
        two = 2 if self.roadway_width >= 20 * (1 - _ROUND_OFF) else 1
        return max(whole, two)

    def source_of(self, key: str) -> str:
        """Return where a field was read.

        Parameters
        ----------
        key : str
            A field of this record.

        Returns
        -------
        str
            Its entry in `sources`, or the common source.
        """
        return self.sources.get(key, self.source)

    def _refuse_shape(self) -> None:
        if self.shape:
            raise RangeError(
                f"shape is {self.shape!r}, but the girder has plate sizes; want a rolled shape or "
                "plates, not both"
            )

    def _check_composite(self) -> None:
        connected = self.details is not None and self.details.connected
        if self.composite is not connected:
            raise RangeError(
                f"composite is {str(self.composite).lower()}, which does not go with "
                f"{'' if connected else 'no '}shear connectors; a composite girder has the tables "
                "[studs] and [traffic], another has no [studs]"
            )
        if self.details is None:
            return
        if not connected and self.specification is not Specification.LRFD:
            raise RangeError(
                f"specification is {self.specification.value!r}; plate girders without shear "
                "connectors are checked by 'LRFD' here"
            )
        if connected and self.top_flange is not TopFlange.ANCHORED:
            raise RangeError(
                f"top_flange is {self.top_flange.value!r}, but the girder is composite; shear "
                f"connectors anchor it: want {TopFlange.ANCHORED.value!r}"
            )
        if self.specification is not Specification.LRFD and self.details.continuous:
            raise RangeError(
                f"specification is {self.specification.value!r}; continuous girders are checked by "
                "'LRFD' here"
            )
        spans = self.details.spans
        if spans and abs(_feet(spans[0].length) - _feet(self.span)) > _ROUND_OFF * _feet(self.span):
            raise RangeError(
                f"span is {_text(self.span)}, but the first of [[spans]] is "
                f"{_text(spans[0].length)}; correct one of them, or leave span out"
            )
        check_along_span(self.details, self.span)
        if self.specification is not Specification.LRFD:
            refuse_older(self.details, self.specification.value)
        slab = _in(self.structural_thickness, "inch")
        for _, depth in self.details.layers:
            if _in(depth, "inch") >= slab:
                raise RangeError(
                    f"structural_thickness is {slab:g} in, but bars lie {_text(depth)} below the "
                    "top of the slab; want reinforcement inside the slab"
                )

    def _check_grade(self) -> None:
        grades = table("steel_grades")
        if not self.welded and grades.value(self.steel_grade, "shapes") == 0:
            rolled = ", ".join(name for name in grades.names if grades.value(name, "shapes") != 0)
            raise RangeError(
                f"steel_grade is {self.steel_grade}, in which W shapes are not rolled; "
                f"want one of {rolled}"
            )
        if self.yield_strength is None:
            return
        given, guaranteed = _in(self.yield_strength, "ksi"), _in(self.grade_strength, "ksi")
        if abs(given - guaranteed) > _ROUND_OFF * guaranteed:
            raise RangeError(
                f"yield_strength is {given:g} ksi, but grade {self.steel_grade} has "
                f"{guaranteed:g} ksi; correct one of the two, or leave yield_strength out"
            )

    def _check_geometry(self) -> None:
        if _in(self.structural_thickness, "inch") > _in(self.deck_thickness, "inch") + _ROUND_OFF:
            raise RangeError(
                f"structural_thickness is {_text(self.structural_thickness)}, more than the "
                f"deck_thickness of {_text(self.deck_thickness)}; want the total less the "
                "sacrificial surface"
            )
        if _feet(self.diaphragm_spacing) > _feet(self.span) * (1 + _ROUND_OFF):
            raise RangeError(
                f"diaphragm_spacing is {_text(self.diaphragm_spacing)}, more than the span of "
                f"{_text(self.span)}; want the greatest distance between brace points"
            )
        width = self.roadway_width
        if width < 10 - _ROUND_OFF:
            raise RangeError(
                f"barrier_width leaves a roadway of {width:.2f} ft on a deck of "
                f"{self.deck_width:.2f} ft; want 10 ft or more: check girders, girder_spacing, "
                "overhang and barrier_width"
            )
        if self.roadway is not None and abs(_feet(self.roadway) - width) > _PLANS_AGREE_FT:
            raise RangeError(
                f"roadway is {_text(self.roadway)}, but {self.girders - 1} spaces of "
                f"{_text(self.girder_spacing)} with two overhangs of {_text(self.overhang)} less "
                f"two barriers of {_text(self.barrier_width)} leave {width:.5g} ft; correct one "
                "of them, or leave roadway out"
            )


def _row_name(key: str, table_id: str, name: str) -> str:
    rows = table(table_id)
    try:
        return rows.names[rows.row_number(name)]
    except TableError as error:
        raise TableError(f"{key} is not known: {error}") from None


def _text(value: Any) -> str:
    return f"{value:.5g~P}"


def _feet(value: Any) -> float:
    return _in(value, "ft")


def _in(value: Any, unit: str) -> float:
    return float(value.to(unit).magnitude)

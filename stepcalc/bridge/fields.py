"""What a bridge file may say: every key with its unit, its possible values, and an example.

One table serves the checks of :class:`stepcalc.bridge.data.BridgeData`, the reader of bridge files
and the schema that the reader prints.  A limit here says what is impossible or surely a slip of
the pen; the ranges of the code's formulas are ticked on the sheet instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

__all__ = [
    "FIELDS",
    "SECTIONS",
    "TITLE_KEYS",
    "BarrierSharing",
    "Choice",
    "Condition",
    "Field",
    "GirderEccentricity",
    "HaunchDatum",
    "LiveLoadMaximum",
    "PermitKind",
    "Specification",
    "System",
    "TopFlange",
    "WalkSharing",
    "WearingBasis",
]


class Choice(Enum):
    """Base of the options of a bridge file; the value is what is written there."""


class HaunchDatum(Choice):
    """The plane down to which the haunch is measured from the bottom of the slab."""

    TOP_OF_FLANGE = "top of top flange"
    TOP_OF_WEB = "top of web"


class TopFlange(Choice):
    """How the deck holds the top flange sideways once it has hardened (C6.10.1.6)."""

    ANCHORED = "anchored"
    EMBEDDED = "embedded, owner accepts"
    RESTING = "resting"


class WearingBasis(Choice):
    """How the wearing surface is carried."""

    SHARED = "shared over roadway"
    TRIBUTARY = "tributary width"


class BarrierSharing(Choice):
    """Which girders carry the barrier along an edge of the deck."""

    EQUAL = "all girders equally"
    FIRST = "the first girders from the edge equally"
    SHARES = "the first girders from the edge by percentages"


class WalkSharing(Choice):
    """Which girders carry sidewalks and the pedestrians on them."""

    EQUAL = "all girders equally"
    LEVER = "lever rule"


class Condition(Choice):
    """Condition of a member that is rated (MBE 6A.4.2.3)."""

    GOOD = "good or satisfactory"
    FAIR = "fair"
    POOR = "poor"


class System(Choice):
    """System that a rated member belongs to (MBE 6A.4.2.4)."""

    REDUNDANT = "other girder bridge"
    FOUR_CLOSE = "four girders at 4 ft or less"
    THREE_CLOSE = "three girders at 6 ft or less"
    WELDED_PAIR = "two girders, welded"
    RIVETED_PAIR = "two girders, riveted"


class PermitKind(Choice):
    """Trips of a permit vehicle, and the traffic beside it (MBE 6A.4.5)."""

    ESCORTED = "single trip, escorted, no other traffic"
    SINGLE = "single trip in traffic"
    SEVERAL = "up to 100 trips in traffic"
    ANNUAL = "annual, in traffic"


class LiveLoadMaximum(Choice):
    """Which combined maximum of axles and lane load is used."""

    SEPARATE = "sum of separate maxima"
    ONE_SECTION = "combined maximum at one section"


class GirderEccentricity(Choice):
    """What e_g is in the longitudinal stiffness K_g of a non-composite girder."""

    CODE = "to middle of deck"
    ZERO = "zero, owner"


class Specification(Choice):
    """The specification that the girder is checked by."""

    LRFD = "LRFD"
    LFD = "LFD"
    ASD = "ASD"


@dataclass(frozen=True)
class Field:
    """One key of a bridge file.

    Parameters
    ----------
    key, section : str
        The key and the table of the file it stands in.
    meaning : str
        What it is, in the words of the trade.
    example : str
        A value as it is written in the file.
    units : tuple of str
        Unit texts, each of another dimension; empty for text, a whole number or an option.
    low, high : tuple of float
        Least and greatest value, in each of the `units`.
    above_low : bool
        The least value itself is not possible.
    options : type of Choice or None
        The options, if it is one of a few.
    required : bool
        The file must have the key.
    assumed : str
        Why the default stands, printed as an assumption; empty if there is no default.
    flag : bool
        The value is true or false.
    """

    key: str
    section: str
    meaning: str
    example: str
    units: tuple[str, ...] = ()
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    above_low: bool = False
    options: type[Choice] | None = None
    required: bool = True
    assumed: str = ""
    flag: bool = False


def _measure(
    section: str,
    key: str,
    meaning: str,
    example: str,
    unit: str,
    low: float,
    high: float,
    *,
    above_low: bool = False,
    assumed: str = "",
    required: bool = True,
) -> Field:
    return Field(key, section, meaning, example, (unit,), (low,), (high,), above_low,
                 required=required and not assumed, assumed=assumed)  # fmt: skip


def _option(
    section: str, key: str, meaning: str, options: type[Choice], *, assumed: str = ""
) -> Field:
    example = str(next(iter(options)).value)
    return Field(key, section, meaning, example, options=options, required=not assumed,
                 assumed=assumed)  # fmt: skip


def _factor(key: str, meaning: str, example: str) -> Field:
    return Field(key, _FACTORS, meaning, example, low=(0.5,), high=(3.0,), required=False)


_GEOMETRY, _DECK, _LOADS = "geometry", "deck", "loads"
_GIRDER, _MATERIALS, _DESIGN = "girder", "materials", "design"
_WALK, _FACTORS, _RATING = "sidewalk", "factors", "rating"

_ROWS = (
    _measure(_GEOMETRY, "span", "span, centre to centre of bearings", "47 ft", "ft", 5, 400),
    Field("girders", _GEOMETRY, "number of girders", "4", low=(3,), high=(40,)),
    _measure(_GEOMETRY, "girder_spacing", "spacing of the girders", "7'-9\"", "ft", 2, 30),
    _measure(_GEOMETRY, "overhang", "deck beyond the exterior girder", "2'-6\"", "ft", 0, 15),
    _measure(_GEOMETRY, "barrier_width", "width of one barrier at the deck", "1'-4\"", "ft", 0, 6),
    _measure(_GEOMETRY, "roadway", "clear roadway between the barriers, as a cross-check",
             "25'-7\"", "ft", 10, 300, required=False),
    _measure(_DECK, "deck_thickness", "deck thickness, total", "8 1/2\"", "inch", 4, 24),
    _measure(_DECK, "structural_thickness", "deck thickness without the sacrificial surface",
             "8 in", "inch", 4, 24),
    _measure(_DECK, "haunch", "haunch, bottom of slab to its datum", "1 1/2\"", "inch", 0, 18),
    _option(_DECK, "haunch_datum", "plane that the haunch is measured to", HaunchDatum),
    _measure(_LOADS, "barrier_weight", "weight of one barrier", "0.37 klf", "klf", 0, 3),
    _measure(_LOADS, "wearing_surface", "wearing surface", "25 psf", "psf", 0, 250),
    _option(_LOADS, "wearing_basis", "how the wearing surface is carried", WearingBasis),
    _measure(_LOADS, "forms", "stay-in-place forms with the concrete in their valleys", "15 psf",
             "psf", 0, 60),
    Field("miscellaneous", _LOADS, "diaphragms, stiffeners and bolts: share of the beam's weight, "
          "or weight per length", "5 percent", ("percent", "plf"), (0, 0), (50, 200)),
    _measure(_LOADS, "construction_load", "construction live load in the pour", "20 psf", "psf", 0,
             150, assumed="construction live load of workers and equipment; common practice, "
             "no source"),
    _measure(_LOADS, "concrete_weight", "unit weight of reinforced concrete", "150 pcf", "pcf", 90,
             170, assumed="normal-weight concrete with reinforcement; common practice"),
    _option(_LOADS, "barrier_sharing", "which girders carry a barrier", BarrierSharing,
            assumed="equal shares of what is put on the hardened deck, LRFD 4.6.2.2.1"),
    Field("barrier_girders", _LOADS, "girders from the edge that carry a barrier equally", "2",
          low=(1,), high=(3,), required=False),
    Field("barrier_shares", _LOADS, "percentages of a barrier on the first girders from the edge",
          "60, 40", required=False),
    Field("utilities", _LOADS, "utilities with their weights, and where or on which girders they "
          "hang", "water main: 0.12 klf at 10 ft; duct: 0.05 klf on girders 2 and 3",
          required=False),
    _measure(_WALK, "sidewalk_width", "clear width of a sidewalk", "5'-0\"", "ft", 0, 30,
             above_low=True, required=False),
    _measure(_WALK, "sidewalk_thickness", "concrete of the walk above the deck", "6 in", "inch", 0,
             24, required=False),
    Field("sidewalks", _WALK, "sidewalks, on one side of the deck or on both", "1", low=(1,),
          high=(2,), required=False),
    Field("sidewalk_separated", _WALK, "whether the barrier stands between traffic and the walk, "
          "with a rail at the edge of the deck", "true", required=False, flag=True),
    _measure(_WALK, "rail_width", "width of the rail outside a separated walk", "8 in", "inch", 0,
             36, required=False),
    _measure(_WALK, "rail_weight", "weight of that rail", "0.05 klf", "klf", 0, 2,
             required=False),
    _option(_WALK, "walk_sharing", "which girders carry walks and pedestrians", WalkSharing,
            assumed="equal shares of what is put on the hardened deck, LRFD 4.6.2.2.1"),
    *(_factor(key, words, example) for key, words, example in (
        ("eta_D", "load modifier, ductility", "1.0"),
        ("eta_R", "load modifier, redundancy", "1.05"),
        ("eta_I", "load modifier, importance", "1.0"),
        ("gamma_DC", "owner's load factor, components", "1.25"),
        ("gamma_DW", "owner's load factor, wearing surface and utilities", "1.50"),
        ("gamma_LL", "owner's load factor, live load, Strength I", "1.75"),
        ("gamma_LL2", "owner's load factor, live load, Strength II", "1.35"),
        ("gamma_SII", "owner's load factor, live load, Service II", "1.30"),
    )),
    Field("condition", _RATING, "condition of the girder; with it the girder is rated",
          "good or satisfactory", options=Condition, required=False),
    _option(_RATING, "system", "system the girder belongs to", System,
            assumed="girder bridge with more than three girders"),
    Field("rating_trucks", _RATING, "trucks a day in one direction", "800", low=(0,),
          high=(50_000,), required=False),
    Field("overlay_measured", _RATING, "whether the overlay was measured in the field", "false",
          required=False, flag=True),
    Field("rating_impact", _RATING, "dynamic load allowance of legal and permit loads", "0.33",
          low=(0,), high=(0.5,), required=False),
    Field("legal_factor", _RATING, "owner's live-load factor of legal loads", "1.45", low=(1,),
          high=(2,), required=False),
    Field("permit_vehicle", _RATING, "permit vehicle: an id, or axles in kip and spacings in ft",
          "crane: 18, 24, 24 @ 13.5, 4.5", required=False),
    _option(_RATING, "permit_kind", "trips of the permit vehicle", PermitKind,
            assumed="a single trip in traffic"),
    Field("composite", _GIRDER, "whether shear connectors make the deck part of the girder",
          "false", required=False, assumed="no shear connectors on the plans", flag=True),
    Field("shape", _GIRDER, "W shape on trial", "W30X116"),
    _measure(_GIRDER, "diaphragm_spacing", "spacing of the diaphragms", "15'-8\"", "ft", 0, 400,
             above_low=True),
    _option(_GIRDER, "top_flange", "how the hardened deck holds the top flange", TopFlange),
    _measure(_GIRDER, "bearing_length", "length of bearing along the girder", "10 in", "inch", 1,
             48),
    Field("steel_grade", _MATERIALS, "grade of ASTM A709", "50W"),
    _measure(_MATERIALS, "yield_strength", "yield strength, as a cross-check of the grade",
             "50 ksi", "ksi", 20, 120, required=False),
    _measure(_MATERIALS, "concrete_strength", "strength of the deck concrete, 28 days", "4 ksi",
             "ksi", 2, 12),
    Field("modular_ratio", _MATERIALS, "modular ratio, where not taken from the strength", "8",
          low=(4,), high=(15,), required=False),
    _option(_DESIGN, "specification", "specification of the checks", Specification,
            assumed="LRFD"),
    _option(_DESIGN, "live_load_maximum", "combined maximum of axles and lane load",
            LiveLoadMaximum, assumed="the hand procedure's, conservative by about 0.1 %"),
    _option(_DESIGN, "girder_eccentricity", "e_g in the stiffness K_g", GirderEccentricity,
            assumed="the code makes no exception for non-composite girders"),
)  # fmt: skip

FIELDS: dict[str, Field] = {field.key: field for field in _ROWS}
"""Every key by its name, in the order of the file."""

SECTIONS: tuple[str, ...] = (
    _GEOMETRY, _DECK, _LOADS, _WALK, _GIRDER, _MATERIALS, _DESIGN, _FACTORS, _RATING,
)  # fmt: skip
"""Tables of the file that hold the keys of `FIELDS`."""

TITLE_KEYS: tuple[str, ...] = (
    "project", "subject", "job", "prepared_by", "prepared_on", "checked_by", "checked_on",
    "reviewed_by", "revision",
)  # fmt: skip
"""Keys of the optional table ``[title]``: what the title block of every sheet shows."""

"""What a bridge file may say of a composite girder, beyond what every girder needs.

The tables ``[plates] [stiffeners] [pier] [reinforcement] [studs] [traffic] [exterior] [camber]
[cover_plate] [skew]`` belong to a file whose table ``[girder]`` has ``composite = true``; all but
``[pier] [reinforcement] [studs] [cover_plate]`` also to a girder with ``[plates]`` that is not.
"""

from __future__ import annotations

from stepcalc.bridge.fields import FIELDS, Choice, Field
from stepcalc.bridge.section_fields import SECTION_FIELDS

__all__ = [
    "ALL_FIELDS", "COMPOSITE_FIELDS", "COMPOSITE_SECTIONS", "Category", "CodeEdition", "Widening",
]  # fmt: skip


class Category(Choice):
    """Detail categories of fatigue."""

    A = "A"
    B = "B"
    B_PRIME = "B'"
    C = "C"
    C_PRIME = "C'"
    D = "D"
    E = "E"
    E_PRIME = "E'"


class CodeEdition(Choice):
    """Editions whose fatigue and wind factors are kept together."""

    SEVENTH = "7th"
    EIGHTH = "8th"
    NINTH = "9th"


class Widening(Choice):
    """Whether the deck may be widened later, the exception of 2.5.2.7.1."""

    POSSIBLE = "possible"
    INCONCEIVABLE = "virtually inconceivable"


def _length(section: str, key: str, meaning: str, example: str, low: float, high: float,
            assumed: str = "", unit: str = "inch", above_low: bool = True) -> Field:  # fmt: skip
    return Field(key, section, meaning, example, (unit,), (low,), (high,), above_low,
                 required=False, assumed=assumed)  # fmt: skip


def _number(section: str, key: str, meaning: str, example: str, low: float, high: float,
            assumed: str = "") -> Field:  # fmt: skip
    return Field(key, section, meaning, example, low=(low,), high=(high,), required=False,
                 assumed=assumed)  # fmt: skip


def _option(section: str, key: str, meaning: str, options: type[Choice], example: str,
            assumed: str) -> Field:  # fmt: skip
    return Field(key, section, meaning, example, options=options, required=False, assumed=assumed)


_PLATES, _STIFF, _BARS, _STUDS = "plates", "stiffeners", "reinforcement", "studs"
_TRAFFIC, _EXTERIOR, _CAMBER, _PIER = "traffic", "exterior", "camber", "pier"

_ROWS = (
    _length(_PLATES, "top_flange_width", "width of the top flange", "14 in", 0, 60),
    _length(_PLATES, "top_flange_thickness", "thickness of the top flange", "3/4\"", 0, 6),
    _length(_PLATES, "web_depth", "depth of the web", "48 in", 0, 240),
    _length(_PLATES, "web_thickness", "thickness of the web", "1/2\"", 0, 3),
    _length(_PLATES, "bottom_flange_width", "width of the bottom flange", "16 in", 0, 60),
    _length(_PLATES, "bottom_flange_thickness", "thickness of the bottom flange", "1 1/4\"", 0, 6),
    _length(_STIFF, "end_panel", "bearing to the first transverse stiffener", "5 ft", 0, 100,
            unit="ft"),
    _length(_STIFF, "panel", "spacing of the transverse stiffeners elsewhere", "10 ft", 0, 100,
            unit="ft"),
    _length(_STIFF, "stiffener_width", "projecting width of a transverse stiffener", "5 1/2\"", 0,
            30),
    _length(_STIFF, "stiffener_thickness", "its thickness", "1/2\"", 0, 3),
    _length(_STIFF, "bearing_width", "projecting width of a bearing stiffener", "6 in", 0, 30),
    _length(_STIFF, "bearing_thickness", "its thickness", "3/4\"", 0, 4),
    _length(_STIFF, "bearing_clip", "corner cut off a bearing stiffener", "1 in", 0, 6,
            "usual clip, common practice, no source"),
    _length(_PIER, "second_span", "second span of a girder continuous over one pier", "60 ft", 5,
            400, unit="ft", above_low=False),
    _length(_PIER, "pier_length", "section over the pier, from the pier to either side", "15 ft", 0,
            200, unit="ft"),
    _length(_PIER, "pier_top_width", "width of the top flange over the pier", "16 in", 0, 60),
    _length(_PIER, "pier_top_thickness", "its thickness", "1 1/2\"", 0, 6),
    _length(_PIER, "pier_bottom_width", "width of the bottom flange over the pier", "18 in", 0, 60),
    _length(_PIER, "pier_bottom_thickness", "its thickness", "2 in", 0, 6),
    _length(_PIER, "pier_web_thickness", "thickness of the web over the pier", "9/16\"", 0, 3),
    _length(_PIER, "pier_brace", "pier to the next cross-frame", "15 ft", 0, 200, unit="ft"),
    _length(_PIER, "pier_panel", "spacing of the transverse stiffeners beside the pier", "5 ft", 0,
            100, unit="ft"),
    _length(_BARS, "top_bars", "top longitudinal bars within the effective width", "5.5 in^2", 0,
            100, unit="inch**2"),
    _length(_BARS, "top_bars_depth", "top of the slab to the top bars", "3 in", 0, 24),
    _length(_BARS, "bottom_bars", "bottom longitudinal bars within the effective width",
            "3.0 in^2", 0, 100, unit="inch**2"),
    _length(_BARS, "bottom_bars_depth", "top of the slab to the bottom bars", "6 1/2\"", 0, 24),
    _length(_BARS, "bar_strength", "yield strength of the bars", "60 ksi", 30, 120,
            "ASTM A615 grade 60", "ksi", False),
    _length(_STUDS, "stud_diameter", "diameter of a stud", "7/8\"", 0.25, 1.5, unit="inch",
            above_low=False),
    _length(_STUDS, "stud_height", "height of a stud after welding", "5 in", 1, 15,
            above_low=False),
    _number(_STUDS, "studs_per_row", "studs in one row across the flange", "3", 1, 8),
    _length(_STUDS, "stud_spacing", "spacing of the studs across the flange", "4 in", 0, 24),
    _length(_STUDS, "stud_strength", "tensile strength of a stud", "60 ksi", 40, 100,
            "least tensile strength of stud connectors, LRFD 6.4.4, from memory", "ksi", False),
    Field("studs_over_piers", _STUDS, "whether studs run on over the piers; without them the steel "
          "alone resists there", "true", flag=True, required=False),
    _number(_TRAFFIC, "trucks_per_day", "trucks a day in one direction, averaged over the design "
            "life", "1200", 1, 50_000),
    _number(_TRAFFIC, "truck_lanes", "lanes open to trucks in that direction", "1", 1, 8),
    _option(_TRAFFIC, "edition", "edition of LRFD for fatigue and wind", CodeEdition, "8th",
            "the edition of all other constants"),
    _option(_TRAFFIC, "connection_plate_category", "category at the toe of the connection plate "
            "nearest midspan", Category, "C'", "transverse connection plate welded to the "
            "tension flange or web, LRFD Table 6.6.1.2.3-1, 4.1, from memory"),
    _option(_TRAFFIC, "base_metal_category", "category of the bottom flange itself", Category, "B",
            "uncoated weathering steel or flange-to-web weld, the lower of the usual two, LRFD "
            "Table 6.6.1.2.3-1, from memory"),
    _option(_TRAFFIC, "stud_flange_category", "category of the top flange at the studs", Category,
            "C", "base metal at welded studs, LRFD Table 6.6.1.2.3-1, 9.1, from memory"),
    _length(_EXTERIOR, "bracket_reach", "horizontal reach of an overhang bracket", "3 ft", 0, 20,
            unit="ft"),
    _length(_EXTERIOR, "bracket_drop", "height over which the bracket braces", "2'-6\"", 0, 20,
            unit="ft"),
    _length(_EXTERIOR, "bracket_load", "forms, walkway and live load on the brackets of one "
            "overhang", "0.12 klf", 0, 5, unit="klf", above_low=False),
    _length(_EXTERIOR, "machine_load", "finishing machine on one overhang", "3 kip", 0, 100,
            unit="kip", above_low=False),
    _length(_EXTERIOR, "wind_strength_3", "wind pressure of Strength III", "40 psf", 0, 200,
            unit="psf", above_low=False),
    _length(_EXTERIOR, "wind_strength_5", "wind pressure of Strength V", "20 psf", 0, 200,
            unit="psf", above_low=False),
    _option(_EXTERIOR, "widening", "whether the deck may be widened later", Widening, "possible",
            "the rule of LRFD 2.5.2.7.1; its exception is the owner's to state"),
    _length(_CAMBER, "camber_step", "camber is rounded up to a multiple of this", "1/8\"", 0, 1,
            "shop practice, common practice, no source"),
)  # fmt: skip

COMPOSITE_FIELDS: dict[str, Field] = {field.key: field for field in (*_ROWS, *SECTION_FIELDS)}
"""Every key by its name, in the order of the file."""

COMPOSITE_SECTIONS: tuple[str, ...] = tuple(
    dict.fromkeys(field.section for field in COMPOSITE_FIELDS.values())
)
"""Tables of the file that hold them."""

ALL_FIELDS: dict[str, Field] = FIELDS | COMPOSITE_FIELDS
"""The keys of every girder and of composite ones."""

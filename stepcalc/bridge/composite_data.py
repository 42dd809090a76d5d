"""The data of a composite or welded girder: what the plans say beyond the bridge itself."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite_fields import COMPOSITE_FIELDS, Category, CodeEdition, Widening
from stepcalc.bridge.field_checks import checked
from stepcalc.bridge.section_fields import EndWeld, SkewReduction
from stepcalc.bridge.section_rules import (
    COVER,
    LONGITUDINAL,
    check_sections,
    check_without_studs,
)
from stepcalc.bridge.span_tables import check_line, spans_of_old_keys
from stepcalc.errors import RangeError
from stepcalc.units import Q_

if TYPE_CHECKING:
    from collections.abc import Callable

    from stepcalc.bridge.section_fields import ChangeTable
    from stepcalc.bridge.span_tables import PierTable, PourTable, SpanTable

__all__ = ["CompositeData"]

_PLATES = (
    "top_flange_width", "top_flange_thickness", "web_depth", "web_thickness",
    "bottom_flange_width", "bottom_flange_thickness",
)  # fmt: skip
_PANELS = ("end_panel", "panel")
_STIFFENERS = (
    "stiffener_width", "stiffener_thickness", "bearing_width", "bearing_thickness",
)  # fmt: skip
_PIER = (
    "second_span", "pier_length", "pier_top_width", "pier_top_thickness", "pier_bottom_width",
    "pier_bottom_thickness", "pier_web_thickness", "pier_brace", "pier_panel",
)  # fmt: skip
_STUDS = ("stud_diameter", "stud_height", "studs_per_row", "stud_spacing")
_TRAFFIC = ("trucks_per_day", "truck_lanes")
_BRACKET = ("bracket_reach", "bracket_drop", "bracket_load", "machine_load")
_WIND = ("wind_strength_3", "wind_strength_5")


def _of(value: float, unit: str) -> Callable[[], Any]:
    return lambda: Q_(value, unit)


@dataclass(frozen=True, kw_only=True)
class CompositeData:
    """What a composite or welded girder has beyond :class:`stepcalc.bridge.data.BridgeData`.

    Meaning, possible values and an example of every field stand in
    :data:`stepcalc.bridge.composite_fields.COMPOSITE_FIELDS`.

    Parameters
    ----------
    top_flange_width, top_flange_thickness, web_depth, web_thickness : Quantity or None, [length]
        With `bottom_flange_width` and `bottom_flange_thickness` the plates of a welded girder, all
        six; none of them for a rolled shape.
    end_panel, panel, stiffener_width, stiffener_thickness : Quantity or None, [length]
        With `bearing_width` and `bearing_thickness` the stiffeners of a welded girder, all six.
    second_span, pier_length, pier_brace, pier_panel : Quantity or None, [length]
        With `pier_top_width`, `pier_top_thickness`, `pier_bottom_width`, `pier_bottom_thickness`
        and `pier_web_thickness` a girder continuous over one pier, all nine.
    top_bars, bottom_bars : Quantity or None, [length**2]
        Longitudinal bars within the effective width, at `top_bars_depth` and `bottom_bars_depth`.
    stud_diameter, stud_height, stud_spacing : Quantity, [length]
        With `studs_per_row`, the shear connectors, all four; none of them for a welded girder of
        one span that is not composite.
    trucks_per_day, truck_lanes : int
        Traffic for fatigue.
    bracket_reach, bracket_drop, bracket_load, machine_load : Quantity or None
        Overhang brackets, all four or none.
    wind_strength_3, wind_strength_5 : Quantity or None, [stress]
        Wind on the fascia, both or none.
    widening : Widening
        Whether the deck may be widened later: the exterior girder then resists no less than an
        interior one.
    web_grade : str or None
        Grade of the web of a hybrid girder; the flanges have the grade of the bridge.
    longitudinal_distance, longitudinal_width, longitudinal_thickness : Quantity or None, [length]
        A longitudinal stiffener, all three or none.
    cover_width, cover_thickness, cover_start : Quantity or None, [length]
        A cover plate below the bottom flange of a rolled beam, all three or none; `cover_end` is
        its end weld.
    skew_angle : Quantity or None
        Of the supports; `skew_reduction` says whether it reduces the lanes for moment.
    changes : tuple of ChangeTable
        Other flanges nearer to the bearing, welded girders of one span.
    spans, piers, pours : tuple of SpanTable, PierTable, PourTable
        A continuous girder of any spans, in place of `second_span` and the `pier_` keys.

    Raises
    ------
    RangeError
        If a value is impossible, or one of a group is missing; the message names the key.
    DimensionError
        If a quantity has the wrong dimension.
    """

    stud_diameter: Any = None
    stud_height: Any = None
    studs_per_row: int | None = None
    stud_spacing: Any = None
    trucks_per_day: int | None = None
    truck_lanes: int | None = None
    top_flange_width: Any = None
    top_flange_thickness: Any = None
    web_depth: Any = None
    web_thickness: Any = None
    bottom_flange_width: Any = None
    bottom_flange_thickness: Any = None
    end_panel: Any = None
    panel: Any = None
    stiffener_width: Any = None
    stiffener_thickness: Any = None
    bearing_width: Any = None
    bearing_thickness: Any = None
    bearing_clip: Any = field(default_factory=_of(1, "inch"))
    second_span: Any = None
    pier_length: Any = None
    pier_top_width: Any = None
    pier_top_thickness: Any = None
    pier_bottom_width: Any = None
    pier_bottom_thickness: Any = None
    pier_web_thickness: Any = None
    pier_brace: Any = None
    pier_panel: Any = None
    top_bars: Any = None
    top_bars_depth: Any = None
    bottom_bars: Any = None
    bottom_bars_depth: Any = None
    bar_strength: Any = field(default_factory=_of(60, "ksi"))
    stud_strength: Any = field(default_factory=_of(60, "ksi"))
    edition: CodeEdition = CodeEdition.EIGHTH
    connection_plate_category: Category = Category.C_PRIME
    base_metal_category: Category = Category.B
    stud_flange_category: Category = Category.C
    bracket_reach: Any = None
    bracket_drop: Any = None
    bracket_load: Any = None
    machine_load: Any = None
    wind_strength_3: Any = None
    wind_strength_5: Any = None
    widening: Widening = Widening.POSSIBLE
    web_grade: str | None = None
    longitudinal_distance: Any = None
    longitudinal_width: Any = None
    longitudinal_thickness: Any = None
    cover_width: Any = None
    cover_thickness: Any = None
    cover_start: Any = None
    cover_end: EndWeld = EndWeld.ACROSS
    skew_angle: Any = None
    skew_reduction: SkewReduction = SkewReduction.NOT_TAKEN
    changes: tuple[ChangeTable, ...] = ()
    camber_step: Any = field(default_factory=_of(0.125, "inch"))
    studs_over_piers: bool = True
    spans: tuple[SpanTable, ...] = ()
    piers: tuple[PierTable, ...] = ()
    pours: tuple[PourTable, ...] = ()

    def __post_init__(self) -> None:
        for key, rule in COMPOSITE_FIELDS.items():
            value = getattr(self, key)
            if value is not None:
                object.__setattr__(self, key, checked(rule, value))
        if any(getattr(self, key) is not None for key in _PLATES):
            self._all(_PLATES, "a welded girder has all six plate sizes")
        if not self.welded or any(getattr(self, key) is not None for key in _STUDS):
            self._all(_STUDS, "a composite girder has shear connectors")
        self._all(_TRAFFIC, "the girder is checked for fatigue")
        for keys, why in (
            (_PANELS, "the panels of a welded girder are stated together"),
            (_STIFFENERS, "the stiffeners of a welded girder are stated together"),
            (_PIER, "a girder continuous over a pier has its second span and pier section stated"),
            (_BRACKET, "overhang brackets are stated together"),
            (_WIND, "both wind pressures are stated together"),
            (COVER, "a cover plate is stated with its place"),
            (LONGITUDINAL, "a longitudinal stiffener is stated with its place"),
        ):
            if any(getattr(self, key) is not None for key in keys):
                self._all(keys, why)
        if self.welded:
            self._all(_STIFFENERS, "a welded girder has its stiffeners stated")
            if not (self.spans and all(span.stiffeners for span in self.spans)):
                self._all(_PANELS, "a welded girder has the panels of its web stated")
            self._check_plates()
        elif self.stiffened:
            raise RangeError(
                "end_panel is given, but the girder is a rolled shape; stiffeners belong to a "
                "welded girder with its six plate sizes"
            )
        for bars, depth in (("top_bars", "top_bars_depth"), ("bottom_bars", "bottom_bars_depth")):
            if (getattr(self, bars) is None) != (getattr(self, depth) is None):
                raise RangeError(f"{bars} and {depth} are stated together, or neither")
        check_sections(self)
        if not self.connected:
            check_without_studs(self)
        if self.continuous:
            self._check_line()

    def _check_line(self) -> None:
        if self.top_bars is None:
            raise RangeError(
                "top_bars is missing; over the pier the longitudinal bars are part of the girder: "
                "want a value such as 5.5 in^2"
            )
        if self.spans:
            if self.second_span is not None:
                raise RangeError(
                    "second_span and [[spans]] are both given; want the spans stated once"
                )
            check_line(self.spans, self.piers, welded=self.welded, studs=self.studs_over_piers)
            return
        if not self.welded:
            raise RangeError(
                "second_span is given, but the girder has no plates; state the spans of a rolled "
                "beam by [[spans]], or the six plate sizes of a girder that is welded here"
            )
        for where in ("top", "bottom"):
            wide = getattr(self, f"pier_{where}_width")
            if self.pier_web_thickness >= wide:
                raise RangeError(
                    f"pier_web_thickness is {self.pier_web_thickness:.5g~P}, and the {where} "
                    f"flange there is {wide:.5g~P} wide; a flange is wider than the web is thick"
                )
        if self.pier_brace > self.second_span:
            raise RangeError(
                f"pier_brace is {self.pier_brace:.5g~P}, longer than the second span of "
                f"{self.second_span:.5g~P}; want the distance to the next cross-frame"
            )
        if self.pier_length >= self.second_span:
            raise RangeError(
                f"pier_length is {self.pier_length:.5g~P}, not less than the second span of "
                f"{self.second_span:.5g~P}; want the length of the section over the pier"
            )

    def _all(self, keys: tuple[str, ...], why: str) -> None:
        for key in keys:
            if getattr(self, key) is None:
                rule = COMPOSITE_FIELDS[key]
                raise RangeError(
                    f"{key} is missing; {why}: want a value such as {rule.example} ({rule.meaning})"
                )

    def _check_plates(self) -> None:
        for where in ("top", "bottom"):
            wide = getattr(self, f"{where}_flange_width")
            if self.web_thickness >= wide:
                raise RangeError(
                    f"web_thickness is {self.web_thickness:.5g~P}, and the {where} flange is "
                    f"{wide:.5g~P} wide; a flange is wider than the web is thick"
                )
        if self.end_panel is not None and self.end_panel > self.panel:
            raise RangeError(
                f"end_panel is {self.end_panel:.5g~P}, longer than the other panels of "
                f"{self.panel:.5g~P}; want the closer spacing at the bearing"
            )

    @property
    def welded(self) -> bool:
        """Whether the girder is made of plates."""
        return self.web_depth is not None

    @property
    def connected(self) -> bool:
        """Whether shear connectors are given."""
        return self.stud_diameter is not None

    @property
    def continuous(self) -> bool:
        """Whether the girder runs over a pier into another span."""
        return self.second_span is not None or bool(self.spans)

    def spans_and_piers(
        self, span: Any
    ) -> tuple[tuple[SpanTable, ...], tuple[PierTable | None, ...]]:
        """Return the spans of a continuous girder, and the section over each pier.

        Parameters
        ----------
        span : Quantity, [length]
            The first span.

        Returns
        -------
        tuple of SpanTable, tuple of PierTable or None
            None where the section of the spans runs on over the pier.
        """
        if not self.spans:
            spans, pier = spans_of_old_keys(self, span)
            return spans, (pier,)
        between = len(self.spans) - 1
        if not self.piers:
            return self.spans, (None,) * between
        return self.spans, self.piers * between if len(self.piers) == 1 else self.piers

    @property
    def stiffened(self) -> bool:
        """Whether stiffeners are given."""
        return self.end_panel is not None or self.stiffener_width is not None

    @property
    def brackets(self) -> bool:
        """Whether overhang brackets are given."""
        return self.bracket_reach is not None

    @property
    def wind(self) -> bool:
        """Whether wind on the fascia is given."""
        return self.wind_strength_3 is not None

    @property
    def layers(self) -> tuple[tuple[Any, Any], ...]:
        """Layers of bars, the top one first: area and depth."""
        rows = ((self.top_bars, self.top_bars_depth), (self.bottom_bars, self.bottom_bars_depth))
        return tuple(row for row in rows if row[0] is not None)

"""The sections of a continuous girder: that of the spans, and those over the piers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.elastic import (
    ElasticSections,
    cracked_section,
    elastic_sections,
    steel_section,
)
from stepcalc.bridge.composite.figure import draw_girder_section
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.plates import PlateSizes, plate_girder
from stepcalc.bridge.whole.composite_section import composite_section
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import ISection
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.span_tables import PierTable
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_line import Line
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["BareSection", "LineSection", "bare_sections", "state_line", "whole_sections"]


@dataclass(frozen=True)
class BareSection:
    """A section of bare steel.

    Attributes
    ----------
    number : int
        Counted from 1; the section of the spans is 1.
    words : str
        Such as ``"section 2, pier"``.
    steel : ISection
    geometry : Geometry
    elastic : Elastic
    """

    number: int
    words: str
    steel: ISection
    geometry: Geometry
    elastic: Elastic


@dataclass(frozen=True)
class LineSection:
    """A section with its slab.

    Attributes
    ----------
    bare : BareSection
    geometry : Geometry
        With slab and bars; of the steel alone where no studs stand.
    elastic : ElasticSections
    """

    bare: BareSection
    geometry: Geometry
    elastic: ElasticSections

    @property
    def words(self) -> str:
        """Its name."""
        return self.bare.words

    @property
    def composite(self) -> bool:
        """Whether studs stand on it."""
        return self.elastic.short_term is not None

    @property
    def late(self) -> Elastic:
        """What carries the later dead load: 3n, or the steel without studs."""
        return self.elastic.long_term or self.elastic.steel

    @property
    def short(self) -> Elastic:
        """What carries live load in positive bending, and stiffens the girder: n, or the steel."""
        return self.elastic.short_term or self.elastic.steel

    @property
    def hogging(self) -> Elastic:
        """What resists negative bending: steel and bars, or the steel without studs."""
        return self.elastic.cracked or self.elastic.steel


def state_line(sheet: Sheet, bridge: BridgeNodes, line: Line) -> tuple[Operand, ...]:
    """Write the spans, and tables of sections, cross-frames and panels.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives givens and tables.
    bridge : BridgeNodes
        The bridge; its span is the first one.
    line : Line
        The girder along its spans.

    Returns
    -------
    tuple of Operand, [length]
        The spans.
    """
    data = bridge.data
    key = "second_span" if data.details is not None and not data.details.spans else "span"
    spans = [bridge.span] + [
        sheet.given(f"L_{number}", span.length.to(ft), f"span {number}", source=data.source_of(key))
        for number, span in enumerate(line.spans, 1) if number > 1
    ]  # fmt: skip
    sheet.table(
        ["Span", "Length, ft", "Sections: number and end, ft", "Cross-frames, ft",
         "Panels of the web, ft"],
        [
            [
                str(number),
                f"{span.length.to('ft').magnitude:.6g}",
                _zones_in_words(line, number),
                _spaces([s.length for s in line.segments if s.start.span == number]),
                _spaces([p.length for p in line.panels if p.start.span == number]) or "none",
            ]
            for number, span in enumerate(line.spans, 1)
        ],
        "Girder elevation and framing, from left to right, as first given; section 1 is that of "
        "the spans",
    )  # fmt: skip
    sheet.note(
        "A place is named by its span and the tenth of it, 1.4 for 0.4 of span 1, or by its span "
        "and the ft from its left end, 1 + 21.50. Places keep their fraction of the span "
        "when a span is revised."
    )
    return tuple(spans)


def _zones_in_words(line: Line, number: int) -> str:
    length = float(line.spans[number - 1].length.to("ft").magnitude)
    parts = []
    for part in line.zones.split(";")[number - 1].split(","):
        section, _, until = part.partition(" to ")
        end = float(until) * length if until else length
        parts.append(f"{section.strip()} to {end:.6g}")
    return ", ".join(parts)


def _spaces(lengths: list[float]) -> str:
    runs: list[tuple[int, float]] = []
    for length in lengths:
        if runs and abs(runs[-1][1] - length) < 1e-6:
            runs[-1] = (runs[-1][0] + 1, length)
        else:
            runs.append((1, length))
    return ", ".join(f"{count} at {length:.4g}" for count, length in runs)


def bare_sections(
    sheet: Sheet, bridge: BridgeNodes, line: Line, steel: Steel
) -> tuple[BareSection, ...]:
    """Write the plates over the piers and the properties of their steel.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives a part for each of them.
    bridge, line : BridgeNodes, Line
    steel : Steel
        The section of the spans, written already.

    Returns
    -------
    tuple of BareSection
        That of the spans first.
    """
    found = [BareSection(1, "section 1", steel.section, steel.geometry, steel.elastic)]
    for number, pier in enumerate(line.sections, 1):
        if number == 1:
            continue
        assert pier is not None
        words = f"section {number}"
        if pier.plates is None:
            found.append(BareSection(number, words, steel.section, steel.geometry, steel.elastic))
            continue
        with sheet.part(f"Section {number}, plates over {_over(line, number)}"):
            section = plate_girder(sheet, _sizes(bridge, pier))
            geometry = section_geometry(sheet, section)
            elastic = steel_section(sheet, geometry)
        found.append(BareSection(number, words, section, geometry, elastic))
    return tuple(found)


def _over(line: Line, number: int) -> str:
    piers = [str(i + 2) for i, section in enumerate(line.pier_sections) if section == number]
    return f"support{'s' if len(piers) > 1 else ''} {' and '.join(piers)}"


def _sizes(bridge: BridgeNodes, pier: PierTable) -> PlateSizes:
    details, F = bridge.data.details, bridge.data.grade_strength
    assert details is not None
    assert pier.plates is not None
    top_b, top_t, low_b, low_t, web = pier.plates
    return PlateSizes(
        (top_b, top_t), (details.web_depth, web), (low_b, low_t), F, F, F,
        bridge.data.source_of("pier_length"),
    )  # fmt: skip


def whole_sections(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, bare: tuple[BareSection, ...],
    haunch: Operand, line: Line, *, exterior: bool,
) -> tuple[Composite, tuple[LineSection, ...]]:  # fmt: skip
    """Write slab and elastic properties of every section: in full once, then as tables.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, steel, bare, haunch
        Of the girder.
    line : Line
        Which sections carry studs.
    exterior : bool
        The exterior girder writes tables only: its formulas are those of the interior one.

    Returns
    -------
    Composite, tuple of LineSection
        The section of the spans once more, with its concrete.
    """
    details = bridge.data.details
    assert details is not None
    found: list[LineSection] = []
    with sheet.part("Section 1", tables_only=exterior):
        composite = composite_section(sheet, bridge, steel, haunch, exterior=exterior)
        elastic = composite.elastic
        cracked = cracked_section(sheet, composite.geometry, elastic.steel)
        first = ElasticSections(elastic.steel, elastic.long_term, elastic.short_term, cracked)
        found.append(LineSection(bare[0], composite.geometry, first))
        _properties(sheet, found[0])
    for item in bare[1:]:
        with sheet.part(f"Section {item.number}", tables_only=True):
            if not details.studs_over_piers:
                none = ElasticSections(item.elastic, None, None, None)
                made = LineSection(item, item.geometry, none)
            else:
                whole = item.steel.with_slab(composite.slab)
                geometry = section_geometry(sheet, whole)
                sections = elastic_sections(sheet, geometry, bridge.modular_ratio)
                made = LineSection(item, geometry, sections)
                draw_girder_section(
                    sheet, geometry, positive=False,
                    elastic=tuple(e for e in (sections.steel, sections.cracked) if e),
                    caption=f"Section {item.number} with the elastic axes of the steel and of "
                    "steel and bars, as first given.",
                )  # fmt: skip
            found.append(made)
            _properties(sheet, made)
    return composite, tuple(found)


def _properties(sheet: Sheet, section: LineSection) -> None:
    elastic = section.elastic
    rows = []
    for words, of in (
        ("steel", elastic.steel), ("3n", elastic.long_term), ("n", elastic.short_term),
        ("steel and bars", elastic.cracked),
    ):  # fmt: skip
        if of is None:
            continue
        top: Any = of.S_deck if of.S_deck is not None else of.S_bars
        rows.append([words, of.area, of.centroid, of.inertia, of.S_bottom, of.S_top,
                     "" if top is None else top])  # fmt: skip
    sheet.table(
        ["Section", "A", "y above bottom", "I", "S bottom", "S top", "S top of deck, or bars"],
        rows, f"Elastic properties of {section.words}, transformed to steel",
    )  # fmt: skip

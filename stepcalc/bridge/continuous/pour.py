"""The deck of a continuous girder placed in parts: moments by pour, their sum, the largest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.layout import read_layout
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.bridge.continuous.stage_loads import stage_loads
from stepcalc.bridge.proof_body import summed
from stepcalc.errors import RangeError
from stepcalc.expr.functions import maximum, minimum

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Pour", "PourMoment", "hardened_layout", "pour_sequence"]

_NEAR = 1e-9


@dataclass(frozen=True)
class Pour:
    """One part of the deck, or the steel before it.

    Attributes
    ----------
    words : str
    where : str
        Such as ``"from 1.0 to 1.7"``, or ``"all spans"``; see `continuous.stage_loads`.
    weight : Operand, [force / length]
        Of the girder there.
    hardened : sequence of int, optional
        Numbers of the earlier pours, counted from 1, whose concrete has hardened and bends with
        the steel; none unless given.
    is_deck : bool
        Whether it becomes part of the girder once hardened; the steel and the forms do not.
    """

    words: str
    where: str
    weight: Operand
    hardened: Sequence[int] = ()
    is_deck: bool = True


@dataclass(frozen=True)
class PourMoment:
    """Moments of the pour at one section, [force * length], unfactored.

    Attributes
    ----------
    span, fraction : int, Operand
    by_pour, sums : tuple of Operand
        By each pour, and after each.
    largest, smallest : Operand
        Of the sums.
    on_steel : tuple of Operand
        By each pour on the bare steel.
    at_once : Operand
        Their sum.
    """

    span: int
    fraction: Operand | float
    by_pour: tuple[Operand, ...]
    sums: tuple[Operand, ...]
    largest: Operand
    smallest: Operand
    on_steel: tuple[Operand, ...]
    at_once: Operand


def hardened_layout(
    spans: tuple[float, ...], steel: str, hardened: str, stretches: Sequence[tuple[float, float]]
) -> str:
    """Return the layout of a girder whose deck has hardened on some stretches.

    Parameters
    ----------
    spans : tuple of float, ft
    steel, hardened : str
        Layouts of the bare steel, and of the steel with the deck, to the same scale.
    stretches : sequence of (float, float), ft
        From the left end of the girder.

    Returns
    -------
    str
        A layout.

    Raises
    ------
    RangeError
        If a layout cannot be read.

    Examples
    --------
    >>> hardened_layout((50.0, 50.0), "prismatic", "EI: 3; 3", [(0.0, 40.0)])
    'EI: 3 to 0.8, 1; 1'
    """
    count = len(spans)
    plain = tuple(((1.0, 1.0, 1.0),) for _ in spans)
    bare, deck = read_layout(steel, count), read_layout(hardened, count)
    groups, start = [], 0.0
    for number, span in enumerate(spans):
        laws = (bare.laws or plain)[number], (deck.laws or plain)[number]
        inside = [
            (max((a - start) / span, 0.0), min((b - start) / span, 1.0))
            for a, b in stretches
            if b > start + _NEAR and a < start + span - _NEAR
        ]
        groups.append(_group(laws[0], laws[1], inside))
        start += span
    rest = [part.strip() for part in steel.split("|") if ":" in part and "EI:" not in part]
    return " | ".join([f"EI: {'; '.join(groups)}", *rest])


def _group(bare: Any, deck: Any, inside: Sequence[tuple[float, float]]) -> str:
    """Return the text of one span: stretches up to a fraction, and EI at their two ends."""
    ends = {end for law in (bare, deck) for end, _, _ in law}
    breaks = sorted(
        {round(x, 12) for x in (0.0, 1.0, *ends, *(x for pair in inside for x in pair))}
    )
    steps: list[tuple[float, float, float]] = []
    for left, right in pairwise(breaks):
        middle = 0.5 * (left + right)
        law = deck if any(a < middle < b for a, b in inside) else bare
        first, last = _along(law, left, middle), _along(law, right, middle)
        if steps and steps[-1][1] == steps[-1][2] == first == last:
            steps[-1] = (right, first, last)
        else:
            steps.append((right, first, last))
    texts = [
        (f"{first:.12g}" if first == last else f"{first:.12g}..{last:.12g}")
        + ("" if end == 1.0 else f" to {end:.12g}")
        for end, first, last in steps
    ]
    return ", ".join(texts)


def _along(law: Any, x: float, inside: float) -> float:
    """Return the EI at a fraction, by the stretch that holds `inside`."""
    start = 0.0
    for end, first, last in law:
        if inside < end or end == 1.0:
            return float(first + (last - first) * (x - start) / (end - start))
        start = end
    raise RangeError("a law of EI does not reach the end of its span")


def pour_sequence(
    sheet: Sheet,
    spans: Sequence[Operand],
    pours: Sequence[Pour],
    sections: Sequence[tuple[int, Operand | float]],
    *,
    steel: str,
    hardened: str,
    units: str | DisplayUnits = US,
    proof: Sequence[tuple[int, int]] = (),
) -> tuple[PourMoment, ...]:
    r"""Write the moments of the deck placed in parts, at some sections.

    .. math:: S_k = \sum_{i \le k} M_i, \qquad M_{pour} = \max_k S_k

    Each pour bends the girder as it stands then: bare steel, and steel with deck where earlier
    pours have hardened.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spans : sequence of Operand, [length]
        From left to right.
    pours : sequence of Pour
        In their order.
    sections : sequence of (int, Operand or float)
        Span, counted from 1, and fraction of it.
    steel, hardened : str
        Layouts of bare steel and of steel with deck (n of short-term loads), to the same scale.
    units : {"US", "SI"}
    proof : sequence of (int, int)
        Which moments show the influence line: section and pour, both counted from 1.

    Returns
    -------
    tuple of PourMoment
        By section.

    Raises
    ------
    RangeError
        If a pour hardens before it is placed, or a place or layout cannot be read.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.1, 6.10.3.2.1, C6.10.3.2: the pour is looked at in its
    sequence; from memory.
    """
    shown = display_units(units)
    lengths = tuple(float(span.base) / 12.0 for span in spans)  # type: ignore[attr-defined]
    layouts = _layouts(pours, lengths, steel, hardened)
    rows = [
        [str(k), pour.words, pour.where, _weight(pour), _state(pour, pours)]
        for k, pour in enumerate(pours, 1)
    ]
    header = ["pour", "what", "where", "load", "carried by"]
    sheet.table(header, rows, "Pour sequence")
    writer = _PourWriter(
        sheet, tuple(spans), lengths, tuple(pours), layouts, steel, shown, set(proof)
    )
    found = tuple(
        writer.section(number, span, fraction)
        for number, (span, fraction) in enumerate(sections, 1)
    )
    writer.tables(found)
    return found


def _weight(pour: Pour) -> str:
    node: Any = pour.weight
    return f"{node.shown} {node.info.text}"


def _state(pour: Pour, pours: Sequence[Pour]) -> str:
    done = [str(k) for k in pour.hardened if pours[k - 1].is_deck]
    return f"steel; with deck where pour {', '.join(done)} hardened" if done else "bare steel"


def _layouts(
    pours: Sequence[Pour], spans: tuple[float, ...], steel: str, hardened: str
) -> list[str]:
    """Return the layout of the girder at each pour."""
    if not pours:
        raise RangeError("a pour sequence has no pours; give at least one")
    layouts = []
    for number, pour in enumerate(pours, 1):
        stage_loads(pour.where, spans)
        early = [k for k in pour.hardened if not 1 <= k < number]
        if early:
            msg = (
                f"at pour {number} the concrete of pour {early[0]} has hardened; only pours 1 to "
                f"{number - 1} come before it"
            )
            raise RangeError(msg)
        stretches = [
            stretch
            for k in pour.hardened
            if pours[k - 1].is_deck
            for stretch in stage_loads(pours[k - 1].where, spans).stretches
        ]
        layouts.append(hardened_layout(spans, steel, hardened, stretches) if stretches else steel)
    return layouts


@dataclass(frozen=True)
class _PourWriter:
    """Writes the moments of one sequence."""

    sheet: Sheet
    spans: tuple[Any, ...]
    lengths: tuple[float, ...]
    pours: tuple[Pour, ...]
    layouts: list[str]
    steel: str
    units: DisplayUnits
    proof: set[tuple[int, int]]

    def section(self, number: int, span: int, fraction: Any) -> PourMoment:
        """Write the moments at one section."""
        step, unit = self.sheet.step, self.units.moment
        words = self.words(span, fraction)
        by_pour = tuple(
            self._moment(k, (number, span, fraction), words) for k in range(1, len(self.pours) + 1)
        )
        sums = tuple(
            step(
                f"S_{k}_x{number}", summed(by_pour[:k]), unit, f"after pour {k}, {words}",
                ref="sum", symbol=f"S_{k}",
            )
            for k in range(1, len(by_pour) + 1)
        )  # fmt: skip
        most, least = (
            step(
                f"{symbol}_x{number}", worst(*sums) if len(sums) > 1 else 1 * sums[0], unit,
                f"{kind} moment of the pour, {words}", ref="LRFD 6.10.3.2.1", symbol=symbol,
            )
            for worst, symbol, kind in (
                (maximum, "M_pmax", "largest"), (minimum, "M_pmin", "smallest")
            )
        )  # fmt: skip
        steel = tuple(
            by_pour[k - 1]
            if self.layouts[k - 1] == self.steel
            else self._moment(k, (number, span, fraction), words, steel=True)
            for k in range(1, len(by_pour) + 1)
        )
        once = step(
            f"M_once_x{number}", summed(steel), unit, f"all on the bare steel, {words}",
            ref="sum", symbol="M_once",
        )  # fmt: skip
        return PourMoment(span, fraction, by_pour, sums, most, least, steel, once)

    def words(self, span: int, fraction: Any) -> str:
        """Return where a section is."""
        now = float(fraction.base) if hasattr(fraction, "base") else float(fraction)
        if now < 1e-9 or now > 1 - 1e-9:
            return f"support {span + (now > 0.5)}"
        return f"{span + now:.3f}".rstrip("0")

    def _moment(
        self, k: int, section: tuple[int, int, Any], words: str, *, steel: bool = False
    ) -> Any:
        """Write the moment by a pour at a section, on the girder as it is or on the steel alone."""
        number, span, fraction = section
        pour, tag = self.pours[k - 1], f"{k}b" if steel else f"{k}"
        inputs = span_inputs(self.spans) | {
            "place": str(span), "fraction": fraction, "load": pour.weight, "loads": pour.where,
            "layout": self.steel if steel else self.layouts[k - 1],
        }  # fmt: skip
        proof = "ordinates" if self.units.name == "US" else f"ordinates, {self.units.name}"
        return self.sheet.computed(
            f"M_{tag}_x{number}", stage_kernels(len(self.spans)).loads["moment"], inputs,
            self.units.moment, f"pour {k}, {words}", ref="statics",
            proof=proof if (number, k) in self.proof and not steel else None, symbol=f"M_{tag}",
        )  # fmt: skip

    def tables(self, found: Sequence[PourMoment]) -> None:
        """Write the tables that stand for the lines of all sections."""
        numbers = range(1, len(self.pours) + 1)
        places = [self.words(each.span, each.fraction) for each in found]
        rows: list[list[Any]] = []
        for place, each in zip(places, found, strict=True):
            rows.append([place, *each.by_pour])
            if any(a is not b for a, b in zip(each.on_steel, each.by_pour, strict=True)):
                rows.append([f"{place}, on bare steel", *each.on_steel])
        self.sheet.table(
            ["section", *(f"pour {k}" for k in numbers)], rows,
            "Moments by pour, each on the girder as it stands then; a section is span and fraction",
            instead=True,
        )  # fmt: skip
        self.sheet.table(
            ["section", *(f"after {k}" for k in numbers), "largest", "smallest", "all at once"],
            [
                [place, *each.sums, each.largest, each.smallest, each.at_once]
                for place, each in zip(places, found, strict=True)
            ],
            "Their sums; largest and smallest while the deck is placed; for comparison all of it "
            "on the bare steel at once", instead=True,
        )  # fmt: skip

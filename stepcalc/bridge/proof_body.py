"""What the proofs of moving loads share: the placed axles as givens, and the steps with them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from stepcalc.analysis.train_moment import moment_peaks
from stepcalc.units import ft, kip, kip_ft
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.analysis.train_moment import MomentPeak
    from stepcalc.analysis.vehicles import Vehicle
    from stepcalc.bridge.placed_axles import PlacedAxles
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Step
    from stepcalc.sheet.sheet import Sheet

__all__ = ["ProofBody", "summed"]


def summed(items: Sequence[Any]) -> Any:
    """Return the sum of formulas as it would be written, without a leading zero.

    Parameters
    ----------
    items : sequence of operands
        At least one.

    Returns
    -------
    operand
        ``a + b + c``.
    """
    first, *others = items
    return sum(others, first)


class ProofBody:
    """The axles that stand on the span, as givens of a small sheet.

    Attributes
    ----------
    L, P, s : operands
        Span, axle forces from left to right, and distances between neighbours.
    R, factor, uniform : operand or None
        Resultant, factor on the axles, uniform load: made by the methods that need them.
    """

    def __init__(self, sheet: Sheet, record: Vehicle, placed: PlacedAxles, span: float) -> None:
        self.sheet = sheet
        self.record = record
        self.placed = placed
        self.span = span
        self.L = sheet.given("L", span * ft, "span", source="as above")
        self.P = [
            sheet.given(f"P_{i}", force * kip, f"axle {i}", source=record.ref)
            for i, force in enumerate(placed.forces, 1)
        ]
        self.s = [
            sheet.given(f"s_{i}", (b - a) * ft, f"axles {i} to {i + 1}", source=record.ref)
            for i, (a, b) in enumerate(pairwise(placed.offsets), 1)
        ]
        self.R: Any = None
        self.factor: Any = None
        self.uniform: Any = None
        if placed.left_out:
            sheet.note(
                f"{placed.left_out} of {len(record.axles)} axles stand off the span or would "
                "reduce the effect; they are left out."
            )

    def between(self, first: int, last: int) -> Any:
        """Return the distance from one axle to a later one, as a sum of spacings."""
        return summed(self.s[first:last])

    def step(self, name: str, expr: Any, unit: Any, description: str, **more: Any) -> Step:
        """Write one step of the proof; its reference is statics unless another is given."""
        return self.sheet.step(name, expr, unit, description, **({"ref": "statics"} | more))

    def with_lane(self, factor: float, uniform: float) -> None:
        """Add the factor on the axles and the uniform load."""
        give = self.sheet.given
        self.factor = give("f", factor, "factor on the axles, 1 + IM", source="as above")
        self.uniform = give("w", uniform * (kip / ft), "uniform load", source="as above")

    def resultant_beyond(self) -> Operand | None:
        """Write the resultant and its distance beyond the governing axle; None for one axle."""
        k = self.placed.governing
        self.R = self.step("R", summed(self.P), kip, "resultant of the axles on the span")
        if len(self.P) == 1:
            return None
        arms = [P * self.between(0, i) for i, P in enumerate(self.P) if i]
        x_R = self.step("x_R", summed(arms) / self.R, ft, "resultant behind the first axle")
        beyond = x_R if k == 0 else x_R - self.between(0, k)
        return self.step("e", beyond, ft, f"resultant beyond the governing axle {k + 1}")

    def axle_moment(self, c: Operand, e: Operand | None, name: str, *, drawn: bool = True) -> Step:
        """Write the left reaction and the sum of moments at the governing axle; draw the beam."""
        k, L, last = self.placed.governing, self.L, len(self.P) - 1
        stays = []
        if k > 0:
            stays.append(c >= self.between(0, k))
        if k < last:
            stays.append(c + self.between(k, last) <= L)
        right = L - c if e is None else L - c - e
        R_A = self.step(
            "R_A",
            self.R * right / L,
            kip,
            "left reaction; the axles named stay on the span",
            valid=stays,
        )
        moment: Any = R_A * c
        for i in range(k):
            moment = moment - self.P[i] * self.between(i, k)
        found = self.step(name, moment, kip_ft, f"sum of moments at axle {k + 1}")
        if drawn:
            self.free_body(reaction=_number(R_A))
        return found

    def moment_ordinates(self, c: Any, name: str) -> Operand:
        """Write the ordinates of the influence line for moment, and the sum of products."""
        k, L = self.placed.governing, self.L
        ordinates = []
        for i in range(len(self.P)):
            y = c * (L - c) / L
            if i < k:
                y = (c - self.between(i, k)) * (L - c) / L
            elif i > k:
                y = c * (L - c - self.between(k, i)) / L
            ordinates.append(self.step(f"y_{i + 1}", y, ft, f"ordinate under axle {i + 1}"))
        found = self.products(name, ordinates, kip_ft)
        at = self.placed.section
        peak = at * (self.span - at) / self.span
        self.influence([0.0, at, self.span], [0.0, peak, 0.0], ordinates, "ordinate, ft")
        return found

    def products(self, name: str, ordinates: Sequence[Any], unit: Any) -> Operand:
        """Write the sum of force times ordinate."""
        terms = [P * y for P, y in zip(self.P, ordinates, strict=True)]
        return self.step(name, summed(terms), unit, "sum of force times ordinate")

    def candidates(self, factor: float, uniform: float) -> None:
        """Print the best candidate of every run of axles, so that one sees why the others lose."""
        best: dict[tuple[int, int], MomentPeak] = {}
        axles, spacings = self.record.axles, self.record.spacings
        for peak in moment_peaks(axles, spacings, span=self.span, factor=factor, uniform=uniform):
            run = (peak.first, peak.last)
            if peak.stays and (run not in best or peak.moment > best[run].moment):
                best[run] = peak
        rows = [
            [
                f"{first + 1}" if first == last else f"{first + 1} to {last + 1}",
                f"{peak.axle + 1}",
                f"{shown_text(peak.section)} ft",
                f"{shown_text(peak.moment)} kip-ft",
            ]
            for (first, last), peak in best.items()
        ]
        self.sheet.table(
            ["axles of the vehicle", "under axle", "at", "moment"],
            rows,
            "Every run of neighbouring axles that stays on the span; the largest moment governs.",
        )

    def free_body(self, reaction: float | None = None) -> None:
        """Draw the beam with the placed axles."""
        placed, span = self.placed, self.span
        loads = [
            {"x": x, "label": f"{force:.4g} kip", "size": force}
            for x, force in zip(placed.positions, placed.forces, strict=True)
        ]
        data: dict[str, Any] = {
            "kind": "free_body",
            "span": span,
            "length_unit": "ft",
            "supports": [0.0, span],
            "loads": loads,
            "uniform": [],
            "reactions": [],
            "dimensions": _dimensions(placed.positions, span),
            "marks": [{"x": span / 2, "label": "midspan"}],
        }
        if self.uniform is not None:
            label = f"{_number(self.uniform):.4g} kip/ft"
            data["uniform"] = [{"start": 0.0, "end": span, "label": label}]
        if reaction is not None:
            other = sum(placed.forces) - reaction
            data["reactions"] = [
                {"x": 0.0, "label": f"{shown_text(reaction)} kip"},
                {"x": span, "label": f"{shown_text(other)} kip"},
            ]
            pairs = zip(placed.forces, placed.positions, strict=True)
            centre = sum(force * x for force, x in pairs) / sum(placed.forces)
            data["marks"].append({"x": centre, "label": "R"})
        shown = "" if reaction is None else ", reactions of the axles"
        self.sheet.figure(data, f"{self.record.title}: governing position{shown}")

    def influence(
        self, xs: Sequence[float], ys: Sequence[float], ordinates: Sequence[Any], label: str
    ) -> None:
        """Draw the influence line with the placed axles."""
        rows = zip(self.placed.positions, ordinates, self.placed.forces, strict=True)
        loads = [{"x": x, "y": _number(y), "label": f"{force:.4g} kip"} for x, y, force in rows]
        data = {
            "kind": "influence",
            "x": list(xs),
            "y": list(ys),
            "loads": loads,
            "x_label": "distance from the left support, ft",
            "y_label": label,
        }
        self.sheet.figure(data, f"{self.record.title} on the influence line")


def _number(node: Any) -> float:
    value = node.value
    return float(getattr(value, "magnitude", value))


def _dimensions(positions: Sequence[float], span: float) -> list[dict[str, Any]]:
    return [
        {"start": a, "end": b, "label": f"{b - a:.4g} ft"}
        for a, b in pairwise([0.0, *positions, span])
        if b - a > 1e-9 * span
    ]

"""Which conversion factors a person would write into a substitution, and where.

``S t gamma`` with S in ft, t in inches and gamma in lb/ft^3, wanted in kip/ft, is printed with
(1 ft / 12 in) behind the thickness and (1 kip / 1,000 lb) behind the unit weight. The factors
hang on *occurrences*: the tree is copied where a factor is due, and shared everywhere else.

Each displayed unit is split into atoms (ksi is kip and in^-2). Per kind (length, force, time) the
*goal* is the atom of the wanted unit, else the one that most parts of the term have, on a tie the
smaller one. A term adds up the exponents of its atoms; every atom that neither cancels nor is
wanted gets one factor, to the power of its net exponent. The terms of a sum get one unit.

Fitting a node to a *wish* (exponents by atom; None: leave it in units of its own) returns the
copied node and the unit it then has, so the copy has the wished unit by construction.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from stepcalc.expr.walk import branch_taken
from stepcalc.render.conversion_places import (
    PRODUCTS,
    SUMS,
    Marked,
    carrier_of,
    factor,
    lone_sum,
    places_of,
    rebuilt,
)
from stepcalc.render.conversion_units import (
    LEAVES,
    MIXED,
    Exponents,
    kind_of,
    leaf_unit,
    numeric,
    single_unit,
    size_of,
    tidy,
    unit_of,
)
from stepcalc.units.dimension import DIMENSIONLESS

if TYPE_CHECKING:
    from stepcalc.units.info import UnitInfo


def with_factors(node: Any, wanted: UnitInfo, numbers: Sequence[float]) -> Any:
    """Return a formula with the conversion factors of its substitution.

    Parameters
    ----------
    node : Operand
    wanted : UnitInfo
        The unit of the result.
    numbers : sequence of float
        Values by slot, to know which branch of a ``cases`` is printed.

    Returns
    -------
    Operand or Marked
        The node itself if no factor is due.

    Examples
    --------
    With L = 50 ft and t = 8 in, ``L/t`` becomes ``(50 ft)(12 in / 1 ft) / (8 in)``.
    """
    if not MIXED[node.mask | wanted.mask]:
        return node
    fitting = _Fitting(wanted, numbers)
    return fitting.fit(node, fitting.wanted)[0]


#: The unit of a plain number; nobody changes it.
_PLAIN: Exponents = {}
_SHOWN_BY_VALUE = frozenset(("cases", "interp"))


class _Fitting:
    """One substitution: the unit of its result and the branches it prints."""

    __slots__ = ("numbers", "wanted")

    def __init__(self, wanted: UnitInfo, numbers: Sequence[float]) -> None:
        self.wanted = unit_of(wanted)
        self.numbers = numbers

    def branch(self, node: Any) -> Any:
        """Return the branch of a ``cases`` that is printed."""
        taken = branch_taken(node, self.numbers)
        return node.args[min(2 * taken + 1, len(node.args) - 1)]

    def fit(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        """Return the node with the factors that bring it to the wish, and its unit."""
        op = node.op
        dim = node.dim
        mask = node.mask
        if wish:
            for bit in wish:
                mask |= bit
        if op not in _SHOWN_BY_VALUE and not MIXED[mask]:
            return node, _PLAIN if dim is DIMENSIONLESS else single_unit(dim, mask)
        if wish is None and dim is DIMENSIONLESS and op not in LEAVES:
            wish = _PLAIN
        if op in LEAVES:
            return self._behind(node, leaf_unit(node), wish)
        if op in PRODUCTS:
            return self._fit_product(node, wish)
        if op in SUMS:
            return self._fit_sum(node, wish)
        return self._fit_other(node, wish)

    def _fit_other(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        op = node.op
        if op == "cases":
            return self.fit(self.branch(node), wish)
        if op == "interp":
            return self._behind(node, unit_of(node.data.y_unit), wish)
        if op in ("neg", "abs"):
            inside, unit = self.fit(node.args[0], wish)
            return Marked(op, (inside,)), unit
        if op == "pow":
            inside, unit = self.fit(node.args[0], None)
            exponent = node.args[1]
            if exponent.op != "num":
                exponent = self.fit(exponent, _PLAIN)[0]
            raised = Marked(op, (inside, exponent))
            if not unit:
                return self._behind(raised, unit, wish)
            power = numeric(node.args[1])
            return self._behind(raised, {bit: e * power for bit, e in unit.items()}, wish)
        if op == "sqrt":
            inside, unit = self.fit(node.args[0], None)
            half = {bit: tidy(Fraction(e) / 2) for bit, e in unit.items()}
            return self._behind(Marked(op, (inside,)), half, wish)
        args = tuple([self.fit(arg, {})[0] for arg in node.args])
        return Marked(op, args, node.data), {}

    def _behind(self, node: Any, unit: Exponents, wish: Exponents | None) -> tuple[Any, Exponents]:
        """Return the node with all factors that are due right behind it."""
        if wish is None:
            wish = self._tidied(unit, [unit])
        for bit, into, net in self._odd(unit, wish, [unit]):
            node = Marked("mul", (node, factor(bit, into, net)))
        return node, wish

    def _tidied(self, unit: Exponents, units: list[Exponents]) -> Exponents:
        """Return a unit with one atom of each kind: its own, or the goal if it has several."""
        present = 0
        for bit in unit:
            present |= bit
        if not MIXED[present]:
            return unit
        result: Exponents = {}
        for bit, power in unit.items():
            kind = kind_of(bit)
            use = self._goal(kind, units) if MIXED[present & kind] else bit
            result[use] = result.get(use, 0) + power
        return {bit: power for bit, power in result.items() if power}

    def _goal(self, kind: int, units: list[Exponents]) -> int:
        """Return the atom that the others are brought to, of those that some parts have.

        The one wanted; else the one most of them have; on a tie the smaller.
        """
        counts: dict[int, int] = {}
        for unit in units:
            for bit in unit:
                if bit & kind:
                    counts[bit] = counts.get(bit, 0) + 1
        for bit in self.wanted:
            if bit in counts:
                return bit
        return min(counts, key=lambda bit: (-counts[bit], size_of(bit)), default=0)

    def _odd(
        self, unit: Exponents, wish: Exponents, units: list[Exponents]
    ) -> list[tuple[int, int, Any]]:
        """Return (atom, into, net exponent) for each factor that is due."""
        odd: list[tuple[int, int, Any]] = []
        goals: dict[int, int] = {}
        for bit in {**unit, **wish} if wish else unit:
            net = unit.get(bit, 0) - wish.get(bit, 0)
            if net:
                kind = kind_of(bit)
                target = goals.get(kind)
                if target is None:
                    wished = [other for other in wish if other & kind]
                    target = max(wished, key=wish.__getitem__, default=0) or self._goal(kind, units)
                    goals[kind] = target
                if bit != target:
                    odd.append((bit, target, net))
        return odd

    # products

    def _fit_product(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        places = places_of(node)
        lone = lone_sum(places) if wish else None
        unit: Exponents = {}
        units: list[Exponents] = []
        for place in places:
            factored = place.node
            op = factored.op
            if op == "num":
                continue
            if place is lone or op in _SHOWN_BY_VALUE or MIXED[factored.mask]:
                place.node, own = self.fit(factored, wish if place is lone else None)
            elif factored.dim is DIMENSIONLESS:
                continue
            else:
                own = single_unit(factored.dim, factored.mask)
            if own:
                place.unit = own
                units.append(own)
                side = place.side
                for bit, power in own.items():
                    unit[bit] = unit.get(bit, 0) + side * power
        if wish is None:
            wish = self._tidied({bit: power for bit, power in unit.items() if power}, units)
        at_end: tuple[Marked, ...] = ()
        for bit, into, net in self._odd(unit, wish, units):
            place_for = carrier_of(places, bit, net)
            if place_for is None:
                at_end += (factor(bit, into, net),)
            else:
                place_for.factors += (factor(bit, into, place_for.side * net),)
        return rebuilt(node, iter(places), at_end), wish

    # sums

    def _fit_sum(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        if node.dim is DIMENSIONLESS and not wish:
            return self._each_term(node, {}), {}
        terms = terms_of(node)
        raw = [self._raw(term) for term in terms]
        common = raw[0]
        if common is not None and all(unit == common for unit in raw):
            goal = common if wish is None else wish
            if goal == common:
                return self._resolved(node), goal
            if len(terms) > 1:
                return self._behind(self._resolved(node), common, goal)
        target = self._target(terms, wish)
        return self._each_term(node, target), target

    def _target(self, terms: list[Any], wish: Exponents | None) -> Exponents:
        """Return the unit that all terms are brought to."""
        if wish is not None:
            return wish
        bare = [leaf_unit(term) for term in terms if term.op in LEAVES]
        if not bare:
            return self.fit(terms[0], None)[1]
        if all(unit == bare[0] for unit in bare):
            return bare[0]
        return self._tidied_over(bare)

    def _tidied_over(self, units: list[Exponents]) -> Exponents:
        """Return the unit that terms of several units are brought to: the goal of each kind."""
        result: Exponents = {}
        for bit, power in units[0].items():
            use = self._goal(kind_of(bit), units)
            result[use] = result.get(use, 0) + power
        return result

    def _each_term(self, node: Any, target: Exponents) -> Any:
        if node.op in ("add", "sub"):
            left, right = node.args
            first = left
            if left.op in ("add", "sub"):
                first = self._each_term(left, target)
            elif left.op != "num":
                first = self.fit(left, target)[0]
            return Marked(node.op, (first, self.fit(right, target)[0]))
        return Marked(node.op, tuple([self.fit(arg, target)[0] for arg in node.args]))

    def _raw(self, node: Any) -> Exponents | None:
        """Return the unit of a term printed without any factor, or None if it has none."""
        op = node.op
        if op in LEAVES:
            return leaf_unit(node)
        if op == "cases":
            return self._raw(self.branch(node))
        if op == "interp":
            return unit_of(node.data.y_unit)
        if op in ("mul", "div"):
            left, right = self._raw(node.args[0]), self._raw(node.args[1])
            if left is None or right is None:
                return None
            sign = 1 if op == "mul" else -1
            unit = dict(left)
            for bit, power in right.items():
                unit[bit] = unit.get(bit, 0) + sign * power
            return {bit: power for bit, power in unit.items() if power}
        if op in ("neg", "abs"):
            return self._raw(node.args[0])
        if op in SUMS:
            units = [self._raw(term) for term in terms_of(node)]
            return units[0] if all(unit == units[0] for unit in units) else None
        if not MIXED[node.mask]:
            return single_unit(node.dim, node.mask)
        if op == "pow" and node.args[0].op in LEAVES:
            power = numeric(node.args[1])
            return {bit: e * power for bit, e in leaf_unit(node.args[0]).items()}
        return None

    def _resolved(self, node: Any) -> Any:
        """Return a node without cases or factors inside, where its units already agree."""
        op = node.op
        if op == "cases":
            return self._resolved(self.branch(node))
        if op in LEAVES or not node.args:
            return node
        return Marked(op, tuple([self._resolved(arg) for arg in node.args]), node.data)


def terms_of(node: Any) -> list[Any]:
    """Return the terms of a sum, or the arguments of min, max and total."""
    if node.op not in ("add", "sub"):
        return list(node.args)
    terms = []
    while node.op in ("add", "sub"):
        terms.append(node.args[1])
        node = node.args[0]
    terms.append(node)
    terms.reverse()
    return terms

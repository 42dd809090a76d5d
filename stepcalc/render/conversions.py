"""Which conversion factors a person would write into a substitution, and where.

``S t gamma`` with S in ft, t in inches and gamma in lb/ft^3, wanted in kip/ft, is printed with
(1 ft / 12 in) behind the thickness and (1 kip / 1,000 lb) behind the unit weight. The factors
hang on *occurrences*: the tree is copied where a factor is due, and shared everywhere else.

Each displayed unit is split into atoms (ksi is kip and in^-2). Per kind (length, force, time) the
*goal* is the atom of the wanted unit, else the one most leaves have, on a tie the smaller one.
A term adds up the exponents of its atoms; every atom that neither cancels nor is wanted gets one
factor, to the power of its net exponent. The terms of a sum are brought to one unit.

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
    Exponents,
    kind_of,
    leaf_unit,
    needs_factors,
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
    if not needs_factors(node.mask | wanted.mask):
        return node
    fitting = _Fitting(node, wanted, numbers)
    return fitting.fit(node, unit_of(wanted))[0]


class _Fitting:
    """One substitution: its goal atoms and the branches it prints."""

    __slots__ = ("goals", "node", "numbers", "wanted")

    def __init__(self, node: Any, wanted: UnitInfo, numbers: Sequence[float]) -> None:
        self.node = node
        self.wanted = wanted
        self.numbers = numbers
        self.goals: dict[int, int] | None = None

    def _find_goals(self) -> dict[int, int]:
        """Return the goal of each kind: as wanted, else what most leaves have, else the smaller."""
        goals: dict[int, int] = {}
        wanted = sorted(unit_of(self.wanted), key=size_of)
        for bit in (*wanted, *self._by_frequency()):
            goals.setdefault(kind_of(bit), bit)
        return goals

    def _by_frequency(self) -> list[int]:
        counts: dict[int, int] = {}
        pending = [self.node]
        while pending:
            node = pending.pop()
            op = node.op
            if op == "cases":
                pending.append(self.branch(node))
            elif op in LEAVES:
                for bit in leaf_unit(node):
                    counts[bit] = counts.get(bit, 0) + 1
            else:
                pending += node.args
        return sorted(counts, key=lambda bit: (-counts[bit], size_of(bit)))

    def branch(self, node: Any) -> Any:
        """Return the branch of a ``cases`` that is printed."""
        taken = branch_taken(node, self.numbers)
        return node.args[min(2 * taken + 1, len(node.args) - 1)]

    def fit(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        """Return the node with the factors that bring it to the wish, and its unit."""
        op = node.op
        if wish is None and op not in LEAVES and node.dim is DIMENSIONLESS:
            wish = {}
        mask = node.mask
        if wish is not None:
            for bit in wish:
                mask |= bit
        if op != "cases" and op != "interp" and not needs_factors(mask):
            return node, {} if node.dim is DIMENSIONLESS else single_unit(node, mask)
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
            exponent = self.fit(node.args[1], {})[0]
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
        wish = self._tidied(unit) if wish is None else wish
        for bit, into, net in self._odd(unit, wish):
            node = Marked("mul", (node, factor(bit, into, net)))
        return node, wish

    def _tidied(self, unit: Exponents) -> Exponents:
        """Return a unit with one atom of each kind: its own, or the goal if it has several."""
        present = 0
        for bit in unit:
            present |= bit
        return self._in_goals(unit, only_mixed=present) if needs_factors(present) else unit

    def _in_goals(self, unit: Exponents, *, only_mixed: int = 0) -> Exponents:
        result: Exponents = {}
        for bit, power in unit.items():
            kind = kind_of(bit)
            alone = only_mixed and not needs_factors(only_mixed & kind)
            use = bit if alone else self._goal(kind, unit)
            result[use] = result.get(use, 0) + power
        return {bit: power for bit, power in result.items() if power}

    def _goal(self, kind: int, unit: Exponents) -> int:
        """Return the goal of a kind if the unit has it, else the smallest that it has."""
        if self.goals is None:
            self.goals = self._find_goals()
        goal = self.goals[kind]
        if unit.get(goal):
            return goal
        present = [bit for bit, power in unit.items() if power and bit & kind]
        return min(present, key=size_of, default=goal)

    def _odd(self, unit: Exponents, wish: Exponents) -> list[tuple[int, int, Any]]:
        """Return (atom, into, net exponent) for each factor that is due."""
        odd: list[tuple[int, int, Any]] = []
        for bit in unit if unit.keys() >= wish.keys() else {**unit, **wish}:
            net = unit.get(bit, 0) - wish.get(bit, 0)
            if net:
                kind = kind_of(bit)
                wished = [other for other in wish if other & kind]
                target = max(wished, key=wish.__getitem__) if wished else self._goal(kind, unit)
                if bit != target:
                    odd.append((bit, target, net))
        return odd

    # products

    def _fit_product(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        places = places_of(node)
        lone = lone_sum(places)
        unit: Exponents = {}
        for place in places:
            own = wish if place is lone else None
            place.node, place.unit = self.fit(place.node, own)
            for bit, power in place.unit.items():
                unit[bit] = unit.get(bit, 0) + place.side * power
        if wish is None:
            wish = self._tidied({bit: power for bit, power in unit.items() if power})
        at_end: list[Marked] = []
        for bit, into, net in self._odd(unit, wish):
            place_for = carrier_of(places, bit, net)
            if place_for is None:
                at_end.append(factor(bit, into, net))
            else:
                place_for.factors.append(factor(bit, into, place_for.side * net))
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
        if wish is not None:
            return wish
        bare = [leaf_unit(term) for term in terms if term.op in LEAVES]
        if not bare:
            return self.fit(terms[0], None)[1]
        if all(unit == bare[0] for unit in bare):
            return bare[0]
        return self._in_goals(bare[0])

    def _each_term(self, node: Any, target: Exponents) -> Any:
        if node.op in ("add", "sub"):
            left, right = node.args
            first = (
                self._each_term(left, target)
                if left.op in ("add", "sub")
                else self.fit(left, target)[0]
            )
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
        if not needs_factors(node.mask):
            return single_unit(node, node.mask)
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

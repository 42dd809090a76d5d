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
from typing import Any, TypeAlias

from stepcalc.expr.walk import branch_taken
from stepcalc.render.conversion_places import Place, places_of
from stepcalc.units.dimension import DIMENSIONLESS
from stepcalc.units.info import ATOMS, KIND_MASKS, Atom, UnitInfo
from stepcalc.units.numbers import typed_text

Exponents: TypeAlias = "dict[Atom, Any]"

KINDS = ("length", "force", "time")
_LENGTH, _FORCE, _TIME = (KIND_MASKS[kind] for kind in KINDS)
_CONVERTIBLE = _LENGTH | _FORCE | _TIME
_BY_BIT = {atom.bit: atom for atom in ATOMS.values()}
_SUMS = frozenset(("add", "sub", "total", "min", "max"))
_PRODUCTS = frozenset(("mul", "div"))
_LEAVES = frozenset(("name", "qty", "unit", "num", "pi", "mag"))


class Marked:
    """A node of the copied tree; it prints and evaluates as a node of the tree does."""

    __slots__ = ("args", "data", "op")

    def __init__(self, op: str, args: tuple[Any, ...], data: Any = None) -> None:
        self.op = op
        self.args = args
        self.data = data


def needs_factors(mask: int) -> bool:
    """Tell whether two units of one kind meet, so that a factor may be due."""
    one = mask & _LENGTH
    if one & (one - 1):
        return True
    one = mask & _FORCE
    if one & (one - 1):
        return True
    one = mask & _TIME
    return bool(one & (one - 1))


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
    wish = {atom: power for atom, power in wanted.atoms if atom.bit & _CONVERTIBLE}
    return fitting.fit(node, wish)[0]


class _Fitting:
    """One substitution: its goal atoms and the branches it prints."""

    __slots__ = ("goals", "numbers")

    def __init__(self, node: Any, wanted: UnitInfo, numbers: Sequence[float]) -> None:
        self.numbers = numbers
        self.goals: dict[str, Atom] = {}
        for atom, _ in wanted.atoms:
            if atom.bit & _CONVERTIBLE:
                known = self.goals.get(atom.kind)
                if known is None or atom.factor < known.factor:
                    self.goals[atom.kind] = atom
        if len(self.goals) < len(KINDS):
            self._majority(node)

    def _majority(self, node: Any) -> None:
        counts: dict[Atom, int] = {}
        self._count(node, counts)
        ranked = sorted(counts.items(), key=lambda item: (-item[1], item[0].factor))
        for atom, _ in ranked:
            self.goals.setdefault(atom.kind, atom)

    def _count(self, node: Any, counts: dict[Atom, int]) -> None:
        op = node.op
        if op == "cases":
            self._count(self.branch(node), counts)
        elif op in _LEAVES:
            for atom, _ in _leaf_atoms(node):
                if atom.bit & _CONVERTIBLE:
                    counts[atom] = counts.get(atom, 0) + 1
        else:
            for arg in node.args:
                self._count(arg, counts)

    def branch(self, node: Any) -> Any:
        """Return the branch of a ``cases`` that is printed."""
        taken = branch_taken(node, self.numbers)
        return node.args[min(2 * taken + 1, len(node.args) - 1)]

    def fit(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        """Return the node with the factors that bring it to the wish, and its unit."""
        op = node.op
        if wish is None and op not in _LEAVES and node.dim is DIMENSIONLESS:
            wish = {}
        mask = node.mask
        if wish is not None:
            for atom in wish:
                mask |= atom.bit
        if op != "cases" and op != "interp" and not needs_factors(mask):
            return node, {} if node.dim is DIMENSIONLESS else _single_unit(node, mask)
        if op in _LEAVES:
            return self._behind(node, _leaf_unit(node), wish)
        if op in _PRODUCTS:
            return self._fit_product(node, wish)
        if op in _SUMS:
            return self._fit_sum(node, wish)
        return self._fit_other(node, wish)

    def _fit_other(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        op = node.op
        if op == "cases":
            return self.fit(self.branch(node), wish)
        if op == "interp":
            return self._behind(node, _exponents(node.data.y_unit.atoms), wish)
        if op in ("neg", "abs"):
            inside, unit = self.fit(node.args[0], wish)
            return Marked(op, (inside,)), unit
        if op == "pow":
            power = _numeric(node.args[1])
            inside, unit = self.fit(node.args[0], None)
            exponent = self.fit(node.args[1], {})[0]
            raised = Marked(op, (inside, exponent))
            return self._behind(raised, {a: e * power for a, e in unit.items()}, wish)
        if op == "sqrt":
            inside, unit = self.fit(node.args[0], None)
            half = {a: _tidy(Fraction(e) / 2) for a, e in unit.items()}
            return self._behind(Marked(op, (inside,)), half, wish)
        args = tuple([self.fit(arg, {})[0] for arg in node.args])
        return Marked(op, args, node.data), {}

    def _behind(
        self, node: Any, unit: Exponents, wish: Exponents | None
    ) -> tuple[Any, Exponents]:
        """Return the node with all factors that are due right behind it."""
        wish = self._tidied(unit) if wish is None else wish
        for factor in self._factors(unit, wish):
            node = Marked("mul", (node, factor))
        return node, wish

    def _tidied(self, unit: Exponents) -> Exponents:
        """Return a unit with one atom of each kind: its own, or the goal if it has several."""
        seen: dict[str, Atom] = {}
        mixed: set[str] = set()
        for atom in unit:
            if seen.setdefault(atom.kind, atom) is not atom:
                mixed.add(atom.kind)
        if not mixed:
            return unit
        return self._in_goals(unit, mixed)

    def _in_goals(self, unit: Exponents, kinds: set[str] | None = None) -> Exponents:
        result: Exponents = {}
        for atom, power in unit.items():
            use = self._goal(atom.kind, unit) if kinds is None or atom.kind in kinds else atom
            result[use] = result.get(use, 0) + power
        return {atom: power for atom, power in result.items() if power}

    def _goal(self, kind: str, unit: Exponents) -> Atom:
        """Return the goal of a kind if the unit has it, else the smallest that it has."""
        goal = self.goals[kind]
        if unit.get(goal):
            return goal
        present = [atom for atom, power in unit.items() if power and atom.kind == kind]
        return min(present, key=lambda atom: atom.factor, default=goal)

    def _odd(self, unit: Exponents, wish: Exponents) -> list[tuple[Atom, Atom, Any]]:
        """Return (atom, into, net exponent) for each factor that is due."""
        odd: list[tuple[Atom, Atom, Any]] = []
        into: dict[str, Atom] = {}
        for atom, power in wish.items():
            if atom.kind not in into or power > wish[into[atom.kind]]:
                into[atom.kind] = atom
        for atom in (*unit, *(a for a in wish if a not in unit)):
            target = into.get(atom.kind) or self._goal(atom.kind, unit)
            net = unit.get(atom, 0) - wish.get(atom, 0)
            if net and atom is not target:
                odd.append((atom, target, net))
        return odd

    def _factors(self, unit: Exponents, wish: Exponents) -> list[Marked]:
        return [_factor(atom, into, net) for atom, into, net in self._odd(unit, wish)]

    # products

    def _fit_product(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        places = places_of(node)
        lone = _lone_sum(places)
        unit: Exponents = {}
        for place in places:
            own = wish if place is lone else None
            place.node, place.unit = self.fit(place.node, own)
            for atom, power in place.unit.items():
                unit[atom] = unit.get(atom, 0) + place.side * power
        if wish is None:
            wish = self._tidied({atom: power for atom, power in unit.items() if power})
        at_end: list[Marked] = []
        for atom, into, net in self._odd(unit, wish):
            place_for = _carrier(places, atom, net)
            if place_for is None:
                at_end.append(_factor(atom, into, net))
            else:
                place_for.factors.append(_factor(atom, into, place_for.side * net))
        return _rebuilt(node, iter(places), at_end), wish

    # sums

    def _fit_sum(self, node: Any, wish: Exponents | None) -> tuple[Any, Exponents]:
        if node.dim is DIMENSIONLESS and not wish:
            return self._each_term(node, {}), {}
        terms = _terms(node)
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
        bare = [_leaf_unit(term) for term in terms if term.op in _LEAVES]
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
        if op in _LEAVES:
            return _leaf_unit(node)
        if op == "cases":
            return self._raw(self.branch(node))
        if op == "interp":
            return _exponents(node.data.y_unit.atoms)
        if op in ("mul", "div"):
            left, right = self._raw(node.args[0]), self._raw(node.args[1])
            if left is None or right is None:
                return None
            sign = 1 if op == "mul" else -1
            unit = dict(left)
            for atom, power in right.items():
                unit[atom] = unit.get(atom, 0) + sign * power
            return {atom: power for atom, power in unit.items() if power}
        if op in ("neg", "abs"):
            return self._raw(node.args[0])
        if op in _SUMS:
            units = [self._raw(term) for term in _terms(node)]
            return units[0] if all(unit == units[0] for unit in units) else None
        if not needs_factors(node.mask):
            return _single_unit(node, node.mask)
        if op == "pow" and node.args[0].op in _LEAVES:
            power = _numeric(node.args[1])
            return {atom: e * power for atom, e in _leaf_unit(node.args[0]).items()}
        return None

    def _resolved(self, node: Any) -> Any:
        """Return a node without cases or factors inside, where its units already agree."""
        op = node.op
        if op == "cases":
            return self._resolved(self.branch(node))
        if op in _LEAVES or not node.args:
            return node
        return Marked(op, tuple([self._resolved(arg) for arg in node.args]), node.data)


def _lone_sum(places: list[Place]) -> Place | None:
    """Return the sum over the bar whose co-factors carry no unit, if there is one."""
    found: Place | None = None
    for place in places:
        if place.node.op in _SUMS or place.node.op in ("cases", "abs"):
            if found is not None or place.side < 0:
                return None
            found = place
        elif place.node.mask & _CONVERTIBLE:
            return None
    return found


def _carrier(places: list[Place], atom: Atom, net: Any) -> Place | None:
    """Return the factor of a product behind which a conversion factor goes; None: at the end."""
    carriers = [place for place in places if place.unit.get(atom)]
    if len(carriers) == 1:
        return carriers[0]
    for place in carriers:
        if place.side * place.unit[atom] == net:
            return place
    sides = {place.side for place in carriers}
    return carriers[-1] if len(sides) == 1 else None


def _rebuilt(node: Any, places: Any, at_end: list[Marked]) -> Any:
    """Return the product again, with the factors behind their carriers."""
    op = node.op
    if op == "div":
        above = _rebuilt(node.args[0], places, at_end)
        return Marked("div", (above, _rebuilt(node.args[1], places, [])))
    if op == "mul":
        left = _rebuilt(node.args[0], places, [])
        right = node.args[1]
        if right.op in _PRODUCTS:
            new = Marked("mul", (left, _rebuilt(right, places, [])))
        else:
            place = next(places)
            new = Marked("mul", (left, place.node))
            at_end = [*place.factors, *at_end]
    else:
        place = next(places)
        new = place.node
        at_end = [*place.factors, *at_end]
    for factor in at_end:
        new = Marked("mul", (new, factor))
    return new


def _terms(node: Any) -> list[Any]:
    if node.op not in ("add", "sub"):
        return list(node.args)
    terms = []
    while node.op in ("add", "sub"):
        terms.append(node.args[1])
        node = node.args[0]
    terms.append(node)
    terms.reverse()
    return terms


def _leaf_atoms(node: Any) -> Sequence[tuple[Atom, Any]]:
    op = node.op
    if op == "name":
        return node.info.atoms  # type: ignore[no-any-return]
    if op == "qty":
        return node.data[1].atoms  # type: ignore[no-any-return]
    return node.data.atoms if op == "unit" else ()


def _leaf_unit(node: Any) -> Exponents:
    return _exponents(_leaf_atoms(node))


def _exponents(atoms: Sequence[tuple[Atom, Any]]) -> Exponents:
    return {atom: power for atom, power in atoms if atom.bit & _CONVERTIBLE}


def _single_unit(node: Any, mask: int) -> Exponents:
    """Return the unit of a node in which each kind has one atom, from its dimension."""
    unit: Exponents = {}
    for kind, power in zip(KINDS, node.dim.exponents, strict=False):
        if power:
            atom = _BY_BIT.get(mask & KIND_MASKS[kind])
            if atom is not None:
                unit[atom] = power
    return unit


def _numeric(exponent: Any) -> Any:
    """Return the value of an exponent; the base of another kind of exponent has no unit."""
    from stepcalc.expr.tree import exponent_value

    power = exponent_value(exponent)
    return 0 if power is None else power


def _tidy(power: Fraction) -> int | Fraction:
    return int(power) if power.denominator == 1 else power


_made: dict[tuple[str, str, Any], Marked] = {}


def _factor(atom: Atom, into: Atom, net: Any) -> Marked:
    """Return the factor that turns ``atom`` to the power ``net`` into ``into``."""
    key = (atom.name, into.name, net)
    made = _made.get(key)
    if made is None:
        made = _made[key] = _new_factor(atom, into, net)
    return made


def _new_factor(atom: Atom, into: Atom, net: Any) -> Marked:
    ratio = float(f"{atom.factor / into.factor:.15g}")
    inverse = float(f"{into.factor / atom.factor:.15g}")
    old, new = ("1", typed_text(ratio)) if ratio >= 1 else (typed_text(inverse), "1")
    net = _tidy(Fraction(net))
    if net > 0:
        return Marked("factor", (), (new, into.text, old, atom.text, net))
    return Marked("factor", (), (old, atom.text, new, into.text, -net))

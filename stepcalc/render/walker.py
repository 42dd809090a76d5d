"""The one walker over a formula: it calls a dialect for each part, in the order it was written.

The same methods print the formula (``shown=None``: symbols) and the substitution (``shown`` says
what number and unit stands for each name). Brackets are decided here for two-dimensional notation;
a dialect that writes on one line adds those that a fraction bar makes unnecessary.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from stepcalc.expr.walk import branch_taken, value_of
from stepcalc.render.brackets import (
    BARE_BASES,
    LATER_IN_BRACKETS,
    MAY_LEAD,
    bare_base,
    is_negative,
    leads_with_minus,
    starts_with_digits,
)
from stepcalc.render.leaves import Leaves
from stepcalc.render.shown import Shown, bare_number, literal_text
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.render.dialects.base import Dialect

F = TypeVar("F")
_Rule: TypeAlias = "Callable[[Any, Shown | None], Any]"

_SUMS = frozenset(("add", "sub"))
_RELATIONS = {"lt": "<", "le": "≤", "gt": ">", "ge": "≥", "eq": "=", "ne": "≠"}
_NEED_A_LOOK = frozenset(("num", "unit", "div", "pow"))
_FUNCTIONS = ("exp", "log10", "sin", "cos", "tan", "asin", "acos", "atan", "min", "max")


class Walker(Leaves[F]):
    """Prints trees of :mod:`stepcalc.expr.tree` in one dialect.

    Parameters
    ----------
    dialect : Dialect

    Attributes
    ----------
    bare_numbers : int
        How many ``magnitude`` nodes it has printed as a plain symbol so far: the caller must
        then say their units (:func:`stepcalc.render.step_parts.unit_remark`).
    interpolations : int
        How many interpolations it has printed by name so far: their substitution is the
        arithmetic (:func:`stepcalc.render.interpolation.written_out`).
    """

    __slots__ = ("_dot", "_item", "_plain", "bare_numbers", "interpolations")

    def __init__(self, dialect: Dialect[F]) -> None:
        super().__init__(dialect)
        self._dot = dialect.op("·")
        self.bare_numbers = 0
        self.interpolations = 0
        self._plain = self._plain_rules()
        self._item = self._item_rules()

    def _plain_rules(self) -> dict[str, _Rule]:
        d = self._dialect
        rules: dict[str, _Rule] = {
            "name": self._name, "num": self._number, "qty": self._quantity, "mag": self._bare,
            "unit": lambda node, shown: d.qty("1", node.data.text),
            "pi": lambda node, shown: d.sym("pi"),
            "add": self._sum, "sub": self._sum, "mul": self._product, "div": self._quotient,
            "pow": self._power, "neg": self._negative, "total": self._total,
            "sqrt": self._around(d.sqrt), "abs": self._around(d.abs),
            "floor": self._around(d.floor), "ceil": self._around(d.ceil),
            "cases": self._cases, "interp": self._interpolation, "factor": self._factor,
            "log": lambda node, shown: d.call("ln", [self._show(node.args[0], shown)]),
            "between": self._between, "is": self._choice, "and": self._all, "or": self._any,
            "not": lambda node, shown: d.not_(d.group(self._show(node.args[0], shown))),
        }  # fmt: skip
        rules |= dict.fromkeys(_FUNCTIONS, self._called)
        return rules | dict.fromkeys(_RELATIONS, self._relation)

    def _item_rules(self) -> dict[str, _Rule]:
        """Return the rules for a factor of a product."""
        bracketed = ("add", "sub", "mul", "neg", "total", "cases")
        return self._plain | dict.fromkeys(bracketed, self._bracketed) | {
            "name": self._name_in_product, "num": self._number_in_product,
            "mag": self._bare_in_product, "qty": self._quantity_in_product,
        }  # fmt: skip

    def formula(self, node: Any) -> F:
        """Return a formula in symbols.

        Parameters
        ----------
        node : Operand or Condition
        """
        fragment: F = self._plain[node.op](node, None)
        return fragment

    def substitution(self, node: Any, shown: Shown) -> F:
        """Return a formula with the number and unit of each name in its place.

        Parameters
        ----------
        node : Operand, Condition, or a tree with conversion factors
            See :mod:`stepcalc.render.conversions`.
        shown : Shown
        """
        fragment: F = self._plain[node.op](node, shown)
        return fragment

    def _show(self, node: Any, shown: Shown | None) -> F:
        fragment: F = self._plain[node.op](node, shown)
        return fragment

    def _bracketed(self, node: Any, shown: Shown | None) -> F:
        return self._group(self._plain[node.op](node, shown))

    def _around(self, spell: Callable[[F], F]) -> _Rule:
        return lambda node, shown: spell(self._show(node.args[0], shown))

    # leaves

    def _name(self, node: Any, shown: Shown | None) -> F:
        if shown is None:
            spelling = node.symbol
            return (self._symbols.get(spelling) or self._spell_symbol(spelling))[0]
        known = shown.spelled.get(node.slot)
        if known is not None and known[0] == shown.numbers[node.slot]:
            plain: F = known[1][0]
            return plain
        return self._spell_name(node, shown)[0]

    def _name_in_product(self, node: Any, shown: Shown | None) -> F:
        if shown is None:
            spelling = node.symbol
            return (self._symbols.get(spelling) or self._spell_symbol(spelling))[0]
        known = shown.spelled.get(node.slot)
        if known is not None and known[0] == shown.numbers[node.slot]:
            factor: F = known[1][1]
            return factor
        return self._spell_name(node, shown)[1]

    def _number(self, node: Any, shown: Shown | None) -> F:
        return self._spelled_number(node)[0]

    def _number_in_product(self, node: Any, shown: Shown | None) -> F:
        return self._spelled_number(node)[1]

    def _quantity(self, node: Any, shown: Shown | None) -> F:
        return self._spell_typed(node)[0]

    def _quantity_in_product(self, node: Any, shown: Shown | None) -> F:
        return self._spell_typed(node)[1]

    def _spell_typed(self, node: Any) -> tuple[F, F, F]:
        _, info, typed = node.data
        plain = typed.__class__ is float or typed.__class__ is int
        known = self._quantities.get((typed, info.text)) if plain else None
        if known is None:
            value = (literal_text(typed), info.text)
            known = self._values.get(value) or self._spell_value(value)
            if plain:
                self._quantities[typed, info.text] = known
        return known

    def _bare(self, node: Any, shown: Shown | None) -> F:
        if shown is None:
            self.bare_numbers += 1
            return self._show(node.args[0], None)
        return self._num(bare_number(node, shown))

    def _bare_in_product(self, node: Any, shown: Shown | None) -> F:
        if shown is None:
            self.bare_numbers += 1
            inner = node.args[0]
            fragment: F = self._item[inner.op](inner, None)
            return fragment
        return self._group(self._num(bare_number(node, shown)))

    # sums

    def _sum(self, node: Any, shown: Shown | None) -> F:
        terms: list[tuple[str, F]] = []
        while node.op in _SUMS:
            terms.append(("+" if node.op == "add" else "-", self._term(node.args[1], shown)))
            node = node.args[0]
        if node.op == "neg":
            terms.append(("-", self._negated(node.args[0], shown)))
        elif node.op == "total":
            terms.append(("", self._bracketed(node, shown)))
        else:
            terms.append(("", self._plain[node.op](node, shown)))
        terms.reverse()
        return self._add(terms)

    def _term(self, node: Any, shown: Shown | None) -> F:
        op = node.op
        fragment: F = self._plain[op](node, shown)
        if op == "mul":
            wrapped = leads_with_minus(node)
        elif op == "div" or op == "pow":
            return fragment
        else:
            wrapped = op in LATER_IN_BRACKETS or is_negative(node, shown)
        return self._group(fragment) if wrapped else fragment

    def _total(self, node: Any, shown: Shown | None) -> F:
        first, *rest = node.args
        lead = self._bracketed(first, shown) if first.op in _SUMS else self._show(first, shown)
        if not rest:
            return lead
        return self._add([("", lead), *(("+", self._term(item, shown)) for item in rest)])

    def _negative(self, node: Any, shown: Shown | None) -> F:
        return self._add([("-", self._negated(node.args[0], shown))])

    def _negated(self, node: Any, shown: Shown | None) -> F:
        written = node.op == "mul" and node.args[1].op != "factor"
        if written or node.op in LATER_IN_BRACKETS or is_negative(node, shown):
            return self._bracketed(node, shown)
        return self._show(node, shown)

    # products

    def _product(self, node: Any, shown: Shown | None) -> F:
        item = self._item
        rest = [node.args[1]]
        node = node.args[0]
        while node.op == "mul":
            rest.append(node.args[1])
            node = node.args[0]
        op = node.op
        signed = op == "neg" or op == "num"
        items = [self._first_factor(node, shown) if signed else item[op](node, shown)]
        rest.reverse()
        for factor in rest:
            op = factor.op
            if op in _NEED_A_LOOK and (op != "pow" or factor.args[0].op in MAY_LEAD):
                if op == "num" or starts_with_digits(factor, node):
                    items.append(self._dot)
                if op == "unit":
                    items.append(self._dialect.unit(factor.data.text))
                    node = factor
                    continue
            items.append(item[op](factor, shown))
            node = factor
        return self._mul(items)

    def _first_factor(self, node: Any, shown: Shown | None) -> F:
        op = node.op
        if op == "neg" and not is_negative(node.args[0], shown):
            inner = node.args[0]
            return self._add([("-", self._item[inner.op](inner, shown))])
        if op == "num":
            plain, factor, text = self._spelled_number(node)
            return factor if "e" in text else plain
        fragment: F = self._item[op](node, shown)
        return fragment

    def _quotient(self, node: Any, shown: Shown | None) -> F:
        above, below = node.args
        plain = self._plain
        return self._frac(plain[above.op](above, shown), plain[below.op](below, shown))

    def _power(self, node: Any, shown: Shown | None) -> F:
        base, exponent = node.args
        raised: F
        if exponent.op == "num":
            raised = self._spelled_number(exponent)[0]
        else:
            raised = self._plain[exponent.op](exponent, shown)
        op = base.op
        if op == "name":
            if shown is None:
                spelling = base.symbol
                lead = (self._symbols.get(spelling) or self._spell_symbol(spelling))[1]
            else:
                known = shown.spelled.get(base.slot)
                if known is not None and known[0] == shown.numbers[base.slot]:
                    lead = known[1][2]
                else:
                    lead = self._spell_name(base, shown)[2]
            return self._pow(lead, raised)
        fragment = self._plain[op](base, shown)
        if op in BARE_BASES and bare_base(base, shown):
            return self._pow(fragment, raised)
        return self._pow(self._group(fragment), raised)

    def _factor(self, node: Any, shown: Shown | None) -> F:
        above, above_unit, below, below_unit, exponent = node.data
        fraction = self._frac(self._qty(above, above_unit), self._qty(below, below_unit))
        factor = self._group(fraction)
        if exponent == 1:
            return factor
        power = self._num(str(exponent)) if isinstance(exponent, int) else self._ratio(exponent)
        return self._pow(factor, power)

    def _ratio(self, exponent: Fraction) -> F:
        return self._frac(self._num(str(exponent.numerator)), self._num(str(exponent.denominator)))

    # functions, cases, conditions

    def _called(self, node: Any, shown: Shown | None) -> F:
        return self._dialect.call(node.op, [self._show(arg, shown) for arg in node.args])

    def _interpolation(self, node: Any, shown: Shown | None) -> F:
        if shown is not None:
            value = value_of(node, shown.numbers) / node.data.y_unit.factor
            text = shown_text(value, shown.digits)
            unit = node.data.y_unit.text
            return self._qty(text, unit) if unit else self._num(text)
        self.interpolations += 1
        inside = [self._show(node.args[0], None), self._dialect.text(node.data.title)]
        return self._dialect.call("interpolate", inside)

    def _cases(self, node: Any, shown: Shown | None) -> F:
        args = node.args
        if shown is not None:
            taken = branch_taken(node, shown.numbers)
            return self._show(args[min(2 * taken + 1, len(args) - 1)], shown)
        rows: list[tuple[F, F | None, F | None]] = []
        for place, label in enumerate(node.data):
            said = None if label is None else self._dialect.text(label)
            if 2 * place + 1 < len(args):
                condition = self._show(args[2 * place], None)
                rows.append((self._show(args[2 * place + 1], None), condition, said))
            else:
                rows.append((self._show(args[-1], None), None, said))
        return self._dialect.cases(rows)

    def _relation(self, node: Any, shown: Shown | None) -> F:
        left, right = node.args
        sign = _RELATIONS[node.op]
        return self._dialect.rel(self._show(left, shown), [(sign, self._show(right, shown))])

    def _between(self, node: Any, shown: Shown | None) -> F:
        x, low, high = (self._show(arg, shown) for arg in node.args)
        return self._dialect.rel(low, [("≤", x), ("≤", high)])

    def _choice(self, node: Any, shown: Shown | None) -> F:
        chosen = node.data[0] if isinstance(node.data, tuple) else node.data
        symbol = self._sym(node.args[0].symbol)
        return self._dialect.rel(symbol, [("=", self._dialect.text(str(chosen)))])

    def _all(self, node: Any, shown: Shown | None) -> F:
        return self._dialect.and_([self._condition_part(part, shown) for part in node.args])

    def _any(self, node: Any, shown: Shown | None) -> F:
        return self._dialect.or_([self._condition_part(part, shown) for part in node.args])

    def _condition_part(self, node: Any, shown: Shown | None) -> F:
        return self._bracketed(node, shown) if node.op in ("and", "or") else self._show(node, shown)

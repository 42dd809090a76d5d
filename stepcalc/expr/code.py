"""Formulas as Python source: one writer for the scalar, the NumPy and the careful program.

The text is made from the library's own tree only: the names in it are ``v<slot>`` and the helpers
below, the literals are ``repr`` of floats.  Nothing that a person or a file supplied as text ever
becomes part of it.

* *scalar*: Python floats, ``math`` functions; a branch that is not taken is not evaluated.
* *array*: NumPy arrays; all branches are evaluated and picked from.  A division by zero or the
  like raises NumPy's floating-point event, upon which the piece is run again by
* *careful*: every operation that may fail yields not-a-number where it does, comparisons know
  "undefined", and only what the taken branches need can spoil a result.
"""

from __future__ import annotations

import math
from typing import Any

from stepcalc.expr.arithmetic import (
    EASY_POWERS,
    TOLERANCE,
    is_typed,
)
from stepcalc.expr.names import ARRAY, CAREFUL, SCALAR, namespace

__all__ = ["ARRAY", "CAREFUL", "SCALAR", "CodeWriter", "namespace"]

_SUM, _PRODUCT, _UNARY, _ATOM = 1, 2, 3, 5
_LONG = 40
_SIGNS = {"lt": "< -", "le": "<= ", "gt": "> ", "ge": ">= -"}
_FUNCTIONS = {
    "sqrt": "_sqrt", "exp": "_exp", "log": "_log", "log10": "_log10", "sin": "_sin",
    "cos": "_cos", "tan": "_tan", "asin": "_asin", "acos": "_acos", "atan": "_atan",
    "floor": "_floor", "ceil": "_ceil",
}  # fmt: skip


class CodeWriter:
    """Writes formulas as source for one mode; collects the constants that the source names."""

    def __init__(self, mode: str) -> None:
        self.mode = mode
        self.constants: dict[str, Any] = {}
        self._temporaries = 0
        self._numbers: dict[int, str] = {}

    def formula(self, node: Any) -> str:
        """Return the source of a formula's value in base units."""
        text = self._write(node)[0]
        return f"_finite({text})" if self.mode == CAREFUL else text

    def condition(self, node: Any) -> str:
        """Return the source of a condition: a truth value, or -1, 0, 1 in the careful mode."""
        return self._condition(node)

    def ratio(self, demand: Any, capacity: Any) -> str:
        """Return the source of demand over capacity, undefined for a capacity of zero or less."""
        return f"_ratio({self._write(demand)[0]}, {self._write(capacity)[0]})"

    def constant(self, value: Any) -> str:
        """Return the name under which a table column or kernel is known to the source."""
        known = self._numbers.get(id(value))
        if known is None:
            known = f"k{len(self.constants)}"
            self._numbers[id(value)] = known
            self.constants[known] = value
        return known

    # -- operations ---------------------------------------------------------------------------

    def _write(self, node: Any) -> tuple[str, int]:
        op = node.op
        if op == "name":
            return f"v{node.slot}", _ATOM
        if op == "num" or op == "qty":
            return self._number(node.data[0])
        if op in ("add", "sub"):
            return self._sum(node)
        if op == "mul":
            return self._product(node)
        if op == "div":
            return self._quotient(node)
        if op == "pow":
            return self._power(node)
        if op == "unit":
            return self._number(node.data.factor)
        if op == "pi":
            return self._number(math.pi)
        if op == "neg":
            return "-" + self._at_least(node.args[0], _UNARY), _UNARY
        if op == "mag":
            return f"{self._at_least(node.args[0], _PRODUCT)}/{node.data.factor!r}", _PRODUCT
        return self._function(node)

    def _number(self, value: float) -> tuple[str, int]:
        return (repr(value), _ATOM) if value >= 0 else (f"({value!r})", _ATOM)

    def _at_least(self, node: Any, rank: int) -> str:
        text, own = self._write(node)
        return text if own >= rank else f"({text})"

    def _sum(self, node: Any) -> tuple[str, int]:
        terms: list[tuple[str, Any]] = []
        while node.op in ("add", "sub"):
            terms.append((node.op, node.args[1]))
            node = node.args[0]
        terms.append(("add", node))
        terms.reverse()
        if len(terms) > _LONG:
            texts = [
                ("-" if op == "sub" else "") + self._at_least(term, _UNARY) for op, term in terms
            ]
            return f"_sum({', '.join(texts)})", _ATOM
        text = self._at_least(terms[0][1], _SUM)
        for op, term in terms[1:]:
            text += (" + " if op == "add" else " - ") + self._at_least(term, _PRODUCT)
        return text, _SUM

    def _product(self, node: Any) -> tuple[str, int]:
        factors = []
        while node.op == "mul":
            factors.append(node.args[1])
            node = node.args[0]
        factors.append(node)
        factors.reverse()
        if len(factors) > _LONG:
            return f"_product({', '.join(self._write(factor)[0] for factor in factors)})", _ATOM
        texts = [self._at_least(factors[0], _PRODUCT)]
        texts += [self._at_least(factor, _UNARY) for factor in factors[1:]]
        if self.mode == CAREFUL:
            return f"_finite({'*'.join(texts)})", _ATOM
        return "*".join(texts), _PRODUCT

    def _quotient(self, node: Any) -> tuple[str, int]:
        above, below = node.args
        if self.mode == CAREFUL:
            return f"_div({self._write(above)[0]}, {self._write(below)[0]})", _ATOM
        return f"{self._at_least(above, _PRODUCT)}/{self._at_least(below, _UNARY)}", _PRODUCT

    def _power(self, node: Any) -> tuple[str, int]:
        base, exponent = node.args
        if is_typed(exponent):
            value = exponent.data[0] if exponent.op == "num" else -exponent.args[0].data[0]
            easy = EASY_POWERS.get(abs(value))
            if easy is not None:
                written = self._easy_power(base, *easy)
                if value > 0:
                    return written
                below = written[0] if written[1] == _ATOM else f"({written[0]})"
                if self.mode == CAREFUL:
                    return f"_div(1.0, {below})", _ATOM
                return f"1.0/{below}", _PRODUCT
        return f"_pow({self._write(base)[0]}, {self._write(exponent)[0]})", _ATOM

    def _easy_power(self, base: Any, factors: int, root: bool) -> tuple[str, int]:
        if not factors:
            return f"_sqrt({self._write(base)[0]})", _ATOM
        first, again = self._twice(base)
        if factors == 1 and not root:
            return (first, _ATOM)
        text = "*".join([first] + [again] * (factors - 1))
        if root:
            text += f"*_sqrt({again})"
        return text, _PRODUCT

    def _twice(self, node: Any) -> tuple[str, str]:
        """Return source for the first and the further uses of a value that is used twice."""
        text = self._write(node)[0]
        if node.op in ("name", "num", "qty", "unit", "pi"):
            return text, text
        self._temporaries += 1
        name = f"t{self._temporaries}"
        return f"({name} := {text})", name

    def _function(self, node: Any) -> tuple[str, int]:
        op = node.op
        if op == "cases":
            return self._cases(node), _ATOM
        if op == "interp":
            xs, ys = (self.constant(part) for part in (node.data.xs, node.data.ys))
            return f"_interp({self._write(node.args[0])[0]}, {xs}, {ys})", _ATOM
        if op == "abs":
            return f"abs({self._write(node.args[0])[0]})", _ATOM
        texts = [self._write(arg)[0] for arg in node.args]
        if op == "total":
            return f"_sum({', '.join(texts)})", _ATOM
        if op in ("min", "max"):
            text = texts[0]
            for other in texts[1:]:
                text = f"_{op}({text}, {other})"
            return text, _ATOM
        return f"{_FUNCTIONS[op]}({texts[0]})", _ATOM

    def _cases(self, node: Any) -> str:
        *pairs, last = node.args
        text = self._write(last)[0]
        for place in range(len(pairs) - 2, -1, -2):
            condition = self._condition(pairs[place])
            value = self._write(pairs[place + 1])[0]
            if self.mode == SCALAR:
                text = f"({value} if {condition} else {text})"
            elif self.mode == ARRAY:
                text = f"_where({condition}, {value}, {text})"
            else:
                text = f"_pick({condition}, {value}, {text})"
        return text

    def branch(self, node: Any) -> str:
        """Return the source of the number of the branch that a ``cases`` takes."""
        text = str(len(node.args) // 2)
        for place in range(len(node.args) - 3, -1, -2):
            condition = self._condition(node.args[place])
            number = place // 2
            if self.mode == SCALAR:
                text = f"({number} if {condition} else {text})"
            elif self.mode == ARRAY:
                text = f"_where({condition}, {number}, {text})"
            else:
                text = f"_pick({condition}, {number}.0, {text})"
        return text

    # -- conditions ---------------------------------------------------------------------------

    def _condition(self, node: Any) -> str:
        op = node.op
        if op in ("and", "or"):
            parts = [self._condition(arg) for arg in node.args]
            if self.mode == SCALAR:
                return "(" + f" {op} ".join(f"({part})" for part in parts) + ")"
            text = parts[0]
            for other in parts[1:]:
                text = f"_{op}({text}, {other})"
            return text
        if op == "not":
            inner = self._condition(node.args[0])
            return f"(not ({inner}))" if self.mode == SCALAR else f"_not({inner})"
        if op == "is":
            same = f"v{node.args[0].slot} == {node.data[1]}"
            return f"({same})" if self.mode != CAREFUL else f"_sure({same})"
        if op == "between":
            return self._between(*node.args)
        left, right = node.args
        return self._compare(op, self._at_least(left, _PRODUCT), *self._twice(right))

    def _between(self, x: Any, low: Any, high: Any) -> str:
        first, again = self._twice(x)
        below = self._compare("le", self._at_least(low, _PRODUCT), first, again)
        above = self._compare("le", again, *self._twice(high))
        if self.mode == SCALAR:
            return f"({below} and {above})"
        return f"_and({below}, {above})"

    def _compare(self, op: str, left: str, right: str, again: str) -> str:
        if self.mode == CAREFUL:
            return f"_{op}({left}, {right})"
        if op in ("eq", "ne"):
            text = f"_near({left}, {right})"
            return text if op == "eq" else f"_not({text})"
        try:
            band = repr(TOLERANCE * abs(float(again.strip("()"))))
        except ValueError:
            band = f"{TOLERANCE!r}*abs({again})"
        return f"({left} - {right} {_SIGNS[op]}{band})"

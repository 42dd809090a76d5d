"""The border to SymPy: formulas out for algebra, formulas in from algebra."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from stepcalc.errors import FormulaError, UnknownNameError
from stepcalc.expr import functions as build
from stepcalc.expr.tree import as_operand
from stepcalc.expr.walk import names_in

__all__ = ["from_sympy", "rearranged", "symbols_of", "to_sympy"]

_PLAIN = {"sqrt": "sqrt", "exp": "exp", "log": "log", "sin": "sin", "cos": "cos", "tan": "tan",
          "asin": "asin", "acos": "acos", "atan": "atan", "abs": "Abs", "floor": "floor",
          "ceil": "ceiling", "min": "Min", "max": "Max"}  # fmt: skip
_RELATIONS = {"le": "Le", "lt": "Lt", "ge": "Ge", "gt": "Gt", "eq": "Eq", "ne": "Ne"}


def symbols_of(node: Any) -> dict[str, Any]:
    """Return the named operands of a formula by name; two of one name get their paths."""
    found: dict[str, Any] = {}
    for name in names_in(node):
        key = name.name
        other = found.get(key)
        if other is not None and not other.same_name(name):
            key = name.path
        found[key] = name
    return found


def to_sympy(node: Any) -> Any:
    """Return a formula as a SymPy expression.

    Named operands become symbols of their names; their values are in base units, kip and inch.
    Literal quantities become their exact base values, typed decimals become rationals, so that
    algebra stays exact.
    """
    import sympy

    table = {}
    for key, name in symbols_of(node).items():
        if not hasattr(name, "info"):
            message = f"{name.name!r} is a choice of a text, which SymPy has no symbol for"
            raise FormulaError(message)
        table[id(name.sheet), name.slot] = sympy.Symbol(key)
    return _out(node, table, sympy)


def _exact(value: Any, sympy: Any) -> Any:
    if isinstance(value, int):
        return sympy.Integer(value)
    if isinstance(value, Fraction):
        return sympy.Rational(value.numerator, value.denominator)
    return sympy.Rational(str(value))


def _out(node: Any, table: dict[Any, Any], sympy: Any) -> Any:
    op = node.op
    if id(node) in table:
        return table[id(node)]
    if op == "name":
        return table[id(node.sheet), node.slot]
    if op == "num":
        return _exact(node.data[1], sympy)
    if op == "qty":
        return _exact(node.data[2], sympy) * _exact(node.data[1].factor, sympy)
    if op == "unit":
        return _exact(node.data.factor, sympy)
    if op == "pi":
        return sympy.pi
    if op in ("add", "sub", "mul"):
        return _spine_out(node, table, sympy)
    args = [_out(arg, table, sympy) for arg in node.args]
    if op == "total":
        return sympy.Add(*args)
    if op == "div":
        return args[0] / args[1]
    if op == "pow":
        return args[0] ** args[1]
    if op == "neg":
        return -args[0]
    if op == "mag":
        return args[0] / _exact(node.data.factor, sympy)
    if op == "log10":
        return sympy.log(args[0], 10)
    if op == "cases":
        pairs = [(value, test) for test, value in zip(args[:-1:2], args[1::2], strict=True)]
        return sympy.Piecewise(*pairs, (args[-1], True))
    return _out_other(node, args, sympy)


def _spine_out(node: Any, table: dict[tuple[int, int], Any], sympy: Any) -> Any:
    # a sum of any length, so not by recursion
    product = node.op == "mul"
    ops = ("mul",) if product else ("add", "sub")
    items = []
    while node.op in ops:
        item = _out(node.args[1], table, sympy)
        items.append(-item if node.op == "sub" else item)
        node = node.args[0]
    items.append(_out(node, table, sympy))
    items.reverse()
    return sympy.Mul(*items) if product else sympy.Add(*items)


def _out_other(node: Any, args: list[Any], sympy: Any) -> Any:
    op = node.op
    if op in _PLAIN:
        return getattr(sympy, _PLAIN[op])(*args)
    if op in _RELATIONS:
        return getattr(sympy, _RELATIONS[op])(*args)
    if op == "between":
        return sympy.And(args[1] <= args[0], args[0] <= args[2])
    if op in ("and", "or", "not"):
        return {"and": sympy.And, "or": sympy.Or, "not": sympy.Not}[op](*args)
    message = f"{node} reads a table or a choice, which SymPy has no expression for"
    raise FormulaError(message)


def from_sympy(expression: Any, operands: Any) -> Any:
    """Return a SymPy expression as a formula on these operands.

    Parameters
    ----------
    expression : sympy.Expr
        In symbols named as the operands; numbers are plain, or base values (kip, inch) of
        quantities where the dimension wants one.
    operands : Sheet, or mapping of a symbol's name to an operand

    Raises
    ------
    UnknownNameError
        If a symbol has no operand.
    FormulaError
        If the expression holds something that a sheet has no formula for.
    DimensionError
        If the dimensions do not fit.
    """
    import sympy

    if not isinstance(expression, sympy.Basic):
        message = f"from_sympy wants a SymPy expression, not {expression!r}"
        raise FormulaError(message[:200])
    return _in(expression, operands, sympy)


def _in(node: Any, operands: Any, sympy: Any) -> Any:
    if isinstance(node, sympy.Symbol):
        return _operand(node.name, operands)
    if isinstance(node, sympy.Integer):
        return as_operand(int(node))
    if isinstance(node, sympy.Rational):
        return build.frac(int(node.p), int(node.q))
    if isinstance(node, sympy.Number):
        return as_operand(float(node))
    if node is sympy.pi:
        return build.pi
    if node is sympy.E:
        return build.exp(1)
    if isinstance(node, sympy.Add):
        return _sum(node, operands, sympy)
    if isinstance(node, sympy.Mul):
        return _product(node, operands, sympy)
    if isinstance(node, sympy.Pow):
        base, exponent = node.as_base_exp()
        if exponent == sympy.Rational(1, 2):
            return build.sqrt(_in(base, operands, sympy))
        if exponent.is_negative:
            return as_operand(1) / _in(base**-exponent, operands, sympy)
        return _in(base, operands, sympy) ** _in(exponent, operands, sympy)
    if isinstance(node, sympy.Piecewise):
        *pairs, last = node.args
        branches = [
            (_in(test, operands, sympy), _in(value, operands, sympy)) for value, test in pairs
        ]
        return build.cases(*branches, otherwise=_in(last[0], operands, sympy))
    return _in_other(node, operands, sympy)


def _in_other(node: Any, operands: Any, sympy: Any) -> Any:
    args = [_in(arg, operands, sympy) for arg in node.args]
    for op, name in _PLAIN.items():
        if type(node) is getattr(sympy, name) and op != "sqrt":
            if op == "min":
                return build.minimum(*args)
            if op == "max":
                return build.maximum(*args)
            return getattr(build, {"abs": "absolute"}.get(op, op))(*args)
    if isinstance(node, sympy.core.relational.Relational):
        left, right = args
        sign = {"<=": "__le__", "<": "__lt__", ">=": "__ge__", ">": "__gt__", "==": "__eq__",
                "!=": "__ne__"}[node.rel_op]  # fmt: skip
        return getattr(as_operand(left), sign)(right)
    if isinstance(node, sympy.And | sympy.Or | sympy.Not):
        make = {sympy.And: build.all_of, sympy.Or: build.any_of, sympy.Not: build.not_}
        return make[type(node)](*args)
    message = f"a sheet has no formula for SymPy's {type(node).__name__}"
    raise FormulaError(message)


def _sum(node: Any, operands: Any, sympy: Any) -> Any:
    terms = sorted(node.as_ordered_terms(), key=lambda term: term.could_extract_minus_sign())
    result = _in(terms[0], operands, sympy)
    for term in terms[1:]:
        if term.could_extract_minus_sign():
            result = result - _in(-term, operands, sympy)
        else:
            result = result + _in(term, operands, sympy)
    return result


def _product(node: Any, operands: Any, sympy: Any) -> Any:
    above, below = node.as_numer_denom()
    if below != 1:
        return _in(above, operands, sympy) / _in(below, operands, sympy)
    if node.could_extract_minus_sign():
        return -_in(-node, operands, sympy)
    factors = [_in(factor, operands, sympy) for factor in node.as_ordered_factors()]
    result = factors[0]
    for factor in factors[1:]:
        result = result * factor
    return result


def _operand(name: str, operands: Any) -> Any:
    try:
        return operands[name]
    except UnknownNameError:
        raise
    except KeyError:
        message = f"the symbol {name!r} has no operand; give one by that name"
        raise UnknownNameError(message) from None


def rearranged(left: Any, right: Any, name: Any) -> Any:
    """Return the formula for a named operand that makes two formulas equal, or None.

    SymPy is asked; what it finds is returned as a formula only when its dimension fits.
    """
    import sympy

    by_name = {**symbols_of(left), **symbols_of(right)}
    table: dict[Any, Any] = {
        (id(item.sheet), item.slot): sympy.Symbol(key) for key, item in by_name.items()
    }
    # quantities stay whole, as symbols of their own, so that the answer has its dimension
    for side in (left, right):
        for item in _quantities(side):
            key = f"quantity {len(by_name)}"
            by_name[key] = item
            table[id(item)] = sympy.Symbol(key)
    equation = _out(left, table, sympy) - _out(right, table, sympy)
    wanted = next((key for key, item in by_name.items() if item is name or _same(item, name)), None)
    if wanted is None:
        return None
    # positive symbols keep SymPy from returning branches that no dimension of a bridge has
    positive = {s: sympy.Symbol(s.name, positive=True) for s in equation.free_symbols}
    try:
        found = sympy.solve(equation.subs(positive), sympy.Symbol(wanted, positive=True))
    except (NotImplementedError, ValueError, TypeError):
        return None
    for solution in found:
        try:
            formula = _one_root(solution, by_name, sympy)
        except (FormulaError, UnknownNameError, TypeError):
            continue
        if formula.dim is name.dim:
            return formula
    return None


def _same(item: Any, name: Any) -> bool:
    return item.op == "name" and bool(item.same_name(name))


def _quantities(node: Any) -> list[Any]:
    found, pending = [], [node]
    while pending:
        node = pending.pop()
        if node.op in ("qty", "unit"):
            found.append(node)
        elif node.op != "name":
            pending.extend(node.args)
    return found


def _one_root(solution: Any, operands: Any, sympy: Any) -> Any:
    """Return a solution as a formula; a product of roots becomes one root of a quotient."""
    half = sympy.Rational(1, 2)
    if solution.is_positive and any(power.exp == half for power in solution.atoms(sympy.Pow)):
        square = sympy.simplify(solution**2)
        if not any(not power.exp.is_integer for power in square.atoms(sympy.Pow)):
            return build.sqrt(from_sympy(square, operands))
    return from_sympy(solution, operands)

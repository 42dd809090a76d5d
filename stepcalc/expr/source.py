"""A formula spelled as the Python line that wrote it: for error messages and ``repr``.

The sheet's own printers live on a higher floor; an error must be able to quote the line without
them, in the notation in which the person typed it.
"""

from __future__ import annotations

from typing import Any

from stepcalc.units.numbers import typed_text

_SUM, _PRODUCT, _UNARY, _POWER, _ATOM = 1, 2, 3, 4, 5
_INFIX = {
    "add": (" + ", _SUM), "sub": (" - ", _SUM), "mul": ("*", _PRODUCT), "div": ("/", _PRODUCT),
}  # fmt: skip
_SIGNS = {"lt": "<", "le": "<=", "gt": ">", "ge": ">=", "eq": "==", "ne": "!="}
_NAMES = {"min": "minimum", "max": "maximum", "and": "all_of", "or": "any_of", "not": "not_"}
_LONGEST = 300


def source(node: Any) -> str:
    """Return the formula or condition as text, shortened in the middle when it is very long."""
    text = _write(node)[0]
    if len(text) > _LONGEST:
        text = text[: _LONGEST // 2] + " ... " + text[-_LONGEST // 3 :]
    return text


def _write(node: Any) -> tuple[str, int]:
    op = node.op
    if op in _INFIX:
        return _spine(node)
    if op == "name":
        return node.name, _ATOM
    if op == "num":
        text = typed_text(node.data[1])
        return text.replace(",", ""), _UNARY if text.startswith("-") else _PRODUCT if (
            "/" in text
        ) else _ATOM
    if op == "qty":
        return f"({typed_text(node.data[2]).replace(',', '')} {node.data[1].text})", _ATOM
    if op == "unit":
        return node.data.text, _ATOM
    if op == "neg":
        return "-" + _grouped(node.args[0], _UNARY), _UNARY
    if op == "pow":
        base, exponent = node.args
        return f"{_grouped(base, _ATOM)}**{_grouped(exponent, _ATOM)}", _POWER
    if op == "mag":
        return f"{_grouped(node.args[0], _ATOM)}.magnitude({node.data.text})", _ATOM
    return _other(node), _ATOM


def _other(node: Any) -> str:
    op = node.op
    if op == "pi":
        return "pi"
    if op in _SIGNS:
        left, right = node.args
        return f"{_write(left)[0]} {_SIGNS[op]} {_write(right)[0]}"
    if op == "is":
        return f"{node.args[0].name} == {node.data!r}"
    if op == "cases":
        return _cases(node)
    inner = ", ".join(_write(arg)[0] for arg in node.args)
    if op == "interp":
        return f"interpolate({inner}, {node.data.title})"
    return f"{_NAMES.get(op, op)}({inner})"


def _cases(node: Any) -> str:
    parts = [
        f"({_write(condition)[0]}, {_write(value)[0]})"
        for condition, value in zip(node.args[:-1:2], node.args[1::2], strict=True)
    ]
    return f"cases({', '.join(parts)}, otherwise={_write(node.args[-1])[0]})"


def _grouped(node: Any, least: int) -> str:
    text, rank = _write(node)
    return text if rank >= least else f"({text})"


def _spine(node: Any) -> tuple[str, int]:
    # the left spine of a long sum is walked in a loop, so that 1,000 terms do not recurse
    pieces: list[str] = []
    rank = _INFIX[node.op][1]
    top = rank
    while node.op in _INFIX and _INFIX[node.op][1] == rank:
        sign = _INFIX[node.op][0]
        right = _grouped(node.args[1], rank + 1)
        pieces.append(sign + right)
        node = node.args[0]
    pieces.append(_grouped(node, rank))
    return "".join(reversed(pieces)), top

"""The layout vocabulary: which kinds there are, what each holds, and how large it may be.

A layout may come out of a notebook that somebody else wrote, so it is checked before use.

======== ==================================== ========================================
kind     holds                                example
======== ==================================== ========================================
sym      trade spelling                       ``["sym", "M_u"]``
num      number                               ``["num", "-1,234.5"]``, ``["num", "1.2e-5"]``
unit     unit                                 ``["unit", "kip/ft^2"]``
qty      number, unit                         ``["qty", "1.2", "kip/ft"]``
text     words                                ``["text", "span"]``
op       sign                                 ``["op", "·"]``
mul      list                                 ``["mul", [a, b]]``
add      list of [sign, term]                 ``["add", [["", a], ["-", b]]]``
frac     over, under
pow      base, exponent
sqrt     inside
root     degree, inside
group    inside (round brackets)
abs      inside
floor    inside
ceil     inside
call     function name, list                  ``["call", "min", [a, b]]``
rel      left, list of [sign, right]          ``["rel", a, [["≤", b]]]``
and      list
or       list
not      inside
cases    list of [value, condition, label]    condition and label may be null
row      list
box      inside
sub      base, lower
subsup   base, lower, upper
sum      lower or null, upper or null, body
accent   mark name, base                      ``["accent", "bar", ["sym", "y"]]``
======== ==================================== ========================================
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stepcalc.errors import LayoutError

MAX_DEPTH = 80
MAX_PARTS = 20_000
MAX_TEXT = 5_000
SUM_SIGNS = frozenset({"", "+", "-"})
RELATIONS = frozenset({"<", "≤", "=", "≥", ">", "≠", "≈"})
ACCENTS = frozenset({"bar", "hat", "tilde", "dot", "ddot", "vec"})

_Check = Callable[[Any, "_Walk"], None]


class _Walk:
    """Counts what has been seen, so that no layout can be endless."""

    __slots__ = ("depth", "parts")

    def __init__(self) -> None:
        self.depth = 0
        self.parts = 0


def _text(value: Any, walk: _Walk) -> None:
    if not isinstance(value, str):
        raise LayoutError(f"a layout has {_shown(value)} where a text belongs")
    if len(value) > MAX_TEXT:
        raise LayoutError(f"a text of {len(value)} characters in a layout; at most {MAX_TEXT} fit")


def _layout(value: Any, walk: _Walk) -> None:
    if not isinstance(value, list) or not value or not isinstance(value[0], str):
        raise LayoutError(
            f"{_shown(value)} is no layout; a layout is a list that begins with its kind, "
            'such as ["num", "8"]'
        )
    wanted = KINDS.get(value[0])
    if wanted is None:
        raise LayoutError(f"unknown layout kind {value[0]!r}; known are {', '.join(KINDS)}")
    if len(value) != len(wanted) + 1:
        raise LayoutError(
            f"layout kind {value[0]!r} has {len(value) - 1} parts; {len(wanted)} belong to it"
        )
    walk.parts += 1
    walk.depth += 1
    if walk.depth > MAX_DEPTH:
        raise LayoutError(f"a layout is nested more than {MAX_DEPTH} deep")
    if walk.parts > MAX_PARTS:
        raise LayoutError(f"a layout has more than {MAX_PARTS} parts")
    for check, part in zip(wanted, value[1:], strict=True):
        check(part, walk)
    walk.depth -= 1


def _optional(value: Any, walk: _Walk) -> None:
    if value is not None:
        _layout(value, walk)


def _one_of(words: frozenset[str], what: str) -> _Check:
    def check(value: Any, walk: _Walk) -> None:
        if not isinstance(value, str) or value not in words:
            raise LayoutError(f"{_shown(value)} is no {what}; one of {sorted(words)} fits")

    return check


def _list_of(check: _Check) -> _Check:
    def check_list(value: Any, walk: _Walk) -> None:
        if not isinstance(value, list):
            raise LayoutError(f"a layout has {_shown(value)} where a list belongs")
        for item in value:
            check(item, walk)

    return check_list


def _record(*checks: _Check) -> _Check:
    def check_record(value: Any, walk: _Walk) -> None:
        if not isinstance(value, list) or len(value) != len(checks):
            raise LayoutError(f"a layout has {_shown(value)} where {len(checks)} parts belong")
        for check, item in zip(checks, value, strict=True):
            check(item, walk)

    return check_record


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


_SIGN = _one_of(SUM_SIGNS, "sign of a sum")
_RELATION = _one_of(RELATIONS, "comparison sign")
KINDS: dict[str, tuple[_Check, ...]] = {
    "sym": (_text,), "num": (_text,), "unit": (_text,), "qty": (_text, _text),
    "text": (_text,), "op": (_text,),
    "mul": (_list_of(_layout),), "add": (_list_of(_record(_SIGN, _layout)),),
    "frac": (_layout, _layout), "pow": (_layout, _layout), "sqrt": (_layout,),
    "root": (_layout, _layout), "group": (_layout,), "abs": (_layout,), "floor": (_layout,),
    "ceil": (_layout,), "call": (_text, _list_of(_layout)),
    "rel": (_layout, _list_of(_record(_RELATION, _layout))),
    "and": (_list_of(_layout),), "or": (_list_of(_layout),), "not": (_layout,),
    "cases": (_list_of(_record(_layout, _optional, _optional)),),
    "row": (_list_of(_layout),), "box": (_layout,), "sub": (_layout, _layout),
    "subsup": (_layout, _layout, _layout), "sum": (_optional, _optional, _layout),
    "accent": (_one_of(ACCENTS, "accent"), _layout),
}  # fmt: skip


def check_layout(layout: Any) -> None:
    """Refuse what is not a layout, or is larger than any formula.

    Parameters
    ----------
    layout : object
        Anything read from a file.

    Raises
    ------
    LayoutError
        Naming the part that does not belong there.

    Examples
    --------
    >>> check_layout(["frac", ["sym", "M"], ["num", "8"]])
    >>> check_layout(["frac", ["sym", "M"]])
    Traceback (most recent call last):
    ...
    stepcalc.errors.LayoutError: layout kind 'frac' has 1 parts; 2 belong to it
    """
    _layout(layout, _Walk())

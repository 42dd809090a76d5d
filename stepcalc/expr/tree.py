"""The expression tree, as written: what an arithmetic line on operands builds.

A tree is immutable and knows nothing of sheets.  Its leaves are literals, or *named* operands that
a higher floor provides (a given, a step).  Dimensions are checked the moment a node is made; the
value is not computed here.  Order, grouping and the way a number was typed are kept.

Nodes
-----
=============  ==================================================  =============================
``op``         ``args``                                            ``data``
=============  ==================================================  =============================
num            ()                                                  (float, number as typed)
qty            ()                                                  (float, UnitInfo, as typed)
unit           ()                                                  UnitInfo (one such unit)
pi             ()                                                  None
name           ()   (a named operand of a higher floor)            -
add sub mul div (left, right)                                      None
pow            (base, exponent)                                    None
neg            (x,)                                                None
mag            (x,)                                                UnitInfo: the bare number in it
sqrt abs exp log log10 sin cos tan asin acos atan floor ceil       (x,); data None
min max total  (x, y, ...)                                         None
cases          (condition, value, condition, value, ..., value)    labels: tuple of str or None
interp         (x,)                                                Interpolation
=============  ==================================================  =============================

A :class:`Condition` has ``op`` lt le gt ge eq ne with (left, right), ``between`` with (x, low,
high), ``is`` with a choice and ``data`` the label, ``and`` / ``or`` with conditions, ``not``.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any, NoReturn, cast

import numpy as np

from stepcalc.errors import DimensionError, FormulaError
from stepcalc.expr.condition import Condition
from stepcalc.expr.refusals import (
    MAX_DEPTH,
    TOO_DEEP,
    not_an_operand,
    power_dimension,
    refuse_comparison,
    refuse_sum,
)
from stepcalc.expr.sameness import same_tree
from stepcalc.units.dimension import DIMENSIONLESS, Dimension
from stepcalc.units.info import ONE, own_quantity, read_unit, unit_info
from stepcalc.units.registry import defer_to, registry

__all__ = ["Condition", "Expr", "Operand", "as_operand", "literal", "register_operand"]


#: Numbers of this size are refused as infinite ones are: no quantity has it, and no file keeps it.
_LARGEST = 1e300

_NUMBERS = (int, float, Decimal, Fraction, np.integer, np.floating)


class Operand:
    """Base of everything that may stand in a formula; arithmetic on it builds the tree.

    The concrete classes are siblings, never subclasses of each other: Python tries the operator
    of a subclass first, which would turn ``expr >= step`` round into ``step <= expr``.

    Attributes
    ----------
    op : str
        What kind of node it is (see the module's table).
    dim : Dimension
    mask : int
        Bits of the atoms of unit below this node (quick test for conversion factors).
    depth : int
        How deep it nests; the left spine of sums and products does not count.
    """

    __slots__ = ()
    op: str
    args: tuple[Any, ...]
    data: Any
    dim: Dimension
    mask: int
    depth: int

    def __add__(self, other: Any) -> Expr:
        """Add, as written."""
        if other.__class__ not in OPERANDS:
            other = as_operand(other)
        if self.dim is not other.dim:
            refuse_sum("add", self, other)
        return Expr("add", (self, other), self.dim, self.mask | other.mask)

    def __radd__(self, other: Any) -> Any:
        """Add to a number or quantity on the left; the 0 that ``sum`` starts with is dropped."""
        if other.__class__ is int and other == 0:
            return self
        return as_operand(other) + self

    def __sub__(self, other: Any) -> Expr:
        """Subtract, as written."""
        if other.__class__ not in OPERANDS:
            other = as_operand(other)
        if self.dim is not other.dim:
            refuse_sum("sub", self, other)
        return Expr("sub", (self, other), self.dim, self.mask | other.mask)

    def __rsub__(self, other: Any) -> Expr:
        """Subtract from a number or quantity on the left."""
        return cast("Expr", as_operand(other) - self)

    def __mul__(self, other: Any) -> Expr:
        """Multiply, as written."""
        if other.__class__ not in OPERANDS:
            other = as_operand(other)
        dim = self.dim._mul.get(other.dim) or self.dim.times(other.dim)
        return Expr("mul", (self, other), dim, self.mask | other.mask)

    def __rmul__(self, other: Any) -> Expr:
        """Multiply a number or quantity on the left."""
        return cast("Expr", as_operand(other) * self)

    def __truediv__(self, other: Any) -> Expr:
        """Divide, as written."""
        if other.__class__ not in OPERANDS:
            other = as_operand(other)
        dim = self.dim._div.get(other.dim) or self.dim.over(other.dim)
        return Expr("div", (self, other), dim, self.mask | other.mask)

    def __rtruediv__(self, other: Any) -> Expr:
        """Divide a number or quantity on the left."""
        return cast("Expr", as_operand(other) / self)

    def __pow__(self, other: Any) -> Expr:
        """Raise to a power; a base with a dimension wants a plain number as exponent."""
        if other.__class__ not in OPERANDS:
            other = as_operand(other)
        return Expr("pow", (self, other), power_dimension(self, other), self.mask | other.mask)

    def __rpow__(self, other: Any) -> Expr:
        """Raise a number on the left to this power."""
        return cast("Expr", as_operand(other) ** self)

    def __neg__(self) -> Expr:
        """Change the sign."""
        return Expr("neg", (self,), self.dim, self.mask)

    def __pos__(self) -> Any:
        """Return the operand itself."""
        return self

    def __abs__(self) -> Expr:
        """Return the absolute value as a formula."""
        return Expr("abs", (self,), self.dim, self.mask)

    def magnitude(self, unit: Any) -> Expr:
        """Return the bare number of this operand in ``unit``, for a code's empirical equations."""
        info = read_unit(unit)
        if info.dim is not self.dim:
            message = (
                f"{self} is {self.dim.words}, so it has no number of {info.text or '1'}; "
                f"give a unit of {self.dim.formula}"
            )
            raise DimensionError(message)
        return Expr("mag", (self,), DIMENSIONLESS, 0, info)

    def __lt__(self, other: Any) -> Condition:
        """Build the comparison ``self < other``."""
        return compare("lt", self, other)

    def __le__(self, other: Any) -> Condition:
        """Build the comparison ``self <= other``."""
        return compare("le", self, other)

    def __gt__(self, other: Any) -> Condition:
        """Build the comparison ``self > other``."""
        return compare("gt", self, other)

    def __ge__(self, other: Any) -> Condition:
        """Build the comparison ``self >= other``."""
        return compare("ge", self, other)

    def __eq__(self, other: Any) -> Any:
        """Build the comparison ``self == other`` (``same_as`` compares the trees)."""
        return compare("eq", self, other)

    def __ne__(self, other: Any) -> Any:
        """Build the comparison ``self != other``."""
        return compare("ne", self, other)

    def __hash__(self) -> int:
        """Hash by identity, so that operands can be keys although ``==`` builds a comparison."""
        return id(self) >> 4

    def __bool__(self) -> NoReturn:
        """Refuse: a formula has no truth value when it is written."""
        message = (
            f"{self} is a formula and is neither true nor false while it is written; use cases(...)"
            " for a choice between formulas, minimum or maximum for the smaller or larger"
        )
        raise FormulaError(message)

    def __float__(self) -> NoReturn:
        """Refuse: functions of Python's math do not build formulas."""
        message = (
            f"{self} is a formula, not a number; use stepcalc's own sqrt, exp, log, sin, minimum,"
            " maximum in formulas, and .value for the number of a step"
        )
        raise FormulaError(message)

    __int__ = __float__
    __complex__ = __float__
    __trunc__ = __float__

    def __floordiv__(self, _other: Any) -> NoReturn:
        """Refuse: whole quotients and remainders are written with ``floor``."""
        message = f"// and % do not build formulas, here on {self}; write floor(a/b)"
        raise FormulaError(message)

    __rfloordiv__ = __mod__ = __rmod__ = __divmod__ = __rdivmod__ = __floordiv__

    def __round__(self, *_: Any) -> NoReturn:
        """Refuse: rounding is a matter of the sheet."""
        message = f"{self} is a formula; rounding belongs to the sheet (carry=, digits=) or floor()"
        raise FormulaError(message)

    def __iter__(self) -> NoReturn:
        """Refuse: a formula is one quantity."""
        message = f"{self} is one quantity, not a list; arrays go through evaluate(...)"
        raise FormulaError(message)

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **kwargs: Any) -> Any:
        """Map NumPy's scalar functions onto formulas; refuse arrays and the rest."""
        from stepcalc.expr.functions import UFUNCS

        build = UFUNCS.get(ufunc.__name__)
        if build is None or method != "__call__" or kwargs:
            message = f"numpy's {ufunc.__name__} does not build formulas; use stepcalc's functions"
            raise FormulaError(message)
        return build(*(as_operand(item) for item in inputs))

    def same_as(self, other: Any) -> bool:
        """Say whether two trees are the same in structure, order, literals and names."""
        return same_tree(self, other)

    def to_sympy(self) -> Any:
        """Return the formula as a SymPy expression in symbols named as the operands."""
        from stepcalc.expr.algebra import to_sympy

        return to_sympy(self)

    def __repr__(self) -> str:
        from stepcalc.expr.source import source

        return source(self)

    def __copy__(self) -> Any:
        return self

    def __deepcopy__(self, _memo: Any) -> Any:
        return self


class Expr(Operand):
    """A node of the tree that is not a name: a literal, an operation, a function."""

    # two operands are kept in slots of their own: a tuple for each node would nearly double what
    # Python's cyclic collector has to look through on a long sheet
    __slots__ = ("_left", "_right", "data", "depth", "dim", "mask", "op")

    def __init__(
        self, op: str, args: tuple[Any, ...], dim: Dimension, mask: int, data: Any = None
    ) -> None:
        self.op = op
        self.dim = dim
        self.mask = mask
        self.data = data
        if len(args) == 2:
            self._left, self._right = left, right = args
            depth = right.depth + 1
            spine = left.depth if left.op in _SPINE.get(op, ()) else left.depth + 1
            self.depth = depth = spine if spine > depth else depth
        else:
            self._left, self._right = args, None
            depth = 0
            for arg in args:
                if arg.depth >= depth:
                    depth = arg.depth + 1
            self.depth = depth
        if depth > MAX_DEPTH:
            raise FormulaError(TOO_DEEP)

    @property
    def args(self) -> tuple[Any, ...]:  # type: ignore[override]  # read-only here
        """The operands, in the order in which they were written."""
        right = self._right
        return self._left if right is None else (self._left, right)


_SPINE = {"add": ("add", "sub"), "sub": ("add", "sub"), "mul": ("mul",)}


#: Exact classes that may stand in a formula; higher floors add theirs.
OPERANDS: set[type] = set()


def register_operand(cls: type) -> type:
    """Enter a concrete operand class, so that numbers, pint and NumPy give way to it."""
    OPERANDS.add(cls)
    defer_to(cls)
    return cls


register_operand(Expr)


#: Literals by type and value, shared by all formulas: a sheet says 8, 2 and 12 in many places.
#: Zero is left out, whose sign equality does not tell.
_LITERALS: dict[tuple[Any, ...], Expr] = {}
_MOST_LITERALS = 4096


def _kept(key: tuple[Any, ...], node: Expr) -> Expr:
    if len(_LITERALS) >= _MOST_LITERALS:
        _LITERALS.clear()
    _LITERALS[key] = node
    return node


def literal(value: Any) -> Expr:
    """Return a plain number as a node that remembers how it was typed."""
    if isinstance(value, np.generic):
        value = value.item()
    number = float(value)
    if not -_LARGEST < number < _LARGEST:
        message = f"{value} cannot stand in a formula; want a finite number"
        raise FormulaError(message)
    node = Expr("num", (), DIMENSIONLESS, 0, (number, value))
    return _kept((value.__class__, value), node) if number else node


def as_operand(value: Any) -> Any:
    """Return a number, quantity or unit as an operand.

    Raises
    ------
    FormulaError
        If it is an array, a text, a truth value or anything else that is not one quantity.
    """
    kind = value.__class__
    if kind in OPERANDS:
        return value
    if kind is float or kind is int:
        known = _LITERALS.get((kind, value))
        return literal(value) if known is None else known
    if hasattr(value, "_units"):
        return _from_pint(value)
    if isinstance(value, _NUMBERS) and not isinstance(value, bool):
        return literal(value)
    if isinstance(value, np.ndarray) and value.ndim == 0:
        return literal(value.item())
    raise FormulaError(not_an_operand(value))


def _from_pint(value: Any) -> Expr:
    if value._REGISTRY is not registry:
        value = own_quantity(value)
    if not hasattr(value, "_magnitude"):
        info = unit_info(value)
        return Expr("unit", (), info.dim, info.mask, info)
    magnitude = value._magnitude
    info = unit_info(value)
    if isinstance(magnitude, np.ndarray) and magnitude.ndim:
        raise FormulaError(not_an_operand(magnitude))
    if isinstance(magnitude, np.generic | np.ndarray):
        magnitude = magnitude.item()
    if info is ONE:
        return literal(magnitude)
    known = _LITERALS.get((info, magnitude.__class__, magnitude))
    if known is not None:
        return known
    number = float(magnitude)
    if not -_LARGEST < number < _LARGEST:
        message = f"{value} cannot stand in a formula; want a finite number"
        raise FormulaError(message)
    node = Expr("qty", (), info.dim, info.mask, (number * info.factor, info, magnitude))
    return _kept((info, magnitude.__class__, magnitude), node) if number else node


def compare(op: str, left: Any, right: Any) -> Condition:
    """Build a comparison; both sides must have one dimension."""
    right = as_operand(right)
    if left.dim is not right.dim:
        refuse_comparison(op, left, right)
    return Condition(op, (left, right))

"""Names, numbers and values in one dialect, spelled once and remembered."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, TypeVar

from stepcalc.render.brackets import bare_in_power
from stepcalc.render.shown import Shown, literal_text
from stepcalc.render.symbols import is_primed

if TYPE_CHECKING:
    from stepcalc.render.dialects.base import Dialect

F = TypeVar("F")

_REMEMBERED = 20_000


class Leaves(Generic[F]):
    """What the leaves of a formula look like in one dialect.

    Parameters
    ----------
    dialect : Dialect
    """

    __slots__ = (
        "_add", "_dialect", "_frac", "_group", "_mul", "_num", "_numbers", "_pow", "_qty",
        "_quantities", "_sym",
        "_symbols", "_values",
    )  # fmt: skip

    def __init__(self, dialect: Dialect[F]) -> None:
        self._dialect = d = dialect
        self._sym, self._num, self._qty = d.sym, d.num, d.qty
        self._mul, self._add, self._frac, self._pow = d.mul, d.add, d.frac, d.pow
        self._group = d.group
        self._numbers: dict[float, tuple[F, F, str]] = {}
        self._symbols: dict[str, tuple[F, F]] = {}
        self._values: dict[tuple[str, str], tuple[F, F, F]] = {}
        self._quantities: dict[tuple[float, str], tuple[F, F, F]] = {}

    @property
    def dialect(self) -> Dialect[F]:
        """The dialect in which this walker prints."""
        return self._dialect

    def value(self, number: str, unit: str) -> F:
        """Return a number with its unit, or alone if it has none."""
        above, slash, below = number.partition("/")
        if slash:
            fraction = self._fraction(above, below)
            return self._mul([fraction, self._dialect.unit(unit)]) if unit else fraction
        return self._qty(number, unit) if unit else self._num(number)

    def symbol(self, spelling: str) -> F:
        """Return a symbol in trade spelling."""
        return (self._symbols.get(spelling) or self._spell_symbol(spelling))[0]

    def _spelled_number(self, node: Any) -> tuple[F, F, str]:
        """Return a typed number plain, as a factor, and its text."""
        typed = node.data[1]
        if typed.__class__ is float or typed.__class__ is int:
            return self._numbers.get(typed) or self._spell_number(node)
        return self._spell_number(node)

    def _spell_number(self, node: Any) -> tuple[F, F, str]:
        """Spell a typed number; plain floats and whole numbers are remembered."""
        typed = node.data[1]
        text = literal_text(typed)
        above, slash, below = text.partition("/")
        plain = self._fraction(above, below) if slash else self._num(text)
        factor = self._group(plain) if text[0] == "-" or "e" in text else plain
        spelled = (plain, factor, text)
        if typed.__class__ is float or (typed.__class__ is int and -(10**15) < typed < 10**15):
            if len(self._numbers) > _REMEMBERED:
                self._numbers.clear()
            self._numbers[typed] = spelled
        return spelled

    def _spell_value(self, number_and_unit: tuple[str, str]) -> tuple[F, F, F]:
        """Return a value plain, as a factor and as a base, and remember all three."""
        number, unit = number_and_unit
        plain = self.value(number, unit)
        grouped = self._group(plain)
        if len(self._values) > _REMEMBERED:
            self._values.clear()
            self._quantities.clear()
        spelled = (plain, grouped, plain if bare_in_power(number, unit) else grouped)
        self._values[number_and_unit] = spelled
        return spelled

    def _spell_symbol(self, spelling: str) -> tuple[F, F]:
        """Return a symbol plain and as a base, and remember both."""
        plain = self._sym(spelling)
        if len(self._symbols) > _REMEMBERED:
            self._symbols.clear()
        base = self._group(plain) if is_primed(spelling) else plain
        spelled = self._symbols[spelling] = (plain, base)
        return spelled

    def _fraction(self, above: str, below: str) -> F:
        if above[0] == "-":
            return self._add([("-", self._frac(self._num(above[1:]), self._num(below)))])
        return self._frac(self._num(above), self._num(below))

    def _spell_name(self, node: Any, shown: Shown) -> tuple[F, F, F]:
        """Return the value of a name plain, as a factor and as a base; it is remembered."""
        value = shown.of(node)
        spelled = self._values.get(value) or self._spell_value(value)
        if shown.may_remember:
            shown.spelled[node.slot] = (shown.numbers[node.slot], spelled)
        return spelled

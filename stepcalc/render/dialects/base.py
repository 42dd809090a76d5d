"""What a dialect is: one method for each kind of the layout vocabulary.

A *layout* is presentation data of a formula: nested JSON lists whose first item names the kind,
``["frac", ["sym", "M"], ["num", "8"]]``. The expression walker calls a dialect's methods
directly; a stored layout is replayed through the same methods (:func:`.replay.replay`), so
that what a notebook stored and what a sheet prints cannot differ.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from typing import Any, ClassVar, Generic, TypeAlias, TypeVar

Layout: TypeAlias = "list[Any]"
F = TypeVar("F")


class Dialect(ABC, Generic[F]):
    """A notation. Each method takes fragments of this dialect and returns one.

    All text that reaches ``sym``, ``num``, ``unit``, ``qty``, ``text``, ``op`` and the name of
    ``call`` may come from a user or a file: a dialect escapes it.
    """

    name: ClassVar[str]

    @abstractmethod
    def sym(self, spelling: str) -> F:
        """Return a symbol given in trade spelling, ``M_DC1``."""

    @abstractmethod
    def num(self, number: str) -> F:
        """Return a number, ``-1,234.5`` or ``1.2e-5``."""

    @abstractmethod
    def unit(self, unit: str) -> F:
        """Return a unit, ``kip/ft^2``."""

    @abstractmethod
    def qty(self, number: str, unit: str) -> F:
        """Return a number with its unit."""

    @abstractmethod
    def text(self, text: str) -> F:
        """Return words, set as text."""

    @abstractmethod
    def op(self, sign: str) -> F:
        """Return a sign that stands between others: ``·``, ``+``, ``=``, ``→``."""

    @abstractmethod
    def mul(self, items: Sequence[F]) -> F:
        """Return a product by juxtaposition."""

    @abstractmethod
    def add(self, terms: Sequence[tuple[str, F]]) -> F:
        """Return a sum of (sign, term); the first sign is ``""`` or ``-``."""

    @abstractmethod
    def frac(self, over: F, under: F) -> F:
        """Return a fraction."""

    @abstractmethod
    def pow(self, base: F, exponent: F) -> F:
        """Return a power."""

    @abstractmethod
    def sqrt(self, inside: F) -> F:
        """Return a square root."""

    @abstractmethod
    def root(self, degree: F, inside: F) -> F:
        """Return a root of another degree."""

    @abstractmethod
    def group(self, inside: F) -> F:
        """Return the fragment in round brackets."""

    @abstractmethod
    def abs(self, inside: F) -> F:
        """Return the absolute value."""

    @abstractmethod
    def floor(self, inside: F) -> F:
        """Return the next lower integer."""

    @abstractmethod
    def ceil(self, inside: F) -> F:
        """Return the next higher integer."""

    @abstractmethod
    def call(self, function: str, arguments: Sequence[F]) -> F:
        """Return a function with its arguments, ``min(a, b)``."""

    @abstractmethod
    def rel(self, left: F, rest: Sequence[tuple[str, F]]) -> F:
        """Return a chain of comparisons, ``a < b ≤ c``."""

    @abstractmethod
    def and_(self, items: Sequence[F]) -> F:
        """Return conditions that must all hold."""

    @abstractmethod
    def or_(self, items: Sequence[F]) -> F:
        """Return conditions of which one must hold."""

    @abstractmethod
    def not_(self, inside: F) -> F:
        """Return a negated condition."""

    @abstractmethod
    def cases(self, rows: Sequence[tuple[F, F | None, F | None]]) -> F:
        """Return cases as (value, condition or None for otherwise, label or None)."""

    @abstractmethod
    def row(self, items: Sequence[F]) -> F:
        """Return fragments one after the other."""

    @abstractmethod
    def box(self, inside: F) -> F:
        """Return the fragment in a frame."""

    @abstractmethod
    def sub(self, base: F, lower: F) -> F:
        """Return a subscript."""

    @abstractmethod
    def subsup(self, base: F, lower: F, upper: F) -> F:
        """Return a subscript with a superscript."""

    @abstractmethod
    def sum(self, lower: F | None, upper: F | None, body: F) -> F:
        """Return a sum sign with its bounds and what is summed."""

    @abstractmethod
    def accent(self, mark: str, base: F) -> F:
        """Return a letter under ``bar``, ``hat``, ``tilde``, ``dot``, ``ddot`` or ``vec``."""

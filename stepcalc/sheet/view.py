"""The reading side of a sheet: its nodes, its verdict, and its values for other givens."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Self

from stepcalc.sheet import evaluation, ports, state, writing
from stepcalc.sheet.nodes import Check, handle, handles

if TYPE_CHECKING:
    from stepcalc.sheet.book import Book

__all__ = ["SheetView"]


class SheetView:
    """What can be asked of a sheet; :class:`stepcalc.Sheet` adds the writing."""

    title: str
    carry: str
    digits: int
    fold: bool
    feet_inches: bool
    _book: Book
    _values: list[float]
    _typed: dict[int, tuple[Any, Any]]

    def __copy__(self) -> Self:
        return self.__deepcopy__(None)

    def __deepcopy__(self, _memo: Any) -> Self:
        # the records and trees are never changed, and refer to their sheet: they are shared
        new = evaluation.twin(self)
        new._values, new._typed = self._values.copy(), self._typed.copy()
        return new  # type: ignore[no-any-return]  # twin is of this class

    def __reduce__(self) -> tuple[Any, ...]:
        # what crosses a process is JSON: the compiled program and the links to cells stay here
        return type(self).from_json, (self.to_json(),)

    # -- reading --------------------------------------------------------------------------------

    def __getitem__(self, name: str) -> Any:
        """Return the node of this path, or of this name when only one part has it."""
        return handle(self, self._book.find(name))

    def __contains__(self, name: object) -> bool:
        """Say whether the name stands for exactly one node."""
        return len(self._book.seek(str(name))) == 1

    @property
    def givens(self) -> list[Any]:
        """The givens, as they stand on the sheet."""
        return list(handles(self, "given"))

    def givens_named(self, name: str) -> list[Any]:
        """Return the givens of one name, in whatever parts, in the order of writing."""
        found = (self._book.entries[slot] for slot in self._book.by_name.get(name, ()))
        return [handle(self, entry) for entry in found if entry is not None
                and entry.kind == "given"]  # fmt: skip

    @property
    def steps(self) -> list[Any]:
        """The steps, as they stand on the sheet (look-ups and computed ones included)."""
        return list(handles(self, "step", "lookup", "computed"))

    @property
    def checks(self) -> list[Check]:
        """The checks, as they stand on the sheet."""
        return list(handles(self, "check"))

    @property
    def governing(self) -> Check | None:
        """The check with the largest ratio; an undefined one governs. None without checks."""
        checks = self.checks
        return (
            max(checks, key=lambda check: check.ratio if check.defined else math.inf)
            if (checks)
            else None
        )

    @property
    def passed(self) -> bool:
        """Whether there are checks and all of them pass."""
        checks = self.checks
        return bool(checks) and all(check.passed for check in checks)

    def _typed_of(self, slot: int) -> tuple[Any, Any]:
        typed = self._typed.get(slot)
        if typed is None:
            entry = self._book.entries[slot]
            return entry.typed, entry.info
        return typed

    def _row_of(self, entry: Any) -> int:
        return state.row_of(self, entry)

    def _option(self, entry: Any, text: str) -> int:
        return writing.option_of(entry, text)

    def _reason(self, slot: int) -> str | None:
        return state.reason_of(self, slot)

    def _in_range(self, slot: int) -> bool:
        return state.in_range(self, slot)

    def _warnings(self, slot: int) -> list[str]:
        return state.warnings_of(self, slot)

    @property
    def warnings(self) -> list[tuple[str, str]]:
        """What a reader must be told, as pairs of a node's path and a sentence."""
        found = []
        with state.unchanging(self):
            for entry in self._book.in_order():
                found += [(entry.path, text) for text in self._warnings(entry.slot)]
        return found

    # -- other values ---------------------------------------------------------------------------

    def revise(self, changes: Mapping[str, Any] | None = None, /, **by_name: Any) -> Self:
        """Return a new sheet with other values of givens; every dependant is recomputed."""
        new: Self = evaluation.revise(self, changes, by_name)
        return new

    def evaluate(self, inputs: Mapping[str, Any], outputs: Sequence[str]) -> Any:
        """Return outputs for arrays of givens, vectorised and broadcasting."""
        from stepcalc.sheet.batch import evaluate

        return evaluate(self, inputs, outputs)

    def solve(
        self, name: str, *, check: str | None = None, within: tuple[Any, Any] | None = None
    ) -> Any:
        """Return the value of a given at which D/C = 1, on the passing side."""
        from stepcalc.sheet.solving import solve

        return solve(self, name, check, within)

    def rearrange(self, name: str, *, check: str | None = None) -> Any:
        """Return the formula that solves a check for a given, as a step; None where there is none.

        :meth:`solve` is numerical and shows this formula where algebra finds it.
        """
        from stepcalc.sheet.rearrange import rearrangement

        return rearrangement(self, name, check)

    def sensitivity(self, check: str) -> Any:
        """Return the change of D/C per 1 % of every given."""
        from stepcalc.sheet.solving import sensitivity

        return sensitivity(self, check)

    def to_json(self) -> str:
        """Return the sheet as text: the trees, not source; see :meth:`from_json`."""
        from stepcalc.sheet.codec import dump

        return dump(self)

    @classmethod
    def from_json(cls, text: str) -> Self:
        """Return the sheet that :meth:`to_json` wrote; nothing in the text is ever executed."""
        from stepcalc.sheet.codec import load

        sheet: Self = load(text)
        return sheet

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("sheet_bundle", self)

    def _ipython_display_(self) -> None:
        ports.call("display", ("sheet", self, None))

    def __repr__(self) -> str:
        counts = f"{len(self.givens)} givens, {len(self.steps)} steps, {len(self.checks)} checks"
        return f"<sheet {self.title!r}: {counts}>"

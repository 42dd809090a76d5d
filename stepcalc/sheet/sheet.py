"""The sheet: where givens, steps and checks are written, one line each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from stepcalc.data.tables import Table, table
from stepcalc.errors import DimensionError, FormulaError, UnknownNameError
from stepcalc.expr.tree import OPERANDS, Condition, as_operand
from stepcalc.expr.walk import ForeignOperand, Undefined, value_of
from stepcalc.sheet import cells, foreign, ports, state, writing
from stepcalc.sheet.book import Book
from stepcalc.sheet.entries import (
    CheckEntry,
    ComputedEntry,
    ConclusionEntry,
    FigureEntry,
    GivenEntry,
    LookupEntry,
    NoteEntry,
    Part,
    StepEntry,
    TableEntry,
)
from stepcalc.sheet.kernels import kernel as find_kernel
from stepcalc.sheet.nodes import Check, Choice, Computed, Given, Lookup, Step
from stepcalc.sheet.quantities import display_unit, read_typed
from stepcalc.sheet.view import SheetView
from stepcalc.units.info import read_unit
from stepcalc.units.numbers import round_shown

__all__ = ["Sheet"]


class Sheet(SheetView):
    """A calculation sheet: a graph of named quantities and the words between them.

    Parameters
    ----------
    title : str
    carry : "full" or "shown"
        Whether later steps use the full precision of a value or the rounded one that is shown.
    digits : int
        Significant digits of results.
    fold : bool
        Leave the conversion factors out of printed substitutions.
    feet_inches : bool
        Write lengths in feet as plans do as well: ``62.5 ft (62 ft-6 in)``.

    Examples
    --------
    >>> from stepcalc import Sheet
    >>> from stepcalc.units import ft, inch, pcf, klf
    >>> sheet = Sheet("Deck")
    >>> S = sheet.given("S", 7.75 * ft, "girder spacing", source="framing plan")
    >>> t = sheet.given("t_s", 8 * inch, "deck thickness")
    >>> w = sheet.step("w_deck", S * t * (150 * pcf), klf, "deck on one girder")
    >>> w.shown
    '0.7750'
    """

    def __init__(
        self, title: str, *, carry: str = "full", digits: int = 4, fold: bool = False,
        feet_inches: bool = False,
    ) -> None:  # fmt: skip
        if not isinstance(title, str) or not title.strip():
            message = f"the title of a sheet is a line of text, not {title!r}"
            raise FormulaError(message[:200])
        if carry not in ("full", "shown"):
            message = f"carry is 'full' or 'shown', not {carry!r}"
            raise FormulaError(message[:200])
        if not isinstance(digits, int) or not 2 <= digits <= 15:
            message = f"digits is a whole number from 2 to 15, not {digits!r}"
            raise FormulaError(message[:200])
        self.title = title
        self.carry = carry
        self.digits = digits
        self.fold, self.feet_inches = fold, feet_inches
        self._book = Book()
        self._values: list[float] = []
        self._typed: dict[int, tuple[Any, Any]] = {}
        self._part: Part = self._book.root
        self._family = object()
        self._sources: dict[str, Any] = {}
        self._cell: Any = None
        self._begin()
        #: the sheet that took this one's place when its cell ran again
        self._successor: Sheet | None = None
        before = cells.restarted(self)
        if before is not None:
            before._successor = self

    # -- writing --------------------------------------------------------------------------------

    def _begin(self) -> Any:
        """Make the book ours before a change; return the running cell."""
        if self._book.shared:
            path = self._part.path
            self._book = self._book.copy()
            self._sources = dict(self._sources)
            self._part = state.part_at(self._book, path)
        cell = cells.current_cell()
        if cell is None:
            return None
        if cell is not self._cell:
            self._cell = cell
            cells.watch(self)
        return cells.author(cell)

    def _cell_ended(self, cell: Any, failed: bool) -> None:
        state.cell_ended(self, cell, failed)

    @contextmanager
    def part(self, title: str, *, tables_only: bool = False) -> Iterator[Part]:
        """Open a numbered heading; parts nest, and the same title again continues the part.

        With ``tables_only`` the part prints its tables, notes, figures and checks, and no line for
        each of its steps, unless a step carries a warning or has no value: for what is calculated
        alike at many places.  Everything can still be asked, revised and stored.
        """
        if not isinstance(title, str) or not title.strip() or "/" in title or len(title) > 300:
            message = f"the title of a part is a line of text without '/', not {title!r}"
            raise FormulaError(message[:200])
        self._begin()
        outer = self._part
        self._part = part = outer.child(title)
        part.tables_only = part.tables_only or tables_only
        try:
            yield part
        finally:
            self._part = state.part_at(self._book, outer.path)
        if self._cell is not None and outer.parent is None:
            ports.call("display", ("part", self, part.path))

    def given(
        self,
        name: str,
        value: Any,
        description: str = "",
        *,
        source: str | None = None,
        assumed: str | None = None,
        within: tuple[Any, Any] | None = None,
        choices: Any = None,
        symbol: str | None = None,
    ) -> Any:
        """Write down a given quantity, number, or choice of a text.

        Parameters
        ----------
        name : str
        value : quantity, number, or text when there are ``choices``
        source, assumed : str
            Where the value comes from; the basis when it is an assumption.
        within : pair of quantities
            Outside it the value, and all that follows from it, carries a warning.
        choices : list of texts, or a table of ``stepcalc.data`` (or its id) for its row names
        symbol : str
            Spelling on the sheet when it differs from the name.

        Raises
        ------
        NameTakenError, DimensionError, RangeError, FormulaError
            Nothing is left behind then.
        """
        cell = self._begin()
        path = self._book.check_name(name, "given", self._part, cell)
        writing.refuse_words(name, description, source, symbol, assumed)
        if choices is not None or isinstance(value, str):
            entry, base = writing.choice_entry(
                name, value, description, source, assumed, choices, symbol
            )
        else:
            typed, info = read_typed(value, f"given {name!r}")
            if within is not None:
                within = writing.range_of(within, info, name)
            entry = GivenEntry(
                typed, info, description, source, assumed, within, None, symbol or name
            )
            base = float(typed) * info.factor
        self._store(entry, name, path, cell, base)
        return Given(self, entry) if entry.choices is None else Choice(self, entry)

    def step(
        self,
        name: str,
        expr: Any,
        unit: Any = None,
        description: str = "",
        *,
        ref: str | None = None,
        symbol: str | None = None,
        digits: int | None = None,
        valid: Sequence[Condition] = (),
    ) -> Step:
        """Write down a formula; it is checked for dimensions and evaluated at once.

        Parameters
        ----------
        name : str
        expr : formula
        unit : unit, optional
            In which the result is shown; that of a term, or the usual one, when it is left out.
        ref : str
            Clause, table or other source of the formula.
        digits : int
            Significant digits to show, when other than the sheet's.
        valid : sequence of conditions
            The formula's range of application; outside it the step carries a visible warning.

        Raises
        ------
        NameTakenError, DimensionError, FormulaError
            Nothing is left behind then.
        """
        cell = self._begin()
        path = self._book.check_name(name, "step", self._part, cell)
        if expr.__class__ not in OPERANDS:
            expr = as_operand(expr)
        info = display_unit(expr) if unit is None else read_unit(unit)
        if info.dim is not expr.dim:
            raise DimensionError(writing.wrong_unit(name, expr, info))
        writing.refuse_words(name, description, ref, symbol)
        if digits is not None:
            writing.refuse_digits(name, digits)
        if valid:
            valid = tuple(writing.condition(item) for item in valid)
        try:
            base = value_of(expr, self._values, self)
        except ForeignOperand:
            expr = foreign.adopt(self, expr)
            return self.step(
                name, expr, info.unit, description, ref=ref, symbol=symbol, digits=digits,
                valid=valid,
            )  # fmt: skip
        except Undefined:
            base = math.nan
        if valid:
            valid = tuple(foreign.adopt(self, item) for item in valid)
        if self.carry == "shown" and base == base:
            factor = info.factor
            base = round_shown(base / factor, digits or self.digits) * factor
        if base - base != 0.0:
            base = math.nan
        entry = StepEntry(expr, info, description, ref, symbol or name, digits, tuple(valid))
        self._store(entry, name, path, cell, base)
        return Step(self, entry)

    def lookup(
        self,
        name: str,
        table_or_id: Table | str,
        key: Any,
        column: str,
        unit: Any = None,
        description: str = "",
        *,
        ref: str | None = None,
        symbol: str | None = None,
        neighbours: bool = False,
    ) -> Lookup:
        """Read a value in a table, in the row that a text or a choice names.

        Raises
        ------
        TableError
            If the table, the row or the column does not exist; the nearest names are given.
        """
        cell = self._begin()
        path = self._book.check_name(name, "lookup", self._part, cell)
        writing.refuse_words(name, description, ref, symbol)
        source = table(table_or_id) if isinstance(table_or_id, str) else table_or_id
        fields = writing.lookup_fields(self, name, source, key, column, unit)
        base = fields["column_values"][fields["row_number"]] * fields["info"].factor
        entry = LookupEntry(
            **fields, description=description, ref=ref, symbol=symbol or name,
            neighbours=neighbours,
        )  # fmt: skip
        self._store(entry, name, path, cell, base)
        return Lookup(self, entry)

    def computed(
        self,
        name: str,
        kernel: Any,
        inputs: Mapping[str, Any],
        unit: Any = None,
        description: str = "",
        *,
        ref: str | None = None,
        proof: str | None = None,
        symbol: str | None = None,
        digits: int | None = None,
    ) -> Computed:
        """Write down the result of a registered numerical procedure.

        Parameters
        ----------
        kernel : Kernel or its id
        inputs : mapping of the procedure's arguments to formulas, quantities or fixed texts
        proof : str
            Which of the procedure's proofs the sheet shows below the result.
        """
        cell = self._begin()
        path = self._book.check_name(name, "computed step", self._part, cell)
        procedure = find_kernel(kernel)
        writing.refuse_words(name, description, ref, symbol)
        if digits is not None:
            writing.refuse_digits(name, digits)
        info = read_unit(procedure.unit if unit is None else unit)
        if info.dim is not read_unit(procedure.unit).dim:
            own = read_unit(procedure.unit)
            message = (
                f"{name!r} is computed in {own.text or 'plain numbers'}, which is "
                f"{own.dim.words}; {info.text or 'a plain number'} does not fit"
            )
            raise DimensionError(message)
        if proof is not None and proof not in procedure.proofs:
            known = ", ".join(procedure.proofs) or "none"
            message = f"{procedure.id!r} has no proof {proof!r}; it has {known}"
            raise UnknownNameError(message)
        operands = foreign.kernel_inputs(self, name, procedure, inputs)
        entry = ComputedEntry(
            kernel=procedure, kernel_id=procedure.id, version=procedure.version, inputs=operands,
            info=info, description=description, ref=ref, symbol=symbol or name, digits=digits,
            proof=proof, last=None,
        )  # fmt: skip
        base = state.rounded(self, entry, state.run_kernel(entry, self._values)[0])
        self._store(entry, name, path, cell, base)
        return Computed(self, entry)

    def check(
        self, name: str, comparison: Any, *, ref: str | None = None, location: str | None = None
    ) -> Check:
        """Write down a check: one comparison of a demand with a capacity."""
        cell = self._begin()
        path = self._book.check_name(name, "check", self._part, cell)
        writing.refuse_words(name, "", ref, location)
        comparison = writing.comparison(name, comparison)
        adopted = foreign.adopt(self, comparison)
        info = display_unit(adopted.args[0])
        entry = CheckEntry(adopted, info, ref, location)
        base = state.run_check(entry, self._values)[0]
        self._store(entry, name, path, cell, base)
        return Check(self, entry)

    def note(self, text: str) -> None:
        """Write down a paragraph of text; ``$...$`` may hold simple mathematics."""
        self._block(NoteEntry(writing.text_of(text, "a note")))

    def table(
        self, header: Sequence[str], rows: Sequence[Sequence[Any]], caption: str = "",
        *, instead: bool = False,
    ) -> None:  # fmt: skip
        """Write down a table; its cells are texts, numbers, quantities or nodes of this sheet.

        With ``instead`` the table stands for the lines of its nodes, which are then not printed by
        themselves, unless they carry a warning, a proof or no value.
        """
        head, body = writing.table_of(header, rows, self._family)
        self._block(TableEntry(head, body, writing.text_of(caption, "a caption"), instead))

    def figure(self, data: Mapping[str, Any], caption: str = "") -> None:
        """Put a figure on the sheet, as data with a ``kind`` that the renderer can draw."""
        self._block(FigureEntry(writing.figure_of(data), writing.text_of(caption, "a caption")))

    def conclude(
        self,
        text: str = "",
        *,
        checked: Sequence[str] = (),
        not_checked: Sequence[str] = (),
        recommendation: Sequence[str] = (),
    ) -> None:
        """Put the verdict on the sheet: the governing check, the scope, all checks in a table."""
        scope = (
            writing.lines_of(lines, "the conclusion")
            for lines in (checked, not_checked, recommendation)
        )
        self._block(ConclusionEntry(writing.text_of(text, "a conclusion"), *scope))

    def _block(self, entry: Any) -> None:
        cell = self._begin()
        self._book.add_block(entry, self._part, cell)

    def _store(self, entry: Any, name: str, path: str, cell: Any, base: float) -> None:
        book = self._book
        if base != base:
            book.refuse_lost(entry)
        fresh = len(book.entries)
        slot = book.add(entry, name, path, self._part, cell)
        if slot == fresh:
            self._values.append(base)
        else:
            self._typed.pop(slot, None)
            self._values[slot] = base
            state.recompute(self, slot)

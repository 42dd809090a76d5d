"""Evaluation over arrays: one compiled array program, run in cache-sized pieces.

Pieces are cut along the outermost axis (or the outermost few), so that what varies along one axis
only stays on that axis.  What does not vary along the cut axes is computed once, before the loop.
A piece in which NumPy reports a division by zero or the like is run again by the careful program,
which knows which branches count.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from stepcalc.errors import FormulaError, ShapeError, UnknownNameError
from stepcalc.expr.arithmetic import interpolate_all
from stepcalc.expr.code import ARRAY, CAREFUL, CodeWriter
from stepcalc.sheet.evaluation import given_slot, refuse_frozen
from stepcalc.sheet.program import assignment, compile_source
from stepcalc.sheet.quantities import base_array
from stepcalc.sheet.ranges import Ranges
from stepcalc.sheet.writing import option_of
from stepcalc.units.registry import Q_

__all__ = ["Evaluation", "evaluate"]

#: Records in one piece: 8,192 doubles of 40 live arrays fit a second-level cache.
PIECE = 8192
_LARGEST_INNER = 32768


class Evaluation(Mapping[str, Any]):
    """The results of :meth:`Sheet.evaluate`, by the names that were asked for.

    Attributes
    ----------
    undefined : dict of path to (count, first record)
        Where results have no value: the step in which that begins, how many records, and the
        index of the first.
    """

    def __init__(self, results: dict[str, Any], undefined: dict[str, tuple[int, Any]]) -> None:
        self._results = results
        self.undefined = undefined

    def __getitem__(self, name: str) -> Any:
        """Return one result."""
        return self._results[name]

    def __iter__(self) -> Iterator[str]:
        """Iterate over the names."""
        return iter(self._results)

    def __len__(self) -> int:
        """Return how many results there are."""
        return len(self._results)

    def __repr__(self) -> str:
        return f"<evaluation of {', '.join(self._results)}>"


class _Wanted:
    """One output: what it is called, which record, and which aspect of it."""

    def __init__(self, sheet: Any, name: Any) -> None:
        if not isinstance(name, str):
            message = f"an output of evaluate is the name of a node, such as 'M_u', not {name!r}"
            raise FormulaError(message[:200])
        self.name = name
        base, aspect = name, "value"
        if name not in sheet:
            for ending in ("branch", "passed", "in_range"):
                if name.endswith("." + ending):
                    base, aspect = name[: -len(ending) - 1], ending
        self.entry = sheet._book.find(base)
        self.aspect = aspect
        kind = self.entry.kind
        if aspect == "branch" and (kind != "step" or self.entry.expr.op != "cases"):
            message = f"{base!r} is no step with cases, so it has no branch"
            raise UnknownNameError(message)
        if aspect == "passed" and kind != "check":
            message = f"{base!r} is a {kind}, not a check, so it has no 'passed'"
            raise UnknownNameError(message)

    def source(self, writer: CodeWriter, ranges: Ranges) -> str:
        """Return the source of the output, given that the records it needs are computed."""
        slot = self.entry.slot
        if self.aspect == "branch":
            return writer.branch(self.entry.expr)
        if self.aspect == "passed":
            return f"v{slot} <= {1.0 + 1e-9!r}"
        if self.aspect == "in_range":
            return ranges.of_slot(slot)
        return f"v{slot}"

    def dress(self, array: Any) -> Any:
        """Return the array as a person wants it: with its unit, its labels, as truth values."""
        if self.aspect == "branch":
            labels = [label or f"case {k + 1}" for k, label in enumerate(self.entry.expr.data)]
            missing = np.isnan(array)
            names = np.array([*labels, "undefined"], dtype=object)
            return names[np.where(missing, len(labels), array).astype(int)]
        if self.aspect in ("passed", "in_range"):
            return array.astype(bool)
        if self.entry.kind == "check":
            return array
        if self.entry.kind == "given" and self.entry.choices is not None:
            names = getattr(self.entry.choices, "names", self.entry.choices)
            return np.array(names, dtype=object)[array.astype(int)]
        info = self.entry.info
        if info.factor != 1.0:
            array = array / info.factor
        return Q_(array, info.unit)


def evaluate(sheet: Any, inputs: Mapping[str, Any], outputs: Sequence[str]) -> Evaluation:
    """Return outputs for arrays of givens; see :meth:`Sheet.evaluate`.

    Parameters
    ----------
    inputs : mapping of a given's name to a quantity array, or to names or row numbers of a choice
        The arrays broadcast against each other as NumPy arrays do.
    outputs : names of nodes, or ``"name.branch"``, ``"name.passed"``, ``"name.in_range"``

    Raises
    ------
    UnknownNameError, DimensionError, ShapeError, RangeError
    """
    if isinstance(outputs, str):
        outputs = [outputs]
    refuse_frozen(sheet)
    arrays = _read_inputs(sheet, inputs)
    wanted = [_Wanted(sheet, name) for name in outputs]
    run = _Run(sheet, arrays, _shape(sheet, arrays), wanted)
    return Evaluation(run.results(), run.report())


def _read_inputs(sheet: Any, inputs: Mapping[str, Any]) -> dict[int, Any]:
    arrays: dict[int, Any] = {}
    for name, value in inputs.items():
        slot = given_slot(sheet, name)
        entry = sheet._book.entries[slot]
        if entry.choices is not None:
            arrays[slot] = _rows(entry, value)
        else:
            arrays[slot] = base_array(value, entry.info, f"given {name!r}")
    return arrays


def _rows(entry: Any, value: Any) -> Any:
    array = np.asarray(value)
    size = len(getattr(entry.choices, "names", entry.choices))
    if array.dtype.kind in "iu":
        if array.size and (array.min() < 0 or array.max() >= size):
            message = (
                f"given {entry.name!r} has rows 0 to {size - 1}; got {array.min()} to {array.max()}"
            )
            raise FormulaError(message)
        return array.astype(np.intp)
    known: dict[str, int] = {}
    flat = [known.setdefault(text, option_of(entry, text)) for text in map(str, array.ravel())]
    return np.array(flat, dtype=np.intp).reshape(array.shape)


def _shape(sheet: Any, arrays: Mapping[int, Any]) -> tuple[int, ...]:
    try:
        return np.broadcast_shapes(*(array.shape for array in arrays.values()))
    except ValueError:
        names = [
            f"{sheet._book.entries[slot].name} has shape {array.shape}"
            for slot, array in arrays.items()
        ]
        message = f"the arrays do not broadcast: {', '.join(names)}; give axes of length 1 or equal"
        raise ShapeError(message) from None


class _Run:
    """One evaluation: the programs, the cutting into pieces, the outputs."""

    def __init__(
        self, sheet: Any, arrays: dict[int, Any], shape: tuple[int, ...], wanted: list[_Wanted]
    ) -> None:
        self.sheet = sheet
        self.shape = shape
        self.wanted = wanted
        ndim = len(shape)
        self.arrays = {
            slot: array.reshape((1,) * (ndim - array.ndim) + array.shape)
            for slot, array in arrays.items()
        }
        needed = set()
        for item in wanted:
            needed.add(item.entry.slot)
        self.needed = sheet._book.ancestors(needed)
        self.follows = sheet._book.dependants(set(self.arrays)) | set(self.arrays)
        self.axes = self._axes()
        self.cut = self._cut_axis()
        self.event = False
        #: whether a value that is missing already enters: comparisons with it raise no event
        self.gapped = False
        self.gaps: dict[int, list[Any]] = {}
        self.programs: dict[tuple[str, str], Any] = {}

    def _axes(self) -> dict[int, frozenset[int]]:
        """Return along which axes each needed record varies."""
        axes: dict[int, frozenset[int]] = {}
        book = self.sheet._book
        for slot in self.needed:
            array = self.arrays.get(slot)
            if array is not None:
                axes[slot] = frozenset(k for k, size in enumerate(array.shape) if size > 1)
            else:
                axes[slot] = frozenset().union(*(axes[other] for other in book.uses(slot)))
        return axes

    def _cut_axis(self) -> int:
        inner = 1
        for axis in range(len(self.shape) - 1, -1, -1):
            if inner * self.shape[axis] > _LARGEST_INNER:
                return axis
            inner *= self.shape[axis]
        return 0

    # -- programs -------------------------------------------------------------------------------

    def _varies(self, slot: int) -> bool:
        """Say whether a record varies along a cut axis, so that it belongs into the loop."""
        return any(axis <= self.cut for axis in self.axes[slot])

    def _program(self, mode: str, part: str) -> Any:
        """Return the program of one part: ``"before"`` the loop, or ``"loop"``.

        It takes the values known so far by slot, and returns those that it adds and the outputs.
        """
        known = self.programs.get((mode, part))
        if known is not None:
            return known
        writer = CodeWriter(mode)
        book = self.sheet._book
        lines, made = [], []
        for slot in self.needed:
            entry = book.entries[slot]
            inside = self._varies(slot) if part == "loop" else not self._varies(slot)
            computes = entry.kind not in ("given", "external") and slot in self.follows
            if inside and computes and slot not in book.stale:
                lines.append(assignment(writer, self.sheet, entry))
                made.append(slot)
            else:
                lines.append(f"v{slot} = V[{slot}]")
        if part == "loop":
            ranges = Ranges(writer, book)
            everything = ", ".join(item.source(writer, ranges) for item in self.wanted)
            lines += ranges.lines
            lines.append(f"O = ({everything},)")
        # only the careful look needs the values of every step, to say where a gap begins
        kept = made if part == "before" or mode == CAREFUL else []
        lines.append(f"M = ({''.join(f'v{slot}, ' for slot in kept)})")
        lines.append("return M, " + ("O" if part == "loop" else "()"))
        constants = {name: _as_array(value) for name, value in writer.constants.items()}
        constants["_watched"] = self._watched
        if mode == ARRAY:
            constants["_interp"] = self._interpolate
            constants["_ratio"] = self._ratio
        program = compile_source("V", lines, mode, constants)
        self.programs[mode, part] = (program, kept)
        return program, kept

    def _watched(self, values: Any) -> Any:
        if not np.isfinite(values).all():
            self.event = True
            values = np.where(np.isfinite(values), values, np.nan)
        return values

    def _interpolate(self, x: Any, xs: Any, ys: Any) -> Any:
        return self._watched(interpolate_all(x, xs, ys))

    def _ratio(self, demand: Any, capacity: Any) -> Any:
        if np.greater(capacity, 0.0).all():
            return demand / capacity
        self.event = True  # no ratio somewhere: the careful program says where
        return demand

    def _on_event(self, _kind: str, _flag: int) -> None:
        self.event = True

    def _attempt(self, part: str, values: dict[int, Any], place: Any) -> Any:
        """Run a part: the fast program, and the careful one when something had no value."""
        self.event = self.gapped
        if not self.gapped:
            with np.errstate(
                divide="call", invalid="call", over="call", under="ignore", call=self._on_event
            ):
                try:
                    program, kept = self._program(ARRAY, part)
                    made, outputs = program(values)
                except (ArithmeticError, ValueError):
                    self.event = True
        if self.event:
            with np.errstate(all="ignore"):
                program, kept = self._program(CAREFUL, part)
                made, outputs = program(values)
            self._note_gaps(dict(zip(kept, made, strict=True)), values, place)
        return dict(zip(kept, made, strict=True)), outputs

    # -- the loop -------------------------------------------------------------------------------

    def results(self) -> dict[str, Any]:
        """Return the outputs by name."""
        base: dict[int, Any] = {slot: np.float64(self.sheet._values[slot]) for slot in self.needed}
        for slot in self.needed:
            entry = self.sheet._book.entries[slot]
            if entry.kind == "given" and entry.choices is not None:
                base[slot] = int(self.sheet._values[slot])
        if 0 in self.shape:
            return {item.name: item.dress(np.empty(self.shape)) for item in self.wanted}
        self._note_missing(base)
        base.update({slot: array for slot, array in self.arrays.items() if slot in base})
        added, _ = self._attempt("before", base, None)
        base.update(added)
        self.gapped = self.gapped or any(np.isnan(value).any() for value in added.values())
        targets = [self._target(item) for item in self.wanted]
        for place in self._places():
            piece = {
                slot: value[self._slice(value, place)] if np.ndim(value) else value
                for slot, value in base.items()
            }
            _, outputs = self._attempt("loop", piece, place)
            for target, output in zip(targets, outputs, strict=True):
                target[self._slice(target, place)] = output
        return {
            item.name: item.dress(np.broadcast_to(target, self.shape))
            for item, target in zip(self.wanted, targets, strict=True)
        }

    def _target(self, item: _Wanted) -> Any:
        axes = self.axes[item.entry.slot]
        return np.empty(tuple(n if k in axes else 1 for k, n in enumerate(self.shape)))

    def _places(self) -> Iterator[tuple[slice, ...]]:
        """Yield the slices of the cut axes, one tuple for each piece."""
        if not self.shape:
            yield ()
            return
        inner = 1
        for size in self.shape[self.cut + 1 :]:
            inner *= size
        step = max(1, PIECE // max(inner, 1))
        last = self.shape[self.cut]
        pieces = [slice(k, min(k + step, last)) for k in range(0, last, step)]
        outer = [[slice(k, k + 1) for k in range(size)] for size in self.shape[: self.cut]]
        yield from itertools.product(*outer, pieces)

    @staticmethod
    def _slice(array: Any, place: tuple[slice, ...]) -> tuple[slice, ...]:
        """Return the slices for an array that may have length 1 along a cut axis."""
        sizes = array.shape
        return tuple(piece if sizes[axis] > 1 else slice(None) for axis, piece in enumerate(place))

    # -- gaps -----------------------------------------------------------------------------------

    def _note_missing(self, base: Mapping[int, Any]) -> None:
        """Take note of values that are missing now and do not follow from the inputs."""
        book = self.sheet._book
        kept = [slot for slot in self.needed if slot not in self.follows or slot in book.stale]
        missing = {slot for slot in kept if np.isnan(base[slot])}
        self.gapped = bool(missing)
        for slot in missing:
            if missing.isdisjoint(book.uses(slot)):
                self.gaps[slot] = [math.prod(self.shape), (0,) * len(self.shape)]

    def _note_gaps(self, made: dict[int, Any], values: dict[int, Any], place: Any) -> None:
        """Take note of where values are missing although those they follow from are there."""
        everything = {**values, **made}
        book = self.sheet._book
        for slot, array in made.items():
            gap = np.isnan(array)
            for other in book.uses(slot):
                if other in everything:
                    gap = gap & ~np.isnan(everything[other])
            count = int(np.count_nonzero(gap))
            if not count:
                continue
            first = [int(k) for k in np.argwhere(gap)[0]] if np.ndim(gap) else []
            for axis, piece in enumerate(place or ()):
                if axis < len(first):
                    first[axis] += piece.start
            known = self.gaps.setdefault(slot, [0, tuple(first)])
            known[0] += count

    def report(self) -> dict[str, tuple[int, Any]]:
        """Return where values are missing: path, how many records, index of the first."""
        entries = self.sheet._book.entries
        return {entries[slot].path: (count, first) for slot, (count, first) in self.gaps.items()}


def _as_array(value: Any) -> Any:
    return np.array(value) if isinstance(value, tuple) else value

"""The state of a sheet's results: why one has no value, whether it lies in range, what is stale."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from stepcalc.expr.arithmetic import check_ratio
from stepcalc.expr.walk import Undefined, branch_taken, holds, names_in, value_of
from stepcalc.sheet import cells, ports
from stepcalc.sheet.entries import Part
from stepcalc.sheet.quantities import display_unit
from stepcalc.sheet.writing import limit_text
from stepcalc.units.info import read_unit
from stepcalc.units.numbers import round_shown, shown_text

__all__ = [
    "cell_ended", "in_range", "part_at", "reason_of", "recompute", "run_check", "run_kernel",
    "taken_names", "warnings_of",
]  # fmt: skip


def part_at(book: Any, path: str) -> Part:
    """Return the part of this path in a book."""
    part: Part = book.root
    for title in path.split("/") if path else ():
        part = part.child(title)
    return part


# -- values of single records ------------------------------------------------------------------


def value_in(sheet: Any, entry: Any) -> tuple[float, str | None]:
    """Return the base value of a record for the sheet's present values, and why it has none."""
    values = sheet._values
    if entry.kind == "step":
        try:
            base = value_of(entry.expr, values)
        except Undefined as undefined:
            return math.nan, str(undefined)
        if base - base != 0.0:
            return math.nan, "the value is too large"
        return rounded(sheet, entry, base), None
    if entry.kind == "check":
        return run_check(entry, values)
    if entry.kind == "lookup":
        return entry.column_values[row_of(sheet, entry)] * entry.info.factor, None
    if entry.kind == "computed":
        base, reason = run_kernel(entry, values)
        return rounded(sheet, entry, base), reason
    return values[entry.slot], None


def rounded(sheet: Any, entry: Any, base: float) -> float:
    """Return a result as it is carried on: rounded as shown when the sheet says so."""
    if sheet.carry != "shown" or base != base:
        return base
    factor: float = entry.info.factor
    return round_shown(base / factor, entry.digits or sheet.digits) * factor


def run_check(entry: Any, values: Any) -> tuple[float, str | None]:
    """Return demand over capacity, and why there is no ratio."""
    try:
        demand, capacity = value_of(entry.demand, values), value_of(entry.capacity, values)
    except Undefined as undefined:
        return math.nan, str(undefined)
    ratio = check_ratio(demand, capacity)
    if ratio != ratio:
        text = f"{shown_text(capacity / entry.info.factor)} {entry.info.text}".strip()
        return math.nan, f"the capacity {entry.capacity} is {text}, not positive"
    return ratio, None


def run_kernel(entry: Any, values: Any) -> tuple[float, str | None]:
    """Return the base value of a computed record, and why it has none."""
    kernel = entry.kernel
    if kernel is None:
        return (math.nan, "its procedure is not known here") if entry.last is None else (
            entry.last, None
        )  # fmt: skip
    arguments: dict[str, Any] = {}
    for name, formula in entry.inputs.items():
        if isinstance(formula, str):
            arguments[name] = formula
            continue
        try:
            arguments[name] = value_of(formula, values) / read_unit(kernel.inputs[name]).factor
        except Undefined as undefined:
            return math.nan, str(undefined)
    try:
        result = float(kernel.function(**arguments))
    except (ArithmeticError, ValueError) as error:
        return math.nan, f"the procedure {kernel.id!r} has no result: {error}"
    if result - result != 0.0:
        return math.nan, f"the procedure {kernel.id!r} has no result for these inputs"
    return result * read_unit(kernel.unit).factor, None


def row_of(sheet: Any, entry: Any) -> int:
    """Return the row of the table that a look-up reads."""
    if isinstance(entry.key, str):
        return entry.row_number  # type: ignore[no-any-return]
    return int(sheet._values[entry.key.slot])


def reason_of(sheet: Any, slot: int) -> str | None:
    """Return why a record has no value, in words; None when it has one."""
    value = sheet._values[slot]
    if value == value:
        return None
    stale = sheet._book.stale.get(slot)
    if stale is not None:
        return str(stale)
    reason = value_in(sheet, sheet._book.entries[slot])[1]
    return reason or "it follows from a value that is undefined"


# -- range of application -----------------------------------------------------------------------


def taken_names(node: Any, values: Any) -> Iterator[Any]:
    """Yield the named operands that matter: of a ``cases`` only the branch that is taken."""
    pending = [node]
    while pending:
        node = pending.pop()
        if node.op == "name":
            yield node
        elif node.op == "cases":
            try:
                taken = branch_taken(node, values)
            except Undefined:
                continue
            pending.extend(node.args[: 2 * taken + 1 : 2] if taken * 2 < len(node.args) else ())
            pending.append(node.args[min(2 * taken + 1, len(node.args) - 1)])
        else:
            pending.extend(node.args)


def own_range(sheet: Any, entry: Any) -> list[str]:
    """Return what is outside the record's own range, as sentences."""
    values = sheet._values
    found = []
    if entry.kind == "given" and entry.within is not None:
        low, high = entry.within
        base = values[entry.slot]
        outside = (low is not None and base < low[0] - 1e-9 * abs(low[0])) or (
            high is not None and base > high[0] + 1e-9 * abs(high[0])
        )
        if outside:
            typed, info = sheet._typed_of(entry.slot)
            limits = " to ".join(limit_text(end) if end else "open" for end in entry.within)
            found.append(
                f"{entry.name} = {limit_text((0, typed, info))} lies outside its range, {limits}"
            )
    for condition in getattr(entry, "valid", ()):
        try:
            kept = holds(condition, values)
        except Undefined as undefined:
            found.append(f"range of application unknown: {undefined}")
            continue
        if not kept:
            found.append(f"outside the range of application: {_broken(condition, values)}")
    return found


def _broken(condition: Any, values: Any) -> str:
    """Return in words that a condition does not hold, with the value that breaks it."""
    subject = condition.args[0]
    if condition.op not in ("between", "le", "lt", "ge", "gt") or subject.op in ("num", "qty"):
        return f"{condition} does not hold"
    info = display_unit(subject)
    number = shown_text(value_of(subject, values) / info.factor)
    said = f"{subject} = {number} {info.text}".strip()
    limits = [str(limit).strip("()") for limit in condition.args[1:]]
    if condition.op == "between":
        return f"{said} is not between {limits[0]} and {limits[1]}"
    words = {"le": "more than", "lt": "not less than", "ge": "less than", "gt": "not more than"}
    return f"{said} is {words[condition.op]} {limits[0]}"


_UNCHANGING: dict[int, dict[str, Any]] = {}


@contextmanager
def unchanging(sheet: Any) -> Iterator[None]:
    """Say that a sheet does not change within the block: what is asked of it all is found once."""
    fresh = id(sheet) not in _UNCHANGING
    if fresh:
        _UNCHANGING[id(sheet)] = {}
    try:
        yield
    finally:
        if fresh:
            del _UNCHANGING[id(sheet)]


def once(sheet: Any, key: str, make: Callable[[Any], Any]) -> Any:
    """Return what a function makes of a sheet; only once within `unchanging`."""
    known = _UNCHANGING.get(id(sheet))
    if known is None:
        return make(sheet)
    if key not in known:
        known[key] = make(sheet)
    return known[key]


def _followers(sheet: Any) -> set[int]:
    """Return the slots of records outside their range and of all that follows from them."""
    book, values = sheet._book, sheet._values
    found: set[int] = set()
    for slot in book.sorted_slots():
        entry = book.entries[slot]
        formulas = (entry.expr,) if entry.kind == "step" else entry.operands()
        if own_range(sheet, entry) or any(
            name.slot in found for formula in formulas for name in taken_names(formula, values)
        ):
            found.add(slot)
    return found


def outside_of(sheet: Any, slot: int) -> dict[int, list[str]]:
    """Return the records outside their range from which this one follows, itself included."""
    found: dict[int, list[str]] = {}
    if id(sheet) in _UNCHANGING and slot not in once(sheet, "followers", _followers):
        return found
    seen = {slot}
    pending = [slot]
    book, values = sheet._book, sheet._values
    while pending:
        slot = pending.pop()
        entry = book.entries[slot]
        if entry is None:
            continue
        sentences = own_range(sheet, entry)
        if sentences:
            found[slot] = sentences
        formulas = (entry.expr,) if entry.kind == "step" else entry.operands()
        for formula in formulas:
            for name in taken_names(formula, values):
                if name.slot not in seen:
                    seen.add(name.slot)
                    pending.append(name.slot)
    return found


def in_range(sheet: Any, slot: int) -> bool:
    """Return whether a record and all that it follows from lie in their ranges."""
    return not outside_of(sheet, slot)


def warnings_of(sheet: Any, slot: int) -> list[str]:
    """Return what a reader must be told about a record."""
    book = sheet._book
    ranged = once(sheet, "ranged", lambda of: _has_ranges(of._book))
    found = list(outside_of(sheet, slot).items()) if ranged else []
    texts = [text for origin, sentences in found if origin == slot for text in sentences]
    others = [book.entries[origin].name for origin, _ in found if origin != slot]
    if others:
        texts.append(f"follows from a value outside its range: {', '.join(others)}")
    if slot in book.stale:
        texts.append(f"stale: {book.stale[slot]}")
    entry = book.entries[slot]
    if entry.kind == "computed" and entry.kernel is None:
        texts.append("frozen: its procedure is not known here in this version; stored value shown")
    if entry.kind == "lookup" and entry.frozen:
        texts.append("frozen: the table is not known here in this edition; stored value shown")
    if sheet._sources:
        for used in book.ancestors({slot}):
            if book.entries[used] is not None and book.entries[used].kind == "external":
                texts += external_warning(sheet, book.entries[used])
    if entry.kind == "check" and sheet.carry == "shown":
        texts += turned_verdict(sheet, slot)
    return texts


def _has_ranges(book: Any) -> bool:
    return any(
        entry is not None and (getattr(entry, "within", None) or getattr(entry, "valid", ()))
        for entry in book.entries
    )


def external_warning(sheet: Any, entry: Any) -> list[str]:
    """Return a warning when the sheet that a value came from has another value now."""
    source = sheet._sources.get(entry.path)
    if source is None:
        return []
    origin, slot = source
    if slot >= len(origin._values) or origin._book.entries[slot] is None:
        return [f"stale: {entry.origin_path!r} of {entry.origin!r} is no longer defined"]
    now = origin._values[slot]
    kept = sheet._values[entry.slot]
    if now == kept or (now != now and kept != kept):
        return []
    return [f"stale: {entry.origin_path!r} of {entry.origin!r} has changed since it was taken over"]


def turned_verdict(sheet: Any, slot: int) -> list[str]:
    """Return a warning when full precision would turn the verdict of a rounded calculation."""
    from stepcalc.sheet.evaluation import full_precision

    exact = full_precision(sheet)[slot]
    shown = sheet._values[slot]
    if (exact <= 1.0 + 1e-9) == (shown <= 1.0 + 1e-9):
        return []
    return [f"rounding turns the verdict: with full precision the ratio is {exact:.6g}"]


# -- re-run cells ---------------------------------------------------------------------------------


def recompute(sheet: Any, slot: int) -> None:
    """Recompute all that follows from a record that was replaced."""
    book = sheet._book
    dependants = book.dependants({slot})
    for other in book.sorted_slots():
        if other in dependants:
            entry = book.entries[other]
            misfit = _misfit(book, entry)
            if misfit is not None:
                book.stale[other] = misfit
                sheet._values[other] = math.nan
            else:
                if book.stale.get(other, "").endswith(_RUN_AGAIN):
                    del book.stale[other]  # what it uses is of the kind again that it was made for
                sheet._values[other] = value_in(sheet, entry)[0]


_RUN_AGAIN = "run its cell again"


def _misfit(book: Any, entry: Any) -> str | None:
    for formula in entry.operands():
        for name in names_in(formula):
            current = book.entries[name.slot]
            if current is None:
                return f"{name.name!r}, which it uses, is no longer defined"
            info = getattr(current, "info", None)
            if info is not None and name.dim is not None and info.dim is not name.dim:
                return (
                    f"{name.name!r}, which it uses, is {info.dim.words} now, no longer "
                    f"{name.dim.words}; {_RUN_AGAIN}"
                )
    return None


def cell_ended(sheet: Any, cell: Any, failed: bool) -> None:
    """Drop what a cell made in an earlier run and not in this one; keep it as stale on failure."""
    old = [
        block
        for block in _all_blocks(sheet._book.root)
        if block.cell is not None and block.cell.same_place(cell) and not block.cell.same_run(cell)
    ]
    if not failed:
        # what stands outside of parts would be missing from the notebook, and so from its print
        left = cells.unshown(sheet._book.root.blocks)
        if left:
            ports.call("display", ("entries", sheet, left))
    if not old:
        return
    if sheet._book.shared:
        sheet._begin()
    for entry in old:
        if failed:
            if entry.slot >= 0:
                sheet._book.stale.setdefault(entry.slot, "its cell failed when it was run again")
                sheet._book.programs = {}
        else:
            _drop(sheet, entry)


def _drop(sheet: Any, entry: Any) -> None:
    """Take a record from the sheet; what uses it keeps no value that nothing stands for."""
    lost = sheet._book.remove(entry)
    for slot in lost:
        sheet._values[slot] = math.nan


def _all_blocks(part: Part) -> Iterator[Any]:
    for block in list(part.blocks):
        if isinstance(block, Part):
            yield from _all_blocks(block)
        else:
            yield block

"""The structure of a sheet: parts, records, names and their order, without any value.

A book is shared by a sheet and the sheets revised from it; whoever writes next copies it first.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import Any

from stepcalc.errors import FormulaError, NameTakenError, UnknownNameError
from stepcalc.expr.walk import names_in
from stepcalc.sheet.entries import Entry, Part

__all__ = ["Book"]


class Book:
    """Parts and records of a sheet.

    Attributes
    ----------
    root : Part
    entries : list of Entry or None, by slot
    shared : bool
        Whether more than one sheet uses the book, so that it must be copied before a change.
    """

    __slots__ = (
        "by_name",
        "by_path",
        "entries",
        "foreign",
        "jumbled",
        "order",
        "programs",
        "root",
        "shared",
        "stale",
    )  # fmt: skip

    def __init__(self) -> None:
        self.root = Part("", None)
        self.entries: list[Any] = []
        self.by_path: dict[str, int] = {}
        self.by_name: dict[str, list[int]] = {}
        self.shared = False
        #: whether a value of another sheet is used
        self.foreign = False
        #: True once a record was replaced, so that slots may no longer be in order of use
        self.jumbled = False
        self.order: list[int] | None = None
        self.programs: dict[Any, Any] = {}
        #: slots that do not follow from the cells shown any more, with the reason
        self.stale: dict[int, str] = {}

    def copy(self) -> Book:
        """Return a book of its own with the same records in the same slots."""
        twin = Book()
        twin.root = _copy_part(self.root, None)
        twin.entries = list(self.entries)
        twin.by_path = dict(self.by_path)
        twin.by_name = {name: list(slots) for name, slots in self.by_name.items()}
        twin.jumbled = self.jumbled
        twin.foreign = self.foreign
        twin.stale = dict(self.stale)
        return twin

    # -- writing --------------------------------------------------------------------------------

    def check_name(self, name: Any, what: str, part: Part, cell: Any) -> str:
        """Return the path of a new record, or refuse the name."""
        if not isinstance(name, str) or not name.strip() or len(name) > 120 or "\n" in name:
            message = f"the name of a {what} is a line of text, such as 'w_deck', not {name!r}"
            raise FormulaError(message[:200])
        if what not in ("check", "figure") and "/" in name:
            message = f"the name {name!r} of a {what} has a '/', which separates parts in a path"
            raise FormulaError(message)
        path = f"{part.path}/{name}" if part.path else name
        slot = self.by_path.get(path)
        if slot is not None:
            self._refuse_second(path, self.entries[slot], cell)
        return path

    def _refuse_second(self, path: str, old: Entry, cell: Any) -> None:
        if cell is not None and old.cell is not None and old.cell.same_place(cell):
            if not old.cell.same_run(cell):
                return
            message = f"{path!r} is defined twice in one cell; give the second another name"
        elif cell is not None and old.cell is not None:
            message = (
                f"{path!r} is defined by two cells, {old.cell} and {cell}; give one of them "
                "another name, or put it in a part of its own"
            )
        else:
            message = (
                f"{path!r} is defined already on this sheet, as a {old.kind}; give the second "
                "another name, or put it in a part of its own"
            )
        raise NameTakenError(message)

    def refuse_lost(self, entry: Entry) -> None:
        """Refuse a record whose formulas name something that its cell does not make any more."""
        for formula in entry.operands():
            for name in names_in(formula):
                if self.entries[name.slot] is None:
                    message = f"{name.name!r} is no longer defined; its cell was run without it"
                    raise UnknownNameError(message)

    def add(self, entry: Entry, name: str, path: str, part: Part, cell: Any) -> int:
        """Take up a record with a value; return its slot."""
        slot = self.by_path.get(path)
        if slot is not None:
            self._replace(slot, entry, name, path, part, cell)
            return slot
        slot = len(self.entries)
        entry.place(name, path, part, slot, cell)
        self.entries.append(entry)
        self.by_path[path] = slot
        named = self.by_name.get(name)
        if named is None:
            self.by_name[name] = [slot]
        else:
            named.append(slot)
        part.blocks.append(entry)
        self.order = None
        if self.programs:
            self.programs = {}
        return slot

    def _replace(
        self, slot: int, entry: Entry, name: str, path: str, part: Part, cell: Any
    ) -> None:
        old = self.entries[slot]
        entry.place(name, path, part, slot, cell)
        self.entries[slot] = entry
        self.jumbled = True
        try:
            self.sorted_slots()
        except FormulaError:
            self.entries[slot] = old
            raise
        place = next(place for place, block in enumerate(part.blocks) if block is old)
        part.blocks[place] = entry
        self.stale.pop(slot, None)
        self.programs = {}
        self.order = None

    def add_block(self, entry: Entry, part: Part, cell: Any) -> None:
        """Take up a record without a value: a note, a table, a figure, a conclusion."""
        entry.place("", part.path, part, -1, cell)
        for place, block in enumerate(part.blocks):
            if (
                cell is not None
                and not isinstance(block, Part)
                and block.kind == entry.kind
                and block.cell is not None
                and block.cell.same_place(cell)
                and not block.cell.same_run(cell)
            ):
                part.blocks[place] = entry
                return
        part.blocks.append(entry)

    def remove(self, entry: Entry) -> set[int]:
        """Drop a record; what uses it becomes stale. Return the slots that lose their value."""
        _take_out(self.root, entry)
        if entry.slot < 0:
            return set()
        dependants = self.dependants({entry.slot})
        for slot in dependants:
            self.stale.setdefault(slot, f"{entry.path!r}, which it uses, is no longer defined")
        self.by_path.pop(entry.path, None)
        self.by_name[entry.name] = [s for s in self.by_name[entry.name] if s != entry.slot]
        self.entries[entry.slot] = None
        self.programs = {}
        self.order = None
        return dependants | {entry.slot}

    # -- reading --------------------------------------------------------------------------------

    def seek(self, name: str) -> list[int]:
        """Return the slots for which a path or a name may stand; one when it is unambiguous."""
        slot = self.by_path.get(name)
        if slot is not None:
            return [slot]
        return self.by_name.get(name) or [
            slot for path, slot in self.by_path.items() if path.endswith("/" + name)
        ]

    def find(self, name: str) -> Any:
        """Return the record of this path or of this name when only one has it."""
        slots = self.seek(name)
        if len(slots) == 1:
            return self.entries[slots[0]]
        if slots:
            paths = " and ".join(repr(self.entries[slot].path) for slot in slots)
            message = f"{name!r} is defined in more than one part; say which: {paths}"
            raise UnknownNameError(message)
        raise UnknownNameError(self._unknown(name))

    def _unknown(self, name: Any) -> str:
        known = [*self.by_name, *self.by_path]
        near = difflib.get_close_matches(str(name), known, 3, 0.4) or [
            item for item in known if str(name)[:1] and item.startswith(str(name)[:1])
        ]
        text = f"no given, step or check is called {str(name)!r}"
        if near:
            shown = list(dict.fromkeys(near))[:3]
            return f"{text}; nearest: {', '.join(repr(item) for item in shown)}"
        shown = known[:6]
        return f"{text}; there are {', '.join(map(repr, shown)) or 'none yet'}"

    def in_order(self, part: Part | None = None) -> Iterator[Any]:
        """Yield all records with a name, as they stand on the sheet."""
        for block in (part or self.root).blocks:
            if isinstance(block, Part):
                yield from self.in_order(block)
            elif block.slot >= 0:
                yield block

    def sorted_slots(self) -> list[int]:
        """Return the slots so that each comes after those it uses.

        Raises
        ------
        FormulaError
            If a record uses itself by way of others.
        """
        if self.order is not None:
            return self.order
        live = [entry.slot for entry in self.entries if entry is not None]
        if self.jumbled:
            live = self._depth_first(live)
        self.order = live
        return live

    def _depth_first(self, live: list[int]) -> list[int]:
        done: dict[int, bool] = {}
        order: list[int] = []
        for start in live:
            pending = [(start, iter(self.uses(start)))]
            done.setdefault(start, False)
            if done[start]:
                continue
            while pending:
                slot, used = pending[-1]
                for other in used:
                    if done.get(other) is None and self.entries[other] is not None:
                        done[other] = False
                        pending.append((other, iter(self.uses(other))))
                        break
                    if done.get(other) is False:
                        names = " -> ".join(self.entries[s].path for s, _ in pending)
                        last = self.entries[other].path
                        message = f"these use each other in a circle: {names} -> {last}"
                        raise FormulaError(message)
                else:
                    pending.pop()
                    done[slot] = True
                    order.append(slot)
        return order

    def uses(self, slot: int) -> list[int]:
        """Return the slots that a record's value follows from directly."""
        entry = self.entries[slot]
        if entry is None:
            return []
        found: dict[int, None] = {}
        for formula in entry.operands():
            for name in names_in(formula):
                found[name.slot] = None
        return list(found)

    def dependants(self, slots: set[int]) -> set[int]:
        """Return the slots of all records that use these, directly or by way of others."""
        found = set(slots)
        for slot in self.sorted_slots():
            if slot not in found and any(used in found for used in self.uses(slot)):
                found.add(slot)
        return found - slots

    def ancestors(self, slots: set[int]) -> list[int]:
        """Return these slots and all that they follow from, in order of computation."""
        needed: set[int] = set()
        pending = list(slots)
        while pending:
            slot = pending.pop()
            if slot not in needed:
                needed.add(slot)
                pending.extend(self.uses(slot))
        return [slot for slot in self.sorted_slots() if slot in needed]


def _take_out(part: Part, entry: Entry) -> bool:
    # by search: after a copy of the book the record's own part belongs to the older book
    for place, block in enumerate(part.blocks):
        if block is entry:
            del part.blocks[place]
            return True
        if isinstance(block, Part) and _take_out(block, entry):
            return True
    return False


def _copy_part(part: Part, parent: Part | None) -> Part:
    twin = Part(part.title, parent, part.tables_only)
    for block in part.blocks:
        twin.blocks.append(_copy_part(block, twin) if isinstance(block, Part) else block)
    return twin

"""Every numbered block of a document: where it stands, what it uses, and what uses it.

A block is known by the place of its sheet and its number there; a package of several sheets gives
each a letter, so that ``B 3.2-4`` says where to look.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from string import ascii_uppercase
from typing import TypeAlias

from stepcalc.print.front.records import Goto
from stepcalc.render import blocks as b

__all__ = ["Index", "Key", "Numbered", "index_of"]

Numbered: TypeAlias = b.Given | b.Step | b.Computed | b.Lookup | b.Check
NUMBERED = (b.Given, b.Step, b.Computed, b.Lookup, b.Check)
Key: TypeAlias = tuple[int, str]
MOST_LETTERS_BESIDE = 60  # in the reference zone, over some lines
MOST_LETTERS_IN_RESULT = 22  # in the result zone, on one line
_MORE = 5  # letters of ", +12"
_OTHER_SHEET = "::"


@dataclass(slots=True)
class Index:
    """What is numbered in a document.

    Attributes
    ----------
    letters : list of str
        The letter of each sheet; blank in a document of one sheet.
    several : bool
        Whether more than one sheet has numbered blocks, so that a number alone says too little.
    blocks : dict
        The blocks by key: place of the sheet, number there.
    labels : dict
        The labels of those that have a line of their own.
    uses, used_in : dict
        Keys of what a block uses, and of what uses it.
    """

    letters: list[str]
    several: bool = False
    blocks: dict[Key, Numbered] = field(default_factory=dict)
    labels: dict[Key, str] = field(default_factory=dict)
    parts: dict[Key, str] = field(default_factory=dict)
    uses: dict[Key, tuple[Key, ...]] = field(default_factory=dict)
    used_in: dict[Key, list[Key]] = field(default_factory=dict)
    checks: dict[tuple[int, str], Key] = field(default_factory=dict)
    own_key: dict[int, Key] = field(default_factory=dict)
    order: dict[Key, int] = field(default_factory=dict)

    def label_of(self, block: b.Block) -> str:
        """Return the label of a block or heading that is printed; blank if none leads to it."""
        key = self.own_key.get(id(block))
        if key is None:
            return ""
        return self.parts.get(key, "") if isinstance(block, b.Heading) else self.labels[key]

    def goto(self, key: Key, seen_from: int = -1) -> Goto:
        """Return the words that lead to a block: its number, with the letter of another sheet.

        A block without a line of its own is found by the part that it stands in.
        """
        sheet, number = key
        label, words = self.labels.get(key, ""), number
        part = number.rpartition("-")[0]
        if not label and part:
            label, words = self.parts.get((sheet, part), ""), part
        letter = self.letters[sheet] if self.several else ""
        if letter and sheet != seen_from:
            words = f"{letter} {words}"
        return Goto(words, label)

    def sources(self, block: b.Block) -> tuple[list[Goto], int]:
        """Return what a block uses, first things first, and how many more there are."""
        return self._named(block, self.uses, MOST_LETTERS_BESIDE)

    def users(self, block: b.Block) -> tuple[list[Goto], int]:
        """Return where a block is used, first things first, and in how many more places."""
        return self._named(block, self.used_in, MOST_LETTERS_IN_RESULT)

    def _named(
        self, block: b.Block, relation: Mapping[Key, Sequence[Key]], letters: int
    ) -> tuple[list[Goto], int]:
        """Return the first blocks of a relation that fit so many letters, and how many do not."""
        key = self.own_key.get(id(block))
        if key is None or isinstance(block, b.Heading):
            return [], 0
        keys = sorted(relation.get(key, ()), key=lambda k: self.order.get(k, 0))
        found = list(dict.fromkeys(self.goto(k, key[0]) for k in keys))
        ends = list(accumulate(len(goto.words) + 2 for goto in found))
        fitting = sum(end <= letters for end in ends)
        if fitting < len(found):
            fitting = sum(end <= letters - _MORE for end in ends)
        return found[:fitting], len(found) - fitting

    def check(self, sheet: int, name: str) -> Key | None:
        """Return the key of a check of a sheet by its name."""
        return self.checks.get((sheet, name))


def index_of(document: b.Document) -> Index:
    """Return the index of a document.

    Parameters
    ----------
    document : Document
        Its blocks are told apart by identity: print the same records that were indexed.
    """
    several = len(document.sheets) > 1
    index = Index([_letter(place) if several else "" for place in range(len(document.sheets))])
    for place, sheet in enumerate(document.sheets):
        _take_up(index, place, sheet)
    index.several = len({place for place, _ in index.blocks}) > 1
    places: dict[str, list[int]] = {}
    for place, sheet in enumerate(document.sheets):
        places.setdefault(_whole_title(sheet), []).append(place)
    for place, sheet in enumerate(document.sheets):
        own = [place, *places[_whole_title(sheet)]]
        for number, used in sheet.uses.items():
            _relate(index, (place, number), _keys(index, own, used, places))
    return index


def _letter(place: int) -> str:
    turns, letter = divmod(place, len(ascii_uppercase))
    return ascii_uppercase[letter] * (turns + 1)


def _take_up(index: Index, place: int, sheet: b.SheetPages) -> None:
    for block in sheet.blocks:
        if isinstance(block, NUMBERED) and block.id:
            key = (place, block.id)
            if key not in index.labels:
                index.labels[key] = f"s{place + 1}-{block.id}"
                index.blocks[key] = block
                index.own_key[id(block)] = key
                index.order[key] = len(index.order)
                if isinstance(block, b.Check):
                    index.checks.setdefault((place, block.name), key)
        elif isinstance(block, b.Heading) and block.number:
            key = (place, block.number)
            if key not in index.parts:
                index.parts[key] = f"s{place + 1}-part-{block.number}"
                index.own_key[id(block)] = key
    for block in sheet.elsewhere:
        if isinstance(block, NUMBERED) and block.id:
            key = (place, block.id)
            index.blocks.setdefault(key, block)
            index.order.setdefault(key, len(index.order))


def _whole_title(sheet: b.SheetPages) -> str:
    """Return the title of a sheet, of which the document may hold several pieces."""
    return sheet.title.removesuffix(" (continued)")


def _keys(
    index: Index, own: list[int], used: tuple[str, ...], places: Mapping[str, list[int]]
) -> Iterator[Key]:
    for words in used:
        title, mark, number = words.rpartition(_OTHER_SHEET)
        for sheet in places.get(title, ()) if mark else own:
            if (sheet, number) in index.blocks:
                yield _printed(index, (sheet, number))
                break


def _printed(index: Index, key: Key) -> Key:
    """Return a key, or that of the same quantity on an earlier sheet if only that is printed."""
    block = index.blocks.get(key)
    if block is None or key in index.labels:
        return key
    for sheet in range(key[0]):
        other = index.blocks.get((sheet, key[1]))
        if other is not None and (sheet, key[1]) in index.labels and _same(other, block):
            return sheet, key[1]
    return key


def _same(one: Numbered, two: Numbered) -> bool:
    return (
        one.name == two.name
        and getattr(one, "formula", None) == getattr(two, "formula", None)
        and getattr(one, "value", None) == getattr(two, "value", None)
    )


def _relate(index: Index, key: Key, used: Iterator[Key]) -> None:
    known = tuple(dict.fromkeys(other for other in used if other in index.blocks))
    if key not in index.blocks or not known:
        return
    index.uses[key] = known
    for other in known:
        index.used_in.setdefault(other, []).append(key)

"""The lists before the sheets: assumptions, givens with their sources, references, symbols."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from stepcalc.print.front.citations import citations_of, documents_of
from stepcalc.print.front.records import Cell, FrontTable, Goto, Section
from stepcalc.render import blocks as b
from stepcalc.render.symbols import GREEK

if TYPE_CHECKING:
    from stepcalc.print.front.index import Index, Key
    from stepcalc.render.dialects import Layout

__all__ = ["assumptions", "givens", "nomenclature", "references", "unused"]

Quantity = b.Given | b.Step | b.Computed | b.Lookup

_NUMBER = re.compile(r"\d+(?:[.,/]\d+)*")
_DESCRIPTION_UNITS = re.compile(r"\s*\((?:[^()]* in [^()]*)\)$")


def assumptions(document: b.Document, index: Index) -> Section:
    """Return the numbered assumptions: those of tables on the sheets, then assumed values."""
    rows: dict[str, tuple[Cell, ...]] = {}
    for place, sheet in enumerate(document.sheets):
        part = Goto("")
        for block in sheet.blocks:
            if isinstance(block, b.Heading) and block.number:
                part = index.goto((place, block.number + "-"))
            elif isinstance(block, b.Table) and "Assumption" in block.header:
                for words, basis in _stated(block):
                    rows.setdefault(words, (f"A{len(rows) + 1}", words, basis, part))
    for key, block in index.blocks.items():
        if isinstance(block, b.Given) and block.assumed:
            words = f"{block.description or block.name}: {block.assumed}"
            said: Cell = (_equal(block.symbol, block.value), f"  {block.description}")
            rows.setdefault(words, (f"A{len(rows) + 1}", said, block.assumed, index.goto(key)))
    if not rows:
        return Section(
            "assumptions", "Assumptions", ("No value and no table is marked as assumed.",)
        )
    table = FrontTable(("No.", "Assumption", "Basis", "Step"), tuple(rows.values()),
                       (0, 1.25, 1, 0), "llll")  # fmt: skip
    return Section("assumptions", "Assumptions", (table,))


def _stated(table: b.Table) -> Iterator[tuple[str, str]]:
    """Yield the assumptions of a table and the words that stand beside each."""
    what = table.header.index("Assumption")
    why = next((n for n, word in enumerate(table.header) if word in ("Reason", "Basis")), -1)
    for row in table.rows:
        words, basis = row[what], row[why] if why >= 0 else ""
        if isinstance(words, str):
            yield words, basis if isinstance(basis, str) else ""


def givens(index: Index) -> Section:
    """Return the givens with their sources, those without a source by themselves."""
    sourced, unsourced = [], []
    for key, block in _givens(index):
        row = (index.goto(key), _equal(block.symbol, block.value), block.description)
        if block.source:
            sourced.append((*row, block.source))
        elif not block.assumed:
            unsourced.append(row)
    items: list[str | FrontTable] = []
    if unsourced:
        caption = (
            "UNSOURCED: 1 given without source or basis"
            if len(unsourced) == 1
            else f"UNSOURCED: {len(unsourced)} givens without source or basis"
        )
        items.append(
            FrontTable(
                ("Step", "Given", "Meaning"), tuple(unsourced), (0, 0.8, 1.6), "lll", caption
            )
        )
    else:
        items.append("Every given has a source or is among the assumptions.")
    if sourced:
        items.append(
            FrontTable(("Step", "Given", "Meaning", "Source"), tuple(sourced), (0, 0.8, 1.2, 1.1),
                       "llll")
        )  # fmt: skip
    return Section("givens", "Givens and their sources", tuple(items))


def references(document: b.Document, index: Index) -> Section:
    """Return the documents cited with edition and interims, and what has no reference."""
    cited = citations_of(document)
    known = documents_of(document)
    rows: list[tuple[Cell, ...]] = []
    for key in known:
        if key in cited.articles:
            made = known[key]
            edition = f"{made.title}, {made.edition}" if made.edition else made.title
            remarks = "; ".join(filter(None, (
                f"Interims: {made.interims}" if made.interims else "", made.provenance,
            )))  # fmt: skip
            remarks = remarks[:1].upper() + remarks[1:]
            rows.append((key, f"{edition}. {remarks}".strip().rstrip(".") + ".",
                         ", ".join(cited.articles[key]) or "as a whole"))  # fmt: skip
    rows += [("table", words, "") for words in cited.tables]
    items: list[str | FrontTable] = []
    if rows:
        items.append(FrontTable(("Cited as", "Document, edition and interims", "Articles cited"),
                                tuple(rows), (0, 1, 1.5), "lll"))  # fmt: skip
    if cited.others:
        items.append("Other bases named beside the steps: " + ", ".join(cited.others) + ".")
    if cited.without:
        named = [getattr(block, "id", "") or getattr(block, "name", "") for block in cited.without]
        items.append("WITHOUT A REFERENCE: " + ", ".join(named) + ".")
    else:
        items.append("Every step and check names its reference.")
    items.append("The governing edition and the owner's rules come first.")
    return Section("references", "References", tuple(items))


def nomenclature(index: Index) -> Section:
    """Return every symbol that a line prints with its meaning, unit, and where it is defined.

    A symbol whose meanings differ in their numbers alone, such as by the place, stands once.
    """
    rows: dict[str, tuple[Cell, ...]] = {}
    for key, block in sorted(_quantities(index), key=lambda item: _alphabetic(item[1].name)):
        if not _is_printed(index, key):
            continue
        value = block.value if isinstance(block, b.Given) else block.result
        meaning = _DESCRIPTION_UNITS.sub("", block.description)
        unit = _unit(value)
        shown: Cell = ["unit", unit] if unit else ""
        told = repr((block.symbol, _NUMBER.sub("#", meaning), unit))
        rows.setdefault(told, (block.symbol, meaning, shown, index.goto(key)))
    table = FrontTable(("Symbol", "Meaning", "Unit", "Step"), tuple(rows.values()), (0, 1, 0, 0),
                       "llll", twin=True)  # fmt: skip
    return Section("nomenclature", "Nomenclature", (table,) if rows else ("No symbol is defined.",))


def _is_printed(index: Index, key: Key) -> bool:
    """Tell whether a quantity has a line, or stands in the formula of one that has."""
    return key in index.labels or any(user in index.labels for user in index.used_in.get(key, ()))


def unused(index: Index) -> Section:
    """Return the givens that nothing uses, and the results that nothing uses or checks."""
    idle = [(key, x) for key, x in _quantities(index) if not index.used_in.get(key)]
    givens_alone = tuple(_line(index, key, x) for key, x in idle if isinstance(x, b.Given))
    results = tuple(_line(index, key, x) for key, x in idle if not isinstance(x, b.Given))
    items: list[str | FrontTable] = []
    for words, rows in (
        ("Givens that no step and no check uses", givens_alone),
        ("Results that no step and no check uses", results),
    ):
        if rows:
            items.append(FrontTable(("Step", "Symbol", "Meaning"), rows, (0, 0, 1), "lll", words))
        else:
            items.append(f"{words}: none.")
    return Section("unused", "What nothing uses", tuple(items))


def _line(index: Index, key: Key, block: Quantity) -> tuple[Cell, ...]:
    return index.goto(key), block.symbol, block.description


def _givens(index: Index) -> Iterator[tuple[Key, b.Given]]:
    for key, block in _quantities(index):
        if isinstance(block, b.Given):
            yield key, block


def _quantities(index: Index) -> Iterator[tuple[Key, Quantity]]:
    """Yield every quantity once: sheets may hold the same one, and a printed line comes first."""
    seen = set()
    for key, block in sorted(index.blocks.items(), key=lambda item: item[0] not in index.labels):
        if isinstance(block, b.Check):
            continue
        value = block.value if isinstance(block, b.Given) else ""
        told = repr((block.name, block.symbol, value, block.description))
        if told not in seen:
            seen.add(told)
            yield key, block


def _equal(symbol: Layout, value: Layout) -> Layout:
    return ["rel", symbol, [["=", value]]]


def _unit(value: object) -> str:
    """Return the unit of a value as it is written; blank for a number or a text."""
    if not isinstance(value, list) or not value:
        return ""
    if value[0] == "qty":
        return str(value[2])
    if value[0] == "unit":
        return str(value[1])
    return next((unit for unit in map(_unit, value) if unit), "")


def _alphabetic(name: str) -> tuple[bool, str, str]:
    """Sort symbols as books do: Latin before Greek letters, small and capital together."""
    first = re.split(r"[_\W\d]", name, maxsplit=1)[0]
    greek = first.lower() in GREEK
    return greek, name.lower().replace("_", " "), name

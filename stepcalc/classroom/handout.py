"""A handout: the same sheet with its numbers, or its formulas too, left for the student to fill in.

The document is made new from what a student may see; nothing of the solution is carried along to
be hidden.  Words of the author that quote a result lose the number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from stepcalc.errors import FormulaError
from stepcalc.render.build import build_document
from stepcalc.render.sheet_blocks import sheet_blocks
from stepcalc.sheet.entries import Part, TableEntry
from stepcalc.units.numbers import shown_text

__all__ = ["LINE", "handout", "key_numbers"]

LINE = "________"
_MODES = ("numbers", "formulas")
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?(?:e-?\d+)?")
_SHORTEST = 3  # digits from which a number can be told from a count or a number of a clause

Block = dict[str, Any]


def handout(source: Any, *, blank: str = "numbers", lines: int = 4) -> Block:
    """Return the document of a handout.

    Parameters
    ----------
    source : Sheet or Package
    blank : {"numbers", "formulas"}
        What the student fills in: substitutions, results and verdicts; or the formulas too.
    lines : int
        Lines of room to work below each step.

    Returns
    -------
    dict
        :func:`stepcalc.print.print_document` prints it.

    Raises
    ------
    FormulaError
        If ``blank`` is something else.
    """
    if blank not in _MODES:
        message = f"blank is {blank!r}; want {' or '.join(map(repr, _MODES))}"
        raise FormulaError(message)
    sheets = list(getattr(source, "sheets", None) or [source])
    secret: frozenset[str] = frozenset().union(*map(key_numbers, sheets))
    whole = build_document(source, profile="homework")
    title = {name: _redacted(text, secret) for name, text in whole["title"].items()}
    pages = [
        {"title": _redacted(sheet.title, secret),
         "blocks": list(_blanked(sheet, secret, blank == "formulas", lines))}
        for sheet in sheets
    ]  # fmt: skip
    return {"v": whole["v"], "title": title, "profile": "homework", "sheets": pages, "notices": []}


def key_numbers(sheet: Any) -> frozenset[str]:
    """Return every number of the solution as it may be spelled; those of the givens are none.

    A result is listed with two to seven significant digits, in full and by hand, where the
    spelling has at least three digits.
    """
    from stepcalc.classroom.bands import by_hand

    known = {node.shown for node in sheet.givens}
    found = set()
    for state in (sheet, by_hand(sheet)):
        numbers = [(node.number, node.shown) for node in state.steps if node.defined]
        numbers += [(check.ratio, check.shown_ratio) for check in state.checks if check.defined]
        for check in state.checks:
            sides = [side for side in (check.demand, check.capacity) if side is not None]
            numbers += [(float(side.magnitude), "") for side in sides]
        for number, shown in numbers:
            spelled = {shown.lstrip("-"), *(shown_text(abs(number), n) for n in range(2, 8))}
            found |= spelled | {text.replace(",", "") for text in spelled}
    return frozenset(text for text in found - known if _digits(text) >= _SHORTEST)


def _digits(text: str) -> int:
    return len(re.sub(r"\D", "", text.partition("e")[0]).lstrip("0"))


def _redacted(text: str, secret: frozenset[str]) -> str:
    return _NUMBER.sub(lambda found: LINE if found[0] in secret else found[0], text)


def _blanked(sheet: Any, secret: frozenset[str], formulas: bool, lines: int) -> Iterator[Block]:
    records = list(_records(sheet._book.root))
    blocks = [block for block in sheet_blocks(sheet) if block["kind"] != "heading"]
    headings = _headings(sheet._book.root)
    for entry, block in zip(records, blocks, strict=True):
        yield from headings.pop(id(entry), ())
        yield from _one(entry, block, secret, formulas, lines)


def _records(part: Part) -> Iterator[Any]:
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _records(block)
        else:
            yield block


def _headings(root: Part) -> dict[int, list[Block]]:
    """Return the headings that stand above each record."""
    from stepcalc.render.sheet_blocks import heading_block

    found: dict[int, list[Block]] = {}
    waiting: list[Block] = []

    def walk(part: Part) -> None:
        for block in part.blocks:
            if isinstance(block, Part):
                waiting.append(heading_block(block))
                walk(block)
            elif waiting:
                found[id(block)] = waiting.copy()
                waiting.clear()

    walk(root)
    return found


def _one(
    entry: Any, block: Block, secret: frozenset[str], formulas: bool, lines: int
) -> Iterator[Block]:
    kind = block["kind"]
    if kind == "given":
        kept = ("kind", "id", "name", "symbol", "value", "choices", "alt")
        words = {n: _redacted(block[n], secret) for n in ("description", "source", "assumed")
                 if block.get(n)}  # fmt: skip
        yield {name: block[name] for name in kept if name in block} | words
    elif kind in ("step", "computed", "lookup"):
        yield _blank_step(block, secret, formulas, _unit(entry))
        yield from _room(lines)
    elif kind == "check":
        yield _blank_check(block, secret, formulas)
        yield from _room(lines)
    elif kind in ("note", "markdown"):
        yield {"kind": kind, "text": _redacted(block["text"], secret)}
    elif kind == "table":
        yield _blank_table(entry, block, secret)
    elif kind == "figure":
        yield {"kind": "note", "text": f"Figure to draw: {_redacted(block['caption'], secret)}"}
        yield from _room(2 * lines)
    else:
        yield {"kind": "note", "text": f"Conclusion: {LINE}{LINE}{LINE}"}
        yield from _room(lines)


def _unit(entry: Any) -> str:
    return str(entry.info.text)


def _blank_step(block: Block, secret: frozenset[str], formulas: bool, unit: str) -> Block:
    line = ["text", LINE]
    result: Any = ["row", [line, ["text", " "], ["unit", unit]]] if unit else line
    formula = None if formulas else block.get("formula")
    made: Block = {
        "kind": "step", "id": block["id"], "name": block["name"], "symbol": block["symbol"],
        "result": result, "alt": f"{block['name']}, to fill in",
    }  # fmt: skip
    if formula is not None:
        made |= {"formula": formula, "substitution": ["text", LINE]}
    for name in ("description", "ref"):
        if block.get(name):
            made[name] = _redacted(block[name], secret)
    if block["kind"] == "lookup" and not formulas:
        read = f"{block['table']}, column {block['column']}"
        made["description"] = f"{made.get('description', '')} ({read})".strip()
    return made


def _blank_check(block: Block, secret: frozenset[str], formulas: bool) -> Block:
    shown = _redacted(block["name"], secret)
    made: Block = {
        "kind": "step", "id": block["id"], "name": shown, "symbol": ["text", shown],
        "result": ["text", f"D/C {LINE}  ☐ OK  ☐ N.G."], "alt": f"check {shown}, to fill in",
    }  # fmt: skip
    if not formulas:
        made["description"] = "check"
        made["formula"] = block["formula"]
    if block.get("ref"):
        made["ref"] = _redacted(block["ref"], secret)
    return made


def _blank_table(entry: TableEntry, block: Block, secret: frozenset[str]) -> Block:
    """Return a table whose cells that show a node of the sheet, or quote one, are empty."""
    rows = []
    for cells, shown in zip(entry.rows, block["rows"], strict=True):
        rows.append([
            LINE if _is_result(cell) else _redacted(_plain(text), secret)
            for cell, text in zip(cells, shown, strict=True)
        ])  # fmt: skip
    header = [_redacted(cell, secret) for cell in block["header"]]
    return {"kind": "table", "header": header, "rows": rows,
            "caption": _redacted(block.get("caption", ""), secret)}  # fmt: skip


def _is_result(cell: Any) -> bool:
    return hasattr(cell, "sheet") and cell.entry.kind != "given"


def _plain(cell: Any) -> str:
    from stepcalc.render.dialects import dialect, replay

    return cell if isinstance(cell, str) else str(replay(cell, dialect("text")))


def _room(lines: int) -> Iterator[Block]:
    if lines > 0:
        yield {"kind": "output", "text": "\n".join(["\u00a0"] * lines)}

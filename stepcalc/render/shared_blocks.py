"""What several sheets of a package say word for word is printed once, on the first of them.

Every sheet of a package stands by itself: the exterior girder holds the span, the section and the
vehicles just as the interior one does, and each is revised and evaluated alone.  Printed, the same
lines would stand on paper two or three times over.  ``Package(..., told_once=True)`` has them
printed once: wherever `LEAST` or more lines in a row stand on an earlier sheet too, below a heading
of the same name and with the same printed formula, numbers, result and source, one line says on
which sheet and in which part they stand and names them.  Nothing in the calculation changes.

Lines with the same formula and other numbers, as all those of a second girder, become rows of a
table with the value here and the value there, unless their part holds a check that is worse here
than there: then this girder governs it, and the part is printed in full.

So are places of one sheet: a part whose title stood above already, as "Plastic moment" at a second
section of a girder, is told by the formulas of the part above unless it governs.

What is never left out: a check that is not OK, a line with a warning, out of its range, undefined
or stale, data, and the conclusion with its summary.  A proof belongs to the value that it proves: a
later sheet that writes the same value without its proof, ``proof=None``, is taken for the same.
"""

from __future__ import annotations

import json
import math
from typing import Any, NamedTuple

__all__ = ["LEAST", "Block", "plain", "told_once"]

Block = dict[str, Any]

LEAST = 2
"""A single line is printed again: the pointer would be as long as what it saves."""

_ALIKE = ("given", "step", "computed", "lookup", "check", "table", "figure", "note", "markdown")
_FORMULAS = ("step", "computed", "lookup", "check")
_NAMED = ("given", "step", "computed", "lookup", "check")
_OWN = ("id", "proof", "boxed", "alt")
"""Fields that may differ: the number of the block, its proof, the frame of a sheet's results."""


def plain(block: Block) -> bool:
    """Tell whether a block asks for nobody's attention.

    Parameters
    ----------
    block : dict

    Returns
    -------
    bool
        False for a check that is not OK, and for a line with a warning, outside its range,
        undefined or stale.
    """
    if block.get("warnings") or block.get("stale") or block.get("undefined"):
        return False
    if any(not validity["ok"] for validity in block.get("valid", ())):
        return False
    return block["kind"] != "check" or bool(block["verdict"] == "OK")


class _Known(NamedTuple):
    """A block of an earlier sheet: the sheet, the number of its part, the block itself."""

    title: str
    number: str
    block: Block


_Store = dict[tuple[str, str], list[_Known]]


class _Line(NamedTuple):
    """A block of a later sheet, and where its like stands, if it may be left out."""

    block: Block
    known: _Known | None = None
    same: bool = False


def told_once(sheets: list[Block]) -> list[Block]:
    """Return the sheets of a document with what an earlier one says left out of the later ones.

    Parameters
    ----------
    sheets : list of dict
        Each with ``title``, ``blocks`` and ``summary``, as :mod:`stepcalc.render.build` makes them.

    Returns
    -------
    list of dict
        The same sheets; the first is as it was.
    """
    alike: _Store = {}
    formulas: _Store = {}
    shorter = []
    for sheet in sheets:
        parts = list(_parts(sheet["blocks"]))
        blocks: list[Block] = []
        above: _Store = {}
        for path, number, part in parts:
            lines = [_line(block, path, alike, formulas) for block in part]
            title = path.split("/")[-1]
            blocks += _shortened([_line_above(line, title, above) for line in lines])
            for block in part:
                if block["kind"] in _FORMULAS:
                    known = _Known("", number, block)
                    above.setdefault((title, _formula(block)), []).append(known)
        shorter.append({**sheet, "blocks": blocks})
        for path, number, part in parts:
            for block in part:
                known = _Known(sheet["title"], number, block)
                alike.setdefault((path, _content(block)), []).append(known)
                formulas.setdefault((path, _formula(block)), []).append(known)
    return shorter


def _parts(blocks: list[Block]) -> Any:
    """Yield for each heading the titles down to it, its number, and the blocks up to the next."""
    titles: list[str] = []
    number = ""
    part: list[Block] = []
    for block in blocks:
        if block["kind"] == "heading":
            if part:
                yield "/".join(titles), number, part
            titles = [*titles[: block["level"] - 1], block["text"]]
            number, part = block.get("number", ""), []
        part.append(block)
    if part:
        yield "/".join(titles), number, part


def _content(block: Block) -> str:
    own = {key: value for key, value in block.items() if key not in _OWN}
    return json.dumps(own, sort_keys=True, default=str)


def _formula(block: Block) -> str:
    """Return what two lines with the same formula have in common."""
    keys = ("kind", "name", "formula", "ref", "table", "column")
    return json.dumps([block.get(key) for key in keys], default=str)


def _line(block: Block, path: str, alike: _Store, formulas: _Store) -> _Line:
    if block["kind"] not in _ALIKE or not plain(block):
        return _Line(block)
    for known in alike.get((path, _content(block)), ()):
        if known.block.get("proof") or not block.get("proof"):
            return _Line(block, known, same=True)
    if block["kind"] in _FORMULAS and not block.get("proof"):
        for known in formulas.get((path, _formula(block)), ()):
            return _Line(block, known)
    return _Line(block)


def _line_above(line: _Line, title: str, above: _Store) -> _Line:
    """Return a line with its like in a part of the same title above, unless a sheet has it."""
    block = line.block
    if line.known is not None or block["kind"] not in _FORMULAS or not plain(block):
        return line
    if block.get("proof"):
        return line
    for known in above.get((title, _formula(block)), ()):
        return _Line(block, known)
    return line


def _ratio(block: Block) -> float:
    try:
        return float(block["ratio"])
    except ValueError:
        return math.inf


def _shortened(part: list[_Line]) -> list[Block]:
    """Return one part with its runs of known lines told in a line or a table."""
    governs = any(
        line.block["kind"] == "check"
        and (line.known is None or _ratio(line.block) > _ratio(line.known.block))
        for line in part
    )
    found: list[Block] = []
    run: list[_Line] = []
    for line in part:
        if line.known is None or (governs and not line.same):
            found += [*_pointer(run), line.block]
            run = []
        elif run and _where(run[-1]) != _where(line):
            found += _pointer(run)
            run = [line]
        else:
            run.append(line)
    return found + _pointer(run)


def _where(line: _Line) -> tuple[str, str]:
    assert line.known is not None
    return line.known.title, line.known.number


def _pointer(run: list[_Line]) -> list[Block]:
    """Return what stands for a run of lines; a short run stands for itself."""
    if len(run) < LEAST:
        return [line.block for line in run]
    title, number = _where(run[0])
    if title:
        place = f"{f'part {number} of ' if number else ''}the sheet “{title}”"
    else:
        place = f"part {number} above"
    same = [line.block for line in run if line.same]
    other = [line for line in run if not line.same]
    names = ", ".join(dict.fromkeys(b["name"] for b in same if b["kind"] in _NAMED))
    if not other:
        words = f"As in {place}, the same in every line"
        return [_note(f"{words}{f': {names}' if names else ''}.{_checked(same)}")]
    words = f"By the formulas of {place}, with the numbers {'of this sheet' if title else 'here'}."
    if same:
        words += f" The same there and here: {names}." if names else ""
    return [
        _note(words + _checked([line.block for line in run])),
        _table(other, f"This sheet beside “{title}”" if title else f"Here beside part {number}"),
    ]


def _note(text: str) -> Block:
    return {"kind": "note", "text": text}


def _checked(blocks: list[Block]) -> str:
    many = sum(block["kind"] == "check" for block in blocks)
    if not many:
        return ""
    words = "The check is" if many == 1 else f"All {many} checks among them are"
    return f" {words} OK and in the summary of this sheet."


def _table(lines: list[_Line], caption: str) -> Block:
    rows = []
    for line in lines:
        assert line.known is not None
        block = line.block
        check = block["kind"] == "check"
        rows.append(
            [
                f"{block['name']}: D/C" if check else block["symbol"],
                "" if check else _words(block),
                _value(block),
                _value(line.known.block),
            ]
        )
    return {
        "kind": "table", "header": ["", "What", "Here", "There"], "rows": rows,
        "caption": caption,
    }  # fmt: skip


def _words(block: Block) -> str:
    branch = block.get("branch", "")
    return f"{block.get('description', '')}{f' ({branch})' if branch else ''}"


def _value(block: Block) -> Any:
    return f"{block['ratio']} {block['verdict']}" if block["kind"] == "check" else block["result"]

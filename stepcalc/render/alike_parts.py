"""Parts that hold the same formulas at one place after another: one in full, the rest as a table.

A girder is checked at every tenth point, brace point and detail. Where three or more sibling parts
of a sheet hold the same lines, each with the same formula, and differ in numbers only, the place
that governs is printed in full; every other place is one row of a table with all its values, ratios
and verdicts, so that a reader sees that it does not govern. A sheet asks for this by how it is
written, one part for each place::

    for where in ("0.1 L", "0.2 L", ...):
        with sheet.part(where):
            ...                       # the same names in every part

and a package by ``told_once=True``. The place that governs is the one with the greatest ratio of a
check or, where there are no checks, with the greatest last value. A place with a check that is not
OK, a warning, a range left or an undefined value is printed in full as well.
"""

from __future__ import annotations

import json
import math
from typing import Any, NamedTuple

from stepcalc.render.dialects import dialect, spell
from stepcalc.render.shared_blocks import Block, plain

__all__ = ["FEWEST", "tabulated"]

FEWEST = 3
"""Fewer places than this all stand in full."""

_COLUMNS = 6
"""Values in one table; more go into a second one."""

_LINES = ("given", "step", "computed", "lookup", "check")
_PLAIN_TEXT = dialect("text")


class _Part(NamedTuple):
    """A part without parts below it: its heading, its lines, what else follows them."""

    heading: Block
    lines: list[Block]
    rest: list[Block]

    @property
    def shape(self) -> str:
        """What the lines have in common with those of another place."""
        return json.dumps(
            [(b["kind"], _name(b), b.get("formula"), b.get("ref")) for b in self.lines],
            default=str,
        )


def tabulated(blocks: list[Block]) -> list[Block]:
    """Return the blocks of a sheet with alike sibling parts brought together.

    Parameters
    ----------
    blocks : list of dict
        As :func:`stepcalc.render.sheet_blocks.sheet_blocks` returns them.

    Returns
    -------
    list of dict
    """
    found: list[Block] = []
    run: list[_Part] = []
    place = 0
    while place < len(blocks):
        part, after = _leaf(blocks, place)
        if part is None:
            found += _told(run)
            run = []
            found.append(blocks[place])
        else:
            if run:
                part = _like(run[-1], part)
            if run and not _goes_on(run, part):
                found += _told(run)
                run = []
            run.append(part)
        place = after
    return found + _told(run)


def _leaf(blocks: list[Block], place: int) -> tuple[_Part | None, int]:
    """Return the part whose heading stands at a place, if it holds lines and no other part."""
    if blocks[place]["kind"] != "heading":
        return None, place + 1
    end = place + 1
    while end < len(blocks) and blocks[end]["kind"] != "heading":
        end += 1
    heading = blocks[place]
    if end < len(blocks) and blocks[end]["level"] > heading["level"]:
        return None, place + 1
    lines = place + 1
    while lines < end and blocks[lines]["kind"] in _LINES:
        lines += 1
    if lines == place + 1:
        return None, place + 1
    return _Part(heading, blocks[place + 1 : lines], blocks[lines:end]), end


def _like(last: _Part, part: _Part) -> _Part:
    """Return the part with what the part above it says after its last place taken apart."""
    count = len(last.lines)
    short = part._replace(lines=part.lines[:count], rest=part.lines[count:] + part.rest)
    return short if len(part.lines) > count and short.shape == last.shape else part


def _goes_on(run: list[_Part], part: _Part) -> bool:
    last = run[-1]
    return (
        not last.rest
        and last.heading["level"] == part.heading["level"]
        and last.shape == part.shape
    )


def _told(run: list[_Part]) -> list[Block]:
    """Return the blocks of a run of alike parts, or of a single part."""
    if len(run) < FEWEST:
        return [block for part in run for block in (part.heading, *part.lines, *part.rest)]
    governing = max(run, key=_weight)
    full = [p for p in run if p is governing or not all(plain(block) for block in p.lines)]
    rows = [part for part in run if not any(part is other for other in full)]
    found: list[Block] = []
    for part in full:
        found += [part.heading, *part.lines]
        if part is governing and rows:
            found.append({"kind": "note", "text": f"{part.heading['text']} governs here."})
    if rows:
        found += _tables(rows)
    return [*found, *run[-1].rest]


def _weight(part: _Part) -> float:
    ratios = [_number(b.get("ratio", "")) for b in part.lines if b["kind"] == "check"]
    if ratios:
        return max(ratios)
    return abs(_number(_text(part.lines[-1].get("result") or part.lines[-1].get("value") or "")))


def _number(text: str) -> float:
    """Return the number that a text begins with; a text without one weighs most, to be seen."""
    try:
        return float(text.split()[0].replace(",", "").replace("\N{MINUS SIGN}", "-"))
    except (IndexError, ValueError):
        return math.inf


def _text(layout: Any) -> str:
    return layout if isinstance(layout, str) else str(spell(layout, _PLAIN_TEXT))


def _tables(rows: list[_Part]) -> list[Block]:
    columns = list(range(len(rows[0].lines)))
    pieces = [columns[i : i + _COLUMNS] for i in range(0, len(columns), _COLUMNS)]
    found = []
    for number, piece in enumerate(pieces):
        more = "" if number == 0 else ", continued"
        found.append(
            {
                "kind": "table",
                "header": ["Place", *(_head(rows[0].lines[column]) for column in piece)],
                "rows": [
                    [_place(part), *(_cell(part.lines[column]) for column in piece)]
                    for part in rows
                ],
                "caption": f"The other places, by the same formulas{more}",
            }
        )
    return found


def _place(part: _Part) -> str:
    return f"{part.heading.get('number', '')} {part.heading['text']}".strip()


def _head(block: Block) -> str:
    return f"{_name(block)}: D/C" if block["kind"] == "check" else _name(block)


def _name(block: Block) -> str:
    """Return the name of a line; a check's without the place that follows a comma."""
    name = str(block["name"])
    return name.split(",")[0] if block["kind"] == "check" else name


def _cell(block: Block) -> Any:
    if block["kind"] == "check":
        return f"{block['ratio']} {block['verdict']}"
    value = block.get("result") or block["value"]
    branch = block.get("branch", "")
    return f"{_text(value)} ({branch})" if branch else value

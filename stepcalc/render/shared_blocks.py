"""What several sheets of a package say word for word is printed once, on the first of them.

Every sheet of a package stands by itself: the exterior girder holds the span, the section and the
vehicles just as the interior one does, and each is revised and evaluated alone.  Printed, the same
lines would stand on paper two or three times over.  ``Package(..., told_once=True)`` has them
printed once: wherever `LEAST` or more lines in a row stand on an earlier sheet too, below a heading
of the same name and with the same printed formula, numbers, result and source, one line says on
which sheet and in which part they stand and names them.  Nothing in the calculation changes.

What is never left out: a check that is not OK, a line with a warning, out of its range, undefined
or stale, and the conclusion with its summary.  A proof belongs to the value that it proves: a later
sheet that writes the same value without its proof, ``proof=None``, is taken for the same.
"""

from __future__ import annotations

import json
from typing import Any

__all__ = ["LEAST", "Block", "plain", "told_once"]

Block = dict[str, Any]

LEAST = 3
"""Fewer lines than this are printed again: the pointer would be as long as what it saves."""

_ALIKE = ("given", "step", "computed", "lookup", "check", "table", "figure", "note", "markdown")
_NAMED = ("given", "step", "computed", "lookup", "check")
_OWN = ("id", "proof", "boxed", "alt")
"""Fields that may differ: the number of the block, its proof, the frame of a sheet's results."""


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
    known: dict[tuple[str, str], list[tuple[str, str, bool]]] = {}
    shorter = []
    for sheet in sheets:
        keyed = list(_keyed(sheet["blocks"]))
        shorter.append({**sheet, "blocks": _without_known(keyed, known)})
        for block, path, number in keyed:
            if block["kind"] in _ALIKE:
                proved = bool(block.get("proof"))
                known.setdefault((path, _content(block)), []).append(
                    (sheet["title"], number, proved)
                )
    return shorter


def _keyed(blocks: list[Block]) -> Any:
    """Yield each block with the titles and the number of the part that it stands in."""
    titles: list[str] = []
    number = ""
    for block in blocks:
        if block["kind"] == "heading":
            titles = [*titles[: block["level"] - 1], block["text"]]
            number = block.get("number", "")
        yield block, "/".join(titles), number


def _content(block: Block) -> str:
    own = {key: value for key, value in block.items() if key not in _OWN}
    return json.dumps(own, sort_keys=True, default=str)


def _place(
    block: Block, path: str, known: dict[tuple[str, str], list[tuple[str, str, bool]]]
) -> tuple[str, str] | None:
    """Return sheet and part in which a block stands already, None where it has to be printed."""
    if block["kind"] not in _ALIKE or not plain(block):
        return None
    for title, number, proved in known.get((path, _content(block)), ()):
        if proved or not block.get("proof"):
            return title, number
    return None


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


def _without_known(
    keyed: list[tuple[Block, str, str]],
    known: dict[tuple[str, str], list[tuple[str, str, bool]]],
) -> list[Block]:
    found: list[Block] = []
    run: list[Block] = []
    where: tuple[str, str] | None = None
    for block, path, _ in keyed:
        place = _place(block, path, known)
        if run and place != where:
            found += _pointer(run, where)
            run = []
        if place is None:
            found.append(block)
        else:
            run.append(block)
        where = place
    return found + _pointer(run, where)


def _pointer(run: list[Block], where: tuple[str, str] | None) -> list[Block]:
    """Return the line that stands for a run of blocks; a short run stands for itself."""
    if where is None or len(run) < LEAST:
        return run
    title, number = where
    names = list(dict.fromkeys(b["name"] for b in run if b["kind"] in _NAMED))
    checks = [b for b in run if b["kind"] == "check"]
    part = f"part {number} of " if number else ""
    words = f"As in {part}the sheet “{title}”, the same in every line"
    if names:
        words += f": {', '.join(names)}"
    words += "."
    if checks:
        many = "The check is" if len(checks) == 1 else f"All {len(checks)} checks among them are"
        words += f" {many} OK and in the summary of this sheet."
    return [{"kind": "note", "text": words}]

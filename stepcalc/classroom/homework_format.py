"""Whether a homework has the parts that courses ask for: from what is given to the boxed answer.

The order Given, Find, Sketch, Assumptions, Properties, Solution, Answer is common practice of
engineering courses, no source; what is missing is said, nothing is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from stepcalc.render import blocks as b

__all__ = ["SECTIONS", "format_warnings"]

SECTIONS = ("Given", "Find", "Sketch", "Assumptions", "Properties", "Solution", "Answer")
_IN_ORDER = ("Given", "Find", "Solution", "Answer")
_OTHER_WORDS = {
    "Given": ("data",), "Find": ("required", "wanted"), "Sketch": ("schematic", "figure"),
    "Assumptions": ("assumed",), "Properties": ("section properties", "materials"),
    "Answer": ("result", "conclusion"),
}  # fmt: skip
_BY_ITSELF: dict[type[b.Block], str] = {
    b.Given: "Given", b.Figure: "Sketch", b.Image: "Sketch", b.Lookup: "Properties",
    b.Step: "Solution", b.Computed: "Solution", b.Conclusion: "Answer",
}  # fmt: skip
_LEAD = re.compile(r"^\s*(?:#+\s*|\*\*|__)([A-Za-z ]+)", re.MULTILINE)


def format_warnings(document: b.Document) -> list[str]:
    """Return what a homework lacks, one sentence for each part.

    Parameters
    ----------
    document : Document

    Returns
    -------
    list of str
        Empty when every part is there, in order, and a result is boxed.
    """
    first: dict[str, int] = {}
    for place, section in enumerate(_sections(document)):
        first.setdefault(section, place)
    said = [f"there is no part {name!r}" for name in SECTIONS if name not in first]
    present = [name for name in _IN_ORDER if name in first]
    for one, other in pairwise(present):
        if first[one] > first[other]:
            said.append(f"{other!r} stands before {one!r}")
    blocks = [block for pages in document.sheets for block in pages.blocks]
    boxed = [x for x in blocks if isinstance(x, (b.Step, b.Computed, b.Lookup)) and x.boxed]
    if not boxed:
        said.append("no result is boxed: a check compares it, or nothing else uses it")
    said += [f"the boxed {x.name!r} has no value" for x in boxed if getattr(x, "undefined", "")]
    if not document.title.get("student", "").strip():
        said.append("the title block has no name")
    return said


def _sections(document: b.Document) -> Iterator[str]:
    """Yield the sections in the order in which something of them stands."""
    for pages in document.sheets:
        for block in pages.blocks:
            if isinstance(block, b.Heading):
                yield from _named(block.text)
            elif isinstance(block, b.Markdown):
                for found in _LEAD.findall(block.text):
                    yield from _named(found)
            elif type(block) in _BY_ITSELF:
                yield _BY_ITSELF[type(block)]
            if isinstance(block, b.Given) and block.assumed:
                yield "Assumptions"


def _named(words: str) -> Iterator[str]:
    lowered = words.strip().lower()
    for name in SECTIONS:
        if lowered.startswith(
            (name.lower(), name.lower().rstrip("s"), *_OTHER_WORDS.get(name, ()))
        ):
            yield name

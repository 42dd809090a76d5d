"""The filters that templates of every printed form use on blocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from stepcalc.print import views
from stepcalc.print.prepared import Picture, Prepared
from stepcalc.render.templates import context_filter

if TYPE_CHECKING:
    from stepcalc.print.lines import Line
    from stepcalc.render.blocks import Conclusion, Given

# Room in ems of the 10 pt text, on the narrower of the two papers, less the hanging indent.
ROOM = {"work": 28.0, "result": 9.6, "tab": 12.4, "remark": 24.0, "slide": 18.0}


def picture_of(context: Mapping[str, Any], block: Any) -> Picture:
    """Return the finished picture of a figure or image."""
    return prepared_in(context).pictures[id(block)]


def prepared_in(context: Mapping[str, Any]) -> Prepared:
    """Return what was made of the document that a template renders."""
    ready = context["prepared"]
    assert isinstance(ready, Prepared)
    return ready


def _rich(context: Mapping[str, Any], block: Any) -> Any:
    return prepared_in(context).texts[id(block)]


def _level(context: Mapping[str, Any], block: Any) -> int:
    return prepared_in(context).levels[id(block)]


def _source(context: Mapping[str, Any], given: Given) -> str:
    """Return the source beside a given; a given of a proof keeps its own."""
    return prepared_in(context).sources.get(id(given), given.source)


def _source_note(context: Mapping[str, Any], sheet: Any) -> str:
    return prepared_in(context).source_notes.get(id(sheet), "")


def checks_beyond(conclusion: Conclusion) -> tuple[str, ...]:
    """Return what a conclusion says is checked beyond the rows of its summary."""
    named = tuple(row.name for row in conclusion.summary)
    return tuple(said for said in conclusion.scope_checked if not said.startswith(named))


def _fits(line: Line, place: str) -> bool:
    return line.width <= ROOM[place]


def _rows(lines: tuple[Line, ...]) -> bool:
    """Tell whether a side of a chain may need rows of its own."""
    return any(line.width > ROOM["work"] for line in lines)


def block_filters() -> dict[str, Callable[..., Any]]:
    """Return the filters by their names in the templates."""
    return {
        "sides": views.sides, "remarks": views.remarks, "is_long": views.is_long,
        "last_summary": views.last_summary, "kind": views.kind, "fits": _fits, "rows": _rows,
        "rich": context_filter(_rich), "level": context_filter(_level),
        "checks_beyond": checks_beyond,
        "source_beside": context_filter(_source), "source_note": context_filter(_source_note),
    }  # fmt: skip

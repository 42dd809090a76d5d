"""Figure data: what a sheet stores of a figure, read from JSON and validated.

Positions on a beam and in a section are plain numbers in the stated length unit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from stepcalc.errors import SheetFileError

LARGEST_SERIES = 20_000
MOST_ITEMS = 400
LONGEST_LABEL = 120

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class At:
    """A label at a place; ``size`` scales the arrow of a load, ``y`` is its ordinate."""

    x: float
    label: str = ""
    y: float = 0.0
    size: float = 1.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A label from one place to another: a uniform load or a dimension."""

    start: float
    end: float
    label: str = ""


@dataclass(frozen=True, slots=True)
class FreeBody:
    """A beam with its supports, loads, reactions and dimensions."""

    span: float
    length_unit: str
    supports: tuple[float, ...]
    loads: tuple[At, ...]
    uniform: tuple[Stretch, ...]
    reactions: tuple[At, ...]
    dimensions: tuple[Stretch, ...]
    marks: tuple[At, ...]


@dataclass(frozen=True, slots=True)
class Series:
    """One curve."""

    label: str
    y: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Curves:
    """Curves over a common abscissa."""

    x: tuple[float, ...]
    x_label: str
    y_label: str
    series: tuple[Series, ...]
    marks: tuple[At, ...]
    invert_y: bool


@dataclass(frozen=True, slots=True)
class Influence:
    """An influence line with the loads that stand on it."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    loads: tuple[At, ...]
    x_label: str
    y_label: str


@dataclass(frozen=True, slots=True)
class BridgeSection:
    """A typical section: girders under a deck, in feet.

    ``roadway`` holds the faces of the barriers or curbs, ``barriers`` the outer faces of the two
    barriers, where they do not stand at the edges of the deck.
    """

    girders: tuple[float, ...]
    deck: tuple[float, float]
    thickness: float
    barrier_width: float
    depth: float
    flange: float
    labels: Mapping[str, str]
    walks: tuple[Stretch, ...] = ()
    rails: tuple[Stretch, ...] = ()
    barriers: tuple[float, ...] = ()
    roadway: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle of a girder section: a plate, the slab, or a block of plastic stress.

    ``width`` is the plate's width, or the stress to the scale of the largest; compression is
    negative.
    """

    bottom: float
    height: float
    width: float
    label: str = ""


@dataclass(frozen=True, slots=True)
class GirderSection:
    """One girder with its slab: heights from the bottom of the steel, in ``length_unit``.

    Plates and slab are centred on the web; ``bars`` and ``axes`` are labelled heights
    (``At.x``); ``stress`` holds the plastic stress blocks; ``depths`` are vertical dimensions.
    """

    length_unit: str
    plates: tuple[Block, ...]
    slab: tuple[Block, ...]
    bars: tuple[At, ...]
    elastic: tuple[At, ...]
    plastic: tuple[At, ...]
    stress: tuple[Block, ...]
    depths: tuple[Stretch, ...]


FigureData = FreeBody | Curves | Influence | BridgeSection | GirderSection


def read_figure(data: Mapping[str, Any]) -> FigureData:
    """Return the record of a figure's data.

    Parameters
    ----------
    data : mapping
        ``data["kind"]`` is ``free_body``, ``curves``, ``influence``, ``bridge_section`` or
        ``girder_section``.

    Returns
    -------
    FreeBody, Curves, Influence, BridgeSection or GirderSection

    Raises
    ------
    SheetFileError
        If the kind is unknown, or a field is missing, not finite, or of another type.
    """
    fields = _Fields(data)
    readers: dict[str, Callable[[_Fields], FigureData]] = {
        "free_body": _free_body, "curves": _curves, "influence": _influence,
        "bridge_section": _bridge_section, "girder_section": _girder_section,
    }  # fmt: skip
    reader = readers.get(fields.kind)
    if reader is None:
        known = ", ".join(readers)
        raise SheetFileError(f"a figure has the kind {fields.kind!r}; known kinds: {known}")
    figure = reader(fields)
    fields.all_used()
    return figure


class _Fields:
    """The fields of a figure, each taken once, with messages that name them."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        self.data = dict(data)
        self.kind = str(self.data.pop("kind", ""))

    def error(self, key: str, want: str) -> SheetFileError:
        shown = repr(self.data.get(key))[:60]
        return SheetFileError(f"{key!r} of a {self.kind} figure is {shown}; want {want}")

    def all_used(self) -> None:
        if self.data:
            names = ", ".join(map(repr, list(self.data)[:5]))
            raise SheetFileError(f"a {self.kind} figure has the unknown fields {names}")

    def number(self, key: str, default: float | None = None) -> float:
        value = self.data.get(key, default)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise self.error(key, "a number")
        if not math.isfinite(value) or abs(value) > 1e12:
            raise self.error(key, "a finite number")
        self.data.pop(key, None)
        return float(value)

    def positive(self, key: str) -> float:
        value = self.data.get(key)
        number = self.number(key)
        if number <= 0:
            self.data[key] = value
            raise self.error(key, "a number above 0")
        return number

    def text(self, key: str, default: str = "") -> str:
        value = self.data.get(key, default)
        if value is None:
            value = default
        if not isinstance(value, str):
            raise self.error(key, "text")
        self.data.pop(key, None)
        return value if len(value) <= LONGEST_LABEL else value[: LONGEST_LABEL - 1] + "…"

    def flag(self, key: str) -> bool:
        value = self.data.get(key, False)
        if not isinstance(value, bool):
            raise self.error(key, "true or false")
        self.data.pop(key, None)
        return value

    def numbers(
        self, key: str, at_least: int = 0, at_most: int = LARGEST_SERIES
    ) -> tuple[float, ...]:
        value = self.data.get(key, [])
        if not isinstance(value, (list, tuple)) or not at_least <= len(value) <= at_most:
            raise self.error(key, f"a list of {at_least} to {at_most} numbers")
        read = tuple(_Fields({"kind": self.kind, key: item}).number(key) for item in value)
        self.data.pop(key, None)
        return read

    def items(self, key: str, read: Callable[[_Fields], T]) -> tuple[T, ...]:
        value = self.data.get(key) or []
        if not isinstance(value, (list, tuple)) or len(value) > MOST_ITEMS:
            raise self.error(key, f"a list of at most {MOST_ITEMS} items")
        found: list[T] = []
        for item in value:
            if not isinstance(item, Mapping):
                raise self.error(key, "a list of mappings")
            inner = _Fields({**item, "kind": f"{self.kind} {key}"})
            found.append(read(inner))
            inner.all_used()
        self.data.pop(key, None)
        return tuple(found)

    def labels(self, key: str) -> dict[str, str]:
        value = self.data.get(key) or {}
        if not isinstance(value, Mapping) or len(value) > 20:
            raise self.error(key, "a mapping of at most 20 labels")
        inner = _Fields({**value, "kind": f"{self.kind} {key}"})
        self.data.pop(key, None)
        return {str(name): inner.text(name) for name in value if name != "kind"}


def _at(fields: _Fields) -> At:
    return At(
        fields.number("x"),
        fields.text("label"),
        fields.number("y", 0.0),
        fields.number("size", 1.0),
    )


def _stretch(fields: _Fields) -> Stretch:
    return Stretch(fields.number("start"), fields.number("end"), fields.text("label"))


def _series(fields: _Fields) -> Series:
    return Series(fields.text("label"), fields.numbers("y", 1))


def _free_body(fields: _Fields) -> FreeBody:
    span = fields.positive("span")
    return FreeBody(
        span, fields.text("length_unit", "ft"), fields.numbers("supports", 0, 50),
        fields.items("loads", _at), fields.items("uniform", _stretch),
        fields.items("reactions", _at), fields.items("dimensions", _stretch),
        fields.items("marks", _at),
    )  # fmt: skip


def _curves(fields: _Fields) -> Curves:
    curves = Curves(
        fields.numbers("x", 2), fields.text("x_label"), fields.text("y_label"),
        fields.items("series", _series), fields.items("marks", _at), fields.flag("invert_y"),
    )  # fmt: skip
    for series in curves.series:
        if len(series.y) != len(curves.x):
            raise SheetFileError(
                f"curve {series.label!r} has {len(series.y)} ordinates for "
                f"{len(curves.x)} abscissas"
            )
    if not curves.series:
        raise SheetFileError("a curves figure has no series; give at least one")
    return curves


def _influence(fields: _Fields) -> Influence:
    line = Influence(
        fields.numbers("x", 2), fields.numbers("y", 2), fields.items("loads", _at),
        fields.text("x_label"), fields.text("y_label"),
    )  # fmt: skip
    if len(line.x) != len(line.y):
        raise SheetFileError(
            f"an influence line has {len(line.y)} ordinates for {len(line.x)} abscissas"
        )
    return line


def _bridge_section(fields: _Fields) -> BridgeSection:
    girders = fields.numbers("girders", 1, 60)
    deck = fields.numbers("deck", 2, 2)
    if deck[1] <= deck[0]:
        raise SheetFileError(f"the deck of a bridge section runs from {deck[0]:g} to {deck[1]:g}")
    return BridgeSection(
        girders, (deck[0], deck[1]), fields.positive("thickness"),
        fields.number("barrier_width", 0.0), fields.positive("depth"), fields.positive("flange"),
        fields.labels("labels"), fields.items("walks", _stretch), fields.items("rails", _stretch),
        fields.numbers("barriers", 0, 2), fields.numbers("roadway", 0, 2),
    )  # fmt: skip


def _block(fields: _Fields) -> Block:
    return Block(
        fields.number("bottom"), fields.positive("height"), fields.number("width"),
        fields.text("label"),
    )  # fmt: skip


def _girder_section(fields: _Fields) -> GirderSection:
    girder = GirderSection(
        fields.text("length_unit", "in"), fields.items("plates", _block),
        fields.items("slab", _block), fields.items("bars", _at), fields.items("elastic", _at),
        fields.items("plastic", _at), fields.items("stress", _block),
        fields.items("depths", _stretch),
    )  # fmt: skip
    if not girder.plates or min(plate.width for plate in girder.plates) <= 0:
        raise SheetFileError("a girder section wants plates, each wider than 0")
    if len(girder.slab) > 1 or any(slab.width <= 0 for slab in girder.slab):
        raise SheetFileError("a girder section has at most one slab, wider than 0")
    return girder

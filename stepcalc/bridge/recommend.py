"""Alternatives to a rolled beam, each a full check through the same graph.

Nothing here knows a formula of a code: every shape, span and spacing that is tried runs through all
steps and checks of the sheet at hand (:meth:`stepcalc.sheet.Sheet.evaluate`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.data.tables import table
from stepcalc.units import ft

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from stepcalc.sheet.sheet import Sheet

SHAPES = "w_shapes"
PASSES = 1.0 + 1e-9
_SERIES_GAP = 1.0
"""Flange widths of one nominal depth that differ by more, in inches, are another series."""
_POINTS = 400
_ROUNDS = 2


@dataclass(frozen=True)
class Alternative:
    """One shape with every check made again.

    Parameters
    ----------
    shape : str
        Name of the shape.
    weight : float
        Weight in lb/ft.
    ratios : mapping of str to float
        Demand over capacity of every check; not a number where undefined.
    in_range : bool
        Whether every formula is in its range of application.
    """

    shape: str
    weight: float
    ratios: Mapping[str, float]
    in_range: bool

    @property
    def governing(self) -> str:
        """Name of the check with the greatest ratio; an undefined one governs."""
        return max(self.ratios, key=lambda name: _or_infinity(self.ratios[name]))

    @property
    def worst(self) -> float:
        """The greatest ratio; infinite when a check is undefined."""
        return _or_infinity(self.ratios[self.governing])

    @property
    def passed(self) -> bool:
        """Whether every check passes within every formula's range."""
        return self.worst <= PASSES and self.in_range


@dataclass(frozen=True)
class Limit:
    """The greatest value of a dimension at which the given shape passes every check.

    Parameters
    ----------
    dimension, held : str
        What is varied and what stays, in words.
    value : float or None
        Greatest value in ft, rounded down to 0.01 ft; None if none was found in the range.
    governing : str or None
        The check that ends it; None if the range of application ends it.
    tried : tuple of float
        The range tried, ft.
    """

    dimension: str
    held: str
    value: float | None
    governing: str | None
    tried: tuple[float, float]


@dataclass(frozen=True)
class Recommendation:
    """What the search found.

    Parameters
    ----------
    given : Alternative
        The shape at hand.
    lightest : Alternative or None
        The lightest shape of the whole table that passes; None if none does.
    series : tuple of (str, Alternative or None)
        The lightest passing shape in each series of the same nominal depth.
    next_heavier : Alternative or None
        The next heavier shape of the same series, whether it passes or not.
    closest : Alternative
        The shape with the smallest greatest ratio.
    limits : tuple of Limit
        Greatest span and spacing of the shape at hand.
    """

    given: Alternative
    lightest: Alternative | None
    series: tuple[tuple[str, Alternative | None], ...]
    next_heavier: Alternative | None
    closest: Alternative
    limits: tuple[Limit, ...] = ()


def _or_infinity(ratio: float) -> float:
    return ratio if ratio == ratio else math.inf


def all_alternatives(sheet: Sheet, *, shape: str = "shape") -> tuple[Alternative, ...]:
    """Check every shape of the table on a sheet, in one evaluation.

    Parameters
    ----------
    sheet : Sheet
        A sheet with checks that follow a given shape.
    shape : str
        Name or path of that given.

    Returns
    -------
    tuple of Alternative
        One for each row, in the order of the table.
    """
    rows = table(SHAPES)
    paths = [check.path for check in sheet.checks]
    ranges = [f"{path}.in_range" for path in paths]
    found = sheet.evaluate({shape: np.arange(len(rows.names))}, outputs=[*paths, *ranges])
    count = (len(rows.names),)
    ratios = {path: np.broadcast_to(found[path], count) for path in paths}
    inside = np.all([np.broadcast_to(found[name], count) for name in ranges], axis=0)
    names = {check.path: check.name for check in sheet.checks}
    return tuple(
        Alternative(
            name,
            rows.value(name, "weight"),
            {names[path]: float(values[row]) for path, values in ratios.items()},
            bool(inside[row]),
        )
        for row, name in enumerate(rows.names)
    )


def series_of(shape: str) -> dict[str, tuple[str, ...]]:
    """Return the series of the nominal depth of a shape.

    A nominal depth such as W36 has one series for each range of flange width.

    Parameters
    ----------
    shape : str
        Name of a shape.

    Returns
    -------
    dict of str to tuple of str
        Shapes of each series from light to heavy, under a name such as
        ``"W36, flange about 12 in"``.
    """
    rows = table(SHAPES)
    family = rows.names[rows.row_number(shape)].split("X")[0]
    members = [name for name in rows.names if name.split("X")[0] == family]
    members.sort(key=lambda name: rows.value(name, "bf"))
    groups: list[list[str]] = []
    for name in members:
        wide = rows.value(name, "bf")
        if not groups or wide - rows.value(groups[-1][-1], "bf") > _SERIES_GAP:
            groups.append([])
        groups[-1].append(name)
    for group in groups:
        group.sort(key=lambda name: (rows.value(name, "weight"), name))
    return {
        f"{family}, flange about {_about(rows.value(group[0], 'bf'))} in": tuple(group)
        for group in groups
    }


def _about(width: float) -> str:
    return f"{round(2 * width) / 2:g}"


def recommend(sheet: Sheet, *, shape: str = "shape") -> Recommendation:
    """Search the table for shapes that pass every check of a sheet.

    Parameters
    ----------
    sheet : Sheet
        A sheet with checks that follow a given shape.
    shape : str
        Name or path of that given.

    Returns
    -------
    Recommendation
        Without the limits of span and spacing; see :func:`greatest`.
    """
    found = {item.shape: item for item in all_alternatives(sheet, shape=shape)}
    given = found[sheet[shape].value]
    groups = series_of(given.shape)
    own = next(group for group in groups.values() if given.shape in group)
    heavier = [name for name in own if found[name].weight > given.weight]
    return Recommendation(
        given=given,
        lightest=_lightest(found.values()),
        series=tuple(
            (label, _lightest(found[name] for name in group)) for label, group in groups.items()
        ),
        next_heavier=found[heavier[0]] if heavier else None,
        closest=min(found.values(), key=lambda item: (not item.in_range, item.worst)),
    )


def _lightest(items: Any) -> Alternative | None:
    passing = [item for item in items if item.passed]
    return min(passing, key=lambda item: (item.weight, item.worst), default=None)


def _down(value: float) -> float:
    return math.floor(value * 100 + 1e-6) / 100


def greatest(
    sheet: Sheet,
    name: str,
    *,
    dimension: str,
    held: str,
    within: tuple[float, float],
    along: Mapping[str, Callable[[NDArray[np.float64]], NDArray[np.float64]]] | None = None,
) -> Limit:
    """Find the greatest value of a length at which every check passes, next to the present one.

    From the present value the search goes up while the checks pass, or down until they do, so that
    no value between is skipped.

    Parameters
    ----------
    sheet : Sheet
        The calculation.
    name : str
        The given that is varied, a length.
    dimension, held : str
        What is varied and what stays, in words.
    within : pair of float
        Least and greatest value tried, ft.
    along : mapping of str to callable, optional
        Other lengths that change with it: a function of the varied one, both in ft.

    Returns
    -------
    Limit
        The greatest value, rounded down to 0.01 ft and checked again there.
    """
    low, high = within
    present = float(sheet[name].value.to(ft).magnitude)

    def passing(values: NDArray[np.float64]) -> NDArray[np.bool_]:
        inputs: dict[str, Any] = {name: values * ft}
        for other, rule in (along or {}).items():
            inputs[other] = rule(values) * ft
        return _passing(sheet, inputs)

    start = min(max(present, low), high)
    upward = bool(passing(np.array([start]))[0])
    inner, outer = start, high if upward else low
    for _ in range(_ROUNDS + 1):
        values = np.linspace(inner, outer, _POINTS + 1)
        passes = passing(values)
        changes = np.flatnonzero(passes != upward)
        if not changes.size:
            if upward:
                return Limit(dimension, held, _down(outer), None, within)
            return Limit(dimension, held, None, None, within)
        first = int(changes[0])
        inner, outer = float(values[first - 1]), float(values[first])
    best = round(inner if upward else outer, 2)
    while best >= low and not passing(np.array([best]))[0]:
        best = round(best - 0.01, 2)
    beyond = {name: round(best + 0.01, 2) * ft}
    for other, rule in (along or {}).items():
        beyond[other] = float(rule(np.array(round(best + 0.01, 2)))) * ft
    fails = sheet.revise(beyond)
    governs = fails.governing
    over = governs.name if governs is not None and not governs.passed else None
    return Limit(dimension, held, best if best >= low else None, over, within)


def fewest_girders(
    sheet: Sheet,
    *,
    girders: str,
    spacing: str,
    between_exteriors: float,
    within: tuple[float, float],
    held: str,
) -> Limit:
    """Find the fewest girders of the given shape on a deck of given width.

    Parameters
    ----------
    sheet : Sheet
        The calculation.
    girders, spacing : str
        The givens that are varied together.
    between_exteriors : float
        Distance between the exterior girders, ft, which stays.
    within : pair of float
        Least and greatest spacing tried, ft.
    held : str
        What stays, in words.

    Returns
    -------
    Limit
        The spacing of the fewest girders that pass every check; `held` says how many they are.
    """
    low, high = within
    counts = np.arange(3, 41)
    spaces = between_exteriors / (counts - 1)
    inside = (spaces >= low) & (spaces <= high)
    counts, spaces = counts[inside], spaces[inside]
    dimension = "girder spacing with more or fewer girders"
    if not counts.size:
        return Limit(dimension, held, None, None, within)
    passes = _passing(sheet, {girders: counts.astype(float), spacing: spaces * ft})
    if not passes.any():
        return Limit(dimension, held, None, None, within)
    first = int(np.flatnonzero(passes)[0])
    governs = None
    if first:
        worse = {girders: float(counts[first - 1]), spacing: float(spaces[first - 1]) * ft}
        check = sheet.revise(worse).governing
        governs = check.name if check is not None and not check.passed else None
    return Limit(
        dimension, f"{held}: {counts[first]} girders", float(spaces[first]), governs, within
    )


def _passing(sheet: Sheet, inputs: Mapping[str, Any]) -> NDArray[np.bool_]:
    paths = [check.path for check in sheet.checks]
    ranges = [f"{path}.in_range" for path in paths]
    found = sheet.evaluate(inputs, outputs=[*paths, *ranges])
    passes: NDArray[np.bool_] = np.array(True)
    for path, inside in zip(paths, ranges, strict=True):
        passes = passes & (np.asarray(found[path]) <= PASSES)
        passes = passes & np.asarray(found[inside], dtype=bool)
    return passes

"""Where moments of many girders are largest along a span, all girders at once.

The section is given as a fraction of the span, to a millionth: at a peak the moment does not change
by as little, and a printed number can be typed in again.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_values import StandingLoads, live_values, load_values
from stepcalc.analysis.beam_batch import solved_batch
from stepcalc.analysis.contraflexure import in_zones, joint_moments, zones_of
from stepcalc.analysis.peak_search import moment_curvature, peak_sections
from stepcalc.bridge.continuous.at_once import pieces_of, same_loads
from stepcalc.bridge.continuous.girder import factored
from stepcalc.bridge.continuous.girder_inputs import DEAD, FACTORS, NO_SETTLEMENT
from stepcalc.bridge.continuous.layout import batch_of
from stepcalc.bridge.continuous.stage_loads import EVERYWHERE
from stepcalc.bridge.continuous.stages_at_once import standing_loads
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams
    from stepcalc.analysis.line_family import Effect
    from stepcalc.analysis.load_case import LoadCase

__all__ = ["extremes_at_once", "girder_sections_at_once", "live_sections_at_once", "rests"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
DIGITS = 6
_MOST_KEPT = 64
_PEAKS: OrderedDict[tuple[bytes, int], Array] = OrderedDict()


def live_sections_at_once(load: str, impact: Array, spans: Array, layout: str, span: int) -> Array:
    """Return where in a span the largest moment of one live load is largest.

    Parameters
    ----------
    load : str
        See `load_cases`.
    impact : ndarray of float, shape (n,)
    spans : ndarray of float, shape (n, spans), ft
    layout : str
        See `read_layout`.
    span : int
        Counted from 1.

    Returns
    -------
    ndarray of float, shape (n,)
        Fraction of the span.

    Raises
    ------
    RangeError
        If there is no such span, or a text cannot be read.
    """
    found = np.full(len(spans), np.nan)
    for rows, cases, factors in same_loads(load, impact, spans):
        for part in pieces_of(spans[rows]):
            picked = rows[part]
            loaded = _Loaded.of(spans[picked], layout, cases, _part(factors, part))
            low, high = loaded.span(span)

            def value(which: Integers, x: Array, loaded: _Loaded = loaded) -> Array:
                return loaded.live("moment", which, x, np.ones(len(x), dtype=np.int64), 1)

            peaks = peak_sections(value, low, high, loaded.curvature(span - 1))
            found[picked] = _fraction(peaks.section, low, high)
    return found


def rests(inputs: dict[str, Any]) -> bool:
    """Tell whether no support of a girder settles."""
    return bool(inputs["settlements"] == NO_SETTLEMENT)


def girder_sections_at_once(spans: Array, **inputs: Any) -> Array:
    """Return where in a span the factored positive moment of girders is largest.

    Parameters
    ----------
    spans : ndarray of float, shape (n, spans), ft
    **inputs
        Those of the procedures of one girder (`girder_inputs`), numbers as arrays of shape (n,),
        and ``place``: the span, counted from 1.

    Returns
    -------
    ndarray of float, shape (n,)
        Fraction of the span.
    """
    span, found = int(inputs["place"]), np.full(len(spans), np.nan)
    for rows, girders in _girders(spans, inputs):
        low, high = girders.loaded.span(span)
        found[rows] = _fraction(girders.peaks(span), low, high)
    return found


def extremes_at_once(effect: Effect, spans: Array, **inputs: Any) -> Array:
    """Return the extreme factored moment or shear along girders that do not settle.

    Parameters
    ----------
    effect : "moment" or "shear"
    spans, **inputs
        As for `girder_sections_at_once`, without ``place``, and ``which``: "max" or "min".

    Returns
    -------
    ndarray of float, shape (n,)
        Of tenth points, both sides of supports, and for moment the peaks of all spans.
    """
    if inputs["which"] not in ("max", "min"):
        raise RangeError(f"which is 'max' or 'min', not {inputs['which']!r}")
    sign, found = 1 if inputs["which"] == "max" else -1, np.full(len(spans), np.nan)
    for rows, girders in _girders(spans, inputs):
        x, faces = girders.sections(effect)
        which = np.repeat(np.arange(len(x)), x.shape[1])
        sides = np.tile(faces, len(x))
        values = girders.factored(effect, which, x.ravel(), sides, sign).reshape(x.shape)
        found[rows] = values.max(axis=1) if sign > 0 else values.min(axis=1)
    return found


@dataclass(frozen=True, eq=False)
class _Loaded:
    """Solved beams and the live load on them."""

    model: SolvedBeams
    cases: tuple[LoadCase, ...]
    factors: tuple[Array, Array] | None

    @classmethod
    def of(
        cls,
        spans: Array,
        layout: str,
        cases: tuple[LoadCase, ...],
        factors: tuple[Array, Array] | None,
    ) -> _Loaded:
        return cls(solved_batch(batch_of(spans, layout)), cases, factors)

    def span(self, number: int) -> tuple[Array, Array]:
        joints = self.model.batch.joints
        if not 1 <= number < joints.shape[1]:
            raise RangeError(f"there is no span {number}; the beam has {joints.shape[1] - 1}")
        return joints[:, number - 1], joints[:, number]

    def curvature(self, span: int) -> Array:
        found = moment_curvature(self.model, self.cases, span)
        if self.factors is None:
            return found
        largest = np.array([[case.axle_factor for case in self.cases]]).max()
        return np.asarray(found * self.factors[0].max(axis=0) / largest if largest else found)

    def live(self, effect: Effect, which: Integers, x: Array, faces: Integers, sign: int) -> Array:
        factors = self.factors
        if factors is not None:
            factors = factors[0][:, which], factors[1][:, which]
        return live_values(
            self.model, self.cases, effect, x, faces, which, sign=sign, factors=factors
        )


@dataclass(frozen=True, eq=False)
class _Stage:
    """One stage of dead load: its uniform load, and moments over joints or what else stands."""

    load: Array
    model: SolvedBeams
    moments: Array | None
    loads: StandingLoads | None

    @classmethod
    def of(cls, spans: Array, layout: str, text: str, load: Array) -> _Stage:
        model = solved_batch(batch_of(spans, layout))
        if text == EVERYWHERE:
            return cls(load, model, joint_moments(model), None)
        return cls(load, model, None, standing_loads(text, spans, load))

    @property
    def bend(self) -> Array:
        """Load per length that may stand at one place: how much moments bend."""
        if self.loads is None:
            return np.abs(self.load)
        return np.asarray(np.abs(self.loads.stretches[..., 2:]).max(axis=2).sum(axis=1))

    def value(
        self, effect: Effect, which: Integers, span: Integers, x: Array, faces: Integers
    ) -> Array:
        if self.loads is not None:
            return load_values(self.model, effect, x, faces, which, self.loads)
        assert self.moments is not None
        joints = self.model.batch.joints
        L, t = joints[which, span + 1] - joints[which, span], x - joints[which, span]
        left, right = self.moments[which, span], self.moments[which, span + 1]
        one = left + (right - left) * t / L + t * (L - t) / 2
        if effect == "shear":
            one = (right - left) / L + L / 2 - t
        most = np.abs(self.moments).max(axis=1)[which] + L**2 / 8
        return np.asarray(self.load[which] * np.where(np.abs(one) <= 1e-12 * most, 0, one))


@dataclass(frozen=True, eq=False)
class _Girders:
    """Girders of one layout: live load, stages of dead load, and numbers of shape (n,)."""

    loaded: _Loaded
    stages: tuple[_Stage, ...]
    numbers: dict[str, Array]
    name: bytes

    def _share(self, x: Array, which: Integers, sign: int) -> Array:
        """Return the lanes on the girder for the largest or the smallest moment."""
        batch = self.loaded.model.batch
        span = self._span(x, which)
        share = np.stack([self.numbers[f"g_positive_{i + 1}"] for i in range(self._count)], axis=1)
        found = share[which, span]
        if sign > 0:
            return found
        starts, ends = zones_of(self.loaded.model)
        near = 1e-9 * batch.length[which]
        inside = in_zones(starts[which], ends[which], x, near)
        first = batch.support_joints.start
        for pier in range(inside.shape[1]):
            own = self.numbers[f"g_negative_{first + pier + 1}"][which]
            found = np.where(inside[:, pier], own, found)
        return found

    @property
    def _count(self) -> int:
        return len(self.loaded.model.batch.joint_nodes) - 1

    def _span(self, x: Array, which: Integers, faces: Integers | None = None) -> Integers:
        batch = self.loaded.model.batch
        side = 1 if faces is None else faces
        reach = x + 1e-9 * batch.length[which] * side
        return np.asarray(np.sum(batch.joints[which, 1:-1] <= reach[:, None], axis=1))

    def permanent(self, effect: Effect, which: Integers, x: Array, faces: Integers) -> Array:
        """Return DC1, DC2, DW and no settlement."""
        span = self._span(x, which, faces if effect == "shear" else None)
        rows = [stage.value(effect, which, span, x, faces) for stage in self.stages]
        return np.array([*rows, np.zeros(len(x))])

    def factored(
        self, effect: Effect, which: Integers, x: Array, faces: Integers, sign: int
    ) -> Array:
        live = self.loaded.live(effect, which, x, faces, sign)
        g = self._share(x, which, sign) if effect == "moment" else self.numbers["g_shear"][which]
        factors = tuple(self.numbers[name][which] for name in FACTORS)
        permanent = self.permanent(effect, which, x, faces)
        return factored(factors, permanent, g * live, g * live)[0 if sign > 0 else 1]

    def peaks(self, span: int) -> Array:
        """Return the section of the largest factored moment of a span, counted from 1.

        A sheet asks for it several times: for the section and for every extreme.
        """
        known = _PEAKS.get((self.name, span))
        if known is None:
            known = _PEAKS[self.name, span] = self._peaks(span)
            while len(_PEAKS) > _MOST_KEPT:
                _PEAKS.popitem(last=False)
        return known

    def _peaks(self, span: int) -> Array:
        n = self.numbers
        DC1, DC2, DW = (stage.bend for stage in self.stages)
        dead = (DC1 + DC2) * np.maximum(n["gamma_DC"], n["gamma_DCn"])
        dead = dead + DW * np.maximum(n["gamma_DW"], n["gamma_DWn"])
        live = n["gamma_LL"] * n[f"g_positive_{span}"] * self.loaded.curvature(span - 1)
        curvature = np.maximum(n["eta"], n["eta_i"]) * (dead + live)

        def value(which: Integers, x: Array) -> Array:
            return self.factored("moment", which, x, np.ones(len(x), dtype=np.int64), 1)

        low, high = self.loaded.span(span)
        inset = 1e-9 * (high - low)  # the lanes on the girder are those of this span
        return peak_sections(value, low + inset, high - inset, curvature).section

    def sections(self, effect: Effect) -> tuple[Array, Integers]:
        """Return tenth points of all spans, and for moment their peaks; faces, one a column."""
        joints = self.loaded.model.batch.joints
        columns, faces = [], []
        for span in range(self._count):
            low, high = joints[:, span], joints[:, span + 1]
            columns += [low + (high - low) * i / 10 for i in range(11)]
            faces += [1] * 10 + [-1]
            if effect == "moment":
                share = _fraction(self.peaks(span + 1), low, high)
                columns.append(low + share * (high - low))
                faces.append(1)
        side = np.array(faces) if effect == "shear" else np.ones(len(faces), dtype=np.int64)
        return np.stack(columns, axis=1), side


def _girders(spans: Array, inputs: dict[str, Any]) -> Iterator[tuple[Integers, _Girders]]:
    numbers = {name: value for name, value in inputs.items() if isinstance(value, np.ndarray)}
    for rows, cases, factors in same_loads(inputs["load"], numbers["impact"], spans):
        for part in pieces_of(spans[rows]):
            picked = rows[part]
            own = spans[picked]
            loaded = _Loaded.of(own, inputs["layout"], cases, _part(factors, part))
            some = {name: value[picked] for name, value in numbers.items()}
            stages = tuple(
                _Stage.of(own, inputs[f"layout_{name}"], inputs[f"loads_{name}"], some[name])
                for name in DEAD
            )
            texts = {k: v for k, v in inputs.items() if isinstance(v, str)}
            words = [texts[k] for k in sorted(texts) if k not in ("which", "place")]
            yield picked, _Girders(loaded, stages, some, _digest(own, some, words))


def _digest(spans: Array, numbers: dict[str, Array], words: list[str]) -> bytes:
    """Return a name for girders, by all that they depend on."""
    found = hashlib.blake2b(repr((spans.shape, words, list(numbers))).encode())
    for array in (spans, *numbers.values()):
        found.update(array.tobytes())
    return found.digest()


def _part(factors: tuple[Array, Array] | None, part: slice) -> tuple[Array, Array] | None:
    return None if factors is None else (factors[0][:, part], factors[1][:, part])


def _fraction(x: Array, low: Array, high: Array) -> Array:
    return np.round((x - low) / (high - low), DIGITS)

"""The lever rule as numerical procedures proved by placed wheels: exterior and interior girder."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.lanes import lever_proofs as proofs
from stepcalc.bridge.lanes.wheels import (
    check_lanes,
    exterior_arms,
    interior_distances,
    largest_with_presence,
)
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["EXTERIOR_LEVER", "EXTERIOR_LEVER_MORE", "INTERIOR_LEVER_MORE"]


def _plain(value: Any) -> Any:
    return float(value) if np.ndim(value) == 0 else value


def _reaction(arms: Sequence[Any], spacing: Any) -> Any:
    return sum(np.maximum(arm, 0.0) for arm in arms) / 2 / np.asarray(spacing)


def _one(spacing: Any, curb: Any, first: Any, lane: Any, lanes: str) -> Any:
    arms = exterior_arms(spacing, curb, first, lane, check_lanes(float(lanes)))
    return _plain(_reaction(arms, spacing))


def _exterior(
    spacing: Any, curb: Any, first: Any, lane: Any, lanes: Any, m_1: Any, m_2: Any, m_3: Any,
    m_4: Any,
) -> Any:  # fmt: skip
    most = check_lanes(lanes)
    arms = exterior_arms(spacing, curb, first, lane, most)
    reactions = [_reaction(arms[: 2 * count], spacing) for count in range(1, most + 1)]
    return largest_with_presence(reactions, (m_1, m_2, m_3, m_4), lanes)


def _interior(
    spacing: Any, lanes: Any, girders: Any, m_1: Any, m_2: Any, m_3: Any, m_4: Any
) -> Any:
    del girders  # only the proof asks whether the rule is needed
    reactions: list[Any] = []
    S = np.asarray(spacing)
    for pair in interior_distances(check_lanes(lanes)):
        share = sum(np.maximum(1 - distance / S, 0.0) for distance in pair) / 2
        reactions.append(share + (reactions[-1] if reactions else 0.0))
    return largest_with_presence(reactions, (m_1, m_2, m_3, m_4), lanes)


_EXTERIOR = {"spacing": "ft", "curb": "ft", "first": "ft", "lane": "ft"}
_PRESENCE: dict[str, str | None] = dict.fromkeys(("m_1", "m_2", "m_3", "m_4"))

EXTERIOR_LEVER = register_kernel(
    Kernel(
        "lever rule: exterior girder",
        1,
        _one,
        _EXTERIOR | {"lanes": "choice"},
        None,
        {"wheels": proofs.exterior_of_a_number},
        "wheel lines between hinge and curb, each P/2 times its distance to the hinge over S",
    )
)
"""Lanes on an exterior girder by the lever rule, without multiple presence."""

EXTERIOR_LEVER_MORE = register_kernel(
    Kernel(
        "lever rule: exterior girder, every number of lanes",
        1,
        _exterior,
        _EXTERIOR | {"lanes": None} | _PRESENCE,
        None,
        {
            "wheels": proofs.exterior_of_every_number,
            "wheels, Standard Specifications": partial(
                proofs.exterior_of_every_number, rules=proofs.STANDARD_RULES
            ),
        },
        "the lever rule with two lanes and with every further number that fits, each with its "
        "multiple presence; the largest",
    )
)
"""Lanes on an exterior girder by the lever rule, two lanes or more, with multiple presence."""

INTERIOR_LEVER_MORE = register_kernel(
    Kernel(
        "lever rule: interior girder, every number of lanes",
        1,
        _interior,
        {"spacing": "ft", "lanes": None, "girders": None} | _PRESENCE,
        None,
        {"wheels": proofs.interior_of_every_number},
        "wheel lines within one spacing on either side, 1 - x/S each, with two lanes and every "
        "further number that fits, each with its multiple presence; the largest",
    )
)
"""Lanes on an interior girder by the lever rule, two lanes or more, with multiple presence."""

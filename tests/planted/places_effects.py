"""Errors planted in force effects of any spans: loads, lanes, combinations."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/"

EFFECTS = [
    *places(
        "bridge/continuous/layout.py",
        f"{_UNIT}test_continuous_kernels.py",
        ("return starts[span - 1] + min(", "return starts[span - 1] + 0.99 * min("),
    ),
    *places(
        "bridge/continuous/girder.py",
        f"{_UNIT}test_continuous_kernels.py {_UNIT}test_continuous_effects.py",
        ("np.where(inside, loads.negative[nearest], negative)", "negative"),
        ("dc_max, dw_max, live, se = eta * dc_max", "dc_max, dw_max, live, se = dc_max"),
    ),
    *places(
        "bridge/continuous/spans.py",
        f"{_UNIT}test_continuous_effects.py",
        ("(spans[i - 1] + spans[i]) / 2", "spans[i - 1]"),
    ),
    *places(
        "bridge/continuous/girder_reactions.py",
        f"{_UNIT}test_continuous_effects.py",
        ('("LL", 0.0, "max"', '("LL", writer.impact, "max"'),
    ),
    *places(
        "bridge/lanes/exterior.py",
        f"{_UNIT}test_lanes.py",
        ("0.77 + x / 9.1", "0.77 + x / 9.7"),
        ("0.6 + x / 10", "0.6 + x / 9.1"),
    ),
    *places(
        "bridge/lanes/rigid.py",
        f"{_UNIT}test_lanes.py",
        ("FIRST_TRUCK = 5.0", "FIRST_TRUCK = 2.0"),
        ("(N**2 - 1) / 12", "(N**2 + 1) / 12"),
        ("curb - FIRST_TRUCK - k * np.asarray(lane)", "curb - FIRST_TRUCK - np.asarray(lane)"),
    ),
    *places(
        "bridge/lanes/walk.py",
        f"{_UNIT}test_lanes.py",
        ("_m(sheet, count + 1) * (R", "_m(sheet, count) * (R"),
        ("deck.curb + walk", "deck.curb - walk"),
    ),
    *places(
        "bridge/lanes/wheels.py",
        f"{_UNIT}test_lanes.py",
        ("WHEELS = (0.0, 6.0)", "WHEELS = (0.0, 4.0)"),
        ("near = 2 * _EDGE + (away * _LANE)", "near = _EDGE + (away * _LANE)"),
        ("factors[min(lanes, len(factors)) - 1]", "factors[min(lanes, len(factors) - 1) - 1]"),
    ),
    *places(
        "bridge/lanes/skew.py",
        f"{_UNIT}test_lanes.py",
        ("tan(limited) ** 1.5", "tan(limited)"),
        ("1 + 0.20 * (1 / k) ** 0.3", "1 + 0.20 * k**0.3"),
    ),
    *places(
        "bridge/limit_states.py",
        f"{_UNIT}test_limit_states.py",
        ("eta_i * factors.DC_least * D", "eta * factors.DC * D"),
        ("factors.DC_4 * D + factors.DW_4", "factors.DC * D + factors.DW_4"),
    ),
    *places(
        "bridge/load_groups.py",
        f"{_UNIT}test_limit_states.py",
        ("rules.infinite * (largest - smallest)", "rules.infinite * largest"),
    ),
    *places(
        "bridge/shared_loads.py",
        f"{_UNIT}test_shared_loads.py",
        ("parts = [2 / girders * weight] * 3", "parts = [1 / girders * weight] * 3"),
        ("(spacing / 2 + overhang)", "(spacing + overhang)"),
        ("if place else girders) <= first", "if place else girders) < first"),
    ),
    *places(
        "bridge/deck_shares.py",
        f"{_UNIT}test_deck_loads.py",
        ("inner = beyond / spacing", "inner = 0.5 * beyond / spacing"),
        ("(a + z) / 2, spacing", "a, spacing"),
    ),
    *places(
        "bridge/sidewalks.py",
        f"{_UNIT}test_deck_loads.py",
        ("walk.edge - bridge.overhang", "bridge.overhang - walk.edge"),
        ('g_1 / use(sheet, "m_1") * one_lane', "g_1 * one_lane"),
    ),
    *places(
        "bridge/rating/factors.py",
        f"{_UNIT}test_rating.py",
        ("maximum(c, least)", "maximum(c * s, least)"),
        ('(trucks - 1000) / 4000, "between"', '(trucks - 1000) / 5000, "between"'),
    ),
    *places(
        "bridge/rating/composite.py",
        f"{_UNIT}test_rating.py",
        ('f_bDC2"] + of[f"{_STRESS}/f_bDW', 'f_bDC2"] - of[f"{_STRESS}/f_bDW'),
        ('use(sheet, "c_SIIc")', 'use(sheet, "phi_f")'),
    ),
    *places(
        "bridge/rating/posting.py",
        f"{_UNIT}test_rating.py",
        ("_TON = 2", "_TON = 1"),
        ("/ 0.7 * (factor - 0.3)", "* factor"),
    ),
    *places(
        "bridge/rating/formula.py",
        f"{_UNIT}test_rating.py",
        ("shares[0] * (1 + impact) * M_v", "(1 + impact) * M_v"),
        ("capacity if dead is None else capacity - dead", "capacity"),
    ),
    *places(
        "bridge/older_groups.py",
        f"{_UNIT}test_older_groups.py",
        ("else group.wind * loads.wind", "else loads.wind"),
        ('"III", True, 0.3, True, False', '"III", True, 0.3, True, True'),
        ('use(sheet, "n_IA") * L', "L"),
    ),
    *places(
        "bridge/combinations.py",
        f"{_UNIT}test_deck_loads.py",
        ("total if eta is None else eta * total", "total"),
        ('use(sheet, "gamma_D4") * (DC1 + DC2)', 'use(sheet, "gamma_DC") * (DC1 + DC2)'),
    ),
]
"""Errors in force effects, each with the tests that must see it."""

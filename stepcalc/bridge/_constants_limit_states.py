"""Load factors of all limit states, from memory: (symbol, value, unit, meaning, article).

LRFD 8th edition (2017) unless the meaning names another; Standard Specifications 17th edition.
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

LRFD_LIMIT_STATES: tuple[Row, ...] = (
    ("gamma_DCn", 0.90, None, "smallest load factor, components", "LRFD Table 3.4.1-2"),
    ("gamma_DWn", 0.65, None, "smallest load factor, wearing surface", "LRFD Table 3.4.1-2"),
    ("gamma_LL2", 1.35, None, "load factor, live load, Strength II", "LRFD 3.4.1"),
    ("gamma_LL5", 1.35, None, "load factor, live load, Strength V", "LRFD 3.4.1"),
    ("gamma_D4", 1.50, None, "load factor, components, Strength IV", "LRFD 3.4.1"),
    ("gamma_W4", 1.50, None, "load factor, wearing surface, Strength IV", "LRFD 3.4.1"),
    ("gamma_SE", 1.00, None, "load factor, settlement, where it is worse", "LRFD 3.4.1"),
    ("gamma_WL", 1.00, None, "load factor, wind on live load", "LRFD 3.4.1"),
    ("gamma_SI", 1.00, None, "load factor, live load, Service I", "LRFD 3.4.1"),
    ("eta_D", 1.00, None, "load modifier, ductility", "LRFD 1.3.3"),
    ("eta_R", 1.00, None, "load modifier, redundancy", "LRFD 1.3.4"),
    ("eta_I", 1.00, None, "load modifier, importance", "LRFD 1.3.5"),
    ("eta_min", 0.95, None, "least product of the load modifiers", "LRFD 1.3.2.1-2"),
    ("q_PL", 0.075, "ksf", "pedestrian load", "LRFD 3.6.1.6"),
    ("b_wheel", 2.0, "ft", "first wheel line to the curb", "LRFD 3.6.1.3.1"),
    ("b_gauge", 6.0, "ft", "distance of the wheel lines of a truck", "LRFD 3.6.1.2.2"),
    ("Z_mix", 1.20, None, "permit beside mixed traffic, no lever rule", "LRFD 4.6.2.2.5"),
)

STANDARD_LIMIT_STATES: tuple[Row, ...] = (
    ("beta_IA", 2.20, None, "live-load coefficient, Group IA", "Std 3.22.1"),
    ("beta_IB", 1.00, None, "live-load coefficient, Group IB", "Std 3.22.1"),
    ("gamma_V", 1.25, None, "load factor, Groups V and VI", "Std 3.22.1"),
    ("n_IA", 2.00, None, "live load in Group IA, allowable stress", "Std 3.22.1"),
    ("p_IA", 1.50, None, "share of basic allowable stress, Group IA", "Std 3.22.1"),
    (
        "p_IB",
        0.75 / 0.55,
        None,
        "share of basic allowable stress, Group IB, bending: operating over basic stress",
        "Std 3.22.1",
    ),
    ("p_II", 1.25, None, "share of basic allowable stress, Group II", "Std 3.22.1"),
    ("p_III", 1.25, None, "share of basic allowable stress, Group III", "Std 3.22.1"),
    ("p_IV", 1.25, None, "share of basic allowable stress, Group IV", "Std 3.22.1"),
    ("p_V", 1.40, None, "share of basic allowable stress, Group V", "Std 3.22.1"),
    ("p_VI", 1.40, None, "share of basic allowable stress, Group VI", "Std 3.22.1"),
)

"""Factors and limits for composite and general I-sections: (symbol, value, unit, meaning, article).

All of them are from memory (8th edition, 2017; Standard Specifications, 17th edition, 2002).
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

LRFD_COMPOSITE: tuple[Row, ...] = (
    ("c_PNA", 0.85, None, "stress block of the slab over f'_c", "LRFD D6.1"),
    ("F_cp_max", 70.0, "ksi", "greatest flange yield strength, compact", "LRFD 6.10.6.2.2"),
    ("r_Dp", 0.10, None, "greatest D_p/D_t for the full plastic moment", "LRFD 6.10.7.1.2"),
    ("c_My", 1.30, None, "greatest M_n over R_h M_y, continuous spans", "LRFD 6.10.7.1.2-3"),
    (
        "r_duct",
        0.42,
        None,
        "greatest depth to the plastic axis over the whole depth, ductility",
        "LRFD 6.10.7.3-1",
    ),
    ("c_slab", 0.60, None, "share of f'_c in the slab", "LRFD 6.10.7.2.1"),
    ("c_SIIc", 0.95, None, "share of yield, Service II, composite", "LRFD 6.10.4.2.2-1"),
    ("c_An", 0.84, None, "share of A_n F_u / A_g at bolt holes", "LRFD 6.10.1.8-1"),
    ("c_fl", 0.60, None, "share of yield, lateral flange bending", "LRFD 6.10.1.6-1"),
    ("C_b_max", 2.3, None, "greatest moment gradient modifier", "LRFD 6.10.8.2.3-7"),
    ("phi_dk", 0.90, None, "resistance factor, deck in tension", "LRFD 6.10.1.7, 5.5.4.2"),
    ("r_As", 0.01, None, "least reinforcement over deck area", "LRFD 6.10.1.7"),
)

STANDARD_COMPOSITE: tuple[Row, ...] = (
    ("c_over_c", 0.95, None, "share of yield, overload, composite", "Std 10.57.2"),
    ("c_fc", 0.40, None, "share of f'_c in the slab, working stress", "Std 8.15.2.1.1"),
    ("c_PNAs", 0.85, None, "stress block of the slab over f'_c", "Std 10.50.1.1.1"),
    ("c_Mys", 1.30, None, "greatest M_u over M_y, continuous spans", "Std 10.50.1.1.2"),
)

"""Factors and limits of the AASHTO LRFD specifications: (symbol, value, unit, meaning, article).

All of them are from memory (8th edition, 2017, US customary): nobody had the code open.  Where an
edition differs it is said in the meaning.
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

_LOADS: tuple[Row, ...] = (
    ("IM", 0.33, None, "dynamic load allowance, truck and tandem only", "LRFD 3.6.2.1"),
    ("w_lane", 0.64, "klf", "design lane load, no dynamic load allowance", "LRFD 3.6.1.2.4"),
    ("b_lane", 12.0, "ft", "width of a design lane", "LRFD 3.6.1.1.1"),
    ("m_1", 1.20, None, "multiple presence, one lane loaded", "LRFD 3.6.1.1.2"),
    ("m_2", 1.00, None, "multiple presence, two lanes loaded", "LRFD 3.6.1.1.2"),
    ("m_3", 0.85, None, "multiple presence, three lanes loaded", "LRFD 3.6.1.1.2"),
    ("m_4", 0.65, None, "multiple presence, four or more lanes loaded", "LRFD 3.6.1.1.2"),
    ("r_truck", 0.25, None, "share of the truck placed with the lane load", "LRFD 3.6.1.3.2"),
    ("gamma_DC", 1.25, None, "load factor, components, Strength I", "LRFD 3.4.1"),
    ("gamma_DW", 1.50, None, "load factor, wearing surface, Strength I", "LRFD 3.4.1"),
    ("gamma_LL", 1.75, None, "load factor, live load, Strength I", "LRFD 3.4.1"),
    ("gamma_SII", 1.30, None, "load factor, live load, Service II", "LRFD 3.4.1"),
    ("gamma_cD", 1.25, None, "load factor, dead load during construction", "LRFD 3.4.2.1"),
    ("gamma_cC", 1.50, None, "load factor, construction live load", "LRFD 3.4.2.1"),
    ("gamma_c2", 1.40, None, "load factor, dead and construction load together", "LRFD 3.4.2.1"),
    ("eta", 1.00, None, "load modifier, all three parts conventional", "LRFD 1.3.2"),
)

_MATERIAL: tuple[Row, ...] = (
    ("E", 29000.0, "ksi", "modulus of elasticity of steel", "LRFD 6.4.1"),
    ("F_A6_max", 70.0, "ksi", "greatest flange yield strength for Appendix A6", "LRFD 6.10.6.2.3"),
    ("theta_A6", 20.0, "degree", "greatest skew for Appendix A6", "LRFD 6.10.6.2.3"),
    ("t_w_min", 0.25, "inch", "least web thickness of a rolled beam", "LRFD 6.7.3"),
    ("t_f_min", 0.3125, "inch", "least thickness of structural steel", "LRFD 6.7.3"),
)

_RESISTANCE: tuple[Row, ...] = (
    ("phi_f", 1.00, None, "resistance factor, flexure", "LRFD 6.5.4.2"),
    ("phi_v", 1.00, None, "resistance factor, shear", "LRFD 6.5.4.2"),
    ("phi_b", 1.00, None, "resistance factor, bearing (web yielding)", "LRFD 6.5.4.2"),
    ("phi_w", 0.80, None, "resistance factor, web crippling", "LRFD 6.5.4.2"),
    ("R_h", 1.00, None, "hybrid factor, rolled shape", "LRFD 6.10.1.10.1"),
    ("k_v", 5.0, None, "shear-buckling coefficient, unstiffened web", "LRFD 6.10.9.2"),
    ("k_c", 0.76, None, "flange local buckling coefficient, rolled shape", "LRFD A6.3.2"),
)

_LIMITS: tuple[Row, ...] = (
    (
        "lambda_w_max",
        150.0,
        None,
        "greatest depth over thickness of a web without stiffeners along",
        "LRFD 6.10.2.1.1",
    ),
    ("lambda_f_max", 12.0, None, "greatest half flange over its thickness", "LRFD 6.10.2.2-1"),
    ("r_D_bf", 6.0, None, "greatest web depth over flange width", "LRFD 6.10.2.2-2"),
    ("r_tf_tw", 1.1, None, "least flange over web thickness", "LRFD 6.10.2.2-3"),
    (
        "r_Iy_min",
        0.1,
        None,
        "least inertia of the compression flange over the tension flange",
        "LRFD 6.10.2.2-4",
    ),
    (
        "r_Iy_max",
        10.0,
        None,
        "greatest inertia of the compression flange over the tension flange",
        "LRFD 6.10.2.2-4",
    ),
    (
        "r_A6_min",
        0.3,
        None,
        "least inertia of the compression flange over the tension flange for Appendix A6",
        "LRFD 6.10.6.2.3",
    ),
    ("c_SII", 0.80, None, "share of yield, Service II, non-composite", "LRFD 6.10.4.2.2-3"),
    ("r_LL", 800.0, None, "span over deflection, vehicles alone", "LRFD 2.5.2.6.2"),
    ("r_LLp", 1000.0, None, "span over live-load deflection, with pedestrians", "LRFD 2.5.2.6.2"),
    ("r_depth", 0.033, None, "least depth over span, steel alone, simple", "LRFD 2.5.2.6.3"),
)

LRFD_CONSTANTS: tuple[Row, ...] = _LOADS + _MATERIAL + _RESISTANCE + _LIMITS

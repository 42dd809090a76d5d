"""Factors and limits of details: (symbol, value, unit, meaning, article).

All of them are from memory (LRFD 8th edition, 2017, and 7th, 2014; Standard Specifications, 17th
edition, 2002).  What the two LRFD editions have differently carries a 7 for the older one.
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

_FATIGUE: tuple[Row, ...] = (
    ("IM_f", 0.15, None, "dynamic load allowance, fatigue and fracture", "LRFD 3.6.2.1"),
    ("gamma_FI", 1.75, None, "load factor, Fatigue I, 8th edition", "LRFD 3.4.1"),
    ("gamma_FII", 0.80, None, "load factor, Fatigue II, 8th edition", "LRFD 3.4.1"),
    ("T_life", 75.0, None, "design life, years", "LRFD 6.6.1.2.5"),
    ("p_1", 1.00, None, "share of trucks in one lane, one lane", "LRFD 3.6.1.4.2"),
    ("p_2", 0.85, None, "share of trucks in one lane, two lanes", "LRFD 3.6.1.4.2"),
    ("p_3", 0.80, None, "share of trucks in one lane, three or more", "LRFD 3.6.1.4.2"),
    ("r_dir", 0.55, None, "share of trucks in one direction", "LRFD C3.6.1.4.2"),
    ("n_near", 1.5, None, "cycles for each truck, near an interior support", "LRFD 6.6.1.2.5"),
    ("n_cant", 5.0, None, "cycles for each truck, cantilever girder", "LRFD 6.6.1.2.5"),
    ("n_short", 2.0, None, "cycles for each truck, short member", "LRFD 6.6.1.2.5"),
    ("r_near", 0.1, None, "near a support, share of the span", "LRFD 6.6.1.2.5"),
    ("ADTT_sc", 1090.0, None, "trucks from which studs need infinite life", "LRFD 6.10.10.2"),
    ("ADTT_ch", 2240.0, None, "trucks from which channels need it", "LRFD 6.10.10.2"),
)

LRFD_SEVENTH: tuple[Row, ...] = (
    ("gamma_FI7", 1.50, None, "load factor, Fatigue I, 7th edition", "LRFD 3.4.1"),
    ("gamma_FII7", 0.75, None, "load factor, Fatigue II, 7th edition", "LRFD 3.4.1"),
    ("L_n7", 40.0, "ft", "longest span with two cycles for each truck", "LRFD 6.6.1.2.5"),
    ("ADTT_sc7", 960.0, None, "trucks from which studs need infinite life", "LRFD 6.10.10.2"),
    ("ADTT_ch7", 1850.0, None, "trucks from which channels need it", "LRFD 6.10.10.2"),
    ("c_Mgs7", 0.50, None, "share of the global buckling moment", "LRFD 6.10.3.4.2"),
    ("gamma_WS37", 1.40, None, "wind load factor, Strength III, 7th edition", "LRFD 3.4.1"),
    ("gamma_WS17", 0.30, None, "wind load factor, Service I, 7th edition", "LRFD 3.4.1"),
    ("gamma_WS57", 0.40, None, "wind load factor, Strength V, 7th edition", "LRFD 3.4.1"),
)

_SHEAR: tuple[Row, ...] = (
    ("r_do_end", 1.5, None, "greatest length over depth of an end panel", "LRFD 6.10.9.3.3"),
    ("r_do", 3.0, None, "greatest length over depth of a stiffened panel", "LRFD 6.10.9.1"),
    (
        "r_do_l",
        1.5,
        None,
        "greatest length over depth of a panel with stiffeners along",
        "LRFD 6.10.9.1",
    ),
    ("r_fl_w", 2.5, None, "greatest web over flanges, full tension field", "LRFD 6.10.9.3.2-1"),
    ("J_min", 0.5, None, "least rigidity parameter of a stiffener", "LRFD 6.10.11.1.3"),
    ("c_brg_s", 1.4, None, "bearing strength over yield strength", "LRFD 6.10.11.2.3-1"),
    ("phi_ac", 0.95, None, "resistance factor, axial compression", "LRFD 6.5.4.2"),
    ("K_brg", 0.75, None, "effective length over D, bearing stiffener", "LRFD 6.10.11.2.4a"),
)

_STUDS: tuple[Row, ...] = (
    ("phi_sc", 0.85, None, "resistance factor, shear connectors", "LRFD 6.5.4.2"),
    ("r_hd", 4.0, None, "least height over diameter of a stud", "LRFD 6.10.10.1.1"),
    ("r_pd", 6.0, None, "least pitch over diameter", "LRFD 6.10.10.1.2"),
    ("p_max", 24.0, "inch", "greatest pitch", "LRFD 6.10.10.1.2"),
    ("p_max_D", 48.0, "inch", "greatest pitch, deep webs, 8th edition", "LRFD 6.10.10.1.2"),
    ("D_deep", 24.0, "inch", "web depth from which it holds", "LRFD 6.10.10.1.2"),
    ("r_sd", 4.0, None, "least transverse spacing over diameter", "LRFD 6.10.10.1.3"),
    ("e_sc", 1.0, "inch", "least clear distance to the flange edge", "LRFD 6.10.10.1.3"),
    ("c_sc", 2.0, "inch", "least cover over studs", "LRFD 6.10.10.1.4"),
    ("h_sc", 2.0, "inch", "least penetration into the deck", "LRFD 6.10.10.1.4"),
    ("c_Zr", 5.5, "ksi", "fatigue resistance of a stud over d²", "LRFD 6.10.10.2-1"),
)

_DEPTH: tuple[Row, ...] = (
    ("r_d_sc", 0.040, None, "least depth over span, composite, simple", "LRFD 2.5.2.6.3"),
    ("r_d_cc", 0.032, None, "least depth over span, composite, continuous", "LRFD 2.5.2.6.3"),
    ("r_d_ci", 0.027, None, "least depth over span, I-beam, continuous", "LRFD 2.5.2.6.3"),
)

_POUR: tuple[Row, ...] = (
    ("c_Mgs", 0.70, None, "share of the global buckling moment", "LRFD 6.10.3.4.2"),
    ("C_bs1", 1.1, None, "global buckling: simple or partly erected", "LRFD 6.10.3.4.2"),
    ("C_bs2", 2.0, None, "global buckling: continuous, fully erected", "LRFD 6.10.3.4.2"),
    ("gamma_WS3", 1.00, None, "wind load factor, Strength III, 8th edition", "LRFD 3.4.1"),
    ("gamma_WS1", 1.00, None, "wind load factor, Service I, 8th edition", "LRFD 3.4.1"),
    ("gamma_WS5", 1.00, None, "wind load factor, Strength V, 8th edition", "LRFD 3.4.1"),
    ("gamma_LL5", 1.35, None, "load factor, live load, Strength V", "LRFD 3.4.1"),
)

_PLATES: tuple[Row, ...] = (
    (
        "lambda_w_l",
        300.0,
        None,
        "greatest depth over thickness of a web with stiffeners along",
        "LRFD 6.10.2.1.2",
    ),
    ("r_piece", 85.0, None, "greatest length of a piece over its flange width", "LRFD C6.10.2.2"),
    ("t_p_min", 0.3125, "inch", "least thickness of a plate", "LRFD 6.7.3"),
)

LRFD_DETAILS: tuple[Row, ...] = _FATIGUE + _SHEAR + _STUDS + _DEPTH + _POUR + _PLATES

STANDARD_DETAILS: tuple[Row, ...] = (
    ("r_do_s", 3.0, None, "greatest length over depth of a stiffened panel", "Std 10.34.4.2"),
    ("r_do_es", 1.5, None, "greatest length over depth of an end panel", "Std 10.34.4.3"),
    (
        "c_do_s",
        67600.0,
        None,
        "greatest length over depth of a panel times the web slenderness squared",
        "Std 10.34.4.2",
    ),
    ("r_fv", 0.6, None, "share of shear from which moment is reduced", "Std 10.34.4.4"),
    ("J_min_s", 0.5, None, "least rigidity parameter of a stiffener", "Std 10.34.4.7"),
    ("c_pb", 0.80, None, "share of yield, bearing of stiffeners", "Std 10.32.1"),
    ("F_S", 2.12, None, "factor of safety, columns", "Std 10.32.1"),
    ("K_brg_s", 0.75, None, "effective length over D, welded ends", "Std 10.32.1"),
    ("phi_cs", 0.85, None, "share of column strength, load factor design", "Std 10.54.1"),
    ("phi_ss", 0.85, None, "reduction factor, shear connectors", "Std 10.38.5.1.2"),
    ("p_max_s", 24.0, "inch", "greatest pitch of connectors", "Std 10.38.5.1"),
    ("r_ds", 25.0, None, "span over depth of the whole girder", "Std 10.5.2"),
)

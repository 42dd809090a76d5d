"""Errors planted in the resistance half of the girder, and the tests that must see them."""

from __future__ import annotations

from tests.planted.place import Place, places

_FLEXURE = "tests/unit/test_bridge_flexure.py"
_SHEAR = "tests/unit/test_bridge_shear_bearing.py"
_SERVICE = "tests/unit/test_bridge_service_pour.py"
_OLDER = "tests/unit/test_bridge_older_codes.py"
_CONSTANTS = "tests/unit/test_bridge_constants.py"
_RECOMMEND = "tests/unit/test_bridge_recommend.py"
_GIRDER = "tests/unit/test_bridge_girder.py"

PLACES: list[Place] = [
    *places(
        "bridge/buckling.py",
        _FLEXURE,
        ("5.7 * sqrt(E / yield_strength)", "5.1 * sqrt(E / yield_strength)"),
        ("0.7 * F_y, ksi", "0.75 * F_y, ksi"),
        ("0.38 * sqrt(E / F_y)", "0.48 * sqrt(E / F_y)"),
        ("0.56 * sqrt(E / F_yr)", "0.65 * sqrt(E / F_yr)"),
        ("pi * r_t * sqrt(E / flange.residual)", "3 * r_t * sqrt(E / flange.residual)"),
        ("(unbraced - L_p) / (L_r - L_p)", "(unbraced - L_p) / L_r"),
        ("gradient * shedding * pi**2 * E", "shedding * pi**2 * E"),
        ("minimum(F_0, flange.ceiling)", "minimum(F_0, F_0)"),
        ("9 / (section.compressed_web / section.web_depth) ** 2", "7.2 / (section.compressed_web / section.web_depth) ** 0"),
    ),
    *places(
        "bridge/appendix_a6.py",
        _FLEXURE,
        ("0.54 * M_p / (R_h * M_y) - 0.09", "0.54 * M_p / (R_h * M_y) - 0.1"),
        ("0.95 * sqrt(E * k_c / flange.residual)", "0.56 * sqrt(E * k_c / flange.residual)"),
        ("1.95 * r_t", "1.76 * r_t"),
        ("6.76 * (F_yr", "6.67 * (F_yr"),
        ("0.078 * X", "0.087 * X"),
        ("M_p / M_y, \"compact web\"", "M_y / M_p, \"compact web\""),
    ),
    *places(
        "bridge/section.py",
        _FLEXURE,
        ("d - 2 * t_f", "d - t_f"),
        ("0.63 * t_f / b_f", "0.36 * t_f / b_f"),
        ("3 * b_f * t_f)", "6 * b_f * t_f)"),
        ("yield_strength * section.plastic_modulus", "yield_strength * section.modulus"),
    ),
    *places(
        "bridge/shear.py",
        _SHEAR,
        ("0.58 * F_y", "0.85 * F_y"),
        ("lambda_v <= 1.12 * root", "lambda_v <= 1.21 * root"),
        ("1.57 / lambda_v**2", "1.52 / lambda_v**2"),
    ),
    *places(
        "bridge/bearing.py",
        _SHEAR,
        ("2.5 * section.fillet", "5 * section.fillet"),
        ("4 * r_N - 0.2", "4 * r_N - 0.02"),
        ("(t_w / t_f) ** 1.5", "(t_f / t_w) ** 1.5"),
    ),
    *places(
        "bridge/combinations.py",
        _SERVICE,
        ("g_DC * (e.M_DC1 + e.M_DC2)", "g_DC * e.M_DC1 + e.M_DC2"),
        ("g_DW * e.V_DW", "g_DC * e.V_DW"),
        ("use(sheet, \"gamma_SII\") * e.M_LL", "g_LL * e.M_LL"),
    ),
    *places(
        "bridge/service.py",
        _SERVICE,
        ("* span**4 / 384", "* span**4 / 348"),
        ("maximum(K_1, K_2)", "K_1"),
        ("load / (use(sheet, \"E\") * section.inertia)", "load / (use(sheet, \"E\") * section.inertia * 12)"),
    ),
    *places(
        "bridge/construction.py",
        _SERVICE,
        ("g_2 * (M_DC1 + M_C)", "g_2 * M_DC1 + M_C"),
        ("maximum(M_c1, M_c2)", "M_c2"),
        ("f_bu + f_l / 3", "f_bu + f_l / 2"),
    ),
    *places(
        "bridge/_constants_lrfd.py",
        _CONSTANTS,
        ("(\"gamma_LL\", 1.75", "(\"gamma_LL\", 1.57"),
        ("(\"phi_w\", 0.80", "(\"phi_w\", 1.00"),
        ("(\"m_3\", 0.85", "(\"m_3\", 0.58"),
        ("(\"c_SII\", 0.80", "(\"c_SII\", 0.95"),
    ),
    *places(
        "bridge/_constants_standard.py",
        _CONSTANTS,
        ("(\"beta_LFD\", 5.0 / 3.0", "(\"beta_LFD\", 3.0 / 5.0"),
        ("(\"c_Fb\", 0.55", "(\"c_Fb\", 0.66"),
        ("(\"D_wl\", 5.5", "(\"D_wl\", 7.0"),
    ),
    *places(
        "bridge/older_codes_asd.py",
        _OLDER,
        ("50000 * ksi", "55000 * ksi"),
        ("9.87 * (section.depth / L_b) ** 2", "9.78 * (section.depth / L_b) ** 2"),
        ("C * F_y / 3", "C * F_y / 2"),
    ),
    *places(
        "bridge/older_codes_lfd_flexure.py",
        _OLDER,
        ("65 / sqrt(F)", "56 / sqrt(F)"),
        ("608 / sqrt(F)", "680 / sqrt(F)"),
        ("91000 * ksi", "19000 * ksi"),
        ("1400 * r_y / F", "2400 * r_y / F"),
        ("1064 / sqrt(F)", "1604 / sqrt(F)"),
    ),
    *places(
        "bridge/older_codes_shear.py",
        _OLDER,
        ("45_000_000 * root**2", "54_000_000 * root**2"),
    ),
    *places(
        "bridge/recommend.py",
        _RECOMMEND,
        ("ratio if ratio == ratio else math.inf", "ratio if ratio == ratio else 0.0"),
        ("self.worst <= PASSES and self.in_range", "self.worst <= PASSES"),
        ("_SERIES_GAP = 1.0", "_SERIES_GAP = 10.0"),
    ),
    *places(
        "bridge/girder_lrfd.py",
        _GIRDER,
        ("demand=factored.M_u, top_flange", "demand=factored.M_SII, top_flange"),
        ("reaction=factored.V_u", "reaction=dead.V_DC1"),
        ("width=bridge.spacing", "width=bridge.overhang"),
    ),
]

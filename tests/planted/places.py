"""Where errors are planted, and the tests that must see them."""

from __future__ import annotations

from tests.planted.place import places
from tests.planted.places_analysis import BEAMS
from tests.planted.places_composite import COMPOSITE
from tests.planted.places_continuous import CONTINUOUS
from tests.planted.places_effects import EFFECTS
from tests.planted.places_people import PEOPLE
from tests.planted.places_render import RENDER

_UNIT = "tests/unit/"
_PUBLISHED = "tests/published/"

_TABLES = [
    *places(
        "data/w_shapes.csv",
        f"{_UNIT}data/test_w_shapes.py",
        ("W36X135,135.0,39.9,", "W36X135,135.0,36.9,"),
        ("W24X68,68.0,20.1,23.7,", "W24X68,68.0,20.1,27.3,"),
    ),
    *places(
        "data/w_shapes.toml",
        f"{_UNIT}data/test_w_shapes.py",
        ('weight = "lb/ft"', 'weight = "kip/ft"'),
    ),
    *places(
        "data/steel_grades.csv",
        f"{_UNIT}data/test_steel_grades.py",
        ("50W,50,70,4,1", "50W,50,65,4,1"),
    ),
]

_UNITS = [
    *places(
        "units/definitions.py",
        f"{_UNIT}test_units_registry.py",
        ("foot = 12 * inch", "foot = 10 * inch"),
        ("pound_force = kip / 1000", "pound_force = kip / 1024"),
        ("kip_per_foot = kip / foot", "kip_per_foot = kip / inch"),
        ("pound_per_cubic_foot = pound_force / foot", "pound_per_cubic_foot = kip / foot"),
    ),
    *places(
        "units/info.py",
        f"{_UNIT}test_units_registry.py",
        (
            '"kip_per_square_foot": (("kip", 1), ("foot", -2))',
            '"kip_per_square_foot": (("kip", 1), ("inch", -2))',
        ),
    ),
    *places(
        "units/numbers.py",
        f"{_UNIT}test_units_numbers.py",
        ("whole += rest > 0.5", "whole += rest > 0.4"),
    ),
]

_CORE = [
    *places(
        "expr/code.py",
        f"{_UNIT}test_sheet_checks.py",
        ("return self._number(node.data.factor)", "return self._number(1.0)"),
    ),
    *places(
        "sheet/check.py",
        f"{_UNIT}test_sheet_checks.py",
        ("self.ratio <= 1.0 + 1e-9", "self.ratio <= 1.005"),
    ),
]

_ANALYSIS = [
    *places(
        "analysis/uniform.py",
        f"{_PUBLISHED}test_simple_span_live_load.py",
        ("uniform * span * span / 8 +", "uniform * span * span / 12 +"),
        ("+ force * span / 4", "+ force * span / 2"),
    ),
    *places(
        "analysis/uniform.py",
        f"{_UNIT}test_analysis_influence.py",
        ("(384 * rigidity)", "(348 * rigidity)"),
    ),
    *places(
        "analysis/influence.py",
        f"{_UNIT}test_analysis_influence.py",
        ("(3 * L * L - 4 * a * a) / 48", "(3 * L * L - 4 * a) / 48"),
    ),
    *places(
        "analysis/vehicles.py",
        f"{_PUBLISHED}test_simple_span_live_load.py",
        ('Vehicle("HS20", "HS20-44 truck", (8, 32, 32)', 'Vehicle("HS20", "", (8, 32, 30)'),
        ('LaneLoad("H20", "H20-44 lane load", 0.640, 18.0', 'LaneLoad("H20", "", 0.640, 26.0'),
    ),
    *places(
        "analysis/vehicles.py",
        f"{_UNIT}test_bridge_loads.py {_UNIT}test_analysis_moving_loads.py",
        ("(25, 25), (4,)", "(25, 25), (6,)"),
    ),
    *places(
        "analysis/train_moment.py",
        f"{_PUBLISHED}test_simple_span_live_load.py",
        ("(L - section - e) / L - self.moment_before", "(L - section - e) / L"),
    ),
]

_CONSTANTS = [
    *places(
        "bridge/_constants_lrfd.py",
        f"{_PUBLISHED}test_bridge_procedures.py",
        ('("IM", 0.33,', '("IM", 0.30,'),
        ('("m_3", 0.85,', '("m_3", 0.90,'),
    ),
    *places(
        "bridge/_constants_lrfd.py",
        f"{_UNIT}test_bridge_girder.py",
        ('("w_lane", 0.64, "klf"', '("w_lane", 0.64, "kip/inch"'),
        ('("gamma_LL", 1.75,', '("gamma_LL", 1.35,'),
        ('("gamma_DW", 1.50,', '("gamma_DW", 1.25,'),
        ('("E", 29000.0, "ksi"', '("E", 29000.0, "ksf"'),
        ('("phi_w", 0.80,', '("phi_w", 0.90,'),
        ('("r_LL", 800.0,', '("r_LL", 1000.0,'),
        ('("c_SII", 0.80,', '("c_SII", 0.95,'),
    ),
    *places(
        "bridge/_constants_standard.py",
        f"{_PUBLISHED}test_bridge_procedures.py",
        ('("b_I", 125.0, "ft"', '("b_I", 125.0, "m"'),
        ('("c_Fb", 0.55,', '("c_Fb", 0.60,'),
        ("5.0 / 3.0", "3.0 / 5.0"),
    ),
    *places(
        "bridge/_constants_standard.py",
        f"{_UNIT}test_bridge_older_codes.py",
        ('("D_wl", 5.5, "ft"', '("D_wl", 7.0, "ft"'),
    ),
]

_LOADS = [
    *places(
        "bridge/dead_load.py",
        f"{_PUBLISHED}test_bridge_procedures.py",
        ("if exterior else S - b_f),", "if exterior else S),"),
        ("2 * bridge.barrier_weight / bridge.girders", "bridge.barrier_weight / bridge.girders"),
        ("q * bridge.roadway / bridge.girders", "q * bridge.deck_width / bridge.girders"),
    ),
    *places(
        "bridge/dead_load.py",
        f"{_UNIT}test_bridge_loads.py",
        ("w * L**2 / 8 if", "w * L**2 / 10 if"),
        ("w * section * (L - section) / 2", "w * section * (L - section) / 4"),
        ("b_f * t_h * gamma_c", "b_f * gamma_c * bridge.deck"),
    ),
    *places(
        "bridge/distribution.py",
        f"{_PUBLISHED}test_bridge_procedures.py",
        ("(12 * L * t_s**3)", "(L * t_s**3)"),
        ("0.06 + (S / 14)", "0.06 + (S / 12)"),
        ("(S / 9.5) ** 0.6", "(S / 9.5) ** 0.4"),
        ("0.36 + S / 25", "0.36 + S / 35"),
        ("0.2 + S / 12 -", "0.2 + S / 12 +"),
        ("span.magnitude(ft), bridge.slab", "span.magnitude(inch), bridge.slab"),
    ),
    *places(
        "bridge/distribution.py",
        f"{_UNIT}test_bridge_loads.py",
        ("trial.area * e_g**2", "trial.area * e_g * inch"),
        ("haunch + bridge.slab / 2", "haunch + bridge.slab"),
        ("m * lanes / girders", "lanes / girders"),
    ),
    *places(
        "bridge/live_load.py",
        f"{_UNIT}test_bridge_loads.py",
        ("(1 + IM) * maximum(M_tr, M_td) + M_ln", "(1 + IM) * (maximum(M_tr, M_td) + M_ln)"),
        ("(1 + IM) * maximum(V_tr, V_td) + V_ln", "(1 + IM) * maximum(V_tr, V_td)"),
    ),
]

_RESISTANCE = [
    *places(
        "bridge/shear.py",
        f"{_UNIT}test_bridge_shear_bearing.py",
        ("0.58 * F_y * section.web_depth", "0.58 * F_y * section.depth"),
        ("1.12 / lambda_v * root", "1.10 / lambda_v * root"),
        ("otherwise=(1.57 /", "otherwise=(1.52 /"),
    ),
    *places(
        "bridge/bearing.py",
        f"{_UNIT}test_bridge_shear_bearing.py",
        ("(2.5 * section.fillet + length)", "(5 * section.fillet + length)"),
        ("(t_w / t_f) ** 1.5", "(t_f / t_w) ** 1.5"),
        ("(4 * r_N - 0.2)", "(4 * r_N - 2)"),
    ),
    *places(
        "bridge/buckling.py",
        f"{_UNIT}test_bridge_flexure.py",
        ("0.38 * sqrt(E / F_y)", "0.83 * sqrt(E / F_y)"),
        ("pi * r_t * sqrt(E / flange.residual)", "pi * r_t * sqrt(E / F_y)"),
    ),
    *places(
        "bridge/appendix_a6.py",
        f"{_UNIT}test_bridge_flexure.py",
        ("1 + 6.76 * (F_yr", "1 + 6.67 * (F_yr"),
        ("1.95 * r_t * (E / F_yr)", "1.59 * r_t * (E / F_yr)"),
        ("1 + 0.078 * X", "1 + 0.78 * X"),
    ),
    *places(
        "bridge/section.py",
        f"{_UNIT}test_bridge_flexure.py",
        ("b_f / sqrt(12 * slender)", "b_f / sqrt(slender)"),
    ),
    *places(
        "bridge/section.py",
        f"{_UNIT}test_bridge_hand_limits.py",
        ("t_f * b_f**3 / 12", "t_f * b_f**3 / 6"),
    ),
    *places(
        "bridge/buckling.py",
        f"{_UNIT}test_bridge_hand_limits.py",
        ("0.56 * sqrt(E / F_yr)", "0.56 * sqrt(E / F_y)"),
    ),
    *places(
        "bridge/service.py",
        f"{_UNIT}test_bridge_service_pour.py",
        ('5 * use(sheet, "w_lane") * span**4 / 384', '5 * use(sheet, "w_lane") * span**4 / 348'),
    ),
    *places(
        "bridge/construction.py",
        f"{_UNIT}test_bridge_service_pour.py",
        ("f_bu + f_l / 3 <=", "f_bu + f_l <="),
        ("w_C * span**2 / 8", "w_C * span**2 / 12"),
    ),
    *places(
        "bridge/older_codes_asd.py",
        f"{_UNIT}test_bridge_older_codes.py",
        ("9.87 * (section.depth / L_b) ** 2", "9.87 * (section.depth / L_b)"),
        ("50000 * ksi * gradient", "50 * ksi * gradient"),
    ),
    *places(
        "bridge/older_codes_lfd_flexure.py",
        f"{_UNIT}test_bridge_older_codes.py",
        ("65 / sqrt(F)", "56 / sqrt(F)"),
    ),
    *places(
        "bridge/older_codes_lfd_flexure.py",
        f"{_UNIT}test_bridge_hand_limits.py",
        ("20000 * area / (F", "2000 * area / (F"),
        ("1400 * r_y / F", "14000 * r_y / F"),
    ),
]

_WHOLE = [
    *places(
        "bridge/combinations.py",
        f"{_UNIT}test_bridge_service_pour.py",
        ('use(sheet, "gamma_DC") * (DC1 + DC2)', 'use(sheet, "gamma_DC") * DC1 + DC2'),
        ('use(sheet, "gamma_DW") * DW', 'use(sheet, "gamma_DC") * DW'),
        ('use(sheet, "gamma_SII") * e.M_LL', "g_LL * e.M_LL"),
    ),
    *places(
        "bridge/construction.py",
        f"{_UNIT}test_bridge_service_pour.py",
        ("maximum(M_c1, M_c2)", "M_c2"),
    ),
    *places(
        "bridge/service.py",
        f"{_UNIT}test_bridge_service_pour.py",
        ("maximum(K_1, K_2)", "K_1"),
    ),
    *places(
        "bridge/section.py",
        f"{_UNIT}test_bridge_flexure.py",
        ("d - 2 * t_f", "d - t_f"),
    ),
    *places(
        "bridge/older_codes_shear.py",
        f"{_UNIT}test_bridge_older_codes.py",
        ("45_000_000 * root**2", "54_000_000 * root**2"),
    ),
    *places(
        "bridge/recommend.py",
        f"{_UNIT}test_bridge_recommend.py",
        ("self.worst <= PASSES and self.in_range", "self.worst <= PASSES"),
    ),
    *places(
        "bridge/girder_lrfd.py",
        f"{_UNIT}test_bridge_girder.py",
        ("demand=factored.M_u, top_flange", "demand=factored.M_SII, top_flange"),
        ("reaction=factored.V_u", "reaction=dead.V_DC1"),
        ("width=bridge.spacing", "width=bridge.overhang"),
    ),
]

PLACES = [
    *_TABLES,
    *_UNITS,
    *_CORE,
    *_ANALYSIS,
    *BEAMS,
    *_CONSTANTS,
    *_LOADS,
    *_RESISTANCE,
    *_WHOLE,
    *COMPOSITE,
    *EFFECTS,
    *CONTINUOUS,
    *PEOPLE,
    *RENDER,
]

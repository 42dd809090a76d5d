"""Errors planted in the general girder sections, and the tests that must see them."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/"
_FOLDER = "bridge/composite/"

COMPOSITE = [
    *places(
        f"{_FOLDER}elastic.py",
        f"{_UNIT}test_composite_elastic.py",
        ("t * D**3 / 12", "t * D**2 * D / 3"),
        ("A_cn * slab.thickness**2 / 12", "A_cn * slab.thickness**2 / 21"),
        ("A_cn * (centre - y), inch**3", "A_cn * (y - centre), inch**3"),
        ("geometry, steel, 3 * ratio", "geometry, steel, 2 * ratio"),
    ),
    *places(
        f"{_FOLDER}slab.py",
        f"{_UNIT}test_composite_elastic.py",
        ("minimum(span / 12, 6 * slab, spacing / 2)", "minimum(span / 8, 6 * slab, spacing)"),
        ("(strength < 3.6 * ksi, 9,", "(strength < 3.5 * ksi, 9,"),
    ),
    *places(
        f"{_FOLDER}plastic_axis.py",
        f"{_UNIT}test_composite_plastic.py",
        ("Y = h / 2 * _share", "Y = h * _share"),
        ("least >= _total(above)", "least >= _total(below or above)"),
        ("(top - layer.centre) / t_s * P_s", "(top - layer.centre) / t_s * steel"),
    ),
    *places(
        f"{_FOLDER}plastic.py",
        f"{_UNIT}test_composite_plastic.py",
        ("(upper**2 + lower**2)", "(upper**2 - lower**2)"),
        ("(2 * on_girder.thickness)", "on_girder.thickness"),
        ("(number == place, 0 * inch", "(number <= place, 0 * inch"),
    ),
    *places(
        f"{_FOLDER}yielding.py",
        f"{_UNIT}test_composite_plastic.py",
        ("strength - M_1 / S_1 - M_2 / S_2", "strength - M_1 / S_1 - M_2 / S_3"),
        ("minimum(M_ytf, M_yr)", "1 * M_ytf"),
    ),
    *places(
        f"{_FOLDER}stages.py",
        f"{_UNIT}test_composite_service.py",
        ("(M_2 + M_L) / (three.ratio * three.S_deck)", "(M_2 + M_L) / three.S_deck"),
        ("M_1 / one.S_top + M_2 / two.S_top", "M_1 / one.S_bottom + M_2 / two.S_top"),
    ),
    *places(
        f"{_FOLDER}positive.py",
        f"{_UNIT}test_composite_flexure.py",
        ("1.07 - 0.7 * D_p / D_t", "1.07 - 0.07 * D_p / D_t"),
        ("if not continuous:", "if continuous:"),
        ("3.76 * root", "3.67 * root"),
    ),
    *places(
        f"{_FOLDER}web.py",
        f"{_UNIT}test_composite_flexure.py",
        ("(1200 + 300 * a_wc)", "(1200 + 30 * a_wc)"),
        ("3 * rho - rho**3", "3 * rho - rho**2"),
        ('5.7 * root, "LRFD', '7.5 * root, "LRFD'),
    ),
    *places(
        f"{_FOLDER}flange_buckling.py",
        f"{_UNIT}test_composite_flexure.py",
        ("0.56 * sqrt(E / residual)", "0.65 * sqrt(E / residual)"),
        ("(3 * flange.area)", "(6 * flange.area)"),
    ),
    *places(
        f"{_FOLDER}moment_form.py",
        f"{_UNIT}test_composite_flexure.py",
        ("0.54 * M_p / (R_h * yielding.least) - 0.09", "0.54 * M_p / (R_h * yielding.least) - 0.9"),
        ("1.95 * r_t", "1.59 * r_t"),
        ("1 - 0.63 * t / b", "1 - 0.36 * t / b"),
        ("web.hybrid * yielding.tension / S_xc", "2 * yielding.tension / S_xc"),
    ),
    *places(
        f"{_FOLDER}gradient.py",
        f"{_UNIT}test_composite_flexure.py",
        ("1.75 - 1.05 * ratio", "1.75 + 1.05 * ratio"),
        ("2 * middle - f_2", "middle - f_2"),
    ),
    *places(
        f"{_FOLDER}standard.py",
        f"{_UNIT}test_composite_service.py",
        ("beta * D_t / 7.5", "beta * D_t / 5.7"),
        ("(5 * M_p - 0.85 * M_y) / 4", "(5 * M_p - 0.58 * M_y) / 4"),
    ),
    *places(
        f"{_FOLDER}stiffened_web.py",
        f"{_UNIT}test_longitudinal_stiffeners.py",
        ("distance / compressed >= 0.4", "distance / compressed >= 0.04"),
        ("9 / (compressed / depth) ** 2)", "5 / (compressed / depth) ** 2)"),
    ),
    *places(
        "bridge/details/longitudinal_stiffeners.py",
        f"{_UNIT}test_longitudinal_stiffeners.py",
        ("minimum(web.strength / F_s, 1)", "minimum(F_s / web.strength, 1)"),
        ("1 - 0.6 * flange", "1 - 0.06 * flange"),
    ),
    *places(
        f"{_FOLDER}standard_steel.py",
        f"{_UNIT}test_whole_standard.py",
        ("12_500 / 1000**0.5", "15_400 / 1000**0.5"),
        ("572_000 * ksi", "527_000 * ksi"),
        ("1 - 0.5 * (unbraced", "1 - 0.05 * (unbraced"),
        ("(4400 / slender) ** 2", "(4400 / slender)"),
    ),
    *places(
        "bridge/whole/outer_sections.py",
        f"{_UNIT}test_whole_sections.py",
        ("xi**3 / 3 - xi**4 / 4", "xi**3 / 3 - xi**4 / 5"),
        ("steel.section.top.thickness - top.thickness", "steel.section.top.thickness"),
    ),
    *places(
        "bridge/whole/section_changes.py",
        f"{_UNIT}test_whole_sections.py",
        ("1.5 if across else 2.0", "2.0 if across else 1.5"),
        ("2 * table.depth + 3 * ft", "2 * table.depth + 2 * ft"),
    ),
    *places(
        "bridge/whole/flexure.py",
        f"{_UNIT}test_whole_sections.py",
        ("parabola = x * (L - x) / 2", "parabola = x * (L - x) / 8"),
    ),
    *places(
        "bridge/whole/flexure.py",
        f"{_UNIT}test_whole_noncomposite.py",
        ("steel.S_bottom, refused", "steel.S_top, refused"),
        ("(form.eligible, form.compression, allowed)", "(form.eligible, form.greatest, allowed)"),
        ("bracing=Bracing(compression=braced", "bracing=Bracing(compression=True"),
    ),
    *places(
        "bridge/whole/unbraced_lengths.py",
        f"{_UNIT}test_whole_noncomposite.py",
        ('("m", (a + b) / 2, middle)', '("m", (a + b) / 3, middle)'),
        ('"F_ncm", minimum(', '"F_ncm", maximum('),
        ('"C_bt", 1.0', '"C_bt", 1.1'),
    ),
    *places(
        "bridge/composite/moment_form.py",
        f"{_UNIT}test_whole_noncomposite.py",
        ('skew <= use(sheet, "theta_A6")', 'skew >= use(sheet, "theta_A6")'),
    ),
    *places(
        "bridge/whole/pour_order.py",
        f"{_UNIT}test_whole_sections.py",
        ("(L - (a + b) / 2) / L", "(L - (a - b) / 2) / L"),
    ),
    *places(
        "bridge/composite/lateral_bending.py",
        f"{_UNIT}test_composite_flexure.py",
        (
            "vertical < buckling.elastic,\n                maximum(",
            "vertical > 0 * ksi,\n                maximum(",
        ),
    ),
]

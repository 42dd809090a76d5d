"""Factors and limits of the AASHTO Standard Specifications.

One row is (symbol, value, unit, meaning, article).

For allowable stress design (ASD) and load factor design (LFD), 17th edition, from memory.  The
psi constants of that book are kept in ksi: 19,230 psi^0.5 is 608 ksi^0.5.
"""

from __future__ import annotations

Row = tuple[str, float, str | None, str, str]

_LOADS: tuple[Row, ...] = (
    ("w_HS", 0.64, "klf", "HS20 lane load", "Std 3.7.6"),
    ("P_HSM", 18.0, "kip", "concentrated load with the lane, moment", "Std 3.7.6"),
    ("P_HSV", 26.0, "kip", "concentrated load with the lane, shear", "Std 3.7.6"),
    ("I_max", 0.30, None, "greatest impact fraction", "Std 3.8.2.1"),
    ("a_I", 50.0, "ft", "impact: numerator", "Std 3.8.2.1"),
    ("b_I", 125.0, "ft", "impact: added to the loaded length", "Std 3.8.2.1"),
    ("D_wl", 5.5, "ft", "spacing for one wheel line, two or more lanes", "Std 3.23.2.2"),
    ("D_wl_1", 7.0, "ft", "spacing for one wheel line, one lane", "Std 3.23.2.2"),
    ("r_2", 1.00, None, "load intensity, one or two lanes", "Std 3.12.1"),
    ("r_3", 0.90, None, "reduction of load intensity, three lanes", "Std 3.12.1"),
    ("r_4", 0.75, None, "reduction of load intensity, four or more lanes", "Std 3.12.1"),
    ("gamma_LFD", 1.30, None, "load factor, Group I", "Std 3.22.1"),
    ("beta_LFD", 5.0 / 3.0, None, "live-load coefficient, Group I and overload", "Std 3.22.1"),
)

_LIMITS: tuple[Row, ...] = (
    ("E_s", 29000.0, "ksi", "modulus of elasticity of steel", "Std 10.2.2"),
    ("c_Fb", 0.55, None, "share of yield, bending", "Std 10.32.1"),
    ("c_Fv", 0.33, None, "share of yield, shear", "Std 10.32.1"),
    ("c_brg", 0.75, None, "share of allowable shear without bearing stiffeners", "Std 10.33.2"),
    ("c_over", 0.80, None, "share of yield, overload, non-composite", "Std 10.57.1"),
    ("F_c_max", 50.0, "ksi", "greatest yield strength of a compact section", "Std 10.48.1"),
    ("r_def", 800.0, None, "span over live-load deflection", "Std 10.6.2"),
    ("r_dep", 30.0, None, "span over depth of the steel beam", "Std 10.5.2"),
    ("k_s", 5.0, None, "shear-buckling coefficient, unstiffened web", "Std 10.48.8.1"),
)

STANDARD_CONSTANTS: tuple[Row, ...] = _LOADS + _LIMITS

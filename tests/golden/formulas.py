"""The formulas whose printed form is kept: what they are, and how the kept file is written anew.

``python -m tests.golden.formulas`` writes ``formulas.json`` after a change that is meant; read the
difference before it is committed.
"""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from stepcalc import (
    Sheet,
    absolute,
    acos,
    all_of,
    any_of,
    asin,
    atan,
    between,
    cases,
    ceil,
    cos,
    exp,
    floor,
    frac,
    interpolate,
    log,
    log10,
    maximum,
    minimum,
    not_,
    pi,
    sin,
    sqrt,
    tan,
    total,
)
from stepcalc.render.build import step_latex, step_text
from stepcalc.units import Q_, degree, ft, inch, kip, kip_ft, klf, ksi, lb, pcf, psf

KEPT = Path(__file__).with_suffix(".json")


def formulas() -> tuple[Sheet, dict[str, Any]]:
    """Return a sheet and its steps by label."""
    s = Sheet("golden")
    L, S = s.given("L", 62 * ft), s.given("S", 7.75 * ft)
    t, d = s.given("t_s", 8 * inch), s.given("d", Q_(Decimal("35.60"), "inch"))
    g, w = s.given("gamma_c", 150 * pcf), s.given("w", Q_(Decimal("1.20"), "kip/ft"))
    P, V = s.given("P", 32 * kip), s.given("V", -12.5 * kip)
    M, Sx = s.given("M_LL+IM", 551 * kip_ft), s.given("S_x,req", 439 * inch**3)
    E, Ix, Kg = (
        s.given("E", 29000 * ksi),
        s.given("I_x", 7800 * inch**4),
        s.given("K_g", 180000 * inch**4),
    )
    fc, Fy = s.given("f'_c", 4 * ksi), s.given("F_y", 50 * ksi)
    k, n, phi = s.given("k", -2.5), s.given("n", 3), s.given("phi_f", Decimal("1.00"))
    Lb, Lp, Lr = (
        s.given("L_b", 15.5 * ft),
        s.given("L_p", 71.57 * inch),
        s.given("L_r", 268.7 * inch),
    )
    q, a = s.given("theta", 30 * degree), s.given("a", Q_(Fraction(7, 8), "inch"))
    grade = s.given("grade", "50", choices=["36", "50"])
    Mu = s.step("M_u", 1.25 * (w * L**2 / 8) + 1.75 * M, kip_ft)
    steps: dict[str, Any] = {}

    def add(label: str, expr: Any, unit: Any = None) -> None:
        steps[label] = s.step(f"x_{len(steps) + 1}", expr, unit)

    add("simple beam moment", w * L**2 / 8, kip_ft)
    add("two conversions", S * t * g, klf)
    add("stress from moment", M / Sx, ksi)
    add("deflection", 5 * w * L**4 / (384 * E * Ix), inch)
    add("one factor behind a sum", M / Sx + 2 * M / Sx + M / Sx, ksi)
    add(
        "distribution factor",
        0.06 + (S / (14 * ft)) ** 0.4 * (S / L) ** 0.3 * (Kg / (L * t**3)) ** 0.1,
    )
    add("minimum over a root", minimum(w * L / 2, 40.5 * kip) / sqrt(1 + (L / S) ** 2), kip)
    add("maximum of two units", maximum(Lb, Lp), inch)
    add("sum of two units", Lb + Lp)
    add("difference of two units", Lb - Lp, inch)
    add("order is kept", 1.75 * M + 1.25 * (w * L * L), kip_ft)
    add("grouped product", P * (L * S), kip_ft * ft)
    add("product grouped left", P * L * S, kip_ft * ft)
    add("nested difference", P - (V - 3 * kip), kip)
    add("chained difference", P - V - 3 * kip, kip)
    add("sum inside a difference", P - (V + 3 * kip), kip)
    add("fraction times", (L / S) * n)
    add("times over", L * n / S)
    add("factor times fraction", n * (L / S))
    add("quotient of quotients", (L / S) / (S / t))
    add("quotient three deep", L / S / n)
    add("nested fractions", 1 / (1 + 1 / (1 + 1 / n)))
    add("minus nine", -9 * n + n * -9)
    add("minus of a product", -(P * L), kip_ft)
    add("minus of a sum", -(P + V), kip)
    add("minus of a power", -(n**2))
    add("power of a minus", (-n) ** 2)
    add("negative value squared", k**2)
    add("negative value later", n + k)
    add("minus a negative value", n - k)
    add("times a negative value", n * k * P, kip)
    add("negative power", n**-2)
    add("power of a power", (n**2) ** 3)
    add("power of a fraction", (L / S) ** 0.25)
    add("formula as exponent", 0.658 ** (Fy / (E / 100)))
    add("two to a negative value", 2**k)
    add("typed fraction", frac(1, 8) * w * L * L, kip_ft)
    add("folded fraction", 1 / 3 * P, kip)
    add("folded eighth", 1 / 8 * w * L, kip)
    add("seven thirds", P * (7 / 3), kip)
    add("folded constant", 33000 * 0.145**1.5 * sqrt(fc.magnitude(ksi)) * ksi, ksi)
    add("magnitude", Mu.magnitude(kip_ft) / (2 * L.magnitude(inch)))
    add("magnitude of a sum", (L + S).magnitude(ft) * 2)
    add("unit behind", 0.24 * sqrt(fc.magnitude(ksi)) * ksi, ksi)
    add("bare unit in front", P / ft * S, kip)
    add("primed symbol squared", fc**2, ksi**2)
    add("pi", pi * d**2 / 4, inch**2)
    add("trigonometry", P * sin(q) + P * cos(60 * degree), kip)
    add("tangent and inverse", tan(q) * asin(0.5) * acos(0.5) * atan(1))
    add("exponential", exp(-L / (10 * ft)) * 1e-9)
    add("logarithms", log(n) + log10(100 * n))
    add("absolute", absolute(L - 70 * ft) / t)
    add("absolute of a negative", abs(V) / P)
    add("floor", floor(L / (3.5 * ft)) * 2)
    add("ceiling", ceil(L / S) - 1)
    add("total", total([P, 2 * P, V]) * S, kip_ft)
    add("total of one", total([P]), kip)
    add("total of sums", total([P - V, P, V + P]), kip)
    add("long sum", P + 1 * kip - 2 * kip + V - 500 * lb, kip)
    add("given fraction", a * 3, inch)
    add("given fraction squared", a**2, inch**2)
    add("decimal as typed", Decimal("0.150") * M, kip_ft)
    add("scientific literal", 1.2e-5 * E, ksi)
    add("step in a step", phi * Mu / L, kip)
    add("number after number", n * 12 * 0.5)
    add("number then fraction", 5 * frac(1, 2) * n)
    add("numbers only", frac(3, 4) + 2)
    add("name alone", L)
    add("name in another unit", L, inch)
    add("literal alone", 8 * inch, inch)
    add("square foot from inches", d * t, ft**2)
    add("pounds to kips", g * L * L * t, kip)
    add("pressure", 20 * psf * S, klf)
    add("root of an area", sqrt(d * S), ft)
    add("interpolation", interpolate(L, [50 * ft, 70 * ft], [1.0, 1.5]) * P, kip)
    add(
        "cases, inelastic",
        cases(
            (Lb <= Lp, Mu, "plastic"),
            (Lb <= Lr, Mu * (1 - 0.3 * (Lb - Lp) / (Lr - Lp)), "inelastic"),
            otherwise=(Mu / 2, "elastic"),
        ),
        kip_ft,
    )
    add("cases, first", cases((Lb >= Lp, Mu, "long"), otherwise=P * L), kip_ft)
    add(
        "cases, otherwise",
        cases((P <= 5 * kip, n, "small"), (L <= S, 2 * n), otherwise=(3 * n, "rest")),
    )
    add(
        "cases, between", cases((between(S, 3.5 * ft, 16 * ft), S / L, "in range"), otherwise=0 * n)
    )
    add(
        "cases, combined",
        cases(
            (all_of(P > 40 * kip, S < L), n),
            (any_of(not_(n <= 2), grade == "36"), 2 * n, "either"),
            otherwise=n + 1,
        ),
    )
    add("cases, by choice", cases((grade == "36", 36 * ksi), otherwise=(Fy, "high")), ksi)
    add("cases in a product", 2 * cases((L >= S, L), otherwise=S) / S)
    add("undefined", 1 / (n - 3))
    steps["check passed"] = s.check(
        "Flexure, Strength I", Mu <= phi * (4000 * kip_ft), ref="LRFD 6.10"
    )
    steps["check failed"] = s.check("Depth", L / 25 <= d)
    steps["check turned round"] = s.check("Support", 12 * kip >= P * (S / L))
    steps["check close to one"] = s.check("Near", M <= 550.99 * kip_ft)
    steps["given"] = g
    steps["choice"] = grade
    return s, steps


def printed() -> dict[str, dict[str, str]]:
    """Return text and LaTeX of every formula by label."""
    _, steps = formulas()
    return {
        label: {"text": step_text(node), "latex": step_latex(node)} for label, node in steps.items()
    }


if __name__ == "__main__":
    KEPT.write_text(json.dumps(printed(), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")

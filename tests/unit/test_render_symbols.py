"""Symbols and units in trade spelling, and their parts."""

from __future__ import annotations

import pytest

from stepcalc.render.dialects import dialect
from stepcalc.render.dialects.text import symbol_in_text
from stepcalc.render.symbols import is_primed, split_symbol
from stepcalc.render.unit_spelling import split_unit, spoken_unit

LATEX = {
    "L": "L",
    "M_u": "M_{u}",
    "M_DC1": r"M_{\mathrm{DC1}}",
    "M_LL+IM": r"M_{\mathrm{LL}+\mathrm{IM}}",
    "gamma_DC": r"\gamma_{\mathrm{DC}}",
    "phi_f": r"\phi_{f}",
    "S_x,req": r"S_{x,\mathrm{req}}",
    "K_g": "K_{g}",
    "f'_c": "f'_{c}",
    "fprime_c": "f'_{c}",
    "f_c'": "f'_{c}",
    "RF": r"\mathrm{RF}",
    "w_1": "w_{1}",
    "g_M1": r"g_{\mathrm{M1}}",
    "V_LL_2": r"V_{\mathrm{LL},2}",
    "Delta_LL": r"\Delta_{\mathrm{LL}}",
    "DeltaF_n": r"\Delta F_{n}",
    "beta1": r"\beta 1",
    "epsilon_t": r"\varepsilon_{t}",
    "Mu": r"\mathrm{M}",
    "A_phi": r"A_{\phi}",
    "γ_c": r"\gamma_{c}",
}


@pytest.mark.parametrize(("spelling", "printed"), LATEX.items())
def test_symbols_look_as_a_specification_prints_them(spelling: str, printed: str) -> None:
    assert dialect("latex").sym(spelling) == printed


@pytest.mark.parametrize(
    "spelling",
    [
        r"\input{/etc/hostname}", "a}b{", "x$y$z", "<script>alert(1)</script>", "a_{b}^{c}", "%",
        "#read", "my symbol", "_x", "x_", "~", "", "中文", "a" * 500,
    ],
)  # fmt: skip
def test_what_is_no_symbol_is_one_piece_of_text(spelling: str) -> None:
    assert split_symbol(spelling).base[0].kind == "raw"
    assert len(split_symbol(spelling).base) == 1


def test_primes_are_counted_and_known() -> None:
    assert split_symbol("f''_c").primes == 2
    assert is_primed("fprime_c")
    assert not is_primed("prime")


def test_a_subscript_with_marks_stands_in_braces_in_text() -> None:
    assert symbol_in_text("M_LL+IM") == "M_{LL+IM}"
    assert symbol_in_text("S_x,req") == "S_{x,req}"
    assert symbol_in_text("phi_f") == "phi_f"


@pytest.mark.parametrize(
    ("unit", "text", "latex", "spoken"),
    [
        ("kip/ft^2", "kip/ft^2", r"\mathrm{kip/ft^{2}}", "kips per foot squared"),
        ("kip·ft", "kip-ft", r"\mathrm{kip\text{-}ft}", "kip feet"),
        ("kip*ft", "kip-ft", r"\mathrm{kip\text{-}ft}", "kip feet"),
        ("in^4", "in^4", r"\mathrm{in^{4}}", "inches to the fourth"),
        ("inch**3", "in^3", r"\mathrm{in^{3}}", "inches cubed"),
        ("lb/(ft*s)", "lb/ft/s", r"\mathrm{lb/ft/s}", "pounds per foot per second"),
        ("1/ft", "1/ft", r"\mathrm{1/ft}", "per foot"),
        ("ksi", "ksi", r"\mathrm{ksi}", "k s i"),
    ],
)
def test_units_are_written_as_the_trade_writes_them(
    unit: str, text: str, latex: str, spoken: str
) -> None:
    assert dialect("text").unit(unit) == text
    assert dialect("latex").unit(unit) == latex
    assert spoken_unit(unit, plural=True) == spoken


@pytest.mark.parametrize("text", ["", "^2", "kip ft}", "a(b", "kip//", "k" + "*ft" * 40, "ft^2^3"])
def test_what_is_no_unit_is_not_taken_apart(text: str) -> None:
    factors = split_unit(text)
    assert factors is None or "".join(f.name for f in factors).isalpha()


def test_degrees_and_percent_stand_close_to_their_number() -> None:
    assert dialect("text").qty("30", "°") == "30°"
    assert dialect("latex").qty("30", "°") == r"30^{\circ}"
    assert dialect("latex").qty("12.5", "%") == r"12.5\%"
    assert dialect("speech").qty("30", "°") == "30 degrees"


def test_numbers_keep_their_separators_and_powers_of_ten() -> None:
    latex = dialect("latex")
    assert latex.num("-1,234.5") == "-1{,}234.5"
    assert latex.num("1.2e-5") == r"1.2 \times 10^{-5}"
    assert latex.qty("29,000", "ksi") == r"29{,}000\,\mathrm{ksi}"
    assert dialect("typst").num("1.2e-5") == '"1.2" times "10"^(-"5")'
    assert dialect("mathml").num("-3") == '<mo form="prefix">−</mo><mn>3</mn>'

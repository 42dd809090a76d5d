"""The registry of code constants, their use on a sheet, and the page that lists them."""

from __future__ import annotations

import pytest

from stepcalc import between
from stepcalc.bridge.constants import CONSTANTS, code_constant, use, used_constants
from stepcalc.bridge.constants_page import (
    EMPTY_BOX,
    constants_sheet,
    formula_constants,
)
from stepcalc.bridge.flexure import strength_flexure
from stepcalc.errors import UnknownNameError
from stepcalc.render.build import build_document
from stepcalc.sheet import cells
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, kip_ft
from tests.unit.bridge_beam import beam, tables_on


def test_every_constant_has_article_edition_and_provenance() -> None:
    assert len(CONSTANTS) > 50
    for key, constant in CONSTANTS.items():
        assert constant.symbol == key
        book = {
            "LRFD": "AASHTO LRFD", "Std": "AASHTO Standard", "MBE": "AASHTO Manual",
            "FHWA": "AASHTO Manual",
        }[constant.article.split(" ")[0]]  # fmt: skip
        assert constant.edition.startswith(book), key
        assert len(constant.article) > 4
        assert constant.provenance == "from memory"
        assert constant.description
        if constant.unit is not None:
            Q_(constant.value, constant.unit)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        # AASHTO LRFD 2014, Tables 3.6.1.1.2-1, 3.6.2.1-1, 3.4.1-1; Standard Specifications 2002,
        # 3.22.1A: remembered values that are kept apart from the registry
        ("m_1", 1.2), ("m_2", 1.0), ("m_3", 0.85), ("m_4", 0.65), ("IM", 0.33),
        ("gamma_DC", 1.25), ("gamma_DW", 1.5), ("gamma_LL", 1.75), ("gamma_SII", 1.3),
        ("gamma_cD", 1.25), ("gamma_cC", 1.5), ("gamma_c2", 1.4), ("phi_f", 1.0), ("phi_v", 1.0),
        ("phi_w", 0.8), ("c_SII", 0.8), ("gamma_LFD", 1.3), ("beta_LFD", 5 / 3), ("c_Fb", 0.55),
        ("c_Fv", 0.33), ("I_max", 0.3), ("D_wl", 5.5), ("r_LL", 800.0), ("E", 29000.0),
    ],
)  # fmt: skip
def test_values(key: str, value: float) -> None:
    assert code_constant(key).value == pytest.approx(value, rel=1e-12)


def test_a_constant_is_made_once_per_sheet() -> None:
    sheet = Sheet("loads")
    with sheet.part("Strength"):
        first = use(sheet, "gamma_DC")
    with sheet.part("Service"):
        second = use(sheet, "gamma_DC")
    assert first.same_name(second)
    assert [given.name for given in sheet.givens] == ["gamma_DC"]
    assert first.source == "LRFD 3.4.1 (from memory)"


def test_a_given_of_the_same_name_is_not_taken_for_the_constant() -> None:
    sheet = Sheet("mine")
    with sheet.part("Own"):
        sheet.given("phi_f", 0.9, "my own factor", source="a guess")
    with sheet.part("Code"):
        assert float(use(sheet, "phi_f").value) == 1.0
    assert [constant.symbol for constant in used_constants(sheet)] == ["phi_f"]


def test_a_notebook_cell_that_runs_again_makes_its_constants_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The first cell makes the factor, the second uses it; then the first runs again."""
    sheet = Sheet("notebook")

    def run(place: str, count: int) -> None:
        cell = cells.Cell(place, count, count)
        monkeypatch.setattr(cells, "current_cell", lambda: cell)
        sheet.step(f"M_{place}", use(sheet, "gamma_DC") * (10 * kip_ft), kip_ft)
        use(sheet, "gamma_DC")
        sheet._cell_ended(cell, False)

    run("first", 1)
    run("second", 2)
    run("first", 3)
    assert [item.name for item in sheet.givens] == ["gamma_DC"]
    assert sheet.warnings == []
    assert sheet["M_second"].value == 12.5 * kip_ft


def test_an_unknown_constant_names_its_neighbours() -> None:
    with pytest.raises(UnknownNameError, match=r"gamma_DD.*gamma_D"):
        use(Sheet("s"), "gamma_DD")


def test_page_lists_every_constant_and_every_number_inside_a_formula() -> None:
    b = beam()
    strength_flexure(b.sheet, b.section, b.buckling, demand=b.M, top_flange="resting")
    page = constants_sheet([b.sheet])
    tables = tables_on(page)
    listed = [row[0].layout for row in tables[0].rows]
    assert all(["sym", name] in listed for name in ("E", "R_h", "phi_f", "F_A6_max", "k_c"))
    assert listed == [["sym", item.symbol] for item in used_constants(b.sheet)]
    inside = {(row[0].words, row[2].words) for row in tables[1].rows}
    assert ("lambda_pf", f"0.38 {EMPTY_BOX}") in inside
    assert any(name == "L_r,A6" and "1.95" in numbers and "6.76" in numbers
               for name, numbers in inside)  # fmt: skip
    assert all(row[-1] == EMPTY_BOX for row in tables[0].rows)
    for row, item in zip(tables[1].rows, formula_constants(b.sheet), strict=True):
        assert row[2].words.count(EMPTY_BOX) == len(item.numbers)  # a box for each number


def test_formulas_on_the_page_are_set_as_formulas_and_say_their_units() -> None:
    sheet = Sheet("empirical")
    S, L = sheet.given("S", 8 * ft), sheet.given("L", 60 * ft)
    sheet.step(
        "g", 0.06 + (S.magnitude(ft) / 14) ** 0.4 * (S / L) ** 0.3, ref="LRFD 4.6.2.2",
        valid=(between(S, 3.5 * ft, 16 * ft),),
    )  # fmt: skip
    page = constants_sheet([sheet])
    (row,) = tables_on(page)[1].rows
    assert str(row[1]) == ("0.06 + (S/14)^0.4(S/L)^0.3; for 3.5 ft ≤ S ≤ 16 ft; with S in ft")
    block = next(x for x in build_document(page)["sheets"][0]["blocks"] if x["kind"] == "table"
                 and "Step" in x["header"])  # fmt: skip
    assert block["rows"][0][1][0] == "row"
    assert Sheet.from_json(page.to_json()).to_json() == page.to_json()


def test_no_code_step_with_a_number_escapes_the_page() -> None:
    """Plant a step with a code reference and a number: it must be listed, with its number."""
    sheet = Sheet("planted")
    M = sheet.given("M", 10 * kip_ft)
    sheet.step("M_x", 1.37 * M, kip_ft, ref="LRFD 9.9.9")
    sheet.step("M_y", 2.5 * M, kip_ft, ref="statics")
    found = formula_constants(sheet)
    assert [(item.symbol, item.numbers, item.article) for item in found] == [
        ("M_x", ("1.37",), "LRFD 9.9.9")
    ]

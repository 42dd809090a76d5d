"""A document of every kind of block, with numbers invented for the purpose."""

from __future__ import annotations

from typing import Any

Tree = list[Any]


def sym(name: str) -> Tree:
    return ["sym", name]


def num(text: str) -> Tree:
    return ["num", text]


def qty(number: str, unit: str) -> Tree:
    return ["qty", number, unit]


def mul(*items: Tree) -> Tree:
    return ["mul", list(items)]


def group(item: Tree) -> Tree:
    return ["group", item]


def frac(over: Tree, under: Tree) -> Tree:
    return ["frac", over, under]


def power(base: Tree, exponent: str) -> Tree:
    return ["pow", base, num(exponent)]


def add(*terms: Tree, signs: str = "") -> Tree:
    chosen = ["", *(signs or "+" * (len(terms) - 1))]
    return ["add", [[sign, term] for sign, term in zip(chosen, terms, strict=True)]]


TITLE = {
    "project": "Mill Lane over Otter Creek",
    "subject": "Interior girder, non-composite",
    "structure": "B-017",
    "job": "2026-041",
    "owner": "County of Otter",
    "revision": "0",
    "prepared_by": "A. Preparer",
    "prepared_on": "2026-11-25",
    "checked_by": "",
    "checked_on": "",
    "reviewed_by": "",
    "reviewed_on": "",
}


def heading(number: str, text: str, level: int = 1) -> dict[str, Any]:
    return {"kind": "heading", "level": level, "number": number, "text": text}


def given(number: str, name: str, value: Tree, description: str, source: str) -> dict[str, Any]:
    return {
        "kind": "given", "id": number, "name": name, "symbol": sym(name), "value": value,
        "description": description, "source": source,
    }  # fmt: skip


def step(number: str, name: str, formula: Tree, substitution: Tree, result: Tree,
         **more: Any) -> dict[str, Any]:  # fmt: skip
    return {
        "kind": "step", "id": number, "name": name, "symbol": sym(name), "formula": formula,
        "substitution": substitution, "result": result, **more,
    }  # fmt: skip


def loads_blocks() -> list[dict[str, Any]]:
    foot, inches = qty("1", "ft"), qty("12", "inch")
    return [
        heading("1", "Data"),
        given("1-1", "L", qty("62", "ft"), "span, centre to centre of bearings", "framing plan"),
        given("1-2", "S", qty("7.75", "ft"), "girder spacing", "framing plan"),
        given("1-3", "t_s", qty("8", "inch"), "deck thickness, total", "typical section"),
        given("1-4", "gamma_c", qty("150", "lb/ft^3"), "unit weight of reinforced concrete",
              "common practice"),
        given("1-5", "F_y", qty("50", "ksi"), "yield strength of the beam", "bridge plans")
        | {"assumed": "grade 50, until the mill reports are found"},
        given("1-6", "shape", ["text", "W36X135"], "rolled shape", "trial")
        | {"choices": "any of the 289 W shapes", "warnings": ["the shape is a trial, not chosen"]},
        {"kind": "figure", "caption": "Typical section", "data": {
            "kind": "bridge_section", "girders": [3.0, 10.75, 18.5, 26.25, 34.0],
            "deck": [0.0, 37.0], "thickness": 0.667, "barrier_width": 1.5, "depth": 3.0,
            "flange": 1.0, "labels": {"spacing": "7'-9\"", "overhang": "3'-0\"",
                                      "roadway": "34'-0\"", "width": "37'-0\""}}},
        heading("2", "Permanent loads"),
        {"kind": "markdown", "text": "The deck is carried by *tributary width*; its own weight "
         "acts on the bare beam.\n\n* stage 1: deck, haunch, beam\n* stage 2: barriers\n\n"
         "| item | stage |\n|:--|--:|\n| deck | 1 |\n| wearing surface | 2 |\n"},
        heading("2.1", "Deck", 2),
        step("2.1-1", "w_deck", mul(sym("S"), sym("t_s"), sym("gamma_c")),
             mul(group(qty("7.75", "ft")), group(qty("8", "inch")), group(frac(foot, inches)),
                 group(qty("150", "lb/ft^3")), group(frac(qty("1", "kip"), qty("1000", "lb")))),
             qty("0.775", "kip/ft"), description="deck on one girder", ref="tributary width"),
        step("2.1-2", "w_DC1", add(sym("w_deck"), sym("w_haunch"), sym("w_beam"), sym("w_misc")),
             add(qty("0.775", "kip/ft"), qty("0.032", "kip/ft"), qty("0.135", "kip/ft"),
                 qty("0.0203", "kip/ft")),
             qty("0.9623", "kip/ft"), boxed=True, description="permanent load, stage 1"),
        step("2.1-3", "M_DC1", frac(mul(sym("w_DC1"), power(sym("L"), "2")), num("8")),
             frac(mul(group(qty("0.9623", "kip/ft")), power(group(qty("62", "ft")), "2")),
                  num("8")),
             qty("462.4", "kip*ft"), boxed=True, ref="statics"),
        heading("2.2", "Wearing surface", 2),
        step("2.2-1", "w_DW", frac(mul(sym("q_DW"), sym("w_roadway")), sym("N_b")),
             frac(mul(group(qty("25", "psf")), group(qty("34", "ft"))), num("5")),
             qty("0.17", "kip/ft"), origin=["sheet 'criteria', step 1-4"],
             valid=[{"condition": ["rel", qty("34", "ft"), [["≤", qty("40", "ft")]]], "ok": True}]),
        {"kind": "note", "text": "The wearing surface is shared equally by all girders."},
    ]  # fmt: skip


def live_load_blocks() -> list[dict[str, Any]]:
    long_sum = add(*(mul(num(f"{k}.25"), sym(f"M_{k}"), sym(f"eta_{k}")) for k in range(1, 13)))
    numbers = add(*(mul(group(num(f"{k}.25")), group(qty(f"{100 + 7 * k}.3", "kip*ft")),
                        group(num("1.05"))) for k in range(1, 13)))  # fmt: skip
    factor = add(
        num("0.075"),
        mul(power(group(frac(sym("S"), num("9.5"))), "0.6"),
            power(group(frac(sym("S"), sym("L"))), "0.2"),
            power(group(frac(sym("K_g"), mul(num("12.0"), sym("L"), power(sym("t_s"), "3")))),
                  "0.1")),
    )  # fmt: skip
    factor_numbers = add(
        num("0.075"),
        mul(power(group(frac(num("7.75"), num("9.5"))), "0.6"),
            power(group(frac(num("7.75"), num("62"))), "0.2"),
            power(group(frac(num("94,312"), mul(num("12.0"), num("62"),
                                                power(group(num("7.5")), "3")))), "0.1")),
    )  # fmt: skip
    slender = ["rel", sym("lambda_f"), [["≤", sym("lambda_pf")]]]
    middling = ["rel", sym("lambda_pf"), [["<", sym("lambda_f")], ["≤", sym("lambda_rf")]]]
    buckling = mul(
        group(add(num("1"), mul(group(add(num("1"), frac(sym("F_yr"),
              mul(sym("R_h"), sym("F_yc"))), signs="-")),
              frac(add(sym("lambda_f"), sym("lambda_pf"), signs="-"),
                   add(sym("lambda_rf"), sym("lambda_pf"), signs="-"))), signs="-")),
        sym("R_b"), sym("R_h"), sym("F_yc"),
    )  # fmt: skip
    return [
        heading("1", "Live load"),
        {"kind": "computed", "id": "1-1", "name": "M_LL", "symbol": sym("M_LL"),
         "result": qty("811.6", "kip*ft"), "boxed": True, "description": "largest truck moment",
         "ref": "LRFD 3.6.1.2.2 (from memory)", "method": "influence line, every position tried",
         "proof": [
             step("", "R_A", frac(add(mul(group(qty("8", "kip")), group(qty("47.33", "ft"))),
                                      mul(group(qty("32", "kip")), group(qty("33.33", "ft"))),
                                      mul(group(qty("32", "kip")), group(qty("19.33", "ft")))),
                                  qty("62", "ft")), num("33.29"), qty("33.29", "kip")),
             step("", "M_C", add(mul(sym("R_A"), sym("x")), mul(sym("P_1"), sym("a")), signs="-"),
                  add(mul(group(qty("33.29", "kip")), group(qty("28.67", "ft"))),
                      mul(group(qty("8", "kip")), group(qty("14", "ft"))), signs="-"),
                  qty("842.4", "kip*ft")),
         ]},
        {"kind": "figure", "caption": "Axles placed for the largest moment", "data": {
            "kind": "free_body", "span": 62.0, "length_unit": "ft", "supports": [0, 62],
            "loads": [{"x": 14.67, "label": "8 kip", "size": 8},
                      {"x": 28.67, "label": "32 kip", "size": 32},
                      {"x": 42.67, "label": "32 kip", "size": 32}],
            "reactions": [{"x": 0, "label": "R_A = 33.29 kip"}, {"x": 62, "label": "R_B"}],
            "dimensions": [{"start": 0, "end": 14.67, "label": "14.67 ft"},
                           {"start": 14.67, "end": 28.67, "label": "14 ft"},
                           {"start": 28.67, "end": 42.67, "label": "14 ft"},
                           {"start": 42.67, "end": 62, "label": "19.33 ft"},
                           {"start": 0, "end": 62, "label": "L = 62 ft"}]}},
        {"kind": "figure", "caption": "Influence line of moment", "data": {
            "kind": "influence", "x": [0, 28.67, 62], "y": [0, 15.41, 0],
            "loads": [{"x": 14.67, "y": 7.89, "label": "8 kip"},
                      {"x": 28.67, "y": 15.41, "label": "32 kip"},
                      {"x": 42.67, "y": 8.94, "label": "32 kip"}],
            "x_label": "distance from the left bearing (ft)", "y_label": "ordinate (ft)"}},
        heading("2", "Distribution"),
        step("2-1", "g_M", factor, factor_numbers, num("0.6421"), ref="LRFD Table 4.6.2.2.2b-1",
             description="lanes to one girder, S and L in ft, t_s in inch, K_g in inch^4",
             valid=[
                 {"condition": ["rel", num("3.5"), [["≤", sym("S")], ["≤", num("16")]]],
                  "ok": True},
                 {"condition": ["rel", num("4.5"), [["≤", sym("t_s")], ["≤", num("12")]]],
                  "ok": False}],
             warnings=["the deck is thinner than the formula was calibrated for"]),
        step("2-2", "M_u", long_sum, numbers, qty("2,114", "kip*ft"), boxed=True,
             description="a sum that no line can hold", ref="LRFD 3.4.1 (from memory)"),
        heading("3", "Resistance"),
        {"kind": "lookup", "id": "3-1", "name": "I_x", "symbol": sym("I_x"),
         "result": qty("7,800", "inch^4"), "table": "W shapes", "row": "W36X135",
         "column": "Ix", "ref": "AISC table", "header": ["shape", "weight", "Ix"],
         "neighbours": [["W36X130", "130", qty("7,000", "inch^4")], ["W36X150", "150", "9,040"]]},
        step("3-2", "F_nc", ["cases", [
            [mul(sym("R_b"), sym("R_h"), sym("F_yc")), slender, ["text", "compact flange"]],
            [buckling, middling, ["text", "inelastic"]],
            [frac(mul(num("0.9"), sym("E"), sym("k_c")), power(sym("lambda_f"), "2")), None,
             ["text", "slender"]]]],
             mul(group(num("1.0")), group(num("1.0")), group(qty("50", "ksi"))),
             qty("50.0", "ksi"), branch="compact flange", condition=slender,
             ref="LRFD 6.10.8.2.2 (from memory)", description="local buckling of the flange"),
        {"kind": "computed", "id": "3-3", "name": "M_n", "symbol": sym("M_n"),
         "result": qty("2,121", "kip*ft"), "method": "plastic moment of the shape"},
        step("3-4", "sigma", frac(sym("M"), sym("S_x")), ["text", "division by zero"],
             ["text", "undefined"], undefined="S_x is 0, and the formula divides by it"),
        heading("4", "Checks"),
        {"kind": "check", "id": "4-1", "name": "Flexure, Strength I", "location": "midspan",
         "ref": "LRFD 6.10.8.1.1", "ratio": "0.708", "verdict": "OK",
         "formula": ["rel", add(sym("f_bu"), frac(sym("f_l"), num("3"))),
                     [["≤", mul(sym("phi_f"), sym("F_nc"))]]],
         "substitution": ["rel", qty("35.4", "ksi"), [["≤", qty("50.0", "ksi")]]]},
        {"kind": "check", "id": "4-2", "name": "Live-load deflection", "location": "midspan",
         "ref": "LRFD 2.5.2.6.2", "ratio": "1.0004", "verdict": "N.G.",
         "formula": ["rel", sym("Delta_LL"), [["≤", frac(sym("L"), num("800"))]]],
         "substitution": ["rel", qty("0.9304", "inch"), [["≤", qty("0.93", "inch")]]],
         "warnings": ["within 0.5 % of the limit: look at the digits"], "stale": True},
        {"kind": "table", "caption": "Moments at tenth points, kip-ft", "align": "lrrrrrrr",
         "header": ["case", "0.0", "0.1", "0.2", "0.3", "0.4", "0.5", "largest"],
         "rows": [["DC1", "0", "166.5", "295.9", "388.4", "443.9", "462.4", "462.4"],
                  ["LL + IM", "0", "401.2", "690.3", "880.1", "988.7", "1,005", "1,005"],
                  [sym("M_u"), "0", "910.2", "1,578", "2,026", "2,285", "2,337",
                   qty("2,337", "kip*ft")]]},
        {"kind": "figure", "caption": "Moment along the girder", "data": {
            "kind": "curves", "x": [6.2 * k for k in range(11)],
            "x_label": "distance from the left bearing (ft)", "y_label": "moment (kip-ft)",
            "series": [{"label": "DC1", "y": [4.624 * k * (10 - k) * 4 for k in range(11)]},
                       {"label": "Strength I", "y": [23.37 * k * (10 - k) * 4 for k in range(11)]}],
            "marks": [{"x": 31.0, "y": 2337.0, "label": "2,337 kip-ft"}], "invert_y": False}},
        heading("5", "Conclusion"),
        {"kind": "conclusion", "verdict": "1 of 2 checks is N.G.",
         "governing": "Live-load deflection, D/C = 1.0004",
         "scope_checked": ["flexure, Strength I", "live-load deflection"],
         "scope_not_checked": ["exterior girder", "fatigue", "bearings"],
         "recommendation": ["W36X150: every check passes, largest D/C 0.87 (deflection)",
                            "spacing at which W36X135 passes: 7'-8\", deck width held"],
         "summary": [
             {"name": "Flexure, Strength I", "location": "midspan", "demand": qty("35.4", "ksi"),
              "capacity": qty("50.0", "ksi"), "ratio": "0.708", "verdict": "OK",
              "ref": "LRFD 6.10.8.1.1", "governs": False},
             {"name": "Live-load deflection", "location": "midspan",
              "demand": qty("0.9304", "inch"), "capacity": qty("0.93", "inch"), "ratio": "1.0004",
              "verdict": "N.G.", "ref": "LRFD 2.5.2.6.2", "governs": True}]},
    ]  # fmt: skip


def sample_document() -> dict[str, Any]:
    return {
        "v": 1,
        "title": dict(TITLE),
        "profile": "package",
        "sheets": [
            {"title": "Permanent loads", "blocks": loads_blocks()},
            {"title": "Live load, resistance and checks", "blocks": live_load_blocks()},
        ],
        "notices": [],
    }

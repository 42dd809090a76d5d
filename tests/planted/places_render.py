"""Errors planted in what is printed, and the tests that must see them."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/"

RENDER = [
    *places(
        "render/brackets.py",
        "tests/golden/test_formulas.py",
        ('frozenset(("add", "sub", "neg", "total", "cases"))', 'frozenset(("neg", "cases"))'),
        ('return not unit and number[0] != "-" and', "return not unit and"),
    ),
    *places(
        "render/walker.py",
        "tests/golden/test_formulas.py",
        ('"+" if node.op == "add" else "-"', '"+" if node.op != "add" else "-"'),
        ('("add", "sub", "mul", "neg", "total", "cases")', '("add", "sub", "neg", "total")'),
    ),
    *places(
        "render/conversion_places.py",
        f"{_UNIT}test_render_conversions.py",
        ("    if net > 0:", "    if net < 0:"),
        ("            at_end = place.factors + at_end\n    else:", "    else:"),
    ),
    *places(
        "render/conversions.py",
        f"{_UNIT}test_render_conversions.py",
        ("place_for.side * net", "net"),
        ("wish if place is lone else None", "wish"),
    ),
    *places(
        "render/dialects/text.py",
        "tests/golden/test_formulas.py",
        ("_bracketed(under, at_most=_POWER)", "_bracketed(under, at_most=_PRODUCT)"),
    ),
    *places(
        "render/branches.py",
        f"{_UNIT}test_render_branches.py",
        ('"lt": "ge", "le": "gt"', '"lt": "gt", "le": "ge"'),
    ),
    *places(
        "render/summary.py",
        f"{_UNIT}test_render_build.py",
        ("check.slot == governing.slot", "check.slot != governing.slot"),
        ("if not check.passed", "if check.passed"),
    ),
]

"""Givens of a proof in one row, in a column, or by themselves."""

from __future__ import annotations

from typing import Any

from stepcalc.render.gathered_givens import gathered


def block(name: str, words: str, source: str = "as above", **more: Any) -> dict[str, Any]:
    value = ["qty", "8", [["unit", "kip", 1]]]
    return {
        "kind": "given", "symbol": ["sym", name], "value": value, "description": words,
        "source": source, **more,
    }  # fmt: skip


STEP = {"kind": "step", "symbol": ["sym", "R"]}


def test_three_short_givens_stand_in_one_row_and_keep_their_sources() -> None:
    items = [block("L", "span"), block("P_1", "axle 1", "LRFD 3.6"), block("P_2", "axle 2")]
    table, step = gathered([*items, STEP])
    assert table["header"] == ["span", "axle 1", "axle 2"]
    assert len(table["rows"]) == 1
    assert table["caption"] == "Givens: as above; LRFD 3.6"
    assert step is STEP


def test_a_long_one_stands_by_itself_and_nothing_is_lost() -> None:
    long = block("x", "a description of more than a few words")
    items = [block("L", "span"), block("P_1", "axle 1"), block("P_2", "axle 2"), long]
    table, own = gathered(items)
    assert len(table["rows"][0]) == 3
    assert own is long


def test_many_stand_in_a_column_few_and_marked_ones_as_they_are() -> None:
    many = [block(f"P_{i}", f"axle {i}") for i in range(9)]
    (table,) = gathered(many)
    assert len(table["rows"]) == 9
    assert gathered(many[:2]) == many[:2]
    marked = [block("a", "b", assumed="so"), *many[:2]]
    assert gathered(marked) == marked

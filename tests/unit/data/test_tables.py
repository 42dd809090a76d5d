"""The table class: finding rows, naming neighbours, refusing what does not fit."""

from __future__ import annotations

import math
import pickle
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.data.tables import Table, register_table, table
from stepcalc.errors import NameTakenError, StepcalcError, TableError


def small(table_id: str = "rails", last: float = 9.0, **changes: Any) -> Table:
    """Return a table of three rows in two families; `last` is a height."""
    parts: dict[str, Any] = {
        "id": table_id,
        "title": "Rails",
        "edition": "first",
        "source": "invented",
        "key": "rail",
        "names": ("R5X30", "R5X20", "Q7X40"),
        "columns": {"weight": (30.0, 20.0, 40.0), "height": (5.5, 5.0, last)},
        "units": {"weight": "lb/yard", "height": "inch"},
        "family_mark": "X",
    }
    return Table(**{**parts, **changes})


@pytest.mark.parametrize("written", ["W36X135", "w36x135", "W 36 x 135", " w36×135 ", "W36 X135"])
def test_a_shape_is_found_in_any_spelling(written: str) -> None:
    shapes = table("w_shapes")
    assert shapes.names[shapes.row_number(written)] == "W36X135"


@given(st.sampled_from(table("w_shapes").names), st.booleans(), st.integers(0, 3))
def test_every_row_is_its_own(name: str, lower: bool, blanks: int) -> None:
    shapes = table("w_shapes")
    written = (" " * blanks).join(name.lower() if lower else name)
    assert shapes.row_number(written) == shapes.names.index(name)


@pytest.mark.parametrize(
    ("written", "near"), [("W36X136", "W36X135"), ("W21X56", "W21X57"), ("M24X68", "W24X68")]
)
def test_a_missing_row_names_the_nearest(written: str, near: str) -> None:
    with pytest.raises(TableError, match=f"'{written}' is not in.*nearest names: .*{near}"):
        table("w_shapes").row_number(written)


def test_a_hopeless_name_still_gets_an_answer() -> None:
    with pytest.raises(TableError, match="its first row is R5X30"):
        small().row_number("§")


def test_value_and_column() -> None:
    shapes = table("w_shapes")
    assert shapes.value("w24x68", "Sx") == 154.0
    assert shapes.column("weight")[shapes.row_number("W12X58")] == 58.0
    with pytest.raises(TableError, match="no column 'ix'; its columns are weight, area, d, bf"):
        shapes.value("W24X68", "ix")


def test_neighbours_stay_in_the_family() -> None:
    assert small().neighbours("R5X20") == (None, "R5X30")
    assert small().neighbours("r5x30", by="height") == ("R5X20", None)
    assert small().neighbours("Q7X40") == (None, None)
    assert small(family_mark="").neighbours("R5X30") == ("R5X20", "Q7X40")
    assert table("w_shapes").neighbours("W36X150") == ("W36X135", "W36X160")


def test_families() -> None:
    assert small().family("r5x20") == "R5"
    assert small().family_rows("r5") == (0, 1)
    assert small().family_rows("") == (0, 1, 2)
    with pytest.raises(TableError, match="belongs to 'W9'; its families are R5, Q7"):
        small().family_rows("W9")
    with pytest.raises(TableError, match="the table has no families"):
        small(family_mark="").family_rows("R5")


@pytest.mark.parametrize(
    ("part", "wrong", "words"),
    [
        ("names", ("R5X30", "r5 x 30", "Q7X40"), "two rows of the same name"),
        ("names", (), "no rows"),
        ("names", ("R5X30", "R5X20"), "each of its 2 rows"),
        ("units", {"weight": "lb/yard"}, "height"),
        ("columns", {"weight": (30.0, 20.0, math.nan), "height": (1.0, 2.0, 3.0)}, "'weight'"),
        ("columns", {"weight": (30.0, 20.0, 9.0), "height": (1.0, 2.0, math.inf)}, "'height'"),
    ],
)
def test_a_table_that_does_not_fit_is_refused(part: str, wrong: Any, words: str) -> None:
    with pytest.raises(TableError, match=words):
        small(**{part: wrong})


def test_a_table_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        table("w_shapes").columns["d"] = ()  # type: ignore[index]  # the point of the test
    with pytest.raises(AttributeError):
        table("w_shapes").edition = "mine"  # type: ignore[misc]  # the point of the test


def test_the_digest_follows_the_content() -> None:
    assert len(small().digest) == 64
    assert small().digest == small().digest
    others = [small(last=9.1), small(edition="second"), small(units={"weight": "", "height": "ft"})]
    assert len({small().digest, *(other.digest for other in others)}) == 4


def test_registered_tables_are_found_and_guarded() -> None:
    own = register_table(small("test_tables.rails"))
    assert table("test_tables.rails") is own
    assert register_table(small("test_tables.rails")) is own
    with pytest.raises(NameTakenError, match="an id of its own"):
        register_table(small("test_tables.rails", last=8.0))
    with pytest.raises(NameTakenError, match="w_shapes"):
        register_table(small("w_shapes"))
    with pytest.raises(TableError, match="no table 'w_shape'; the tables are steel_grades"):
        table("w_shape")


def test_a_shipped_table_is_read_once() -> None:
    assert table("w_shapes") is table("w_shapes")


def test_its_errors_are_ours_and_survive_a_process_boundary() -> None:
    with pytest.raises(StepcalcError) as caught:
        table("none such")
    again = pickle.loads(pickle.dumps(caught.value))
    assert isinstance(again, TableError)
    assert str(again) == str(caught.value)

"""Every published value is either tested or named as not yet tested, with the reason."""

from __future__ import annotations

import importlib
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.published.entries import all_entries, entry
from tests.published.report import TABLE, lines

HERE = Path(__file__).parent


def covered() -> dict[str, set[str]]:
    """Return the names that the modules of this folder have readings for, by entry."""
    names: dict[str, set[str]] = {}
    for path in sorted(HERE.glob("test_*.py")):
        module = importlib.import_module(f"tests.published.{path.stem}")
        for entry_id, readings in getattr(module, "READINGS", {}).items():
            assert not names.setdefault(entry_id, set()) & set(readings), "tested twice"
            names[entry_id] |= set(readings)
        for name in getattr(module, "ROUNDED", {}):
            names["code-constants"].add(name)
    return names


def not_yet() -> dict[str, set[str]]:
    """Return the names that are said to be untested, by entry."""
    raw: dict[str, Any] = yaml.safe_load((HERE / "not_yet.yaml").read_text("utf-8"))
    for said in raw.values():
        assert said["why"]
        assert said["names"]
    return {
        entry_id: {
            name
            for name in entry(entry_id).expected
            if any(fnmatchcase(name, pattern) for pattern in said["names"])
        }
        for entry_id, said in raw.items()
    }


@pytest.mark.parametrize("entry_id", [e.id for e in all_entries()])
def test_nothing_is_left_out_unsaid(entry_id: str) -> None:
    done, waiting = covered().get(entry_id, set()), not_yet().get(entry_id, set())
    assert not done & waiting, "tested by now: take it off not_yet.yaml"
    assert done | waiting == set(entry(entry_id).expected)


def test_no_list_names_an_entry_that_is_not_there() -> None:
    assert {*covered(), *not_yet()} <= {e.id for e in all_entries()}
    assert all(not_yet().values())


def test_every_entry_has_its_source_beside_it() -> None:
    for e in all_entries():
        assert all(e.source[key] for key in ("title", "body", "year", "locator")), e.id
        assert e.source["provenance"] in {"read", "memory"}, e.id
        assert all(x.tolerance >= 0 for x in e.expected.values()), e.id


def test_the_waiting_values_are_shown() -> None:
    """Print how much is tested and what waits (pytest -s, or the report of a failure)."""
    done = sum(map(len, covered().values()))
    waiting = {entry_id: len(names) for entry_id, names in not_yet().items()}
    print(f"{done} published values tested; waiting: {waiting}")
    assert done + sum(waiting.values()) == sum(len(e.expected) for e in all_entries())


def test_the_table_of_published_checks_is_the_present_one() -> None:
    assert TABLE.read_text("utf-8").splitlines() == list(lines()), (
        "renew it with python -m tests.published.report"
    )

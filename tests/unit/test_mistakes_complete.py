"""Every one of the 45 common mistakes has its test, and no test stands for nothing."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent
MISTAKES = 45
ELSEWHERE = {39: ("test_rating.py", "test_39_tons_are_of_two_kip_and_live_load_is_of_the_girder")}
"""What another file tests: file and test."""


def mistakes_with_tests() -> dict[int, ast.FunctionDef]:
    tree = ast.parse((HERE / "test_mistakes.py").read_text("utf-8"))
    found = {}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            match = re.match(r"test_(\d\d)_", node.name)
            if match:
                found[int(match[1])] = node
    return found


def test_the_list_is_complete() -> None:
    assert set(mistakes_with_tests()) | set(ELSEWHERE) == set(range(1, MISTAKES + 1))
    for file, name in ELSEWHERE.values():
        assert f"def {name}(" in (HERE / file).read_text("utf-8")


@pytest.mark.parametrize("number", [n for n in range(1, MISTAKES + 1) if n not in ELSEWHERE])
def test_each_looks_at_something(number: int) -> None:
    """Each asserts, or expects an error, at least once."""
    body = ast.walk(mistakes_with_tests()[number])
    looks = [
        node
        for node in body
        if isinstance(node, ast.Assert)
        or (isinstance(node, ast.Attribute) and node.attr in ("raises", "warns"))
    ]
    assert looks

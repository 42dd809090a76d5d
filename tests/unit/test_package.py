"""The package as a whole: what it exports, and what importing it must not load."""

from __future__ import annotations

import subprocess
import sys

import pytest

import stepcalc
from stepcalc import errors

HEAVY = {"sympy", "ipywidgets", "nbclient", "nbconvert", "matplotlib", "IPython", "jinja2", "typst"}


def test_all_is_sorted_and_complete() -> None:
    exported = list(stepcalc.__all__)
    assert exported == sorted(exported)
    assert all(getattr(stepcalc, name) is not None for name in exported)
    public = {
        name
        for name, value in vars(stepcalc).items()
        if not name.startswith("_") and str(getattr(value, "__module__", "")).startswith("stepcalc")
    }
    assert public <= set(exported)
    assert set(exported) <= set(dir(stepcalc))


PROMISED = {
    "Sheet", "TitleBlock", "Package", "Revision", "StepcalcError", "absolute", "acos", "all_of",
    "any_of", "asin", "atan", "between", "cases", "ceil", "cos", "exp", "floor", "frac",
    "interpolate", "log", "maximum", "minimum", "not_", "pi", "sin", "sqrt", "tan", "total",
}  # fmt: skip


def test_the_contract_names_are_exported() -> None:
    assert set(stepcalc.__all__) >= PROMISED


def test_a_name_that_is_not_there() -> None:
    name = "no_such_name"
    with pytest.raises(AttributeError, match=name):
        getattr(stepcalc, name)


@pytest.mark.parametrize(
    "code",
    ["import stepcalc", "from stepcalc import *", "from stepcalc.units import ft; 2 * ft"],
)
def test_import_is_light(code: str) -> None:
    shown = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert not HEAVY & set(shown.stdout.split())


def test_every_error_is_ours_and_a_builtin() -> None:
    found = [
        value
        for value in vars(errors).values()
        if getattr(value, "__module__", "") == errors.__name__
    ]
    assert len(found) > 10
    for kind in found:
        assert issubclass(kind, errors.StepcalcError)
        assert kind is errors.StepcalcError or any(
            base.__module__ == "builtins" and base is not Exception for base in kind.__bases__
        )
        assert kind.__doc__
        assert str(kind("span 'L' is missing")) == "span 'L' is missing"
        assert f"── {kind.__name__}" in str(errors.__doc__) or kind is errors.StepcalcError

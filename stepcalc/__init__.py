"""Calculation sheets for Jupyter: symbols, units, checks, and a page one can sign.

Results need the review of a licensed engineer; the governing code and the owner's rules come
first.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from stepcalc._version import __version__

_HOMES = {
    "stepcalc.sheet.sheet": ("Sheet",),
    "stepcalc.sheet.titles": ("TitleBlock",),
    "stepcalc.sheet.package": ("Package",),
    "stepcalc.sheet.revisions": ("Revision",),
    "stepcalc.sheet.kernels": ("Kernel", "register_kernel"),
    "stepcalc.data.tables": ("Table", "register_table"),
    "stepcalc.errors": ("StepcalcError",),
    "stepcalc.expr.algebra": ("from_sympy",),
    "stepcalc.expr.functions": (
        "absolute", "acos", "all_of", "any_of", "asin", "atan", "between", "cases", "ceil", "cos",
        "exp", "floor", "frac", "interpolate", "log", "log10", "maximum", "minimum", "not_", "pi",
        "sin", "sqrt", "tan", "total",
    ),
}  # fmt: skip
_HOME = {name: module for module, names in _HOMES.items() for name in names}

__all__ = [
    "Kernel", "Package", "Revision", "Sheet", "StepcalcError", "Table", "TitleBlock",
    "__version__", "absolute", "acos", "all_of", "any_of", "asin", "atan", "between", "cases",
    "ceil", "cos", "exp", "floor", "frac", "from_sympy", "interpolate", "log", "log10", "maximum",
    "minimum", "not_", "pi", "register_kernel", "register_table", "sin", "sqrt", "tan", "total",
]  # fmt: skip


def __getattr__(name: str) -> Any:
    module = _HOME.get(name)
    if module is None:
        message = f"module 'stepcalc' has no attribute {name!r}"
        raise AttributeError(message)
    value = getattr(import_module(module), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)

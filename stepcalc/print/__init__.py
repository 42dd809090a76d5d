"""Documents printed as PDF, as one HTML file, or as TeX."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stepcalc.print.notebook import print_notebook
    from stepcalc.print.package import print_document

__all__ = ["print_document", "print_notebook"]

_MODULES = {
    "print_document": "stepcalc.print.package",
    "print_notebook": "stepcalc.print.notebook",
}


def __getattr__(name: str) -> Any:
    """Load what prints on first use; a sheet that is only computed pays nothing for it."""
    from importlib import import_module

    if name not in _MODULES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(_MODULES[name]), name)

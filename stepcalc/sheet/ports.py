"""The few names through which a sheet reaches a higher floor, resolved on first use.

This is the only upward reach of the package.  ``register_port`` lets a test or an extension put
something else in place.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

__all__ = ["call", "register_port"]

_PORTS: dict[str, str | Callable[..., Any]] = {
    "own_kernels": "stepcalc.bridge.own_kernels:own_kernels",
    "step_latex": "stepcalc.render.build:step_latex",
    "step_text": "stepcalc.render.build:step_text",
    "formula_layout": "stepcalc.render.build:formula_layout",
    "build_document": "stepcalc.render.build:build_document",
    "package_document": "stepcalc.render.package_document:package_document",
    "node_bundle": "stepcalc.notebook.display:node_bundle",
    "part_bundle": "stepcalc.notebook.display:part_bundle",
    "sheet_bundle": "stepcalc.notebook.display:sheet_bundle",
    "title_bundle": "stepcalc.notebook.display:title_bundle",
    "display": "stepcalc.notebook.display:show",
    "print_document": "stepcalc.print.package:print_document",
}


def register_port(name: str, target: str | Callable[..., Any]) -> None:
    """Set what a port calls: a function, or ``module:function`` to be resolved on first use."""
    _PORTS[name] = target


def call(name: str, *args: Any, **options: Any) -> Any:
    """Call a port by name."""
    target = _PORTS[name]
    if isinstance(target, str):
        module, _, function = target.partition(":")
        target = _PORTS[name] = getattr(import_module(module), function)
    return target(*args, **options)

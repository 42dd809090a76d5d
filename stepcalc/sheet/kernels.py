"""Numerical procedures that can stand on a sheet as a node: the registry of kernels."""

from __future__ import annotations

import difflib
import keyword
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from stepcalc.errors import FormulaError, UnknownNameError
from stepcalc.sheet import ports

__all__ = ["Kernel", "kernel", "register_kernel"]


@dataclass(frozen=True)
class Kernel:
    """A numerical procedure of floats and arrays.

    Parameters
    ----------
    id : str
        Name under which a sheet stores it, such as ``"simple span: truck moment"``.
    version : int
        Raised whenever results change; a stored sheet of another version is frozen.
    function : callable
        Takes the inputs by name as floats or broadcasting arrays in the units of ``inputs`` and
        returns a float or array in ``unit``.
    inputs : mapping of argument name to unit text
        None for a plain number, ``"choice"`` for a text that is fixed when the node is made.
    unit : str or None
        Unit of the result.
    proofs : mapping of a proof's name to a callable
        Called with the inputs as plain floats; returns a small sheet whose last step is the result.
    method : str
        One sentence for the sheet: how the value is found.
    stated : tuple of str
        Inputs that a sheet states by tables of its own, so that the method does not list them.
    """

    id: str
    version: int
    function: Callable[..., Any]
    inputs: Mapping[str, str | None]
    unit: str | None
    proofs: Mapping[str, Callable[..., Any]] = field(default_factory=dict)
    method: str = ""
    stated: tuple[str, ...] = ()


_KERNELS: dict[str, Kernel] = {}


def register_kernel(new: Kernel) -> Kernel:
    """Make a procedure known by its id; a second one of the same id and version is refused."""
    old = _KERNELS.get(new.id)
    unfit = [name for name in new.inputs if not name.isidentifier() or keyword.iskeyword(name)]
    if unfit:
        message = f"the inputs of kernel {new.id!r} are names of arguments, not {unfit[0]!r}"
        raise FormulaError(message)
    if old is not None and old.function is not new.function and old.version == new.version:
        message = f"a kernel {new.id!r} of version {new.version} is registered already"
        raise FormulaError(message)
    _KERNELS[new.id] = new
    return new


def kernel(name: Any) -> Kernel:
    """Return a kernel by its id (or the kernel itself).

    Raises
    ------
    UnknownNameError
        If none of this id is registered.
    """
    if isinstance(name, Kernel):
        return register_kernel(name)
    found = known_kernel(name) if isinstance(name, str) else None
    if found is None:
        near = difflib.get_close_matches(str(name), _KERNELS, 1)
        message = f"no numerical procedure is registered as {str(name)[:80]!r}" + (
            f"; nearest: {near[0]!r}" if near else ""
        )
        raise UnknownNameError(message)
    return found


def known_kernel(name: str) -> Kernel | None:
    """Return a kernel by its id, or None; the project's own are loaded when one is missing."""
    if name not in _KERNELS:
        ports.call("own_kernels")
    return _KERNELS.get(name)

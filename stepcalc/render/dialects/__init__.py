"""Dialects: how each notation spells the parts of a formula.

``latex``, ``latex-file``, ``typst``, ``mathml``, ``text``, ``speech`` and ``layout`` are built in;
:func:`register_dialect` adds another.
"""

from __future__ import annotations

from typing import Any

from stepcalc.errors import NameTakenError, UnknownNameError
from stepcalc.render.dialects.base import Dialect, Layout
from stepcalc.render.dialects.latex import Latex, LatexFile
from stepcalc.render.dialects.layout import LayoutDialect, break_at_terms
from stepcalc.render.dialects.mathml import MathML, math_element
from stepcalc.render.dialects.replay import replay, spell
from stepcalc.render.dialects.speech import Speech
from stepcalc.render.dialects.text import Text
from stepcalc.render.dialects.typst import Typst
from stepcalc.render.dialects.vocabulary import check_layout

__all__ = [
    "Dialect", "Latex", "LatexFile", "Layout", "LayoutDialect", "MathML", "Speech", "Text",
    "Typst", "break_at_terms", "check_layout", "dialect", "dialect_names", "math_element",
    "register_dialect", "replay", "spell",
]  # fmt: skip

_DIALECTS: dict[str, Dialect[Any]] = {
    one.name: one
    for one in (LayoutDialect(), Latex(), LatexFile(), MathML(), Speech(), Text(), Typst())
}


def register_dialect(new: Dialect[Any]) -> None:
    """Make a dialect known under its ``name``.

    Parameters
    ----------
    new : Dialect
        An instance; its class implements every method of :class:`Dialect`.

    Raises
    ------
    NameTakenError
        If another class has registered that name.
    """
    known = _DIALECTS.get(new.name)
    if known is not None and type(known) is not type(new):
        raise NameTakenError(
            f"a dialect named {new.name!r} exists already ({type(known).__qualname__}); "
            "give the new one a name of its own"
        )
    _DIALECTS[new.name] = new


def dialect(name: str) -> Dialect[Any]:
    """Return a registered dialect.

    Parameters
    ----------
    name : str
        For example ``"latex"``.

    Raises
    ------
    UnknownNameError
        Listing the names that exist.
    """
    try:
        return _DIALECTS[name]
    except KeyError:
        known = ", ".join(sorted(_DIALECTS))
        raise UnknownNameError(f"no dialect is named {name!r}; known are {known}") from None


def dialect_names() -> tuple[str, ...]:
    """Return the names of all dialects, sorted."""
    return tuple(sorted(_DIALECTS))

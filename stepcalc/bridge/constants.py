"""Code constants: every factor and limit that a bridge calculation may use, and where it stands.

A procedure never writes a load factor, a resistance factor or a limit as a bare number.  It says
``use(sheet, "phi_f")`` and gets a given that carries the value together with its article; the page
"Code constants used" (:mod:`stepcalc.bridge.constants_page`) lists what entered a calculation, with
an empty box for the checker to tick.  Numbers that are part of an empirical formula (0.075, 9.5 in
the distribution factor) stay in that formula and are listed with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge._constants_composite import LRFD_COMPOSITE, STANDARD_COMPOSITE
from stepcalc.bridge._constants_details import LRFD_DETAILS, LRFD_SEVENTH, STANDARD_DETAILS
from stepcalc.bridge._constants_limit_states import LRFD_LIMIT_STATES, STANDARD_LIMIT_STATES
from stepcalc.bridge._constants_lrfd import LRFD_CONSTANTS
from stepcalc.bridge._constants_rating import RATING_CONSTANTS
from stepcalc.bridge._constants_standard import STANDARD_CONSTANTS
from stepcalc.errors import UnknownNameError
from stepcalc.sheet import cells
from stepcalc.units import Q_

if TYPE_CHECKING:
    from stepcalc.sheet.sheet import Sheet

LRFD_EDITION = "AASHTO LRFD, 8th ed. (2017)"
LRFD_7TH_EDITION = "AASHTO LRFD, 7th ed. (2014)"
STANDARD_EDITION = "AASHTO Standard Specifications, 17th ed. (2002)"
RATING_EDITION = "AASHTO Manual for Bridge Evaluation, 3rd ed. (2018)"
FROM_MEMORY = "from memory"


@dataclass(frozen=True)
class CodeConstant:
    """One factor or limit of a code.

    Parameters
    ----------
    symbol : str
        Name of the given on the sheet; also the key in the registry.
    value : float
        The number, in ``unit``.
    unit : str or None
        Unit text, None for a plain number.
    description : str
        What it is, in the words of the trade.
    article : str
        Where it stands, such as ``"LRFD 6.5.4.2"``.
    edition : str
        The edition that ``value`` is taken from.
    provenance : str
        ``"from memory"`` unless somebody had the text open.
    """

    symbol: str
    value: float
    unit: str | None
    description: str
    article: str
    edition: str
    provenance: str

    @property
    def source(self) -> str:
        """Text that stands beside the given on the sheet."""
        return f"{self.article} ({self.provenance})"


def _registry() -> dict[str, CodeConstant]:
    editions = (
        (LRFD_CONSTANTS + LRFD_COMPOSITE + LRFD_DETAILS + LRFD_LIMIT_STATES, LRFD_EDITION),
        (LRFD_SEVENTH, LRFD_7TH_EDITION),
        (
            STANDARD_CONSTANTS + STANDARD_COMPOSITE + STANDARD_DETAILS + STANDARD_LIMIT_STATES,
            STANDARD_EDITION,
        ),
        (RATING_CONSTANTS, RATING_EDITION),
    )
    return {
        symbol: CodeConstant(symbol, value, unit, description, article, edition, FROM_MEMORY)
        for rows, edition in editions
        for symbol, value, unit, description, article in rows
    }


OWNERS_RULE = "owner's rule"
"""Source of a given that holds the owner's value in place of the code's."""

CONSTANTS = _registry()


def code_constant(key: str) -> CodeConstant:
    """Return the registered constant of that name.

    Parameters
    ----------
    key : str
        A symbol of the registry, such as ``"phi_f"``.

    Returns
    -------
    CodeConstant
        The record with value, unit, article and edition.

    Raises
    ------
    UnknownNameError
        If the registry has no such constant.
    """
    try:
        return CONSTANTS[key]
    except KeyError:
        import difflib  # only on the way to an error

        near = difflib.get_close_matches(key, CONSTANTS, n=3, cutoff=0.4)
        hint = f"; nearest names: {', '.join(near)}" if near else ""
        msg = f"no code constant is registered as {key!r}{hint}"
        raise UnknownNameError(msg) from None


def use(sheet: Sheet, key: str) -> Any:
    """Return the given that holds a code constant, made on first use.

    Parameters
    ----------
    sheet : Sheet
        The sheet that uses the constant.
    key : str
        A symbol of the registry.

    Returns
    -------
    Given
        The same node every time it is asked for on one sheet.

    Raises
    ------
    UnknownNameError
        If the registry has no such constant.
    """
    constant = code_constant(key)
    cell = cells.current_cell()
    for given in sheet.givens_named(constant.symbol):
        if given.source == constant.source or str(given.source).startswith(OWNERS_RULE):
            made = given.entry.cell
            runs_again = cell is not None and made is not None and made.same_place(cell)
            if not runs_again or made.same_run(cell):
                return given
            break  # the notebook cell that made it runs again and must make it again
    value = constant.value if constant.unit is None else Q_(constant.value, constant.unit)
    return sheet.given(constant.symbol, value, constant.description, source=constant.source)


def state_owner_factors(
    sheet: Sheet, factors: Mapping[str, float], sources: Mapping[str, str] | None = None
) -> None:
    """Write the owner's values of code constants, which every later use of them takes.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    factors : mapping of str to float
        By symbol, such as ``{"gamma_LL": 1.90}``; a factor without a unit.
    sources : mapping of str to str, optional
        Where the owner's value was read, by symbol.

    Raises
    ------
    UnknownNameError
        If a symbol is none of the code's.
    """
    for key, value in factors.items():
        was = code_constant(key)
        words = f"{was.description}; the code has {was.value:g} ({was.article})"
        read = (sources or {}).get(key)
        source = f"{OWNERS_RULE}: {read}" if read else OWNERS_RULE
        sheet.given(key, value, words, source=source)


def used_constants(sheet: Sheet) -> tuple[CodeConstant, ...]:
    """Return the registered constants that stand on a sheet, in the order of their first use.

    Parameters
    ----------
    sheet : Sheet
        Any sheet; givens that only share a name with a constant are not taken for it.

    Returns
    -------
    tuple of CodeConstant
        One record for each constant, without repetition.
    """
    found: dict[str, CodeConstant] = {}
    for given in sheet.givens:
        constant = CONSTANTS.get(given.name)
        if constant is not None and given.source == constant.source:
            found.setdefault(constant.symbol, constant)
    return tuple(found.values())

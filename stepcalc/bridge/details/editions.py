"""What an edition of the LRFD specifications changes in the rules for details."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


class Edition(StrEnum):
    """Editions of AASHTO LRFD whose fatigue and wind rules are kept."""

    SEVENTH = "7th"
    EIGHTH = "8th"
    NINTH = "9th"


def read_edition(edition: Edition | str) -> Edition:
    """Return the edition that a text names.

    Parameters
    ----------
    edition : Edition or str
        ``"7th"``, ``"8th"`` or ``"9th"``.

    Returns
    -------
    Edition
        The member of the enumeration.

    Raises
    ------
    RangeError
        If the edition is another.
    """
    try:
        return Edition(edition)
    except ValueError:
        known = ", ".join(repr(item.value) for item in Edition)
        msg = f"the edition of the code is {edition!r}; want one of {known}"
        raise RangeError(msg) from None


@dataclass(frozen=True)
class EditionRules:
    """Load factors, limits and cycles of one edition, always taken together.

    Attributes
    ----------
    sheet : Sheet
        The sheet that receives the constants when they are asked for.
    edition : Edition
    """

    sheet: Sheet
    edition: Edition

    @property
    def seventh(self) -> bool:
        """Whether the older rules hold."""
        return self.edition is Edition.SEVENTH

    @property
    def limit_column(self) -> str:
        """Column of ``stress_categories`` with the truck counts of infinite life."""
        return "adtt_7th" if self.seventh else "adtt_8th"

    @property
    def infinite(self) -> Operand:
        """Load factor of Fatigue I."""
        return self._constant("gamma_FI")

    @property
    def finite(self) -> Operand:
        """Load factor of Fatigue II."""
        return self._constant("gamma_FII")

    @property
    def stud_limit(self) -> Operand:
        """Truck count from which studs need infinite life."""
        return self._constant("ADTT_sc")

    @property
    def channel_limit(self) -> Operand:
        """Truck count from which channel connectors need infinite life."""
        return self._constant("ADTT_ch")

    @property
    def global_share(self) -> Operand:
        """Share of the global buckling moment that a narrow system may use."""
        return self._constant("c_Mgs")

    @property
    def wind_strength_3(self) -> Operand:
        """Wind load factor of Strength III."""
        return self._constant("gamma_WS3")

    @property
    def wind_strength_5(self) -> Operand:
        """Wind load factor of Strength V."""
        return self._constant("gamma_WS5")

    @property
    def wind_service(self) -> Operand:
        """Wind load factor of Service I."""
        return self._constant("gamma_WS1")

    def ref(self, article: str) -> str:
        """Return a reference that names the edition where it is not the usual one."""
        return f"LRFD {self.edition.value} ed. {article}" if self.seventh else f"LRFD {article}"

    def _constant(self, key: str) -> Operand:
        found: Operand = use(self.sheet, f"{key}7" if self.seventh else key)
        return found


def edition_rules(sheet: Sheet, edition: Edition | str = Edition.EIGHTH) -> EditionRules:
    """Return the rules of one edition, bound to a sheet.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the constants.
    edition : Edition or str
        ``"7th"``, ``"8th"`` or ``"9th"``; the 9th has the rules of the 8th here.

    Returns
    -------
    EditionRules
        Factors and limits that belong together.

    Raises
    ------
    RangeError
        If the edition is another.
    """
    return EditionRules(sheet, read_edition(edition))


CHANGES: tuple[tuple[str, str, str, str], ...] = (
    ("load factor, Fatigue I", "1.50", "1.75", "Table 3.4.1-1"),
    ("load factor, Fatigue II", "0.75", "0.80", "Table 3.4.1-1"),
    (
        "trucks a day from which life is infinite",
        "stress categories, older column",
        "stress categories, newer column",
        "Table 6.6.1.2.3-2",
    ),
    ("the same for studs; for channels", "960; 1850", "1090; 2240", "6.10.10.2"),
    (
        "cycles for each truck, simple spans",
        "2.0 up to 40 ft, 1.0 beyond",
        "1.0",
        "Table 6.6.1.2.5-2",
    ),
    (
        "wind, Strength III",
        "1.40 on the basic pressure",
        "1.00 on that state's own pressure",
        "Table 3.4.1-1",
    ),
    (
        "wind, Strength V",
        "0.40 on the basic pressure",
        "1.00 on that state's own pressure",
        "Table 3.4.1-1",
    ),
    (
        "wind, Service I",
        "0.30 on the basic pressure",
        "1.00 on that state's own pressure",
        "Table 3.4.1-1",
    ),
    ("share of the global buckling moment", "0.50", "0.70", "6.10.3.4.2"),
    ("resistance factor, axial compression", "0.95", "0.95", "6.5.4.2; 0.90 before the 7th"),
    ("load factor, live load, Service II", "1.30", "1.30", "Table 3.4.1-1"),
)
"""What the editions have: meaning, 7th, 8th and 9th, article; from memory."""


def state_edition(sheet: Sheet, edition: Edition | str = Edition.EIGHTH) -> Edition:
    """Write which edition a sheet follows, and what another one would change.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    edition : Edition or str
        ``"7th"``, ``"8th"`` or ``"9th"``.

    Returns
    -------
    Edition

    Raises
    ------
    RangeError
        If the edition is another.

    Source
    ------
    AASHTO LRFD, 7th (2014), 8th (2017) and 9th (2020) ed.; articles in the table; from memory.
    """
    chosen = read_edition(edition)
    column = 1 if chosen is Edition.SEVENTH else 2
    rows = [[row[0], row[1], row[2], row[column], f"LRFD {row[3]}"] for row in CHANGES]
    sheet.table(
        ["what the edition decides", "7th", "8th and 9th", "here", "article"],
        rows,
        f"Edition chosen: AASHTO LRFD, {chosen.value} edition; from memory",
    )
    return chosen

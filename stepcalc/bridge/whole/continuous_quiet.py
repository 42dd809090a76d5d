"""Checks made alike at many places: their steps on the sheet, their ratios in one table."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, cast

from stepcalc.bridge.constants import CONSTANTS, code_constant, use
from stepcalc.expr.functions import maximum

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.entries import Part
    from stepcalc.sheet.nodes import Check, Step
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "Ratio", "Tabulated", "check_all", "greatest", "state_constants", "state_other_constants",
]  # fmt: skip

CODE_FACTORS = (
    "E", "eta", "IM", "IM_f", "w_lane", "b_lane", "gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn",
    "gamma_LL", "gamma_LL5", "gamma_SII", "gamma_cD", "gamma_cC", "gamma_c2", "phi_f", "phi_v",
    "phi_b", "phi_ac", "phi_sc", "phi_dk",
)  # fmt: skip
"""Factors that the tables of places need; they stand at the head of the sheet."""

LIMITS = (
    "c_PNA", "c_SIIc", "c_SII", "c_fl", "lambda_w_max", "C_b_max", "k_v", "r_do", "r_do_end",
    "r_fl_w", "J_min", "c_brg_s", "K_brg", "r_As", "R_h",
)  # fmt: skip


@dataclass(frozen=True)
class Ratio:
    """One check that stands in a table: its name, article, place and demand over capacity."""

    name: str
    ref: str
    location: str
    node: Step
    sides: tuple[Operand, ...] = ()

    @property
    def number(self) -> float:
        """Its value as first given; 0 where it has none."""
        value = self.node.number
        return value if value == value else 0.0


@dataclass
class Tabulated:
    """A sheet for procedures whose checks stand in a table: it takes their steps, no checks.

    Every check becomes a step, demand over capacity, and a :class:`Ratio` in `ratios`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    sides : bool
        Whether demand and capacity become steps too.
    """

    sheet: Sheet
    sides: bool = False
    ratios: list[Ratio] = field(default_factory=list)

    @property
    def as_sheet(self) -> Sheet:
        """The same object, for procedures that ask for a sheet."""
        return cast("Sheet", self)

    def check(
        self, name: str, comparison: Any, *, ref: str | None = None, location: str | None = None
    ) -> Ratio:
        """Write demand over capacity as a step."""
        left, right = comparison.args
        demand, capacity = (left, right) if comparison.op in ("le", "lt") else (right, left)
        number = sum(1 for ratio in self.ratios if ratio.location == (location or ""))
        part = self.sheet._part.path
        taken = f"u_{number + 1}"
        while f"{part}/{taken}" in self.sheet._book.by_path:
            number += 1
            taken = f"u_{number + 1}"
        node = self.sheet.step(taken, demand / capacity, None, f"D/C: {name}", ref=ref)
        kept: tuple[Operand, ...] = ()
        if self.sides:
            kept = tuple(
                self.sheet.step(f"{taken}{side}", 1 * of, None, f"{words}: {name}", ref=ref)
                for side, of, words in (("d", demand, "demand"), ("c", capacity, "capacity"))
            )
        found = Ratio(name, ref or "", location or "", node, kept)
        self.ratios.append(found)
        return found

    def relocate(self, since: int, location: str) -> None:
        """Give the ratios from a number on another location."""
        self.ratios[since:] = [replace(ratio, location=location) for ratio in self.ratios[since:]]

    def note(self, text: str) -> None:
        """Leave notes to the part that is printed in full."""

    def figure(self, data: Any, caption: str = "") -> None:
        """Leave figures to the part that is printed in full."""

    def table(self, *content: Any, **more: Any) -> None:
        """Leave tables to the part that is printed in full."""

    def __getattr__(self, name: str) -> Any:
        return getattr(self.sheet, name)

    def __contains__(self, name: str) -> bool:
        return name in self.sheet

    def __getitem__(self, name: str) -> Any:
        return self.sheet[name]


def state_constants(sheet: Sheet) -> None:
    """Write the factors and limits of the code that tables of places use, once for all of them.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives givens and their table, within a part with tables only.
    """
    rows = []
    for key in (*CODE_FACTORS, *LIMITS):
        given = use(sheet, key)
        rows.append([given.description, given, code_constant(key).article])
    sheet.table(
        ["Factor or limit", "Value", "Article"], rows,
        "Factors and limits that the checks use; each stands in the code constants at the end too",
    )  # fmt: skip


def greatest(ratios: Sequence[Ratio], name: str | None = None) -> Ratio:
    """Return the largest ratio as first given, of one check or of all."""
    found = [ratio for ratio in ratios if name is None or ratio.name == name]
    return max(found, key=lambda ratio: ratio.number)


def check_all(
    sheet: Sheet, ratios: Sequence[Ratio], *, where: str = "every place of the table"
) -> list[Check]:
    """Check the greatest of the ratios of every name against 1.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    ratios : sequence of Ratio
        Of one table.
    where : str
        The location that the check names.

    Returns
    -------
    list of Check
        One for each name, in the order of the names.
    """
    made: list[Check] = []
    for name in dict.fromkeys(ratio.name for ratio in ratios):
        nodes: list[Operand] = [ratio.node for ratio in ratios if ratio.name == name]
        ref = next(ratio.ref for ratio in ratios if ratio.name == name)
        worst = sheet.step(
            f"u_max{len(made) + 1}", nodes[0] if len(nodes) == 1 else maximum(*nodes), None,
            f"greatest D/C: {name}", ref=ref, symbol="u_max",
        )  # fmt: skip
        made.append(sheet.check(name, worst <= 1.0, ref=ref, location=where))
    return made


def state_other_constants(sheet: Sheet) -> None:
    """Write a table of the constants that only tables of places used, so that none stays unseen.

    Parameters
    ----------
    sheet : Sheet
        A sheet that is written but for its verdict.
    """
    rows = [
        [given.description, given, code_constant(given.name).article]
        for given in sheet.givens
        if given.name in CONSTANTS and given.path.count("/") and _silent(given.entry.part)
        and not given.path.startswith("Factors and limits of the code/")
    ]  # fmt: skip
    if rows:
        sheet.table(["Factor or limit", "Value", "Article"], rows,
                    "Further factors and limits that the tables above use")  # fmt: skip


def _silent(part: Part | None) -> bool:
    return part is not None and (part.tables_only or _silent(part.parent))

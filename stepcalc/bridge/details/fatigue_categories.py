"""Detail categories of fatigue: by choice, by the length of an attachment, at a cover plate end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases, minimum
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Choice
    from stepcalc.sheet.sheet import Sheet

TABLE = "stress_categories"
_THRESHOLD_REF = "Table 6.6.1.2.5-3"


@dataclass(frozen=True)
class FatigueClass:
    """What the code tabulates for a detail.

    Attributes
    ----------
    constant : Operand, [stress**3]
        ``A``.
    threshold : Operand, [stress]
        ``(Delta F)_TH``.
    limit : Operand
        Trucks a day in one lane from which life must be infinite, one cycle for each truck.
    """

    constant: Operand
    threshold: Operand
    limit: Operand


@dataclass(frozen=True)
class TypicalDetail:
    """A place on a steel girder, its usual category, and where the code describes it."""

    place: str
    category: str
    ref: str


TYPICAL_DETAILS = (
    TypicalDetail("rolled base metal, painted or cleaned", "A", "1.1"),
    TypicalDetail("rolled base metal, uncoated weathering steel", "B", "1.2"),
    TypicalDetail("web to flange, continuous fillet weld", "B", "3.1"),
    TypicalDetail("gross section at a slip-critical bolted splice", "B", "2.1"),
    TypicalDetail("flange with welded studs", "C", "9.1"),
    TypicalDetail("toe of a transverse stiffener or connection plate", "C'", "4.1"),
    TypicalDetail("attachment shorter than 2 in", "C", "7.1"),
    TypicalDetail("attachment of 2 in up to 4 in or 12 t", "D", "7.1"),
    TypicalDetail("longer attachment, thinner than 1 in", "E", "7.1"),
    TypicalDetail("longer attachment, 1 in or thicker", "E'", "7.1"),
    TypicalDetail("end of a cover plate, flange up to 0.8 in", "E", "3.5"),
    TypicalDetail("end of a cover plate, flange over 0.8 in", "E'", "3.5"),
)
"""Usual categories, conditions of the table 6.6.1.2.3-1 by their numbers; from memory."""


def chosen_category(sheet: Sheet, category: Choice, rules: EditionRules) -> FatigueClass:
    """Look up what the code tabulates for a category.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups.
    category : Choice
        A given whose choices are the table ``stress_categories``.
    rules : EditionRules
        The edition, which decides on the truck count.

    Returns
    -------
    FatigueClass
        Look-ups ``A_FT DeltaF_TH ADTT_inf``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 6.6.1.2.5-1, 6.6.1.2.5-3, 6.6.1.2.3-2; from memory.
    """
    read = sheet.lookup
    return FatigueClass(
        read("A_FT", TABLE, category, "A", ksi**3, "constant of the detail",
             ref="LRFD Table 6.6.1.2.5-1", symbol="A"),
        read("DeltaF_TH", TABLE, category, "threshold", ksi, "constant-amplitude threshold",
             ref=f"LRFD {_THRESHOLD_REF}"),
        read("ADTT_inf", TABLE, category, rules.limit_column, None,
             "trucks a day from which life must be infinite",
             ref=rules.ref("Table 6.6.1.2.3-2")),
    )  # fmt: skip


def _rows(
    sheet: Sheet, rules: EditionRules, categories: tuple[str, ...]
) -> dict[str, FatigueClass]:
    found = {}
    for name in categories:
        key = name.replace("'", "p")
        found[name] = FatigueClass(
            sheet.lookup(f"A_{key}", TABLE, name, "A", ksi**3, f"constant, category {name}",
                         ref="LRFD Table 6.6.1.2.5-1"),
            sheet.lookup(f"DeltaF_{key}", TABLE, name, "threshold", ksi,
                         f"threshold, category {name}", ref=f"LRFD {_THRESHOLD_REF}"),
            sheet.lookup(f"ADTT_{key}", TABLE, name, rules.limit_column, None,
                         f"trucks of infinite life, category {name}",
                         ref=rules.ref("Table 6.6.1.2.3-2")),
        )  # fmt: skip
    return found


def _choose(
    sheet: Sheet,
    rows: dict[str, FatigueClass],
    branches: tuple[tuple[object, str, str], ...],
    last: tuple[str, str],
    ref: str,
) -> FatigueClass:
    def pick(field: str) -> Operand:
        values = [
            (condition, getattr(rows[name], field), f"category {name}: {words}")
            for condition, name, words in branches
        ]
        name, words = last
        return cases(*values, otherwise=(getattr(rows[name], field), f"category {name}: {words}"))

    return FatigueClass(
        sheet.step("A_FT", pick("constant"), ksi**3, "constant of the detail", ref=ref, symbol="A"),
        sheet.step("DeltaF_TH", pick("threshold"), ksi, "constant-amplitude threshold", ref=ref),
        sheet.step(
            "ADTT_inf", pick("limit"), None, "trucks a day from which life must be infinite",
            ref=ref,
        ),
    )  # fmt: skip


def attachment_category(
    sheet: Sheet, rules: EditionRules, *, length: Operand, thickness: Operand
) -> FatigueClass:
    """Write the category of a welded attachment by its length along the stress.

    Shorter than 2 in: C; up to the smaller of 12 times its thickness and 4 in: D; longer: E, or
    E' from 1 in of thickness.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups and steps.
    rules : EditionRules
        The edition.
    length, thickness : Operand, [length]
        Of the attachment; its transition radius is small.

    Returns
    -------
    FatigueClass
        Steps ``A_FT DeltaF_TH ADTT_inf``, which name the category as their branch.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 6.6.1.2.3-1, conditions 7.1 and 7.2; from memory.
    """
    rows = _rows(sheet, rules, ("C", "D", "E", "E'"))
    branches = (
        (length < 2 * inch, "C", "shorter than 2 in"),
        (length <= minimum(12 * thickness, 4 * inch), "D", "up to 12 t and 4 in"),
        (thickness < 1 * inch, "E", "long and thinner than 1 in"),
    )
    ref = "LRFD Table 6.6.1.2.3-1, 7.1"
    return _choose(sheet, rows, branches, ("E'", "long, 1 in or thicker"), ref)


def cover_plate_end_category(sheet: Sheet, rules: EditionRules, *, flange: Operand) -> FatigueClass:
    """Write the category of the flange at the end of a welded cover plate.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups and steps.
    rules : EditionRules
        The edition.
    flange : Operand, [length]
        Thickness of the flange.

    Returns
    -------
    FatigueClass
        E up to 0.8 in, E' above.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 6.6.1.2.3-1, condition 3.5; from memory.
    """
    rows = _rows(sheet, rules, ("E", "E'"))
    branches = ((flange <= 0.8 * inch, "E", "flange up to 0.8 in"),)
    ref = "LRFD Table 6.6.1.2.3-1, 3.5"
    return _choose(sheet, rows, branches, ("E'", "flange over 0.8 in"), ref)

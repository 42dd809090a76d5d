"""The blocks of a printed document, as frozen records.

What a notebook output stores and what a sheet is turned into before it prints: presentation
data only. :mod:`stepcalc.render.document` reads them from JSON. Formulas are layout trees
(:mod:`stepcalc.render.dialects.vocabulary`); every other text is plain text that printers escape.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from stepcalc.render.dialects.base import Layout

    Cell: TypeAlias = str | Layout


@dataclass(frozen=True, slots=True)
class Heading:
    """A numbered heading; ``level`` 1 is a part of a sheet."""

    text: str
    level: int = 1
    number: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Words of the author, one paragraph."""

    text: str


@dataclass(frozen=True, slots=True)
class Markdown:
    """Text in the Markdown subset of :mod:`stepcalc.print.markdown`."""

    text: str


@dataclass(frozen=True, slots=True)
class Code:
    """Source of a notebook cell."""

    text: str


@dataclass(frozen=True, slots=True)
class Output:
    """What a cell wrote, as it is."""

    text: str


@dataclass(frozen=True, slots=True)
class Image:
    """A picture that a cell showed."""

    png: bytes
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Validity:
    """A condition on the use of a formula, and whether it holds."""

    condition: Layout
    ok: bool


@dataclass(frozen=True, slots=True)
class Given:
    """A quantity that is given or assumed."""

    name: str
    symbol: Layout
    value: Layout
    id: str = ""
    description: str = ""
    source: str = ""
    assumed: str = ""
    choices: str = ""
    warnings: tuple[str, ...] = ()
    stale: bool = False
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """A formula with its substitution and result; ``units`` are those of its bare numbers."""

    name: str
    symbol: Layout
    result: Layout
    formula: Layout | None = None
    substitution: Layout | None = None
    id: str = ""
    description: str = ""
    ref: str = ""
    branch: str = ""
    condition: Layout | None = None
    valid: tuple[Validity, ...] = ()
    warnings: tuple[str, ...] = ()
    units: Layout | None = None
    origin: tuple[str, ...] = ()
    stale: bool = False
    boxed: bool = False
    undefined: str = ""
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Computed:
    """A value of a numerical procedure, with the hand calculation that proves it."""

    name: str
    symbol: Layout
    result: Layout
    formula: Layout | None = None
    substitution: Layout | None = None
    method: str = ""
    proof: tuple[Block, ...] = ()
    id: str = ""
    description: str = ""
    ref: str = ""
    branch: str = ""
    condition: Layout | None = None
    valid: tuple[Validity, ...] = ()
    warnings: tuple[str, ...] = ()
    units: Layout | None = None
    origin: tuple[str, ...] = ()
    stale: bool = False
    boxed: bool = False
    undefined: str = ""
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Lookup:
    """A value read from a table, with the rows beside it where they are asked for."""

    name: str
    symbol: Layout
    result: Layout
    table: str
    row: str
    column: str
    id: str = ""
    description: str = ""
    ref: str = ""
    header: tuple[str, ...] = ()
    neighbours: tuple[tuple[Cell, ...], ...] = ()
    warnings: tuple[str, ...] = ()
    stale: bool = False
    boxed: bool = False
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Check:
    """A comparison of demand and capacity with its verdict in words."""

    name: str
    formula: Layout
    verdict: str
    id: str = ""
    ref: str = ""
    location: str = ""
    substitution: Layout | None = None
    ratio: str = ""
    undefined: str = ""
    warnings: tuple[str, ...] = ()
    stale: bool = False
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a header; ``align`` is one letter of ``l c r`` for each column."""

    header: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""
    align: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure, as data to draw or as a finished picture."""

    data: Mapping[str, Any] | None = None
    svg: str = ""
    png: bytes = b""
    caption: str = ""
    alt: str = ""


@dataclass(frozen=True, slots=True)
class SummaryRow:
    """One check in the summary of all checks."""

    name: str
    verdict: str
    location: str = ""
    demand: Cell = ""
    capacity: Cell = ""
    ratio: str = ""
    ref: str = ""
    governs: bool = False


@dataclass(frozen=True, slots=True)
class Conclusion:
    """The verdict with its scope, the recommendation, and the summary of all checks."""

    verdict: str
    governing: str = ""
    scope_checked: tuple[str, ...] = ()
    scope_not_checked: tuple[str, ...] = ()
    recommendation: tuple[str, ...] = ()
    summary: tuple[SummaryRow, ...] = ()


Block: TypeAlias = (
    Heading | Note | Markdown | Code | Output | Image | Given | Step | Computed | Lookup | Check
    | Table | Figure | Conclusion
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SheetPages:
    """One sheet: its title and its blocks; ``summary`` prints if no conclusion does.

    ``uses`` says from which blocks the value of a block follows, by their ids; a block of another
    sheet is named ``title::id``. ``elsewhere`` holds the blocks of quantities that only a table or
    another sheet prints.
    """

    title: str
    blocks: tuple[Block, ...] = ()
    summary: tuple[SummaryRow, ...] = ()
    uses: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    elsewhere: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """One line of the revision table; what is blank is filled in by hand."""

    revision: str
    date: str = ""
    by: str = ""
    description: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """What is printed: title block, profile, notices for the first page, and the sheets.

    ``editions`` says which edition is meant by the short name of a reference; ``scope`` is the
    statement on the cover, made from the checks if it is blank.
    """

    title: Mapping[str, str] = field(default_factory=dict)
    profile: str = "package"
    sheets: tuple[SheetPages, ...] = ()
    notices: tuple[str, ...] = ()
    revisions: tuple[RevisionRow, ...] = ()
    editions: Mapping[str, str] = field(default_factory=dict)
    scope: str = ""

"""Sheets as documents: the functions that a sheet's ports call.

``step_latex`` and ``step_text`` serve the notebook's display, ``build_document`` everything that is
printed, ``node_data`` and ``part_data`` what a notebook stores beside its LaTeX.
"""

from __future__ import annotations

from typing import Any

from stepcalc.render.alike_parts import tabulated
from stepcalc.render.document import VERSION
from stepcalc.render.formula_layout import formula_layout
from stepcalc.render.node_blocks import Block, node_block
from stepcalc.render.shared_blocks import told_once
from stepcalc.render.sheet_blocks import part_blocks, results_of, sheet_blocks
from stepcalc.render.step_lines import step_latex, step_text
from stepcalc.render.summary import summary_rows

__all__ = [
    "build_document", "formula_layout", "node_data", "part_data", "sheet_data", "step_latex",
    "step_text",
]  # fmt: skip

_SAFETY = (
    "Results need the review of a licensed engineer; the governing code and the owner's rules "
    "come first."
)


def build_document(source: Any, *, profile: str | None = None) -> Block:
    """Return a sheet or a package as a document.

    Parameters
    ----------
    source : Sheet or Package
    profile : "package" or "homework", optional
        That of the package when left out.

    Returns
    -------
    dict
        JSON-safe; :func:`stepcalc.render.document.read_document` reads it.
    """
    sheets = getattr(source, "sheets", None)
    sheets = [source] if sheets is None else list(sheets)
    title: Any = getattr(source, "title", None)
    brief = bool(getattr(source, "told_once", False))
    pages = _without_origins([sheet_data(sheet, brief=brief) for sheet in sheets])
    return {
        "v": VERSION,
        "title": title.fields() if hasattr(title, "fields") else {},
        "profile": profile or getattr(source, "profile", "package"),
        "sheets": told_once(pages) if brief else pages,
        "notices": [_SAFETY, *_rounding_rules(sheets), *getattr(title, "warnings", ())],
    }


def _without_origins(pages: list[Block]) -> list[Block]:
    """Return the sheets without the words on values of one another.

    The number beside a step names the line that such a value comes from; only a value of a sheet
    that is not printed along needs words.
    """
    here = tuple(f" from {page['title']}: " for page in pages)

    def told(block: Block) -> Block:
        if "origin" not in block:
            return block
        return {**block, "origin": [x for x in block["origin"] if not any(t in x for t in here)]}

    return [{**page, "blocks": [told(block) for block in page["blocks"]]} for page in pages]


def sheet_data(sheet: Any, *, brief: bool = False) -> Block:
    """Return one sheet with its blocks and the summary of its checks.

    Parameters
    ----------
    sheet : Sheet
    brief : bool
        Bring alike places together (:mod:`stepcalc.render.alike_parts`).
    """
    blocks = _tables_named_once(sheet_blocks(sheet))
    return {
        "title": sheet.title,
        "blocks": tabulated(blocks) if brief else blocks,
        "summary": {"checks": summary_rows(sheet)},
    }


def _tables_named_once(blocks: list[Block]) -> list[Block]:
    """Return the blocks with a table's edition at its first look-up only, its name at the rest."""
    named: set[str] = set()
    shorter = []
    for block in blocks:
        if block["kind"] == "lookup":
            title = block["table"]
            if title in named:
                block = {**block, "table": title.split(":")[0].split(",")[0]}
            named.add(title)
        shorter.append(block)
    return shorter


def node_data(node: Any) -> Block:
    """Return the block of one node, as a notebook stores it."""
    return node_block(node, boxed=node.entry.slot in results_of(node.sheet))


def part_data(sheet: Any, path: str) -> list[Block]:
    """Return the blocks of one part, as a notebook stores them."""
    return part_blocks(sheet, path)


def rounding_rule(sheet: Any) -> str:
    """Return how a sheet rounds, in words."""
    carried = (
        "later steps use the rounded value that is shown"
        if sheet.carry == "shown"
        else "later steps use the value in full precision, so a last digit shown may not follow "
        "from the rounded numbers beside it"
    )
    return (
        f"Results show {sheet.digits} significant digits, rounded half away from zero; {carried}. "
        "Verdicts compare the values carried."
    )


def _rounding_rules(sheets: list[Any]) -> list[str]:
    rules: dict[str, list[str]] = {}
    for sheet in sheets:
        rules.setdefault(rounding_rule(sheet), []).append(sheet.title)
    if len(rules) == 1:
        return list(rules)
    return [f"{', '.join(titles)}: {rule}" for rule, titles in rules.items()]

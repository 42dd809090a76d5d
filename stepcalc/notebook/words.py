"""What stands on a sheet, as LaTeX for a cell's output and as plain text."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stepcalc.render.dialects import dialect, replay
from stepcalc.render.step_lines import step_latex, step_text
from stepcalc.sheet.nodes import handle
from stepcalc.sheet.proofs import proof_of

__all__ = ["cell_text", "latex_of", "text_of"]

Block = dict[str, Any]
_LATEX, _TEXT = dialect("latex"), dialect("text")


def latex_of(items: Iterable[tuple[Any, Any, Block]]) -> str:
    r"""Return records and headings as one ``$$...$$`` block, left-aligned.

    Parameters
    ----------
    items : iterable of (sheet, record or None, block)

    Returns
    -------
    str
        Words stand inside ``\text``, so that none is code; empty when there is nothing to show.
    """
    rows = [row for item in items for row in _rows(*item)]
    if not rows:
        return ""
    return "$$\\begin{aligned}" + " \\\\[4pt] ".join(f"&{row}" for row in rows) + "\\end{aligned}$$"


def _rows(sheet: Any, entry: Any, block: Block) -> list[str]:
    if entry is None or entry.slot < 0:
        large = "\\large " if block["kind"] == "heading" else ""
        return [large + _LATEX.text(line) for line in _lines(block)]
    mathematics = step_latex(handle(sheet, entry))
    words = _LATEX.text(entry.description) if getattr(entry, "description", "") else ""
    if entry.kind == "given":
        return [f"{mathematics} \\qquad {words}" if words else mathematics]
    ref = getattr(entry, "ref", None)
    if ref:
        words += "\\quad " + _LATEX.text(f"[{ref}]")
    rows = [words, mathematics] if words else [mathematics]
    if entry.kind == "computed":
        proof, warning = proof_of(handle(sheet, entry))
        if proof is not None:
            rows.append(_LATEX.text("shown by hand:"))
            rows += [step_latex(step) for step in proof.steps]
        if warning:
            rows.append(_LATEX.text(f"Warning: {warning}"))
    return rows


def text_of(sheet: Any, entry: Any, block: Block) -> str:
    """Return a record or heading as plain text."""
    if entry is not None and entry.slot >= 0:
        return step_text(handle(sheet, entry))
    return "\n".join(_lines(block, width=100))


def cell_text(cell: Any) -> str:
    """Return a cell of a table as plain text."""
    return cell if isinstance(cell, str) else str(replay(cell, _TEXT))


def _lines(block: Block, width: int = 90) -> list[str]:
    kind = block["kind"]
    if kind == "heading":
        return [f"{block.get('number', '')}  {block['text']}".strip()]
    if kind in ("note", "markdown"):
        return _wrapped(block["text"], width)
    if kind == "table":
        rows = [block["header"], *([cell_text(cell) for cell in row] for row in block["rows"])]
        widths = [max(len(row[k]) for row in rows) for k in range(len(block["header"]))]
        lines = [
            "  ".join(cell.ljust(size) for cell, size in zip(row, widths, strict=True)).rstrip()
            for row in rows
        ]
        return [block["caption"], *lines] if block.get("caption") else lines
    if kind == "conclusion":
        return _conclusion(block, width)
    return []


def _conclusion(block: Block, width: int) -> list[str]:
    lines = _wrapped(str(block.get("verdict") or ""), width)
    if block.get("governing"):
        lines += _wrapped(f"Governing: {block['governing']}", width)
    for row in block.get("summary", ()):
        mark = "  governs" if row.get("governs") else ""
        lines.append(f"{row['name']}: D/C = {row['ratio']}  {row['verdict']}{mark}")
    for title, key in (
        ("Checked", "scope_checked"),
        ("Not checked", "scope_not_checked"),
        ("Recommendation", "recommendation"),
    ):
        items = block.get(key) or ()
        if items:
            lines += _wrapped(f"{title}: {'; '.join(items)}", width)
    return lines


def _wrapped(text: str, width: int) -> list[str]:
    lines: list[str] = []
    for paragraph in text.splitlines():
        line = ""
        for word in paragraph.split():
            if line and len(line) + len(word) >= width:
                lines.append(line)
                line = word
            else:
                line = f"{line} {word}" if line else word
        lines.append(line)
    return [line for line in lines if line]

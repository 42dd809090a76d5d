"""What stands on a sheet, as LaTeX for a cell's output and as plain text."""

from __future__ import annotations

from typing import Any

from stepcalc.render.dialects import dialect, replay
from stepcalc.render.step_lines import step_latex, step_text
from stepcalc.sheet.nodes import handle

__all__ = ["cell_text", "latex_of", "text_of"]

Block = dict[str, Any]
_LATEX, _TEXT = dialect("latex"), dialect("text")


def latex_of(sheet: Any, entry: Any, block: Block) -> str:
    r"""Return a record or heading as ``$$...$$``; words stand inside ``\text``, none is code."""
    if entry is not None and entry.slot >= 0:
        return f"$${step_latex(handle(sheet, entry))}$$"
    lines = _lines(block)
    words = [_LATEX.text(line) for line in lines]
    if not words:
        return ""
    if block["kind"] == "heading":
        return f"$$\\large {words[0]}$$"
    return "$$\\begin{aligned}" + " \\\\ ".join(f"&{line}" for line in words) + "\\end{aligned}$$"


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

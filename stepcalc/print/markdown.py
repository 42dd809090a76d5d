"""Markdown cells as structured text, with their formulas read by our own small parser.

Raw HTML is shown as the characters it is made of, and links and pictures are named: nothing in
a cell can run, fetch or hide anything.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import Any

from stepcalc.errors import StepcalcError
from stepcalc.print.lines import line
from stepcalc.print.rich_text import Inline, Rich
from stepcalc.render.mathtext import parse_math, parse_math_lines

DEEPEST = 12
_Note = Callable[[str], None]
Token = Mapping[str, Any]


@lru_cache(maxsize=1)
def _parser() -> Any:
    import mistune

    return mistune.create_markdown(renderer=None, plugins=["math", "table", "strikethrough"])


def read_markdown(text: str, notice: _Note) -> tuple[Rich, ...]:
    """Return a Markdown text as structured text.

    Parameters
    ----------
    text : str
        Paragraphs, headings, lists, tables, quotes, code, emphasis, ``$...$`` and ``$$...$$``.
    notice : callable
        Called with one sentence for each thing that could not be shown as it was meant.

    Returns
    -------
    tuple of Rich
    """
    return _Reader(notice).blocks(_parser()(text), 0)


class _Reader:
    def __init__(self, notice: _Note) -> None:
        self.notice = notice

    def blocks(self, tokens: Iterable[Token], depth: int) -> tuple[Rich, ...]:
        found: list[Rich] = []
        for token in tokens:
            if token["type"] == "block_math":
                found.extend(self.display(token["raw"]))
                continue
            block = self.block(token, depth)
            if block is not None:
                found.append(block)
        return tuple(found)

    def block(self, token: Token, depth: int) -> Rich | None:
        kind = token["type"]
        if depth > DEEPEST:
            return Rich("code", text=_raw(token))
        if kind in ("paragraph", "block_text"):
            return Rich("paragraph", items=self.inlines(token["children"], depth))
        if kind == "heading":
            level = int(token["attrs"]["level"])
            return Rich("heading", level=level, items=self.inlines(token["children"], depth))
        if kind == "list":
            return self.list(token, depth)
        if kind == "block_quote":
            return Rich("quote", children=(self.blocks(token["children"], depth + 1),))
        if kind == "block_code":
            return Rich("code", text=token["raw"].rstrip("\n"))
        if kind == "table":
            return self.table(token, depth)
        if kind == "thematic_break":
            return Rich("rule")
        if kind == "blank_line":
            return None
        return Rich("paragraph", items=(Inline("text", _raw(token).strip()),))

    def display(self, source: str) -> list[Rich]:
        try:
            return [Rich("math", line=line(layout)) for layout in parse_math_lines(source)]
        except StepcalcError as error:
            return [Rich("code", text=self.unread(source, error))]

    def unread(self, source: str, error: StepcalcError) -> str:
        shown = " ".join(source.split())
        short = shown if len(shown) <= 60 else shown[:57] + "..."
        self.notice(f"a formula prints as its source, {short}: {error}")
        return f"$ {shown} $"

    def list(self, token: Token, depth: int) -> Rich:
        attributes = token.get("attrs", {})
        items = tuple(self.blocks(item["children"], depth + 1) for item in token["children"])
        return Rich(
            "list", ordered=bool(attributes.get("ordered")), children=items,
            start=min(int(attributes.get("start") or 1), 1_000_000),
        )  # fmt: skip

    def table(self, token: Token, depth: int) -> Rich:
        head = token["children"][0]["children"]
        body = token["children"][1]["children"] if len(token["children"]) > 1 else []
        return Rich(
            "table",
            header=tuple(self.inlines(cell["children"], depth) for cell in head),
            align=tuple(cell["attrs"].get("align") or "left" for cell in head),
            rows=tuple(
                tuple(self.inlines(cell["children"], depth) for cell in row["children"])
                for row in body
            ),
        )

    def inlines(self, tokens: Iterable[Token], depth: int) -> tuple[Inline, ...]:
        return tuple(item for token in tokens for item in self.inline(token, depth + 1))

    def inline(self, token: Token, depth: int) -> tuple[Inline, ...]:
        kind = token["type"]
        if depth > 2 * DEEPEST:
            return (Inline("text", _raw(token)),)
        if kind == "text":
            return (Inline("text", token["raw"]),)
        if kind == "softbreak":
            return (Inline("text", " "),)
        if kind == "linebreak":
            return (Inline("break"),)
        if kind == "codespan":
            return (Inline("code", token["raw"]),)
        if kind == "inline_math":
            try:
                return (Inline("math", layout=parse_math(token["raw"])),)
            except StepcalcError as error:
                return (Inline("code", self.unread(token["raw"], error)),)
        if kind in ("strong", "emphasis"):
            return (Inline(kind, items=self.inlines(token["children"], depth)),)
        if kind == "link":
            shown = self.inlines(token["children"], depth)
            address = str(token["attrs"].get("url", ""))
            return (*shown, Inline("text", f" [{address}]"))
        if kind == "image":
            self.notice("a picture linked from text is named, not shown")
            return (Inline("text", f"[picture: {_raw(token)}]"),)
        if "children" in token:
            return self.inlines(token["children"], depth)
        return (Inline("text", _raw(token)),)


def _raw(token: Token) -> str:
    if "raw" in token:
        return str(token["raw"])
    return "".join(_raw(child) for child in token.get("children", ()))

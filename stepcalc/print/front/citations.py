"""What a document cites: codes by article with their editions, tables, and other bases."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from stepcalc.data.documents import CitedDocument, cited_documents
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b

__all__ = ["Citations", "citations_of"]

_FROM_MEMORY = re.compile(r"\s*\(from memory\)")
_BRACKETS = re.compile(r"\s*\([^()]*\)")
_DIGITS = re.compile(r"(\d+)")
_ARTICLE = re.compile(r"(?:(?:Table|Figure|Eq\.|Art\.) )?[A-Z]{0,2}\d[\w.\-]*")


@dataclass(slots=True)
class Citations:
    """What a document cites.

    Attributes
    ----------
    articles : dict
        The articles cited of each document, by its short name.
    tables : list of str
        The tables that values were read from.
    others : list of str
        What references name that is no document, such as statics.
    without : list of Block
        Steps and checks that have no reference.
    """

    articles: dict[str, list[str]] = field(default_factory=dict)
    tables: list[str] = field(default_factory=list)
    others: list[str] = field(default_factory=list)
    without: list[b.Block] = field(default_factory=list)


def documents_of(document: b.Document) -> dict[str, CitedDocument]:
    """Return the documents that short names mean: ours, and those that the package names."""
    own = {key: CitedDocument(key, words) for key, words in document.editions.items()}
    return cited_documents() | own


def citations_of(document: b.Document) -> Citations:
    """Return what the sheets of a document cite."""
    found = Citations()
    keys = documents_of(document).keys()
    for sheet in document.sheets:
        for block in every_block(sheet.blocks):
            if isinstance(block, b.Lookup) and "," in block.table:
                _once(found.tables, block.table)
        printed = set(map(id, sheet.blocks))
        for block in (*sheet.blocks, *sheet.elsewhere):
            if isinstance(block, (b.Step, b.Computed, b.Lookup, b.Check)):
                if block.ref.strip():
                    _take_up(found, block.ref, keys, others=True)
                elif id(block) in printed:
                    found.without.append(block)
            elif isinstance(block, b.Given):
                _take_up(found, block.source, keys, others=False)
    for articles in found.articles.values():
        articles.sort(key=_natural)
    return found


def _take_up(found: Citations, words: str, keys: Iterable[str], *, others: bool) -> None:
    for piece in words.split(";"):
        key, _, rest = piece.strip().partition(" ")
        if key in keys:
            articles = found.articles.setdefault(key, [])
            for article in _articles(rest):
                _once(articles, article)
        elif others and piece.strip():
            _once(found.others, piece.strip())


def _articles(words: str) -> Iterator[str]:
    plain = _BRACKETS.sub("", _FROM_MEMORY.sub("", words))
    for piece in plain.split(","):
        match = _ARTICLE.match(piece.strip())
        if match:
            yield match[0].rstrip(".")


def _once(items: list[str], item: str) -> None:
    if item not in items:
        items.append(item)


def _natural(words: str) -> tuple[tuple[int, str], ...]:
    plain = words.removeprefix("Table ")
    return tuple(
        (int(piece), "") if piece.isdigit() else (-1, piece) for piece in _DIGITS.split(plain)
    )

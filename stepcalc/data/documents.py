"""Documents that references cite by a short name, with their editions."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

__all__ = ["CitedDocument", "cited_documents"]


@dataclass(frozen=True, slots=True)
class CitedDocument:
    """A document: its short name, title, edition, interims, and how its values came here."""

    key: str
    title: str
    edition: str = ""
    interims: str = ""
    provenance: str = ""


@cache
def cited_documents() -> dict[str, CitedDocument]:
    """Return the documents that the library itself cites, by their short names.

    Examples
    --------
    >>> cited_documents()["LRFD"].edition
    '8th edition, 2017'
    """
    text = (files("stepcalc.data") / "documents.toml").read_text("utf-8")
    return {key: CitedDocument(key, **fields) for key, fields in tomllib.loads(text).items()}

"""The front pages of a document: which of them there are, and what each of them holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.print.front import lists
from stepcalc.print.front.citations import citations_of, documents_of
from stepcalc.print.front.identity import input_hash, software
from stepcalc.print.front.records import FrontTable, Section
from stepcalc.print.front.summary import scope_words, summary

if TYPE_CHECKING:
    from stepcalc.print.front.index import Index
    from stepcalc.print.options import Options
    from stepcalc.render import blocks as b

__all__ = ["Cover", "Front", "front_of"]

LEAST_REVISIONS = 4
_PEOPLE = (("Prepared by", "prepared"), ("Checked by", "checked"), ("Reviewed by", "reviewed"))
_FIELDS = (
    ("Structure", "structure"), ("Owner", "owner"), ("Job no.", "job"), ("Revision", "revision"),
)  # fmt: skip
_COURSE = (
    ("Course", "course"),
    ("Assignment", "assignment"),
    ("Name", "student"),
    ("Date", "date"),
)


@dataclass(frozen=True, slots=True)
class Cover:
    """What stands on the cover; a blank value is a line to fill in."""

    project: str
    subject: str
    fields: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str, str], ...]
    scope: str
    editions: tuple[str, ...]
    revisions: tuple[tuple[str, str, str, str], ...]
    seal: bool


@dataclass(frozen=True, slots=True)
class Front:
    """Cover and sections; ``contents`` says whether a table of contents stands first."""

    cover: Cover | None
    contents: bool
    sections: tuple[Section, ...]
    seal_room: bool

    @property
    def is_empty(self) -> bool:
        """Whether the sheets stand alone."""
        return self.cover is None and not self.contents and not self.sections

    @property
    def has_summary(self) -> bool:
        """Whether the checks of all sheets are summed up here."""
        return any(section.name == "summary" for section in self.sections)


def front_of(document: b.Document, index: Index, options: Options) -> Front:
    """Return the front pages of a document.

    Parameters
    ----------
    document : Document
    index : Index
        That of the same document.
    options : Options
    """
    makers = {
        "summary": lambda: summary(document, index),
        "assumptions": lambda: lists.assumptions(document, index),
        "givens": lambda: lists.givens(index),
        "references": lambda: lists.references(document, index),
        "nomenclature": lambda: lists.nomenclature(index),
        "identity": lambda: _identity(document, options),
    }
    sections = [makers[name]() for name in options.lists]
    if options.trace:
        sections.append(lists.unused(index))
    cover = _cover(document, options) if options.cover else None
    return Front(
        cover, options.contents, tuple(sections),
        options.seal == "every sheet",
    )  # fmt: skip


def _cover(document: b.Document, options: Options) -> Cover:
    title = {name: " ".join(value.split()) for name, value in document.title.items()}
    homework = document.profile == "homework"
    people = () if homework else tuple(
        (words, title.get(f"{name}_by", ""), title.get(f"{name}_on", "")) for words, name in _PEOPLE
    )  # fmt: skip
    names = _COURSE if homework else _FIELDS
    return Cover(
        title.get("project") or title.get("course") or "",
        title.get("subject") or title.get("assignment") or "",
        tuple((words, title.get(name, "")) for words, name in names),
        people,
        document.scope.strip() or _scope(document),
        _editions(document),
        () if homework else _revisions(document),
        options.seal != "none",
    )


def _scope(document: b.Document) -> str:
    titles = [sheet.title for sheet in document.sheets if sheet.title]
    covers = f"Covers: {'; '.join(titles)}. " if titles else ""
    return f"{covers}{scope_words(document)}"


def _editions(document: b.Document) -> tuple[str, ...]:
    """Return the codes that the sheets cite, with their editions."""
    known, cited = documents_of(document), citations_of(document).articles
    found = []
    for key, made in known.items():
        if key in cited:
            edition = f", {made.edition}" if made.edition else ""
            interims = f"; interims: {made.interims}" if made.interims else ""
            found.append(f"{key}: {made.title}{edition}{interims}")
    return tuple(found)


def _revisions(document: b.Document) -> tuple[tuple[str, str, str, str], ...]:
    rows = [(r.revision, r.date, r.by, r.description) for r in document.revisions]
    number = document.title.get("revision", "").strip()
    if not rows and number:
        rows.append((number, "", "", ""))
    return tuple(rows + [("", "", "", "")] * max(1, LEAST_REVISIONS - len(rows)))


def _identity(document: b.Document, options: Options) -> Section:
    """Return what made the package, and the hash of its inputs and formulas."""
    rows = [*software()]
    if options.provenance:
        rows.append(("read from", options.provenance))
    digits = input_hash(document)
    hash_words = " ".join(digits[start : start + 8] for start in range(0, 64, 8))
    rows.append(("input hash", hash_words))
    table = FrontTable(("Program", "Version"), tuple(rows), (0, 1), "ll")
    words = (
        "The input hash is the SHA-256 of all givens, choices, formulas and comparisons: two "
        "prints of one hash rest on the same input, whatever their words and layout."
    )
    return Section("identity", "Identity of this calculation", (table, words, *document.notices))

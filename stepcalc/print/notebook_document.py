"""From the cells of a notebook to a document: each output in the best form that it stored."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import SimpleNamespace
from typing import Any

from stepcalc.errors import PrintError, SheetFileError
from stepcalc.print.stamps import broken
from stepcalc.render import blocks as b
from stepcalc.render.build import rounding_rule
from stepcalc.render.document import VERSION, read_block, read_title

MIME = "application/vnd.stepcalc+json"
WIDGET = "application/vnd.jupyter.widget-view+json"
HIDDEN_TAGS = frozenset({"hide", "remove_cell", "remove-cell", "hide-cell"})
_SHOW_CODE = frozenset({"show-code", "show_code", "show-input", "show_input"})
_HIDE_CODE = frozenset({
    "hide-code", "hide_code", "hide-input", "hide_input", "remove-input", "remove_input",
})  # fmt: skip
_ANSI = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")
_OF_ANOTHER_SHEET = "::"
_MATH = re.compile(r"^\s*\$\$(.*)\$\$\s*$", re.DOTALL)
_MAY_BE_STALE = (b.Given, b.Step, b.Computed, b.Lookup, b.Check)
_HOMEWORK_FIELDS = ("course", "assignment", "student")


def source_of(cell: Mapping[str, Any]) -> str:
    """Return the text of a cell."""
    return _joined(cell.get("source", ""))


def _joined(text: Any) -> str:
    return "".join(text) if isinstance(text, list) else str(text)


class CodeChoice:
    """Which code cells are printed.

    A cell says for itself by a tag, ``show-code`` or ``hide-code``, or by its metadata,
    ``{"stepcalc": {"code": true}}``; a cell whose source is folded in the notebook is not printed.

    Parameters
    ----------
    which : {"none", "tagged", "all"} or bool, optional
        ``"all"`` prints what no cell hides, ``"tagged"`` what a cell shows; True and False are
        ``"all"`` and ``"none"``. When left out it is ``"tagged"``, for homework only.

    Raises
    ------
    PrintError
        If it is something else.
    """

    def __init__(self, which: bool | str | None = None) -> None:
        plain = {True: "all", False: "none", None: "tagged"}
        self.which = which if isinstance(which, str) else plain[which]
        self.only_homework = which is None
        if self.which not in ("none", "tagged", "all"):
            msg = f"code is {which!r}; want 'none', 'tagged' or 'all'"
            raise PrintError(msg)

    def shows(self, cell: Mapping[str, Any]) -> bool:
        """Say whether the source of a cell is printed."""
        if self.which == "none":
            return False
        said = _said_by(cell)
        return said is True if self.which == "tagged" else said is not False


def _said_by(cell: Mapping[str, Any]) -> bool | None:
    """Return whether a cell asks for its source to be shown; None if it does not say."""
    tags = set(_tags(cell))
    metadata = cell.get("metadata") or {}
    own, folded = metadata.get("stepcalc"), metadata.get("jupyter")
    if tags & _SHOW_CODE:
        return True
    if tags & _HIDE_CODE or (isinstance(folded, Mapping) and folded.get("source_hidden") is True):
        return False
    said = own.get("code") if isinstance(own, Mapping) else None
    return said if isinstance(said, bool) else None


@dataclass(slots=True)
class _Sheet:
    """One sheet while it is collected; ``key`` is the identity its cells gave it."""

    key: str
    title: str
    blocks: list[b.Block] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)


@dataclass(slots=True)
class _Marks:
    """Fingerprints of what was shown: the newest of each node, to find what is out of date."""

    own: dict[tuple[str, str], str] = field(default_factory=dict)

    def learn(self, bundle: Mapping[str, Any], key: str) -> None:
        for path, marks in _marks_of(bundle):
            self.own[key, path] = str(marks.get("own", ""))

    def missing(self, bundle: Mapping[str, Any], key: str) -> tuple[str, str] | None:
        """Return a node of an output and what it uses that no output shows, if there is such."""
        for path, marks in _marks_of(bundle):
            uses = marks.get("uses")
            for used in uses if isinstance(uses, Mapping) else ():
                if _OF_ANOTHER_SHEET not in used and (key, used) not in self.own:
                    return path, str(used)
        return None

    def stale_names(self, bundle: Mapping[str, Any], key: str) -> set[str]:
        """Return the names of the nodes of an output that no longer follow from what is shown."""
        stale = set()
        for path, marks in _marks_of(bundle):
            uses = marks.get("uses")
            known = {path: marks.get("own")} | (dict(uses) if isinstance(uses, Mapping) else {})
            if any(self.own.get((key, used), mark) != mark for used, mark in known.items()):
                stale.add(path.rpartition("/")[2])
        return stale


def _marks_of(bundle: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    marks = bundle.get("marks")
    if not isinstance(marks, Mapping):
        return []
    return [(str(path), mark) for path, mark in marks.items() if isinstance(mark, Mapping)]


class NotebookReader:
    """Collects the sheets of a notebook cell by cell.

    Parameters
    ----------
    name : str
        The name of the file, for messages.
    code : {"none", "tagged", "all"} or bool, optional
        Which code cells are printed; when left out, the tagged ones of homework.
    """

    def __init__(self, name: str, *, code: bool | str | None = None) -> None:
        self.name = name
        self.code = CodeChoice(code)
        self.notices: list[str] = []
        self.lost = ""
        self._authors: dict[str, set[str]] = {"cell": set(), "procedure": set()}
        self.title: dict[str, str] = {}
        self._sheets: list[_Sheet] = []
        self._pending: list[b.Block] = []
        self._marks = _Marks()
        self._rules: dict[str, None] = {}

    def read(self, cells: Iterable[Mapping[str, Any]]) -> None:
        """Read the cells, top to bottom.

        Raises
        ------
        SheetFileError
            If what a cell stored does not follow the schema.
        """
        cells = list(cells)
        newest = sorted(cells, key=lambda cell: cell.get("execution_count") or 0)
        for cell in newest:
            for bundle in _bundles(cell):
                self._marks.learn(bundle, _key(bundle))
        cells = [cell for cell in cells if not HIDDEN_TAGS.intersection(_tags(cell))]
        for number, cell in enumerate(cells, 1):
            self._cell(cell, f"cell {number} of {self.name}")

    @property
    def has_sheets(self) -> bool:
        """Whether any output read so far belongs to a calculation sheet."""
        return any(sheet.key for sheet in self._sheets)

    def document(self, profile: str | None = None) -> b.Document:
        """Return the document of all cells read.

        Parameters
        ----------
        profile : {"package", "homework"}, optional
        """
        if self._pending:
            self._current().blocks.extend(self._pending)
            self._pending = []
        homework = any(self.title.get(name, "").strip() for name in _HOMEWORK_FIELDS)
        profile = profile or ("homework" if homework else "package")
        hidden = (b.Code,) if self.code.only_homework and profile != "homework" else ()
        sheets = tuple(
            b.SheetPages(s.title, tuple(x for x in s.blocks if not isinstance(x, hidden)))
            for s in self._sheets
        )
        if profile == "homework" and self._authors["cell"] | self._authors["procedure"]:
            own, others = (len(self._authors[name]) for name in ("cell", "procedure"))
            self._note_once(
                f"Lines written by the cells of the notebook: {own}; by procedures of stepcalc: "
                f"{others}"
            )
        return b.Document(
            self.title, profile, sheets,
            (*self.notices, *self._rules),
        )  # fmt: skip

    def _cell(self, cell: Mapping[str, Any], where: str) -> None:
        if cell["cell_type"] == "markdown":
            text = source_of(cell)
            if "](attachment:" in text:
                self._note_once("pictures attached to text cells are named, not shown")
            if text.strip():
                self._pending.append(read_block({"kind": "markdown", "text": text}, where))
        elif cell["cell_type"] == "code":
            if source_of(cell).strip() and self.code.shows(cell):
                self._pending.append(read_block({"kind": "code", "text": source_of(cell)}, where))
            for output in cell.get("outputs", ()):
                self._output(output, where)

    def _output(self, output: Mapping[str, Any], where: str) -> None:
        if output.get("output_type") == "stream":
            self._plain(_joined(output.get("text", "")), where)
            return
        data = output.get("data")
        if not isinstance(data, Mapping):
            return
        if MIME in data:
            self._bundle(data[MIME], where)
        elif WIDGET in data:
            self._note_once("controls are not printed; what they set stands in the steps")
        else:
            self._other(data, output.get("metadata") or {}, where)

    def _plain(self, text: str, where: str) -> None:
        shown = _ANSI.sub("", text).rstrip("\n")
        if shown.strip():
            self._pending.append(read_block({"kind": "output", "text": shown}, where))

    def _other(self, data: Mapping[str, Any], metadata: Mapping[str, Any], where: str) -> None:
        """Print an output that is none of ours in the best form it has."""
        plain = _joined(data.get("text/plain", ""))
        alt = plain[:500]
        if "image/svg+xml" in data:
            block = {"kind": "figure", "svg": _joined(data["image/svg+xml"]), "alt": alt}
        elif "image/png" in data:
            described = metadata.get("image/png")
            said = described.get("alt") if isinstance(described, Mapping) else None
            block = {"kind": "image", "png": _joined(data["image/png"]), "alt": said or alt}
        elif "text/markdown" in data:
            block = {"kind": "markdown", "text": _joined(data["text/markdown"])}
        elif "text/latex" in data:
            latex = _joined(data["text/latex"])
            inside = _MATH.match(latex)
            shown = f"$$\n{inside[1].strip()}\n$$" if inside else latex
            block = {"kind": "markdown", "text": shown}
        elif plain:
            self._plain(plain, where)
            return
        else:
            self._note_once(f"an output of {where} has no form that prints")
            return
        self._pending.append(read_block(block, where))

    def _bundle(self, bundle: Any, where: str) -> None:
        if not isinstance(bundle, Mapping) or bundle.get("v") != VERSION:
            raise SheetFileError(
                f"{where} stored its sheet in a form that this stepcalc does not print (version "
                f"{VERSION} is wanted); run the notebook again"
            )
        if bundle.get("title_block") is not None:
            self.title = read_title(bundle["title_block"], where)
            self._title_warnings()
        blocks = bundle.get("blocks")
        if not isinstance(blocks, list):
            raise SheetFileError(f"{where} stored no list of blocks; run the notebook again")
        if blocks:
            self._find_lost(bundle, where)
            self._take_note_of_author(bundle, where)
            stale = self._marks.stale_names(bundle, _key(bundle))
            sheet = self._sheet_of(bundle)
            for block in _not_yet_shown(blocks, sheet):
                record = read_block(block, where)
                if isinstance(record, _MAY_BE_STALE) and record.name in stale:
                    record = replace(record, stale=True)
                sheet.blocks.append(record)

    def _take_note_of_author(self, bundle: Mapping[str, Any], where: str) -> None:
        """Count the steps that cells and procedures wrote, and say what was edited afterwards."""
        if broken(bundle):
            self._note_once(
                f"STALE: the output of {where} was edited after it was made; do not use it"
            )
        made, marks = bundle.get("procedures"), bundle.get("marks")
        paths = set(marks) if isinstance(marks, Mapping) and "stamp" in bundle else set()
        by_procedure = paths & set(map(str, made if isinstance(made, list) else ()))
        self._authors["procedure"] |= by_procedure
        self._authors["cell"] |= paths - by_procedure

    def _find_lost(self, bundle: Mapping[str, Any], where: str) -> None:
        """Take note of a step that rests on something that no cell shows any more."""
        found = self._marks.missing(bundle, _key(bundle))
        if found is not None and not self.lost:
            path, used = found
            self.lost = (
                f"{path!r} of {where} uses {used!r}, which no cell shows: its cell was deleted, or "
                "its output was cleared"
            )

    def _title_warnings(self) -> None:
        from stepcalc.sheet.titles import TitleBlock

        known = {n: v for n, v in self.title.items() if n in TitleBlock.__dataclass_fields__}
        for words in TitleBlock(**known).warnings:
            self._note_once(words)

    def _sheet_of(self, bundle: Mapping[str, Any]) -> _Sheet:
        """Return the sheet that an output belongs to; text before it moves to it."""
        sheet, key = bundle.get("sheet"), _key(bundle)
        about = sheet if isinstance(sheet, Mapping) else {}
        title = str(about.get("title") or "")[:2000]
        if about.get("carry") in ("full", "shown") and isinstance(about.get("digits"), int):
            rule = rounding_rule(SimpleNamespace(carry=about["carry"], digits=about["digits"]))
            self._rules[rule] = None
        if not self._sheets or self._sheets[-1].key != key:
            before = [s for s in self._sheets if s.key == key]
            seen = before[-1].seen if before else set()
            named = f"{title} (continued)" if before else title
            self._sheets.append(_Sheet(key, named, seen=seen))
        current = self._sheets[-1]
        current.blocks.extend(self._pending)
        self._pending = []
        return current

    def _current(self) -> _Sheet:
        if not self._sheets:
            self._sheets.append(_Sheet("", ""))
        return self._sheets[-1]

    def _note_once(self, words: str) -> None:
        if words not in self.notices:
            self.notices.append(words)


def _key(bundle: Mapping[str, Any]) -> str:
    sheet = bundle.get("sheet") if isinstance(bundle, Mapping) else None
    return str(sheet.get("id") or sheet.get("title") or "") if isinstance(sheet, Mapping) else ""


def _tags(cell: Mapping[str, Any]) -> list[str]:
    tags = (cell.get("metadata") or {}).get("tags", [])
    return [str(tag) for tag in tags] if isinstance(tags, list) else []


def _bundles(cell: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    found = []
    for output in cell.get("outputs", ()) if cell["cell_type"] == "code" else ():
        data = output.get("data")
        if isinstance(data, Mapping) and isinstance(data.get(MIME), Mapping):
            found.append(data[MIME])
    return found


def _content(block: Any) -> str:
    """Return what a block says; whether it is framed depends on what was known when it showed."""
    if isinstance(block, Mapping):
        block = {key: value for key, value in block.items() if key != "boxed"}
    return json.dumps(block, sort_keys=True, default=str)


def _not_yet_shown(blocks: list[Any], sheet: _Sheet) -> list[Any]:
    """Leave out what an earlier cell of the sheet showed, and headings over nothing new."""
    fresh: list[Any] = []
    for block in blocks:
        content = _content(block)
        is_heading = isinstance(block, Mapping) and block.get("kind") == "heading"
        if not is_heading:
            if content in sheet.seen:
                continue
            sheet.seen.add(content)
        fresh.append(block)
    while fresh and isinstance(fresh[-1], Mapping) and fresh[-1].get("kind") == "heading":
        fresh.pop()
    last = next((x for x in reversed(sheet.blocks) if isinstance(x, b.Heading)), None)
    if last is not None and fresh and isinstance(fresh[0], Mapping):
        first = fresh[0]
        if (
            first.get("kind") == "heading"
            and first.get("number") == last.number
            and (first.get("text") == last.text)
        ):
            fresh.pop(0)
    return fresh

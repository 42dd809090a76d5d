"""Review comments as data, keyed to steps by their path, printed as a log.

A path stays when steps are inserted above it; the number under which the step is found on the
sheets is looked up when the log prints.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace

from stepcalc.errors import SheetFileError, UnknownNameError
from stepcalc.render import blocks as b

__all__ = ["Comment", "CommentLog", "with_comments"]

FORMAT = "stepcalc review comments"
_NAMED = (b.Given, b.Step, b.Computed, b.Lookup, b.Check)
_HEADER = ("No.", "Step", "Comment", "Reply", "Status")
_LONGEST = 5_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Comment:
    """One comment of a reviewer, the reply, and whether it is closed.

    ``step`` is the path of a step, given or check, or its name where that is the only one;
    ``sheet`` is needed where two sheets have it.
    """

    step: str
    text: str
    by: str = ""
    on: str = ""
    sheet: str = ""
    reply: str = ""
    replied_by: str = ""
    replied_on: str = ""
    closed_by: str = ""
    closed_on: str = ""

    def __post_init__(self) -> None:
        """Refuse a field that is not a text of bearable length, and an empty comment.

        Raises
        ------
        SheetFileError
        """
        for name, value in asdict(self).items():
            if not isinstance(value, str) or len(value) > _LONGEST:
                message = f"{name} of a review comment is {str(value)[:40]!r}; want a text"
                raise SheetFileError(message)
        if not self.step.strip() or not self.text.strip():
            message = "a review comment wants the step it speaks of and a text"
            raise SheetFileError(message)

    @property
    def status(self) -> str:
        """``open``, ``answered`` or ``closed``."""
        if self.closed_by or self.closed_on:
            return "closed"
        return "answered" if self.reply else "open"


@dataclass(slots=True)
class CommentLog:
    """The comments of a review, in the order in which they were made."""

    comments: list[Comment] = field(default_factory=list)

    def add(self, step: str, text: str, **fields: str) -> int:
        """Write down a comment; return its number in the log, from 1."""
        self.comments.append(Comment(step=step, text=text, **fields))
        return len(self.comments)

    def reply(self, number: int, text: str, *, by: str = "", on: str = "") -> None:
        """Write down the reply to a comment."""
        self._change(number, reply=text, replied_by=by, replied_on=on)

    def close(self, number: int, *, by: str, on: str = "") -> None:
        """Close a comment: whoever checked that the reply is right says so."""
        if not by.strip():
            message = "closing a comment wants the name of the one who checked the reply"
            raise SheetFileError(message)
        self._change(number, closed_by=by, closed_on=on)

    def _change(self, number: int, **fields: str) -> None:
        if not 1 <= number <= len(self.comments):
            message = f"there is no comment {number}; the log has {len(self.comments)}"
            raise UnknownNameError(message)
        self.comments[number - 1] = replace(self.comments[number - 1], **fields)

    @property
    def open(self) -> list[Comment]:
        """The comments that are not closed."""
        return [comment for comment in self.comments if comment.status != "closed"]

    def to_json(self) -> str:
        """Return the log as text; see :meth:`from_json`."""
        data = {"format": FORMAT, "version": 1, "comments": [asdict(c) for c in self.comments]}
        return json.dumps(data, ensure_ascii=False, indent=1)

    @classmethod
    def from_json(cls, text: str) -> CommentLog:
        """Return the log that :meth:`to_json` wrote.

        Raises
        ------
        SheetFileError
            If the text is something else, or is damaged.
        """
        try:
            data = json.loads(text)
        except (TypeError, ValueError, RecursionError) as error:
            message = f"this is not the JSON of review comments, or it was cut off: {error}"
            raise SheetFileError(message[:300]) from error
        if (
            not isinstance(data, Mapping)
            or data.get("format") != FORMAT
            or data.get("version") != 1
        ):
            message = f"this JSON is no log of comments: want format {FORMAT!r}, version 1"
            raise SheetFileError(message)
        items = data.get("comments")
        if not isinstance(items, list) or not all(isinstance(item, dict) for item in items):
            message = "comments of the log is a list of objects"
            raise SheetFileError(message)
        try:
            return cls([Comment(**item) for item in items])
        except TypeError as error:
            message = f"a comment of the log has wrong fields: {error}"
            raise SheetFileError(message[:300]) from error


def with_comments(document: b.Document, log: CommentLog) -> b.Document:
    """Return a document that ends in the log of its review.

    Parameters
    ----------
    document : Document
        Of a sheet, a package or a notebook.
    log : CommentLog
        A comment on a step that is no longer there says so.
    """
    if not log.comments:
        return document
    places = list(_places(document))
    rows = tuple(
        (str(number), _place(comment, places), _said(comment.text, comment.by, comment.on),
         _said(comment.reply, comment.replied_by, comment.replied_on), _status(comment))
        for number, comment in enumerate(log.comments, 1)
    )  # fmt: skip
    told = f"{len(log.comments)} comments, {len(log.open)} of them not closed."
    blocks: tuple[b.Block, ...] = (b.Note(told), b.Table(_HEADER, rows, "", "lllll"))
    sheets = (*document.sheets, b.SheetPages("Review comments", blocks))
    return replace(document, sheets=sheets)


def _said(text: str, by: str, on: str) -> str:
    signed = ", ".join(filter(None, (by, on)))
    return f"{text} ({signed})" if text and signed else text


def _status(comment: Comment) -> str:
    signed = ", ".join(filter(None, (comment.closed_by, comment.closed_on)))
    return f"closed ({signed})" if signed else comment.status


def _places(document: b.Document) -> Iterator[tuple[str, str, str, str]]:
    """Yield sheet, path, name and number of everything that a comment can speak of."""
    for sheet in document.sheets:
        titles: list[tuple[int, str]] = []
        for block in sheet.blocks:
            if isinstance(block, b.Heading):
                titles = [t for t in titles if t[0] < block.level] + [(block.level, block.text)]
            elif isinstance(block, _NAMED):
                path = "/".join([*(title for _, title in titles), block.name])
                yield sheet.title.removesuffix(" (continued)"), path, block.name, block.id


def _place(comment: Comment, places: Iterable[tuple[str, str, str, str]]) -> str:
    here = [p for p in places if not comment.sheet or p[0] == comment.sheet]
    found = [p for p in here if p[1] == comment.step] or [p for p in here if p[2] == comment.step]
    if not found:
        return f"{comment.step} (no longer on the sheets)"
    if len(found) > 1:
        return f"{comment.step} (on the sheets {len(found)} times)"
    sheet, _, name, number = found[0]
    several = len({p[0] for p in places}) > 1
    return f"{sheet}, {number} {name}" if several else f"{number} {name}".strip()

"""The verb ``comment``: review comments on a calculation, kept in a log of their own."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import ALL_OK, SOME_NG
from stepcalc.cli.files import check_form, check_place, text_of, whole_file

__all__ = ["add"]

_EXITS = "exit codes: 0 every comment is closed; 1 some are not; 2 the input failed"
_LARGEST_LOG = 20_000_000


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    parser = verbs.add_parser(
        "comment",
        help="review comments: list, add, reply, close, print",
        description="Keep the comments of a review in a log: each belongs to a step, given or "
        "check and stays with it when steps are inserted.",
        epilog=_EXITS,
    )
    actions = parser.add_subparsers(dest="action", required=True, metavar="ACTION")

    listed = actions.add_parser("list", help="show the comments", epilog=_EXITS)
    listed.add_argument("log", metavar="LOG.json", type=Path)
    listed.set_defaults(run=_list)

    new = actions.add_parser("add", help="write down a comment", epilog=_EXITS)
    new.add_argument("log", metavar="LOG.json", type=Path, help="made if it does not exist")
    new.add_argument("step", metavar="STEP", help="a name or path, such as M_u or Moment/M_u")
    new.add_argument("text", metavar="TEXT", help="the comment")
    new.add_argument("--sheet", default="", help="the sheet, where two have the step")
    _signed(new)
    new.set_defaults(run=_add)

    for name, words, run in (
        ("reply", "write down the reply to a comment", _reply),
        ("close", "close a comment whose reply was checked", _close),
    ):
        action = actions.add_parser(name, help=words, epilog=_EXITS)
        action.add_argument("log", metavar="LOG.json", type=Path)
        action.add_argument("number", metavar="NO", type=int, help="the number in the list")
        if name == "reply":
            action.add_argument("text", metavar="TEXT", help="the reply")
        _signed(action)
        action.set_defaults(run=run)

    printed = actions.add_parser(
        "print", help="print a calculation with its comments at the end", epilog=_EXITS
    )
    printed.add_argument("log", metavar="LOG.json", type=Path)
    printed.add_argument(
        "source", metavar="SOURCE", type=Path, help="an executed notebook, or a sheet's .json"
    )
    printed.add_argument("-o", "--output", metavar="OUT", type=Path, required=True)
    printed.set_defaults(run=_print)


def _signed(parser: Any) -> None:
    parser.add_argument("--by", default="", help="who says so")
    parser.add_argument("--on", default="", help="the date")


def _read(path: Path, *, new: bool = False) -> Any:
    from stepcalc.print.comments import CommentLog

    if new and not path.exists():
        check_place(path)
        return CommentLog()
    return CommentLog.from_json(text_of(path, "a log of comments", _LARGEST_LOG))


def _written(log: Any, path: Path) -> int:
    with whole_file(path) as part:
        part.write_text(log.to_json() + "\n", encoding="utf-8")
    return _shown(log)


def _shown(log: Any) -> int:
    rows = [["no.", "step", "status", "comment", "reply"]]
    for number, comment in enumerate(log.comments, 1):
        step = f"{comment.sheet}: {comment.step}" if comment.sheet else comment.step
        rows.append([str(number), step, comment.status, _short(comment.text),
                     _short(comment.reply)])  # fmt: skip
    print("\n".join(columns(rows)))
    print(f"{len(log.comments)} comments, {len(log.open)} of them not closed")
    return SOME_NG if log.open else ALL_OK


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:57] + "..."


def _list(options: argparse.Namespace) -> int:
    return _shown(_read(options.log))


def _add(options: argparse.Namespace) -> int:
    log = _read(options.log, new=True)
    log.add(options.step, options.text, by=options.by, on=options.on, sheet=options.sheet)
    return _written(log, options.log)


def _reply(options: argparse.Namespace) -> int:
    log = _read(options.log)
    log.reply(options.number, options.text, by=options.by, on=options.on)
    return _written(log, options.log)


def _close(options: argparse.Namespace) -> int:
    log = _read(options.log)
    log.close(options.number, by=options.by, on=options.on)
    return _written(log, options.log)


def _print(options: argparse.Namespace) -> int:
    from stepcalc.errors import SheetFileError
    from stepcalc.print import print_document
    from stepcalc.print.change_marks import printable
    from stepcalc.print.comments import with_comments

    check_place(options.output)
    check_form(options.output)
    log = _read(options.log)
    document = printable(options.source)
    if document is None:
        raise SheetFileError(
            f"{options.source} holds bare results, which have no steps to comment on; want an "
            "executed notebook, or the JSON of a sheet"
        )
    print_document(with_comments(document, log), options.output)
    print(f"written: {options.output}")
    return SOME_NG if log.open else ALL_OK

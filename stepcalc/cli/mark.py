"""The verb ``mark``: submissions against the key, as a table and as CSV."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import ALL_OK, FAILED, SOME_NG
from stepcalc.cli.files import check_place, whole_file
from stepcalc.cli.variant import SOLUTIONS
from stepcalc.errors import FormulaError, PrintError

if TYPE_CHECKING:
    from stepcalc.classroom.mark_table import Marked
    from stepcalc.classroom.marking import Mark

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    parser = verbs.add_parser(
        "mark",
        help="mark submissions against the key",
        description="Mark executed notebooks, or .csv files with a step and its answer on each "
        "line, against the key: within the band of hand work, unit-aware, with credit for "
        "following through a wrong value. No submission is run; of a notebook that stopped at "
        "an error, the cells that went through are marked.",
        epilog="exit codes: 0 everything is right; 1 something is not; 2 a submission cannot be "
        "read, or the input failed",
    )
    parser.add_argument("submissions", metavar="SUBMISSION", type=Path, nargs="+", help="a file")
    source = parser.add_mutually_exclusive_group(required=True)
    source.add_argument(
        "--key", metavar="KEY", type=Path, help="the solved notebook, or its sheet's .json"
    )
    source.add_argument(
        "--variants", metavar="FOLDER", type=Path,
        help="the folder that 'variant' wrote: each submission has its student's name",
    )  # fmt: skip
    parser.add_argument("--csv", metavar="OUT.csv", type=Path, help="write every mark")
    parser.add_argument(
        "--feedback", metavar="FOLDER", type=Path,
        help="write for each student what is right and a hint for what is not, never the answer",
    )  # fmt: skip
    parser.add_argument(
        "--step", metavar="NAME", action="append", default=[],
        help="mark this step or check only; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--within", metavar="PERCENT", type=float, default=2.0,
        help="per cent of the key that an answer may always be off (2; common practice)",
    )  # fmt: skip
    parser.add_argument(
        "--hand-built", action="store_true",
        help="give no credit to steps that a procedure wrote, or that were edited afterwards",
    )  # fmt: skip
    parser.set_defaults(run=_mark)


def _mark(options: argparse.Namespace) -> int:
    from stepcalc.classroom.mark_table import mark_class, marks_csv
    from stepcalc.classroom.marking import Scheme

    if options.csv:
        check_place(options.csv)
    if not 0.0 <= options.within <= 50.0:
        raise FormulaError(f"--within is {options.within:g}; want 0 to 50 per cent")
    scheme = Scheme(
        relative=options.within / 100, not_own=0.0 if options.hand_built else Scheme().not_own
    )
    keys = _keys(options)
    marked = mark_class(options.submissions, keys, options.step, scheme=scheme)
    rows = [["submission", "credit", "right", "of", "not right"]]
    for one in marked:
        if one.marks is None:
            rows.append([one.name, "", "", "", f"not marked: {one.problem}"])
            continue
        right = sum(found.credit == 1.0 for found in one.marks.marks)
        said = "; ".join((*_not_right(one.marks.marks), *one.marks.notices))
        credit = f"{100 * one.marks.credit:.0f} %"
        rows.append([one.name, credit, str(right), str(len(one.marks.marks)), said])
    print("\n".join(columns(rows)))
    if options.csv:
        with whole_file(options.csv) as part:
            part.write_text(marks_csv(marked), encoding="utf-8")
        print(f"written: {options.csv}")
    if options.feedback:
        _write_feedback(options.feedback, marked, keys)
    if any(one.marks is None for one in marked):
        return FAILED
    return ALL_OK if all(m.marks is not None and m.marks.credit == 1.0 for m in marked) else SOME_NG


def _write_feedback(folder: Path, marked: Iterable[Marked], keys: dict[str, Any]) -> None:
    from stepcalc.classroom.feedback import feedback

    if folder.exists() and not folder.is_dir():
        raise PrintError(f"cannot write feedback to {folder}: it is no folder")
    folder.mkdir(parents=True, exist_ok=True)
    for one in marked:
        if one.marks is None:
            said = f"This submission could not be marked: {one.problem}\n"
        else:
            said = feedback(one.marks, keys.get(Path(one.name).stem, keys.get("")))
        with whole_file(folder / f"{one.name}.txt") as part:
            part.write_text(said, encoding="utf-8")
    print(f"written: feedback in {folder}")


def _not_right(marks: Iterable[Mark]) -> list[str]:
    """Return the steps that are not right, by what is the matter with them."""
    by_outcome: dict[str, list[str]] = {}
    for found in marks:
        if found.outcome != "right":
            by_outcome.setdefault(found.outcome, []).append(found.name)
    return [f"{outcome}: {', '.join(names)}" for outcome, names in by_outcome.items()]


def _keys(options: argparse.Namespace) -> dict[str, Any]:
    """Return the sheet of each submission; that of all under the empty name."""
    from stepcalc.print.notebook_sheets import sheets_of_file

    if options.key is not None:
        return {"": sheets_of_file(options.key)[0]}
    folder = options.variants / SOLUTIONS
    if not folder.is_dir():
        raise PrintError(
            f"{options.variants} holds no folder {SOLUTIONS}; want what 'variant' wrote"
        )
    wanted = {path.stem for path in options.submissions}
    return {
        path.stem: sheets_of_file(path)[0]
        for path in sorted(folder.glob("*.json"))
        if path.stem in wanted
    }

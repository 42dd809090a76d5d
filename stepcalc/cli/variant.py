"""The verb ``variant``: a paper of its own for each student of a class."""

from __future__ import annotations

import argparse
import csv
import io
import re
from pathlib import Path
from typing import Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import ALL_OK
from stepcalc.cli.files import text_of, whole_file
from stepcalc.cli.papers import add_room
from stepcalc.errors import FormulaError, PrintError

__all__ = ["SOLUTIONS", "add"]

SOLUTIONS = "instructor"  # the folder below the papers that is not handed out
_PLAN = """\
A plan, with names of givens and values in units:
  assignment = "Homework 3"         # left out, the notebook's title block says it
  course = "Bridge design"
  failing = 0.3                     # share of the class with a check N.G.; may be left out
  [ranges]
  L = ["36 ft", "48 ft", "2 ft"]    # from, to, step
  [among]
  shape = ["W27X94", "W27X102"]

exit codes: 0 written; 2 the input or the run failed"""
_STUDENT = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}$")


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    parser = verbs.add_parser(
        "variant",
        help="a variant of a homework for each student, the same for the same student",
        description="Draw a variant of a homework for each student and print its handout; the "
        f"keys and a list of the variants go to the folder {SOLUTIONS} below the papers.",
        epilog=_PLAN,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "source", metavar="SOURCE", type=Path, help="an executed notebook, or a sheet's .json"
    )
    parser.add_argument(
        "--plan", metavar="PLAN.toml", type=Path, required=True,
        help="what varies, see below",
    )  # fmt: skip
    parser.add_argument(
        "--student", metavar="ID", action="append", default=[],
        help="a student's number; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--students", metavar="CLASS.txt", type=Path, help="a file with one number a line"
    )
    parser.add_argument(
        "--salt-file", metavar="FILE", type=Path, required=True,
        help="the instructor's secret, without which nobody can foresee a variant",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="FOLDER", type=Path, required=True, help="where the papers go"
    )
    parser.add_argument(
        "--blank", choices=("numbers", "formulas"), default="numbers",
        help="what the student fills in (numbers)",
    )  # fmt: skip
    parser.add_argument(
        "--fill", metavar="GIVEN", action="append", default=[],
        help="a given that the student chooses; may be repeated",
    )  # fmt: skip
    add_room(parser)
    parser.add_argument("--run", action="store_true", dest="execute", help="run the notebook first")
    parser.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper size (letter)"
    )
    parser.set_defaults(run=_variant)


def _variant(options: argparse.Namespace) -> int:
    from stepcalc.classroom.variant_file import class_variants, read_variant_plan

    plan = read_variant_plan(text_of(options.plan, "a plan of variants"))
    salt = text_of(options.salt_file, "the file of the salt").strip()
    students = _students(options)
    sheets, heads = _homework(options.source, options.execute)
    if len(sheets) > 1:
        raise PrintError(
            f"{options.source} holds {len(sheets)} sheets; a homework that varies is one sheet"
        )
    made = class_variants(sheets[0], students, plan, salt=salt)
    if options.output.exists() and not options.output.is_dir():
        raise PrintError(f"cannot write papers to {options.output}: it is no folder")
    (options.output / SOLUTIONS).mkdir(parents=True, exist_ok=True)
    heads |= {"course": plan.course} if plan.course else {}
    heads |= {"assignment": plan.assignment} if plan.assignment else {}
    for variant in made.values():
        _write(variant, heads, options)
    rows = [["student", "variant", "verdict", *sorted(plan.ranges)]]
    for variant in made.values():
        verdict = "OK" if variant.sheet.passed else "N.G."
        drawn = [_shown(variant.sheet[name]) for name in sorted(plan.ranges)]
        rows.append([variant.student, variant.code, verdict, *drawn])
    listed = io.StringIO()
    csv.writer(listed, lineterminator="\n").writerows(rows)
    with whole_file(options.output / SOLUTIONS / "variants.csv") as part:
        part.write_text(listed.getvalue(), encoding="utf-8")
    print("\n".join(columns(rows)))
    print(f"written: {len(made)} papers in {options.output}, their keys in its {SOLUTIONS}")
    return ALL_OK


def _students(options: argparse.Namespace) -> list[str]:
    students = list(options.student)
    if options.students is not None:
        lines = text_of(options.students, "a list of students").splitlines()
        students += [line.strip() for line in lines if line.strip()]
    if not students:
        raise FormulaError("no student is named; want --student ID or --students CLASS.txt")
    for student in students:
        if not _STUDENT.match(student):
            raise FormulaError(
                f"the student {student[:40]!r} cannot name a file; want letters, digits, '.', '_' "
                "and '-'"
            )
    return students


def _homework(source: Path, run: bool) -> tuple[list[Any], dict[str, str]]:
    """Return the sheets of a homework, and what its title block says about the course."""
    from stepcalc.print.notebook import notebook_document, read_notebook, run_notebook
    from stepcalc.print.notebook_sheets import notebook_sheets, sheets_of_file

    if source.suffix.lower() != ".ipynb":
        return sheets_of_file(source), {}
    notebook = read_notebook(source)
    if run:
        notebook = run_notebook(notebook, source)
    title = notebook_document(notebook, source)[0].title
    heads = {name: title.get(name, "") for name in ("course", "assignment")}
    return notebook_sheets(notebook, source), heads


def _shown(node: Any) -> str:
    from stepcalc.render.block_parts import value_layout
    from stepcalc.render.dialects import dialect, replay

    return str(replay(value_layout(node), dialect("text")))


def _write(variant: Any, heads: dict[str, str], options: argparse.Namespace) -> None:
    """Write a student's paper, and for the instructor its key and its sheet."""
    from dataclasses import replace

    from stepcalc.classroom.handout import handout
    from stepcalc.classroom.key import key
    from stepcalc.print import print_document

    title = heads | {"student": variant.student, "variant": variant.code}
    paper = replace(
        handout(
            variant.sheet, blank=options.blank, student_fills=options.fill, lines=options.lines,
            pledge=options.pledge,
        ),
        title=title,
    )  # fmt: skip
    solved = replace(key(variant.sheet), title=title)
    name = f"{variant.student}.pdf"
    print_document(paper, options.output / name, paper=options.paper)
    print_document(solved, options.output / SOLUTIONS / name, paper=options.paper)
    with whole_file(options.output / SOLUTIONS / f"{variant.student}.json") as part:
        part.write_text(variant.sheet.to_json(), encoding="utf-8")

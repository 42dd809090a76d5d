"""Marking answers: unit-aware, within the band of hand work, with credit for following through."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from stepcalc.classroom.answers import Answer, Submission, notebook_answers, read_answer
from stepcalc.classroom.bands import Band, bands, last_place
from stepcalc.errors import FormulaError
from stepcalc.sheet.evaluation import twin
from stepcalc.sheet.state import value_in

__all__ = ["Mark", "Marks", "Scheme", "mark"]

_FACTORS = (12.0, 144.0, 1728.0, 20736.0, 1000.0)  # inches and feet, pounds and kips


@dataclass(frozen=True, slots=True)
class Scheme:
    """How answers are credited; all are shares of one.

    ``relative`` widens every band to this share of the key; 0.02 is common practice, no source.
    ``not_own`` is the credit of a right answer that a procedure of the package wrote, or whose
    stored output was edited: 0 where only hand-built steps count.
    """

    relative: float = 0.02
    follow_through: float = 1.0
    wrong_sign: float = 0.5
    wrong_unit: float = 0.5
    not_own: float = 1.0


@dataclass(frozen=True, slots=True)
class Mark:
    """The outcome for one step: what was expected, what was answered, and the credit."""

    name: str
    outcome: str
    credit: float
    answer: str
    expected: str
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Marks:
    """All marks of a submission; see :func:`mark`."""

    marks: tuple[Mark, ...]
    notices: tuple[str, ...] = ()

    @property
    def credit(self) -> float:
        """The mean credit, from 0 to 1."""
        return sum(m.credit for m in self.marks) / len(self.marks) if self.marks else 0.0

    def __getitem__(self, name: str) -> Mark:
        """Return the mark of a step."""
        for found in self.marks:
            if found.name == name:
                return found
        message = f"{name!r} was not marked; marked: {[m.name for m in self.marks]}"
        raise FormulaError(message[:300])


def mark(
    submission: Mapping[str, Any] | str | Path,
    sheet: Any,
    names: Sequence[str] = (),
    *,
    scheme: Scheme | None = None,
) -> Marks:
    """Return the marks of a submission; it is read as data and never executed.

    Parameters
    ----------
    submission : mapping of a step to its answer, or path of an executed notebook
        An answer is a quantity, a text such as ``"918.8 kip-ft"``, or a number.
    sheet : Sheet
        The student's variant with the solution.
    names : sequence of str
        Steps and checks to mark; all of them when empty. A check is marked by its verdict.
    scheme : Scheme, optional

    Raises
    ------
    PrintError, StaleError, SheetFileError
        If a notebook was not run from top to bottom, or is damaged.
    UnknownNameError
        If a name is not on the sheet.
    """
    scheme = scheme or Scheme()
    if isinstance(submission, (str, Path)):
        given = notebook_answers(submission)
    else:
        given = _of_mapping(submission, sheet)
    known = bands(sheet)
    steps = [sheet[n] for n in names] if names else [*sheet.steps, *sheet.checks]
    answers = {node.slot: given.answers[node.name] for node in sheet.steps
               if node.name in given.answers}  # fmt: skip
    followed = _followed(sheet, answers)
    marks = []
    for node in steps:
        if node.entry.kind == "check":
            marks.append(
                _of_check(node, given.verdicts.get(node.name), followed[node.slot], scheme)
            )
        elif node.path in known:
            answer = answers.get(node.slot)
            expected = followed[node.slot] / node.info.factor
            marks.append(_of_step(node, known[node.path], answer, expected, scheme))
    marks = [_own_work(m, scheme) if m.name in given.not_own else m for m in marks]
    return Marks(tuple(marks), given.notices)


def _own_work(found: Mark, scheme: Scheme) -> Mark:
    """Return the mark of an answer that is not the student's own."""
    if scheme.not_own == 1.0 or not found.credit:
        return found
    remark = "not hand-built: written by a procedure, or edited after it was made"
    return replace(
        found, outcome="not own work", credit=found.credit * scheme.not_own, remark=remark
    )


def _of_mapping(submission: Mapping[str, Any], sheet: Any) -> Submission:
    checks = {check.name for check in sheet.checks}
    answers = {n: read_answer(v) for n, v in submission.items() if n not in checks}
    verdicts = {n: _verdict(v) for n, v in submission.items() if n in checks}
    unknown = [name for name in answers if name not in sheet]
    notices = [f"the answer {name!r} belongs to no step" for name in unknown]
    return Submission(answers, verdicts, tuple(notices))


def _verdict(value: Any) -> str:
    plain = str(value).strip().upper().replace(".", "").replace(" ", "")
    return {"OK": "OK", "NG": "N.G.", "TRUE": "OK", "FALSE": "N.G."}.get(plain, str(value)[:20])


def _followed(sheet: Any, answers: Mapping[int, Answer]) -> dict[int, float]:
    """Return what each step should be, had the student's own earlier answers been right."""
    scratch = twin(sheet)
    scratch.carry = "full"
    values = scratch._values = sheet._values.copy()
    expected = {}
    for slot in sheet._book.sorted_slots():
        entry = sheet._book.entries[slot]
        if entry.kind not in ("given", "external"):
            expected[slot] = values[slot] = value_in(scratch, entry)[0]
        answer = answers.get(slot)
        if answer is None or answer.base is None or answer.info is None:
            continue
        if answer.info.dim is entry.info.dim:
            values[slot] = answer.base
    return expected


def _of_step(node: Any, band: Band, answer: Answer | None, followed: float, scheme: Scheme) -> Mark:
    expected = f"{node.shown} {node.info.text}".rstrip().replace("·", "-")
    if answer is None:
        return Mark(node.name, "missing", 0.0, "", expected)
    if answer.number is None:
        return Mark(node.name, "wrong", 0.0, answer.text, expected, answer.problem)
    found = _outcome(node, band, answer, followed, scheme)
    outcome, credit, remark = found
    return Mark(node.name, outcome, credit, answer.text, expected, remark)


def _outcome(
    node: Any, band: Band, answer: Answer, followed: float, scheme: Scheme
) -> tuple[str, float, str]:
    info = node.info
    plain = not info.text
    number = answer.number
    assert number is not None  # the caller has looked
    if answer.info is None and not plain:
        remark = answer.problem or f"the unit is missing; want {info.text}"
        if _near(number, band, scheme):
            return "wrong unit", scheme.wrong_unit, remark
        return "wrong", 0.0, remark
    if answer.info is not None and answer.info.dim is not info.dim:
        remark = f"{answer.info.text} is {answer.info.dim.words}; want {info.text or 'no unit'}"
        if _near(number, band, scheme):
            return "wrong unit", scheme.wrong_unit, remark
        return "wrong", 0.0, remark
    factor = 1.0 if answer.info is None else answer.info.factor / info.factor
    return _by_value(number * factor, band, followed, scheme)


def _by_value(value: float, band: Band, followed: float, scheme: Scheme) -> tuple[str, float, str]:
    if _near(value, band, scheme):
        return "right", 1.0, ""
    if band.exact and _near(-value, band, scheme):
        return "wrong sign", scheme.wrong_sign, "the sign is wrong"
    half = max(scheme.relative * abs(followed), _room(band, followed))
    if abs(value - followed) <= half:  # false where it is undefined
        return "follow-through", scheme.follow_through, "right for the student's own values"
    for factor in _FACTORS:
        for tried in (value * factor, value / factor):
            if band.exact and _near(tried, band, scheme):
                return "wrong unit", scheme.wrong_unit, f"off by a factor of {factor:g}"
            if followed and abs(tried - followed) <= half:
                remark = f"off by a factor of {factor:g} from the student's own values"
                return "wrong unit", scheme.wrong_unit, remark
    return "wrong", 0.0, ""


def _near(value: float, band: Band, scheme: Scheme) -> bool:
    half = max(band.high - band.exact, scheme.relative * abs(band.exact), 1e-12)
    return abs(value - band.exact) <= half


def _room(band: Band, followed: float) -> float:
    """Return the half width of the band, in proportion to the value that follows."""
    if not band.exact:
        return last_place(followed)
    return (band.high - band.exact) * abs(followed / band.exact)


def _of_check(node: Any, verdict: str | None, ratio: float, scheme: Scheme) -> Mark:
    expected = f"{node.shown_ratio} {node.verdict}"
    if verdict is None:
        return Mark(node.name, "missing", 0.0, "", expected)
    if verdict == node.verdict:
        return Mark(node.name, "right", 1.0, verdict, expected)
    own = "OK" if ratio <= 1.0 + 1e-9 else "N.G."
    if verdict == own and not math.isnan(ratio):
        remark = "right for the student's own values"
        return Mark(node.name, "follow-through", scheme.follow_through, verdict, expected, remark)
    return Mark(node.name, "wrong", 0.0, verdict, expected)

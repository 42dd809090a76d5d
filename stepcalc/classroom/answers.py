"""A student's answers: as quantities or text, or as a notebook stored them. Nothing is run."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stepcalc.errors import StepcalcError
from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.print.notebook_document import source_of
from stepcalc.print.notebook_sheets import bundles_of
from stepcalc.print.prepared import every_block
from stepcalc.print.stamps import broken
from stepcalc.render import blocks as b
from stepcalc.render.dialects import dialect, replay
from stepcalc.units.info import UnitInfo, read_unit

__all__ = ["Answer", "Submission", "notebook_answers", "read_answer"]

_TEXT = dialect("text")
_ANSWER = re.compile(
    r"\s*(?:(?:[A-Za-z]\w{0,30}\s*)?=\s*)?"  # M = 134 kip-ft
    r"(?P<number>[-+−]?(?:\d{1,3}(?:,\d{3})+(?![\d,])\.?\d*|\d+(?!,)\.?\d*|\.\d+)"
    r"(?:[eE][-+]?\d+|\s*[x×*]\s*10\^?(?P<power>[-+−]?\d{1,2}))?)\s*(?P<unit>[^\d\s,.].*)?$"
)
#: how units are written by hand, and how they are called here
_BY_HAND = (
    (r"[·⋅–—]", "-"),
    (r"\s*-\s*", "-"),
    (r"#", "lb"),
    (r"(?<![A-Za-z])k(?:ips?)?(?![A-Za-z])", "kip"),
    (r"(?<![A-Za-z])(?:sq|square)[. ]+([A-Za-z]+)", r"\1**2"),
    (r"(?<![A-Za-z])(?:cu|cubic)[. ]+([A-Za-z]+)", r"\1**3"),
    (r"^'$", "ft"),
    (r'^"$', "in"),
    (r"(?<=[A-Za-z])[- ](?=[A-Za-z])", "*"),
    (r"\^", "**"),
    (r"(?<=[A-Za-z])(?=[2-6](?!\d))", "**"),  # in4
)
_SOLVERS = re.compile(r"\bstepcalc\.bridge\b|\bgirder_calculation\b|\.solve\(")


@dataclass(frozen=True, slots=True)
class Answer:
    """A number with its unit; ``info`` is None where no unit is given, ``number`` where none is."""

    text: str
    number: float | None = None
    info: UnitInfo | None = None
    problem: str = ""

    @property
    def base(self) -> float | None:
        """The value in base units, if it has a unit."""
        if self.number is None or self.info is None:
            return None
        return self.number * self.info.factor


@dataclass(frozen=True, slots=True)
class Submission:
    """What a notebook holds: answers by name, verdicts of checks, and what to know about it.

    ``not_own`` names the answers that a procedure of the package wrote, or whose stored output was
    edited afterwards.
    """

    answers: dict[str, Answer]
    verdicts: dict[str, str]
    notices: tuple[str, ...] = ()
    not_own: frozenset[str] = frozenset()


def read_answer(value: Any) -> Answer:
    """Return an answer given as a quantity, a number, or a text such as ``"918.8 kip-ft"``.

    What cannot be read is an answer with a ``problem``, never an exception: it is marked.

    Examples
    --------
    >>> read_answer("1,963 kip-ft").number
    1963.0
    >>> read_answer("about two").problem
    "'about two' is no number with a unit"
    """
    if isinstance(value, Answer):
        return value
    if isinstance(value, bool) or value is None:
        return Answer(str(value), problem="there is no answer")
    if isinstance(value, (int, float)):
        return _finite(str(value), float(value), None)
    if hasattr(value, "magnitude"):
        try:
            info = read_unit(value.units)
            return _finite(str(value), float(value.magnitude), info)
        except (StepcalcError, TypeError, ValueError) as error:
            return Answer(str(value)[:60], problem=str(error)[:200])
    return _of_text(str(value)[:200])


def _of_text(text: str) -> Answer:
    found = _ANSWER.match(text)
    if found is None:
        return Answer(text, problem=f"{text[:40]!r} is no number with a unit")
    number = _number(found["number"], found["power"])
    if not found["unit"]:
        return _finite(text, number, None)
    spelled = found["unit"].strip()
    for wanted in (spelled, spelled.lower()):
        try:
            return _finite(text, number, read_unit(_unit_by_hand(wanted)))
        except StepcalcError:
            continue
    return Answer(text, number, None, f"{spelled[:40]!r} is no unit known here")


def _number(text: str, power: str | None) -> float:
    plain = text.replace(",", "").replace("−", "-")
    if power is None:
        return float(plain)
    return float(re.split(r"\s*[x×*]", plain)[0] + "e" + power.replace("−", "-"))


def _unit_by_hand(text: str) -> str:
    """Return a unit that a person wrote in the spelling that the registry reads."""
    for written, called in _BY_HAND:
        text = re.sub(written, called, text)
    return text


def _finite(text: str, number: float, info: UnitInfo | None) -> Answer:
    if number - number != 0.0:
        return Answer(text, problem="the answer is not a finite number")
    return Answer(text, number, info)


def notebook_answers(path: str | Path) -> Submission:
    """Return the answers that an executed notebook stored; its code is never run.

    A notebook that stopped at an error holds the answers of the cells that went through.

    Raises
    ------
    PrintError, StaleError, SheetFileError
        If the notebook was not run from top to bottom, or what it stored is damaged.
    """
    source = Path(path)
    notebook, stopped = _what_went_through(read_notebook(source))
    document, _ = notebook_document(notebook, source)
    answers: dict[str, Answer] = {}
    verdicts: dict[str, str] = {}
    for sheet in document.sheets:
        for block in every_block(sheet.blocks):
            if isinstance(block, (b.Step, b.Computed, b.Lookup)):
                answers[block.name] = _of_text(replay(block.result, _TEXT))
            elif isinstance(block, b.Check):
                verdicts[block.name] = block.verdict
    notices, not_own = _provenance(notebook)
    return Submission(answers, verdicts, (*stopped, *_notices(notebook), *notices), not_own)


def _what_went_through(notebook: Mapping[str, Any]) -> tuple[Mapping[str, Any], list[str]]:
    """Return a notebook without the work of cells that failed, or were not reached after that."""
    notices = []
    cells = []
    failed = False
    for number, cell in enumerate(notebook["cells"], 1):
        code = cell["cell_type"] == "code" and bool(source_of(cell).strip())
        errors = [o for o in cell.get("outputs", ()) if o.get("output_type") == "error"]
        if code and errors:
            said = f"{errors[0].get('ename', 'error')}: {errors[0].get('evalue', '')}"
            notices.append(f"cell {number} ended in an error: {' '.join(said.split())[:200]}")
        elif code and failed and cell.get("execution_count") is None:
            notices.append(f"cell {number} was not run")
        else:
            cells.append(cell)
            continue
        failed = failed or bool(errors)
        cells.append({**cell, "source": "", "outputs": []})  # keeps the numbers of the others
    if not any(cell["cell_type"] == "code" and source_of(cell).strip() for cell in cells):
        return notebook, []  # refused in the words of what is printed
    return {**notebook, "cells": cells}, notices


def _provenance(notebook: Mapping[str, Any]) -> tuple[list[str], frozenset[str]]:
    """Return what to say about steps that the cells did not write themselves, and their names."""
    notices, names = [], set()
    for number, bundle in bundles_of(notebook):
        made = bundle.get("procedures")
        by_procedure = [str(path) for path in made] if isinstance(made, list) else []
        if by_procedure:
            notices.append(f"cell {number}: {len(by_procedure)} steps were written by procedures "
                           f"of stepcalc, the first being {by_procedure[0]!r}")  # fmt: skip
            names |= {path.rpartition("/")[2] for path in by_procedure}
        if broken(bundle):
            notices.append(f"cell {number}: its stored output was edited after it was made")
            blocks = bundle.get("blocks")
            named = blocks if isinstance(blocks, list) else []
            names |= {str(x.get("name")) for x in named if isinstance(x, Mapping)}
    return notices, frozenset(names)


def _notices(notebook: Mapping[str, Any]) -> list[str]:
    """Say where a notebook had the procedures do the work that was to be shown."""
    found = []
    for number, cell in enumerate(notebook["cells"], 1):
        solver = _SOLVERS.search(source_of(cell)) if cell["cell_type"] == "code" else None
        if solver is not None:
            found.append(f"cell {number} uses {solver[0].strip('.(')}: steps were not all built "
                         "by the student")  # fmt: skip
    return found

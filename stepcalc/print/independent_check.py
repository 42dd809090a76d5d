"""The form of an independent check: inputs only, then the checker's numbers, then both.

The number of the designer for a line is not in the form before the checker has entered one.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from contextlib import ExitStack
from typing import Any

from stepcalc.errors import FormulaError, SheetFileError, StepcalcError
from stepcalc.expr.codec import read_typed_number, typed_data
from stepcalc.render.block_parts import LAYOUT
from stepcalc.render.build import build_document
from stepcalc.render.dialects import dialect, replay
from stepcalc.sheet.quantities import base_value
from stepcalc.sheet.sheet import Sheet
from stepcalc.units.info import ONE, read_unit
from stepcalc.units.numbers import shown_text
from stepcalc.units.registry import Q_

__all__ = ["IndependentCheck", "inputs_only"]

FORMAT = "stepcalc independent check"
_LINE = "____________"
_HEADER = ["Result", "Unit", "Checker", "Designer", "Difference", "Disposition"]


def inputs_only(sheet: Any, title: str = "") -> Sheet:
    """Return a new sheet that holds the givens of another and nothing else, to check it by.

    Parameters
    ----------
    sheet : Sheet
    title : str
        ``"Independent check: ..."`` when empty.
    """
    new = Sheet(title or f"Independent check: {sheet.title}", digits=sheet.digits)
    for node in sheet.givens:
        entry = node.entry
        with ExitStack() as parts:
            for part in entry.part.path.split("/") if entry.part.path else ():
                parts.enter_context(new.part(part))
            limits = None if entry.choices is not None else entry.within
            new.given(
                node.name, node.value if entry.choices is not None else _typed(node),
                entry.description, source=entry.source, assumed=entry.assumed,
                within=None if limits is None else tuple(map(_limit, limits)),
                choices=entry.choices, symbol=entry.symbol,
            )  # fmt: skip
    return new


def _typed(node: Any) -> Any:
    typed, info = node.sheet._typed_of(node.slot)
    return typed if info is ONE else Q_(typed, info.unit)


def _limit(end: Any) -> Any:
    if end is None:
        return None
    _, typed, info = end
    return typed if info is ONE else Q_(typed, info.unit)


class IndependentCheck:
    """Results of a designer against those of a checker.

    Parameters
    ----------
    sheet : Sheet
        The designer's.
    names : sequence of str
        Steps and checks to compare; what the checks of the sheet compare, and their ratios, when
        empty.
    tolerance : float
        Share by which the two may differ; 0.02 is common practice, no source.
    """

    def __init__(self, sheet: Any, names: Sequence[str] = (), *, tolerance: float = 0.02) -> None:
        nodes = [sheet[name] for name in names] if names else _compared(sheet)
        if not nodes:
            message = f"sheet {sheet.title!r} has no check; name the steps to compare"
            raise FormulaError(message)
        givens = [node.name for node in nodes if node.entry.kind == "given"]
        if givens:
            message = f"{givens[0]!r} is given: checker and designer start from it"
            raise FormulaError(message)
        self.sheet = sheet
        self.tolerance = tolerance
        self._nodes = {node.path: node for node in nodes}
        self._entered: dict[str, float] = {}
        self._typed: dict[str, tuple[Any, Any]] = {}
        self._dispositions: dict[str, str] = {}

    def enter(self, name: str, value: Any) -> None:
        """Write down the checker's number for a result.

        Raises
        ------
        FormulaError
            If the result is not on the form.
        DimensionError
            If the value does not fit the result.
        """
        node = self._node(name)
        info = ONE if node.entry.kind == "check" else node.info
        typed, own, base = base_value(value, info, f"the checker's {name!r}")
        self._entered[node.path] = base
        self._typed[node.path] = (typed, own)

    def dispose(self, name: str, words: str) -> None:
        """Write down what was decided about a result whose two numbers are known."""
        node = self._node(name)
        if node.path not in self._entered:
            message = f"the checker has not entered {name!r} yet"
            raise FormulaError(message)
        self._dispositions[node.path] = words

    def _node(self, name: str) -> Any:
        path = self.sheet[name].path
        if path not in self._nodes:
            message = f"{name!r} is not on the form; it has {', '.join(self._nodes)}"
            raise FormulaError(message[:400])
        return self._nodes[path]

    @property
    def complete(self) -> bool:
        """Whether the checker has entered every result."""
        return len(self._entered) == len(self._nodes)

    @property
    def names(self) -> list[str]:
        """What the form compares, as it is spelled on the sheet, checks with ``D/C``."""
        return [
            f"{node.name}, D/C" if node.entry.kind == "check" else f"{path} in {node.info.text}"
            if node.info.text else path
            for path, node in self._nodes.items()
        ]  # fmt: skip

    @property
    def agrees(self) -> bool:
        """Whether every result is entered and lies within the tolerance."""
        shares = [self.difference(path) for path in self._nodes]
        return self.complete and all(
            share is not None and abs(share) <= self.tolerance for share in shares
        )

    def rows(self) -> list[list[str]]:
        """Return result, checker, designer, difference and disposition of each line as text.

        The designer's number is not in a row before the checker's is.
        """
        return [
            [path, *(_as_text(cell) for cell in self._row(node)[2:])]
            for path, node in self._nodes.items()
        ]

    def difference(self, name: str) -> float | None:
        """Return checker less designer as a share of the designer's; None before it is entered."""
        node = self._node(name)
        checker = self._entered.get(node.path)
        designer = _base(node)
        if checker is None or designer != designer:
            return None
        if designer == 0.0:
            return 0.0 if checker == 0.0 else float("inf")
        return (checker - designer) / abs(designer)

    def document(self) -> dict[str, Any]:
        """Return the form: the inputs, and the results as far as the checker has entered them."""
        document = build_document(inputs_only(self.sheet))
        rows = [self._row(node) for node in self._nodes.values()]
        missing = len(self._nodes) - len(self._entered)
        told = (
            f"The checker works from the inputs above alone. {missing} of {len(self._nodes)} "
            "results are still to be entered; the designer's number appears when the checker's is."
            if missing
            else f"All {len(self._nodes)} results are entered."
        )
        rule = f"Marked are differences of more than {100 * self.tolerance:g} %."
        document["sheets"][0]["blocks"] += [
            {"kind": "heading", "level": 1, "number": "", "text": "Results"},
            {"kind": "note", "text": f"{told} {rule}"},
            {"kind": "table", "header": _HEADER, "rows": rows, "caption": "", "align": "llrrrl"},
        ]
        return document

    def _row(self, node: Any) -> list[Any]:
        is_check = node.entry.kind == "check"
        label: Any = f"{node.name}, D/C" if is_check else ["sym", node.symbol]
        unit = "" if is_check else node.info.text
        if node.path not in self._entered:
            return [label, unit or "–", _LINE, "", "", ""]
        factor = 1.0 if is_check else node.info.factor
        checker = shown_text(self._entered[node.path] / factor, 4)
        designer = node.shown_ratio if is_check else (node.shown if node.defined else "undefined")
        share = self.difference(node.name if is_check else node.path)
        said = "undefined" if share is None else f"{100 * share:+.2f} %"
        if share is None or abs(share) > self.tolerance:
            said += "  (!)"
        decided = self._dispositions.get(node.path, _LINE)
        cells = [LAYOUT.value(text, "") if text != "undefined" else text
                 for text in (checker, designer)]  # fmt: skip
        return [label, unit or "–", *cells, said, decided]

    def to_json(self) -> str:
        """Return what the checker entered and what was decided, without the designer's numbers."""
        data = {
            "format": FORMAT, "version": 1,
            "entered": {p: [typed_data(n), info.name] for p, (n, info) in self._typed.items()},
            "dispositions": self._dispositions,
        }  # fmt: skip
        return json.dumps(data, ensure_ascii=False, indent=1)

    def read(self, text: str) -> None:
        """Take over what :meth:`to_json` wrote.

        Raises
        ------
        SheetFileError
            If the text is something else, or does not fit the form.
        """
        try:
            data = json.loads(text)
        except (TypeError, ValueError, RecursionError) as error:
            message = f"this is not the JSON of an independent check: {error}"
            raise SheetFileError(message[:300]) from error
        if (
            not isinstance(data, Mapping)
            or data.get("format") != FORMAT
            or data.get("version") != 1
        ):
            message = f"this JSON is no independent check: want format {FORMAT!r}, version 1"
            raise SheetFileError(message)
        try:
            for name, (number, unit) in data["entered"].items():
                info = read_unit(unit)
                typed = read_typed_number(number)
                self.enter(name, typed if info is ONE else Q_(typed, info.unit))
            for name, words in data["dispositions"].items():
                self.dispose(name, str(words)[:2000])
        except StepcalcError as error:
            message = f"the independent check does not fit this sheet: {error}"
            raise SheetFileError(message) from error
        except (KeyError, TypeError, ValueError, AttributeError) as error:
            message = f"the JSON of the independent check is damaged: {error!r}"
            raise SheetFileError(message[:300]) from error


def _compared(sheet: Any) -> list[Any]:
    """Return the results that the checks compare, each once, and the checks."""
    found: dict[int, Any] = {}
    for check in sheet.checks:
        for formula in check.entry.operands():
            if formula.op == "name":
                entry = sheet._book.entries[formula.slot]
                if entry.kind in ("step", "computed", "lookup"):
                    found[entry.slot] = sheet[entry.path]
        found[check.slot] = check
    return list(found.values())


def _base(node: Any) -> float:
    return float(node.ratio if node.entry.kind == "check" else node.base)


def _as_text(cell: Any) -> str:
    """Return a cell of the form as plain text; a line to fill in is empty."""
    text = cell if isinstance(cell, str) else str(replay(cell, dialect("text")))
    return "" if text == _LINE else text

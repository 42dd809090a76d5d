r"""A node as one piece of LaTeX or of text: what a notebook shows below the cell.

The LaTeX of a plain step is on the hot path of every notebook; it is kept free of detours.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stepcalc.expr.walk import Undefined
from stepcalc.render.conversions import with_factors
from stepcalc.render.dialects import Latex, Text
from stepcalc.render.plan_lengths import value_as_shown
from stepcalc.render.sheet_values import values_of
from stepcalc.render.step_parts import Parts, check_parts, origins, step_parts, unit_remark
from stepcalc.render.walker import Walker

LATEX = Walker(Latex())
TEXT = Walker(Text())
_SHORT = 150
_DIRECT = frozenset(("add", "sub", "mul", "div", "pow", "neg", "sqrt", "min", "max"))
_WORDS_A_LINE = 90


def step_latex(node: Any) -> str:
    r"""Return a node as LaTeX, without dollar signs.

    Parameters
    ----------
    node : Given, Choice, Step, Lookup, Computed, External or Check

    Returns
    -------
    str
        ``symbol = formula = substitution = result``, in ``aligned`` when it is long.
    """
    entry = node.sheet._book.entries[node.slot]
    kind = entry.kind
    if kind == "step":
        return _direct_latex(node, entry) or _step_latex(node)
    if kind == "check":
        return _check_latex(node)
    return _rows(_valued(node, LATEX), _remarks(node))


def _direct_latex(node: Any, entry: Any) -> str | None:
    """Return a plain step with nothing to say beside it; None where the long way is needed.

    Every displayed cell comes through here, so it does without the records of ``step_parts``.
    """
    sheet = node.sheet
    expr = entry.expr
    values = values_of(sheet, "latex")
    number, unit = values.of(node)
    if expr.op not in _DIRECT or number == "undefined" or values.may_warn():
        return None
    plain = LATEX.bare_numbers + LATEX.interpolations
    formula = LATEX.formula(expr)
    if LATEX.bare_numbers + LATEX.interpolations != plain:
        return None
    marked = expr if sheet.fold else with_factors(expr, entry.info, values.numbers)
    numbers = LATEX.substitution(marked, values)
    if numbers == formula:
        return None
    result = value_as_shown(LATEX, node, number, unit)
    return _lines((LATEX.symbol(entry.symbol), formula, numbers, result))


def _step_latex(node: Any) -> str:
    try:
        parts = step_parts(node, LATEX)
    except Undefined as undefined:
        parts = Parts(LATEX.dialect.sym(node.symbol), None, None, LATEX.dialect.text("undefined"))
        parts.undefined = str(undefined)
    remarks = _remarks(node)
    if parts.has_bare_numbers:
        units = unit_remark(node.entry.expr, LATEX)
        remarks.insert(0, f"&{units}")
    if parts.branch:
        return _branch_latex(parts, remarks)
    if parts.undefined:
        remarks.insert(0, parts.undefined)
    segments = (parts.symbol, parts.formula, parts.substitution, parts.result)
    return _rows([part for part in segments if part is not None], remarks)


def _branch_latex(parts: Parts[str], remarks: list[str]) -> str:
    words = LATEX.dialect.text(f"{parts.branch}: ")
    rows = [f"{parts.symbol} &= {parts.formula}"]
    if parts.condition:
        rows.append(f"&{words}{parts.condition}")
    else:
        rows.append(f"&{words}")
    later = (parts.branch_formula, parts.substitution, parts.result)
    rows.append("&= " + " = ".join(part for part in later if part))
    return _aligned(rows, remarks)


def _lines(segments: Sequence[str]) -> str:
    line = " = ".join(segments)
    if len(line) <= _SHORT:
        return line
    rows = segments[0] + " &= " + r" \\ &= ".join(segments[1:])
    return rf"\begin{{aligned}}{rows}\end{{aligned}}"


def _rows(segments: list[str], remarks: list[str]) -> str:
    if not remarks:
        return _lines(segments)
    return _aligned([segments[0] + " &= " + r" \\ &= ".join(segments[1:])], remarks)


def _aligned(rows: list[str], remarks: list[str]) -> str:
    for remark in remarks:
        if remark[:1] == "&":
            rows.append(remark)
        else:
            rows += [f"&{LATEX.dialect.text(words)}" for words in _in_lines(remark)]
    return r"\begin{aligned}" + r" \\ ".join(rows) + r"\end{aligned}"


def _in_lines(text: str) -> list[str]:
    lines = [""]
    for word in text.split():
        if lines[-1] and len(lines[-1]) + len(word) >= _WORDS_A_LINE:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return lines


def _remarks(node: Any) -> list[str]:
    """Return what stands below the equation: values of other sheets, and warnings."""
    values = values_of(node.sheet)
    if not values.may_warn():
        return []
    return [*origins(node.entry.operands()), *(f"Warning: {text}" for text in node.warnings)]


def _valued(node: Any, walker: Walker[str]) -> list[str]:
    """Return symbol and value of a node without a formula."""
    symbol = walker.dialect.sym(node.symbol)
    if not hasattr(node, "info"):
        return [symbol, walker.dialect.text(node.value)]
    number, unit = values_of(node.sheet).of(node)
    if node.entry.kind == "given":
        _, own = node.sheet._typed_of(node.slot)
        if own is not node.info:
            number, unit = node.shown, own.text
    return [symbol, value_as_shown(walker, node, number, unit)]


def _check_latex(check: Any) -> str:
    parts = check_parts(check, LATEX)
    text = LATEX.dialect.text
    rows = [f"&{text(check.name + ':')} \\quad {parts.formula}"]
    if parts.substitution is not None:
        rows.append(f"&{parts.substitution}")
    verdict = text(f"D/C = {check.shown_ratio}, {check.verdict}")
    rows.append(f"&\\boxed{{{verdict}}}")
    remarks = [] if check.defined else [check.reason or "it has no ratio"]
    return _aligned(rows, remarks + _remarks(check))


def step_text(node: Any) -> str:
    """Return a node as plain text, the whole step.

    Parameters
    ----------
    node : Given, Choice, Step, Lookup, Computed, External or Check

    Returns
    -------
    str
        One line for the equation; warnings and the branch taken on lines of their own.
    """
    kind = node.entry.kind
    if kind == "check":
        lines = _check_text(node)
    elif kind == "step":
        lines = _step_text(node)
    else:
        lines = [" = ".join(_valued(node, TEXT)) + _source_of(node)]
    return "\n".join([*lines, *(f"  {remark}" for remark in _remarks(node))])


def _source_of(node: Any) -> str:
    entry = node.entry
    words = getattr(entry, "source", None) or getattr(entry, "ref", None)
    if entry.kind == "external":
        words = node.origin
    return f"   [{words}]" if words else ""


def _step_text(node: Any) -> list[str]:
    parts = step_parts(node, TEXT)
    ref = f"   [{node.ref}]" if node.ref else ""
    segments = [part for part in (parts.formula, parts.substitution, parts.result) if part]
    if parts.has_bare_numbers:
        units = unit_remark(node.entry.expr, TEXT) or ""
        ref = f"   ({units.strip()}){ref}"
    if not parts.branch:
        line = " = ".join([parts.symbol, *segments]) + ref
        return [line, f"  undefined: {parts.undefined}"] if parts.undefined else [line]
    later = (parts.branch_formula, parts.substitution, parts.result)
    lines = [f"{parts.symbol} = {parts.formula}{ref}"]
    lines.append(f"  {parts.branch}: {parts.condition}" if parts.condition else f"  {parts.branch}")
    return [*lines, "  = " + " = ".join(part for part in later if part)]


def _check_text(check: Any) -> list[str]:
    parts = check_parts(check, TEXT)
    ref = f"   [{check.ref}]" if check.ref else ""
    lines = [f"{check.name}: {parts.formula}{ref}"]
    if parts.substitution is not None:
        lines.append(f"  {parts.substitution}")
    lines.append(f"  D/C = {check.shown_ratio}   {check.verdict}")
    if not check.defined:
        lines.append(f"  undefined: {check.reason}")
    return lines

"""The verb ``girder``: the whole girder calculation from a bridge file."""

from __future__ import annotations

import argparse
import json
import math
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import EXITS, NOTICE, SOME_NG, exit_code
from stepcalc.cli.files import check_form, check_place, whole_file
from stepcalc.cli.print_choices import add_choices, chosen

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    girder = verbs.add_parser(
        "girder",
        help="the whole girder calculation from a bridge file",
        description="Run the whole girder calculation that a bridge file describes.",
        epilog=f"{EXITS}. {NOTICE}",
    )
    girder.add_argument("file", metavar="FILE.toml", type=Path, help="the bridge file")
    girder.add_argument(
        "-o", "--output", metavar="OUT.pdf", type=Path, help="print it: .pdf, .html, .tex or .typ"
    )
    girder.add_argument("--json", metavar="OUT.json", type=Path, help="write results and checks")
    add_choices(girder)
    girder.set_defaults(run=_girder)


def _girder(options: argparse.Namespace) -> int:
    """Run the calculation of a bridge file; print it and write its results if asked to."""
    from stepcalc.bridge.bridge_file import read_bridge_file  # heavy, and only this verb needs it
    from stepcalc.bridge.whole.any_girder import calculation_of

    for path in filter(None, (options.output, options.json)):
        check_place(path)
    if options.output:
        check_form(options.output)
    calculation = calculation_of(read_bridge_file(options.file))
    results: dict[str, Any] = calculation.to_json_dict()
    if options.output:
        calculation.package().print(options.output, paper=options.paper, **chosen(options))
    if options.json:
        with whole_file(options.json) as part:
            text = json.dumps(results, indent=1, ensure_ascii=False, allow_nan=False)
            part.write_text(f"{text}\n", "utf-8")
    print("\n".join(_check_lines(results["checks"], results["governing"])))
    print("\n".join([*_words(results), "", NOTICE]))
    for path in filter(None, (options.output, options.json)):
        print(f"written: {path}")
    if not results.get("passed", True):
        return SOME_NG  # also when every ratio is below one outside a formula's range
    return exit_code(check["verdict"] for check in results["checks"])


def _check_lines(checks: Sequence[dict[str, Any]], governing: str | None) -> list[str]:
    """Return the lines that show every check, the governing one marked, and what they are worth."""
    from stepcalc.units.numbers import ratio_text

    rows = [["check", "D/C", "verdict", ""]]
    for check in checks:
        ratio = check["ratio"]
        shown = "undefined" if ratio is None else ratio_text(ratio)
        mark = "governs" if check["name"] == governing else ""
        rows.append([check["name"], shown, check["verdict"], mark])
    return columns(rows)


def _words(results: dict[str, Any]) -> list[str]:
    """Return the lines that say the verdict, every warning, and the recommendation."""
    told = [results.get("verdict", "")]
    warnings = results.get("warnings", [])
    causes = [item for item in warnings if not item["text"].startswith("follows from")]
    told += [f"WARNING {item['where']}: {item['text']}" for item in causes]
    if len(warnings) > len(causes):
        told.append(f"WARNING {len(warnings) - len(causes)} more values follow from these")
    told += _rating_words(results.get("rating", []))
    told += results.get("recommendation", [])
    return [line for text in told if text for line in ("", *textwrap.wrap(text, 100))]


def _rating_words(records: Sequence[dict[str, Any]]) -> list[str]:
    """Return the rating factors that control each load, never rounded up."""
    said = []
    for item in records:
        if item["meaning"].endswith(": the least"):
            factor = item["factor"]
            shown = "undefined" if factor is None else f"{math.floor(factor * 100) / 100:.2f}"
            said.append(f"{item['meaning'].removesuffix(': the least')} {shown}")
    return [f"Load rating, controlling factors: {'; '.join(said)}."] if said else []

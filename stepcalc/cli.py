"""The command line: parse, call, and turn what happened into an exit code and one paragraph.

Exit codes: 0 all checks OK, 1 some check N.G., 2 the input or the run failed.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import textwrap
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stepcalc._version import __version__
from stepcalc.errors import BridgeFileError, PrintError, StepcalcError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stepcalc.data.tables import Table

ALL_OK, SOME_NG, FAILED = 0, 1, 2

_LARGEST_VEHICLE_FILE = 100_000
_EXITS = "exit codes: 0 all checks OK; 1 some check N.G.; 2 the input or the run failed"
_NOTICE = (
    "Results need the review of a licensed engineer; the governing code and the owner's rules "
    "come first."
)
_SHAPE_LIST = ("weight", "area", "d", "bf", "tw", "tf", "Ix", "Sx", "Zx", "Iy", "J")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code.

    Parameters
    ----------
    arguments : sequence of str, optional
        What follows the program's name; taken from the process if not given.

    Returns
    -------
    int
        0 if every check is OK, 1 if some check is N.G., 2 if the input or the run failed.

    Examples
    --------
    >>> main(["shapes", "W4"])  # doctest: +ELLIPSIS, +NORMALIZE_WHITESPACE
    W shapes: dimensions and properties
    AISC Shapes Database v16.0, US customary units
    ...
    W4X13 13 3.83 4.16 4.06 0.28 0.345 11.3 5.46 6.28 3.86 0.151
    ...
    0
    """
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except StepcalcError as error:
        return _failed(str(error))
    except BrokenPipeError:  # the reader of our output has left: nothing to tell it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        return _failed(f"{where}{error.strerror or error}")
    except KeyboardInterrupt:
        return _failed("interrupted; nothing was written")
    except Exception as error:  # a fault of ours still ends in one paragraph, not in a stack trace
        return _failed(
            f"stepcalc itself went wrong in '{options.verb}': {type(error).__name__}: {error}; "
            "nothing was written. Please report it together with the input"
        )


def _failed(message: str) -> int:
    """Print one paragraph on the error stream and return the exit code for a failure."""
    print(f"stepcalc: {' '.join(message.split())}", file=sys.stderr)
    return FAILED


def _parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser = argparse.ArgumentParser(
        prog="stepcalc", description="Calculation sheets with symbols and units.", epilog=_NOTICE
    )
    parser.add_argument("--version", action="version", version=f"stepcalc {__version__}")
    verbs = parser.add_subparsers(dest="verb", required=True, metavar="VERB")

    girder = verbs.add_parser(
        "girder",
        help="the whole girder calculation from a bridge file",
        description="Run the whole girder calculation that a bridge file describes.",
        epilog=f"{_EXITS}. {_NOTICE}",
    )
    girder.add_argument("file", metavar="FILE.toml", type=Path, help="the bridge file")
    girder.add_argument(
        "-o", "--output", metavar="OUT.pdf", type=Path, help="print it: .pdf, .html or .tex"
    )
    girder.add_argument("--json", metavar="OUT.json", type=Path, help="write results and checks")
    girder.set_defaults(run=_girder)

    printing = verbs.add_parser(
        "print",
        help="print an executed notebook as a calculation package",
        description="Print an executed notebook as a calculation package.",
        epilog=f"{_EXITS}. {_NOTICE}",
    )
    printing.add_argument("notebook", metavar="NOTEBOOK.ipynb", type=Path, help="the notebook")
    printing.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True, help="a .pdf, .html or .tex file"
    )
    printing.add_argument(
        "--run", action="store_true", dest="execute", help="run it first, in a fresh kernel"
    )
    printing.add_argument(
        "--profile", choices=("package", "homework"), default=None,
        help="whose head the sheets get; left out, the title block decides",
    )  # fmt: skip
    printing.add_argument("--code", action="store_true", help="print the code cells too")
    printing.add_argument(
        "--paper", choices=("letter", "a4"), default="letter", help="paper size (letter)"
    )
    printing.add_argument(
        "--allow-stale", action="store_true", help="print what is out of date, marked STALE"
    )
    printing.set_defaults(run=_print)

    comparing = verbs.add_parser(
        "compare",
        help="what differs between two states of a calculation",
        description="Show the inputs, results and verdicts that differ between two sheets, two "
        "files of results (--json), or two executed notebooks.",
        epilog="exit codes: 0 nothing differs; 1 something differs; 2 the input failed",
    )
    comparing.add_argument("old", metavar="OLD", type=Path, help="a .json or .ipynb file")
    comparing.add_argument("new", metavar="NEW", type=Path, help="a file of the same kind")
    comparing.add_argument(
        "-o", "--output", metavar="OUT", type=Path, help="print it too: .pdf, .html or .tex"
    )
    comparing.set_defaults(run=_compare)

    shapes = verbs.add_parser(
        "shapes",
        help="the table of W shapes",
        description="Show the table of W shapes, one nominal depth of it, or one shape.",
        epilog="exit codes: 0 shown; 2 no such shape or depth",
    )
    shapes.add_argument(
        "which", metavar="W24", nargs="?", default="", help="a nominal depth, or a shape"
    )
    shapes.set_defaults(run=_shapes)

    vehicles = verbs.add_parser(
        "vehicles",
        help="the vehicles and lane loads, drawn",
        description="Show the vehicles and lane loads of the codes, one of them, or one of a file.",
        epilog="exit codes: 0 shown; 2 no such vehicle, or a file that does not make one",
    )
    vehicles.add_argument(
        "which", metavar="NAME", nargs="?", default="", help="a vehicle, or a .toml file with one"
    )
    vehicles.set_defaults(run=_vehicles)
    return parser


def _girder(options: argparse.Namespace) -> int:
    """Run the calculation of a bridge file; print it and write its results if asked to."""
    from stepcalc.bridge.bridge_file import read_bridge_file  # heavy, and only this verb needs it
    from stepcalc.bridge.whole.any_girder import calculation_of

    for path in filter(None, (options.output, options.json)):
        _check_place(path)
    if options.output:
        _check_form(options.output)
    calculation = calculation_of(read_bridge_file(options.file))
    results: dict[str, Any] = calculation.to_json_dict()
    if options.output:
        calculation.package().print(options.output)
    if options.json:
        with _whole_file(options.json) as part:
            text = json.dumps(results, indent=1, ensure_ascii=False, allow_nan=False)
            part.write_text(f"{text}\n", "utf-8")
    print("\n".join(_check_lines(results["checks"], results["governing"])))
    print("\n".join([*_words(results), "", _NOTICE]))
    for path in filter(None, (options.output, options.json)):
        print(f"written: {path}")
    if not results.get("passed", True):
        return SOME_NG  # also when every ratio is below one outside a formula's range
    return _exit_code(check["verdict"] for check in results["checks"])


def _print(options: argparse.Namespace) -> int:
    """Print a notebook."""
    from stepcalc.print import print_notebook  # heavy, and only this verb needs it

    _check_place(options.output)
    _check_form(options.output)
    verdicts = print_notebook(
        options.notebook, options.output, run=options.execute, profile=options.profile,
        code=options.code, paper=options.paper, allow_stale=options.allow_stale,
    )  # fmt: skip
    print(f"written: {options.output}")
    return _exit_code(verdicts)


def _compare(options: argparse.Namespace) -> int:
    """Show what differs between two states of a calculation."""
    from stepcalc.print.compare import compare  # heavy, and only this verb needs it

    if options.output:
        _check_place(options.output)
        _check_form(options.output)
    found = compare(options.old, options.new)
    if options.output:
        found.print(options.output)
    print(found.text())
    if options.output:
        print(f"written: {options.output}")
    return SOME_NG if found.changed else ALL_OK


def _shapes(options: argparse.Namespace) -> int:
    """Show the W shapes, one family of them, or one."""
    from stepcalc.data.tables import table

    shapes = table("w_shapes")
    which = options.which.strip()
    one = which and shapes.family_mark in shapes.plain(which).upper()
    lines = _one_shape(shapes, which) if one else _shape_list(shapes, which)
    source = textwrap.fill(shapes.source, 100)
    print("\n".join([shapes.title, shapes.edition, "", *lines, "", source]))
    return ALL_OK


def _vehicles(options: argparse.Namespace) -> int:
    """Show all vehicles and lane loads, one vehicle, or the one that a file describes."""
    from stepcalc.analysis.vehicle_file import read_vehicle_text
    from stepcalc.analysis.vehicle_sketch import all_lines, vehicle_lines
    from stepcalc.analysis.vehicles import vehicle

    which = options.which.strip()
    if which.lower().endswith(".toml"):
        lines = vehicle_lines(read_vehicle_text(_text_of(Path(which))))
    else:
        lines = vehicle_lines(vehicle(which)) if which else all_lines()
    print("axle forces in kip, spacings in ft, leading axle at the left\n")
    print("\n".join(lines))
    return ALL_OK


def _text_of(path: Path) -> str:
    """Return the text of a small file, or raise if it is not text."""
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST_VEHICLE_FILE + 1)
        if len(content) > _LARGEST_VEHICLE_FILE:
            raise BridgeFileError(
                f"{path} is larger than {_LARGEST_VEHICLE_FILE} bytes; want a vehicle file"
            )
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BridgeFileError(f"{path} is not a text file in UTF-8; want a TOML file") from error


def _one_shape(shapes: Table, which: str) -> list[str]:
    """Return the lines that show every property of one shape."""
    row = shapes.row_number(which)
    lines = [shapes.names[row]]
    for name, values in shapes.columns.items():
        lines.append(f"  {name:<7}{values[row]:>10g} {_unit_text(shapes, name)}")
    return lines


def _shape_list(shapes: Table, family: str) -> list[str]:
    """Return the lines that list a family of shapes."""
    rows = [[shapes.key, *_SHAPE_LIST], ["", *(_unit_text(shapes, c) for c in _SHAPE_LIST)]]
    for row in shapes.family_rows(family):
        rows.append([shapes.names[row], *(f"{shapes.columns[c][row]:g}" for c in _SHAPE_LIST)])
    return _columns(rows)


def _unit_text(shapes: Table, column: str) -> str:
    """Return the unit of a column as it is written in a text table."""
    return (shapes.units[column] or "").replace("inch", "in").replace("**", "^")


def _columns(rows: list[list[str]]) -> list[str]:
    """Return the rows as lines of text with aligned columns."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _check_lines(checks: Sequence[dict[str, Any]], governing: str | None) -> list[str]:
    """Return the lines that show every check, the governing one marked, and what they are worth."""
    from stepcalc.units.numbers import ratio_text

    rows = [["check", "D/C", "verdict", ""]]
    for check in checks:
        ratio = check["ratio"]
        shown = "undefined" if ratio is None else ratio_text(ratio)
        mark = "governs" if check["name"] == governing else ""
        rows.append([check["name"], shown, check["verdict"], mark])
    return _columns(rows)


def _words(results: dict[str, Any]) -> list[str]:
    """Return the lines that say the verdict, every warning, and the recommendation."""
    told = [results.get("verdict", "")]
    warnings = results.get("warnings", [])
    causes = [item for item in warnings if not item["text"].startswith("follows from")]
    told += [f"WARNING {item['where']}: {item['text']}" for item in causes]
    if len(warnings) > len(causes):
        told.append(f"WARNING {len(warnings) - len(causes)} more values follow from these")
    told += results.get("recommendation", [])
    return [line for text in told if text for line in ("", *textwrap.wrap(text, 100))]


def _exit_code(verdicts: Iterator[str] | Sequence[str]) -> int:
    """Return 0 if every verdict is OK, else 1."""
    return ALL_OK if all(verdict == "OK" for verdict in verdicts) else SOME_NG


def _check_form(path: Path) -> None:
    """Refuse a file name whose ending names no form that can be printed."""
    if path.suffix.lower() not in {".pdf", ".html", ".tex"}:
        raise PrintError(
            f"cannot print to {path}: its name ends in {path.suffix or 'nothing'!r}; "
            "want a name that ends in .pdf, .html or .tex"
        )


def _check_place(path: Path) -> None:
    """Refuse a place where no file can be written, before the work is done."""
    if path.is_dir():
        raise PrintError(f"cannot write {path}: it is a folder; name a file in it")
    if not path.parent.is_dir():
        raise PrintError(f"cannot write {path}: the folder {path.parent} does not exist; make it")


@contextmanager
def _whole_file(path: Path) -> Iterator[Path]:
    """Give a file to write; it takes the place of `path` only once it is whole."""
    part = path.with_name(f".{path.stem}.{os.getpid()}.part{path.suffix}")
    try:
        yield part
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)

"""The command line: parse, call, and turn what happened into an exit code and one paragraph.

Exit codes: 0 all checks OK, 1 some check N.G., 2 the input or the run failed.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from stepcalc._version import __version__
from stepcalc.cli import (
    check_form,
    comment,
    compare,
    girder,
    manifest,
    mark,
    papers,
    print_verb,
    shapes,
    variant,
    vehicles,
)
from stepcalc.cli.exits import FAILED, NOTICE
from stepcalc.errors import StepcalcError

__all__ = ["main"]

VERBS = (
    girder, print_verb, compare, comment, check_form, manifest, papers, variant, mark, shapes,
    vehicles,
)  # fmt: skip


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
        prog="stepcalc", description="Calculation sheets with symbols and units.", epilog=NOTICE
    )
    parser.add_argument("--version", action="version", version=f"stepcalc {__version__}")
    verbs = parser.add_subparsers(dest="verb", required=True, metavar="VERB")
    for verb in VERBS:
        verb.add(verbs)
    return parser

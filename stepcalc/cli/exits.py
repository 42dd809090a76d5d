"""Exit codes of the command line, and the notice that stands under every help."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["ALL_OK", "EXITS", "FAILED", "NOTICE", "SOME_NG", "exit_code"]

ALL_OK, SOME_NG, FAILED = 0, 1, 2

EXITS = "exit codes: 0 all checks OK; 1 some check N.G.; 2 the input or the run failed"
NOTICE = (
    "Results need the review of a licensed engineer; the governing code and the owner's rules "
    "come first."
)


def exit_code(verdicts: Iterable[str]) -> int:
    """Return 0 if every verdict is OK, else 1."""
    return ALL_OK if all(verdict == "OK" for verdict in verdicts) else SOME_NG

"""The whole test command: ``python -m tests.run``, or with ``quick`` without the slow tests.

The first step that fails ends it. Each step is an ordinary command, printed before it runs, so
that it can be run alone.
"""

from __future__ import annotations

import shlex
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]

STEPS = (
    ("ruff", "check"),
    ("ruff", "format", "--check"),
    ("mypy",),
    ("lint-imports",),
    ("pytest", "-q", "-m", "not slow and not bench", "--cov", "--cov-report="),
    ("pytest", "-q", "--nbval", "notebooks"),
    ("pytest", "-q", "-m", "slow and not bench", "--durations=5"),
)


def command(step: tuple[str, ...]) -> list[str]:
    """Return the command line of a step, with the tools of this very environment."""
    if step == ("lint-imports",):  # the one tool without a module to run
        return [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"]
    return [sys.executable, "-m", *step]


def main(arguments: list[str]) -> int:
    """Run the steps; return the exit code of the first that fails, else 0."""
    quick = arguments == ["quick"]
    if arguments and not quick:
        print(f"unknown argument {' '.join(arguments)!r}; the only one is 'quick'", file=sys.stderr)
        return 2
    started = time.monotonic()
    for step in STEPS:
        if quick and "slow" in step:
            continue
        line = command(step)
        print(f"\n== {shlex.join([Path(line[0]).name, *line[1:]])}", flush=True)
        code = subprocess.run(line, cwd=ROOT, check=False).returncode
        if code:
            print(f"== failed with exit code {code}: {step[0]}", file=sys.stderr)
            return code
    print(f"\n== all steps passed in {time.monotonic() - started:.0f} s")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

"""Run every notebook again, in place: ``python -m tests.rerun_notebooks [NOTEBOOK ...]``.

For when printed forms change: look at the difference before it is committed. Times are left out,
so that what did not change stays as it was.
"""

from __future__ import annotations

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

ROOT = Path(__file__).parents[1]


def main(arguments: list[str]) -> None:
    """Run the notebooks that are named, or all."""
    for path in map(Path, arguments) if arguments else sorted(ROOT.glob("notebooks/**/*.ipynb")):
        notebook = nbformat.read(path, as_version=4)
        place = {"metadata": {"path": str(path.parent)}}
        client = NotebookClient(notebook, timeout=300, record_timing=False, resources=place)
        client.execute()
        nbformat.write(notebook, path)
        print(f"run: {path}")


if __name__ == "__main__":
    main(sys.argv[1:])

"""Benchmarks are ratios of costs; they run by themselves, on a machine that does nothing else.

``python -m pytest tests/benchmarks -m bench -s`` prints the table.  The whole test command leaves
them out: a ratio that a busy machine spoils would say nothing about the code.
"""

from __future__ import annotations

from pathlib import Path

import pytest

_HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what stands in this folder."""
    for item in items:
        if _HERE in item.path.parents:
            item.add_marker(pytest.mark.bench)

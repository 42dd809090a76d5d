"""What every test runs under."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import settings

os.environ.setdefault("MPLBACKEND", "Agg")

settings.register_profile("ci", deadline=None, derandomize=True)  # two slow cores, same examples
settings.load_profile("ci")

_TOOLS = {"latex": ("pdflatex",), "browser": ("chromium", "chromium-browser", "google-chrome")}


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip what needs a program that is not here; in CI, where it must be here, fail."""
    for marker, programs in _TOOLS.items():
        if item.get_closest_marker(marker) and not any(map(shutil.which, programs)):
            reason = f"none of {', '.join(programs)} is installed"
            if os.environ.get("CI"):
                pytest.fail(f"{reason}; .ci/run should have installed it")
            pytest.skip(reason)


@pytest.fixture(scope="session")
def root() -> Path:
    """Return the root of the checkout."""
    return Path(__file__).parents[1]

"""Registers the procedures of continuous girders, for sheets that are read from files."""

from __future__ import annotations

from stepcalc.bridge.whole.continuous_kernels import register_all

register_all()

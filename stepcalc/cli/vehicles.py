"""The verb ``vehicles``: vehicles and lane loads, drawn."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import ALL_OK
from stepcalc.cli.files import text_of

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
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


def _vehicles(options: argparse.Namespace) -> int:
    """Show all vehicles and lane loads, one vehicle, or the one that a file describes."""
    from stepcalc.analysis.vehicle_file import read_vehicle_text
    from stepcalc.analysis.vehicle_sketch import all_lines, vehicle_lines
    from stepcalc.analysis.vehicles import vehicle

    which = options.which.strip()
    if which.lower().endswith(".toml"):
        lines = vehicle_lines(read_vehicle_text(text_of(Path(which), "a vehicle file")))
    else:
        lines = vehicle_lines(vehicle(which)) if which else all_lines()
    print("axle forces in kip, spacings in ft, leading axle at the left\n")
    print("\n".join(lines))
    return ALL_OK

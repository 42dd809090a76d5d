"""The verb ``manifest``: the files of a package with their digests."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from stepcalc.cli.exits import ALL_OK, SOME_NG
from stepcalc.cli.files import check_place
from stepcalc.errors import PrintError

__all__ = ["add"]


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    listing = verbs.add_parser(
        "manifest",
        help="list files with their digests, for electronic sealing, or check such a list",
        description="List files with their digests (SHA-256), print the list with room for name, "
        "licence number, date, signature and seal, or check whether files agree with a list.",
        epilog="exit codes: 0 done, or all files agree; 1 a file does not; 2 the input failed",
    )
    listing.add_argument("files", metavar="FILE", nargs="*", type=Path, help="files or folders")
    listing.add_argument(
        "-o", "--output", metavar="OUT", type=Path, action="append", default=[],
        help="write the list as .json, or print it as .pdf, .html, .tex or .typ; may stand twice",
    )  # fmt: skip
    listing.add_argument(
        "--check", metavar="LIST.json", type=Path, help="check the files below the folder of a list"
    )
    listing.add_argument(
        "--algorithm", default="sha256", help="sha256, or sha384, sha512 or sha1 where a rule asks"
    )
    listing.set_defaults(run=_manifest)


def _manifest(options: argparse.Namespace) -> int:
    from stepcalc.print.manifest import list_files, read_manifest  # only this verb needs it

    if options.check is not None:
        faults = read_manifest(options.check).faults(options.check.parent)
        print("\n".join(faults) or "all files agree with the list")
        return SOME_NG if faults else ALL_OK
    for path in options.output:
        check_place(path)
    if not options.files:
        raise PrintError("no file to list; name files or folders, or a list with --check")
    made = list_files(options.files, algorithm=options.algorithm)
    for file in made.files:
        print(f"{file.digest}  {file.path}")
    for path in options.output:
        if path.suffix.lower() == ".json":
            made.write(path)
        else:
            made.print(path)
        print(f"written: {path}")
    return ALL_OK

"""The files of a package with their digests: for electronic sealing, and to see later what changed.

A digest changes with every byte of a file, so a list of digests that somebody signs and seals says
which files were meant. The program signs nothing; the printed list leaves room for name, licence
number, date and seal.

Source: FIPS 180-4 for the algorithms (from memory).
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from stepcalc.errors import PrintError, SheetFileError
from stepcalc.print.package import print_document, write_whole
from stepcalc.render import blocks as b
from stepcalc.sheet.titles import TitleBlock

__all__ = ["ALGORITHMS", "ListedFile", "Manifest", "list_files", "read_manifest"]

ALGORITHMS = ("sha256", "sha384", "sha512", "sha1")
"""SHA-256 unless a rule names another; SHA-1 is kept for rules that still do."""

_SCHEMA = "stepcalc manifest 1"
_AT_ONCE = 1 << 20
_LARGEST = 10_000_000  # bytes of a manifest
_NOTE = (
    "A list is valid while every digest agrees with its file and no file is missing: one changed "
    "byte changes the digest. The seal and signature belong to the engineer; this program makes "
    "neither."
)


@dataclass(frozen=True, slots=True)
class ListedFile:
    """A file by its path below the folder of the list, with its size and digest."""

    path: str
    digest: str
    size: int
    description: str = ""


@dataclass(frozen=True, slots=True)
class Manifest:
    """Files with their digests, in the order of their paths.

    Attributes
    ----------
    algorithm : str
        One of ``ALGORITHMS``.
    files : tuple of ListedFile
    """

    algorithm: str
    files: tuple[ListedFile, ...]

    def to_json(self) -> str:
        """Return the list as JSON; the same files give the same text."""
        data = {
            "schema": _SCHEMA,
            "algorithm": self.algorithm,
            "files": [asdict(file) for file in self.files],
        }
        return json.dumps(data, indent=1, ensure_ascii=False) + "\n"

    def write(self, path: str | Path) -> Path:
        """Write the list as JSON, whole or not at all.

        Raises
        ------
        PrintError
            If the file cannot be written.
        """
        target = Path(path)
        try:
            write_whole(target, self.to_json().encode())
        except OSError as error:
            raise PrintError(f"cannot write {target}: {(error.strerror or '').lower()}") from error
        return target

    def faults(self, folder: str | Path, *, whole_folder: bool = False) -> list[str]:
        """Return in words what no longer agrees; nothing if all files are as they were listed.

        Parameters
        ----------
        folder : str or Path
            Where the paths of the list begin.
        whole_folder : bool
            Whether a file in the folder that the list does not name is a fault too.
        """
        root = Path(folder)
        found = []
        for file in self.files:
            place = root / file.path
            if not place.is_file():
                found.append(f"{file.path} is missing")
            elif place.stat().st_size != file.size or _digest(place, self.algorithm) != file.digest:
                found.append(f"{file.path} was changed after it was listed")
        if whole_folder:
            known = {file.path for file in self.files}
            others = sorted(_below(path, root) for path in root.rglob("*") if path.is_file())
            found += [f"{path} is not listed" for path in others if path not in known]
        return found

    def print(self, path: str | Path, title: TitleBlock | None = None, **choices: Any) -> Path:
        """Print the list with room for name, licence number, date, signature and seal.

        Parameters
        ----------
        path : str or Path
            Ends in ``.pdf``, ``.html``, ``.tex`` or ``.typ``.
        title : TitleBlock, optional
            Blank fields are lines to fill in.
        **choices
            As of :func:`stepcalc.print.package.print_document`.
        """
        rows = tuple(
            (str(number), file.path, file.description, f"{file.size:,}", file.digest)
            for number, file in enumerate(self.files, 1)
        )
        name = self.algorithm.upper().replace("SHA", "SHA-")
        table = b.Table(("No.", "File", "Description", "Bytes", name), rows, "", "rllrl")
        pages = b.SheetPages("Files of this package", (b.Note(_NOTE), table))
        fields = (title or TitleBlock()).fields()
        record = b.Document(fields, "package", (pages,))
        return print_document(record, path, **({"seal": "every sheet"} | choices))


def list_files(
    paths: Sequence[str | Path],
    *,
    folder: str | Path | None = None,
    descriptions: Mapping[str, str] | None = None,
    algorithm: str = "sha256",
) -> Manifest:
    """Return the list of some files with their digests.

    Parameters
    ----------
    paths : sequence of str or Path
        Files; a folder stands for all files in it and below it.
    folder : str or Path, optional
        Paths are listed as they are below it; the folder that all files share if left out.
    descriptions : mapping, optional
        What each file is, by its listed path or its name.
    algorithm : str
        One of ``ALGORITHMS``.

    Raises
    ------
    PrintError
        If a file is not there, lies outside the folder, or the algorithm is not known.
    """
    if algorithm not in ALGORITHMS:
        raise PrintError(f"algorithm is {algorithm!r}; want one of {', '.join(ALGORITHMS)}")
    files = sorted({file.resolve() for path in paths for file in _files(Path(path))})
    if not files:
        raise PrintError("no file to list; name at least one")
    root = Path(folder).resolve() if folder is not None else _shared(files)
    said = dict(descriptions or {})
    listed = []
    for file in files:
        if not file.is_relative_to(root):
            raise PrintError(f"{file.name} does not lie below the folder {root}; list it by itself")
        below = _below(file, root)
        words = said.get(below, said.get(file.name, ""))
        try:
            listed.append(ListedFile(below, _digest(file, algorithm), file.stat().st_size, words))
        except OSError as error:
            reason = (error.strerror or "").lower()
            raise PrintError(f"cannot read {file.name}: {reason}") from error
    return Manifest(algorithm, tuple(sorted(listed, key=lambda item: item.path)))


def read_manifest(path: str | Path) -> Manifest:
    """Return the list that :meth:`Manifest.write` wrote.

    Raises
    ------
    SheetFileError
        If the file is no such list.
    """
    source = Path(path)
    try:
        if source.stat().st_size > _LARGEST:
            raise SheetFileError(
                f"{source} is larger than {_LARGEST} bytes; it is no list of files"
            )
        data = json.loads(source.read_text(encoding="utf-8"))
    except OSError as error:
        raise SheetFileError(f"cannot read {source}: {(error.strerror or '').lower()}") from error
    except (ValueError, RecursionError) as error:
        raise SheetFileError(f"{source} is no list of files: it holds no JSON") from error
    if not isinstance(data, Mapping) or data.get("schema") != _SCHEMA:
        raise SheetFileError(f"{source} is no list of files; want what 'stepcalc manifest' wrote")
    try:
        files = tuple(_listed(item) for item in data["files"])
        algorithm = str(data["algorithm"])
    except (KeyError, TypeError, ValueError) as error:
        raise SheetFileError(f"the list of files in {source} is damaged: {error}"[:300]) from error
    if algorithm not in ALGORITHMS:
        raise SheetFileError(f"{source} names the algorithm {algorithm!r}, which is not known")
    return Manifest(algorithm, files)


def _listed(item: Mapping[str, Any]) -> ListedFile:
    file = ListedFile(
        str(item["path"]), str(item["digest"]), int(item["size"]), str(item.get("description", ""))
    )
    place = PurePosixPath(file.path)
    if place.is_absolute() or ".." in place.parts:
        message = f"the path {file.path!r} leaves the folder"
        raise ValueError(message)
    return file


def _files(path: Path) -> list[Path]:
    if path.is_dir():
        return [file for file in path.rglob("*") if file.is_file()]
    if not path.is_file():
        raise PrintError(f"{path} is not there; name files that exist")
    return [path]


def _shared(files: Sequence[Path]) -> Path:
    """Return the deepest folder that holds all files."""
    root = files[0].parent
    while not all(file.is_relative_to(root) for file in files):
        root = root.parent
    return root


def _below(file: Path, root: Path) -> str:
    return file.relative_to(root).as_posix()


def _digest(path: Path, algorithm: str) -> str:
    made = hashlib.new(algorithm, usedforsecurity=False)
    with path.open("rb") as stream:
        while piece := stream.read(_AT_ONCE):
            made.update(piece)
    return made.hexdigest()

"""Tables of published values: numbers with a unit, an edition and a source, read once.

A table is two files in this folder: the values (``<id>.csv``) and what they are (``<id>.toml``).
Units are text here; the sheet turns them into quantities. Other packages add their own tables
with :func:`register_table`.
"""

from __future__ import annotations

import csv
import difflib
import hashlib
import json
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib.resources import files
from types import MappingProxyType

from stepcalc.errors import NameTakenError, TableError

_SHIPPED = ("steel_grades", "stress_categories", "stress_ranges_std", "w_shapes")
_tables: dict[str, Table] = {}


@dataclass(frozen=True, eq=False)
class Table:
    """A table of numbers whose rows have names.

    Parameters
    ----------
    id, title, edition, source : str
        What other parts call the table, and what is printed beside a value read from it.
    key : str
        What the row names are: ``"shape"``.
    names : tuple of str, length n
        The row names, in table order.
    columns : mapping of str to tuple of float, each of length n
        The values; all finite.
    units : mapping of str to str or None
        The unit of each column as text; None for a plain number.
    ignored_words : tuple of str
        Words, in small letters, that a person may put before a row name.
    family_mark : str
        The row name up to this mark is its family; empty if the table has none.

    Raises
    ------
    TableError
        If columns, units and names do not fit each other, or a value is not a finite number.

    Examples
    --------
    >>> shapes = table("w_shapes")
    >>> shapes.value("w 24 x 68", "Ix"), shapes.units["Ix"]
    (1830.0, 'inch**4')
    >>> shapes.neighbours("W24X68")
    ('W24X62', 'W24X76')
    """

    id: str
    title: str
    edition: str
    source: str
    key: str
    names: tuple[str, ...]
    columns: Mapping[str, tuple[float, ...]]
    units: Mapping[str, str | None]
    ignored_words: tuple[str, ...] = ()
    family_mark: str = ""

    def __post_init__(self) -> None:
        if len(self._rows) != len(self.names) or not self.names:
            raise TableError(f"table {self.id!r} has no rows, or two rows of the same name")
        if set(self.columns) != set(self.units):
            odd = ", ".join(sorted(set(self.columns) ^ set(self.units)))
            raise TableError(
                f"table {self.id!r} has a column without a unit, or the reverse: {odd}"
            )
        for column, values in self.columns.items():
            if len(values) != len(self.names) or not all(map(math.isfinite, values)):
                raise TableError(
                    f"column {column!r} of table {self.id!r} needs one finite number for each of "
                    f"its {len(self.names)} rows"
                )
        object.__setattr__(self, "columns", MappingProxyType(dict(self.columns)))
        object.__setattr__(self, "units", MappingProxyType(dict(self.units)))

    @cached_property
    def _rows(self) -> dict[str, int]:
        return {self.plain(name): row for row, name in enumerate(self.names)}

    @cached_property
    def digest(self) -> str:
        """The SHA-256 of the content, in hex: a sheet keeps it beside a value that it read."""
        numbers = [[name, self.units[name], self.columns[name]] for name in sorted(self.columns)]
        content = [self.id, self.edition, self.key, self.names, numbers]
        return hashlib.sha256(json.dumps(content).encode()).hexdigest()

    def plain(self, name: str) -> str:
        """Return `name` in the one spelling that is compared: small letters, no blanks."""
        words = name.casefold().replace("×", "x").split()
        return "".join(word for word in words if word not in self.ignored_words)

    def row_number(self, name: str) -> int:
        """Return the number of the row called `name`, in any letter case and spacing.

        Raises
        ------
        TableError
            If there is no such row; the message names the nearest ones.
        """
        plain = self.plain(name)
        try:
            return self._rows[plain]
        except KeyError:
            near = difflib.get_close_matches(plain, self._rows, n=4, cutoff=0.5)
            fits = ", ".join(self.names[self._rows[found]] for found in near)
            hint = f"nearest names: {fits}" if fits else f"its first row is {self.names[0]}"
            raise TableError(
                f"{self.key} {name!r} is not in the table {self.title!r}; {hint}"
            ) from None

    def column(self, name: str) -> tuple[float, ...]:
        """Return the values of the column called `name`, in table order.

        Raises
        ------
        TableError
            If there is no such column; the message names those there are.
        """
        try:
            return self.columns[name]
        except KeyError:
            raise TableError(
                f"the table {self.title!r} has no column {name!r}; "
                f"its columns are {', '.join(self.columns)}"
            ) from None

    def value(self, name: str, column: str) -> float:
        """Return the number in row `name` and `column`, in ``units[column]``."""
        return self.column(column)[self.row_number(name)]

    def family(self, name: str) -> str:
        """Return the family of the row `name`, such as ``W36``; empty if the table has none."""
        full = self.names[self.row_number(name)]
        return full.partition(self.family_mark)[0] if self.family_mark else ""

    def family_rows(self, family: str) -> tuple[int, ...]:
        """Return the numbers of the rows of `family`, in table order; of all rows if empty.

        Raises
        ------
        TableError
            If no row belongs to it; the message names the families there are.
        """
        if not family:
            return tuple(range(len(self.names)))
        families = {name: self.family(name) for name in self.names} if self.family_mark else {}
        rows = tuple(
            row
            for row, name in enumerate(self.names)
            if families.get(name, "").casefold() == self.plain(family)
        )
        if rows:
            return rows
        known = ", ".join(dict.fromkeys(families.values())) or "none: the table has no families"
        raise TableError(
            f"no {self.key} of the table {self.title!r} belongs to {family!r}; "
            f"its families are {known}"
        )

    def neighbours(self, name: str, by: str = "weight") -> tuple[str | None, str | None]:
        """Return the next lower and the next higher row of the same family.

        Parameters
        ----------
        name : str
            The row in the middle.
        by : str
            The column that orders the rows.

        Returns
        -------
        tuple of two str or None
            Names of the rows, None at the end of the family.
        """
        values = self.column(by)
        here = values[self.row_number(name)]
        family = self.family_rows(self.family(name))
        lower = [row for row in family if values[row] < here]
        higher = [row for row in family if values[row] > here]
        return (
            self.names[max(lower, key=values.__getitem__)] if lower else None,
            self.names[min(higher, key=values.__getitem__)] if higher else None,
        )


def _read(table_id: str) -> Table:
    """Return the shipped table `table_id`, read from its two files."""
    folder = files("stepcalc.data")
    about = tomllib.loads(folder.joinpath(f"{table_id}.toml").read_text("utf-8"))
    lines = folder.joinpath(f"{table_id}.csv").read_text("utf-8").splitlines()
    header, *rows = csv.reader(lines)
    return Table(
        id=about["id"],
        title=about["title"],
        edition=about["edition"],
        source=about["source"],
        key=about["key"],
        names=tuple(row[0] for row in rows),
        columns={
            name: tuple(float(row[place]) for row in rows)
            for place, name in enumerate(header[1:], start=1)
        },
        units={name: unit or None for name, unit in about["units"].items()},
        ignored_words=tuple(about.get("ignored_words", ())),
        family_mark=about.get("family_mark", ""),
    )


def table(table_id: str) -> Table:
    """Return the table called `table_id`; a shipped one is read the first time it is asked for.

    Raises
    ------
    TableError
        If there is none; the message names those there are.
    """
    if table_id not in _tables and table_id in _SHIPPED:
        _tables[table_id] = _read(table_id)
    try:
        return _tables[table_id]
    except KeyError:
        known = ", ".join(sorted({*_SHIPPED, *_tables}))
        raise TableError(f"there is no table {table_id!r}; the tables are {known}") from None


def register_table(new: Table) -> Table:
    """Make `new` known under its id, and return it.

    Raises
    ------
    NameTakenError
        If another table, with other content, has that id.
    """
    known = new.id in _tables or new.id in _SHIPPED
    if known and table(new.id).digest != new.digest:
        raise NameTakenError(
            f"a table called {new.id!r} is there already, edition {table(new.id).edition!r}; "
            "give the new one an id of its own"
        )
    return _tables.setdefault(new.id, new)

"""A package: sheets that belong together, with one title block, revised and printed as one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from stepcalc.errors import FormulaError, UnknownNameError
from stepcalc.sheet import merge, ports
from stepcalc.sheet.evaluation import recalculate, revise, twin
from stepcalc.sheet.revisions import Revision, revision_rows
from stepcalc.sheet.sheet import Sheet
from stepcalc.sheet.titles import TitleBlock

__all__ = ["Package"]


class Package:
    """Sheets in order, with the title block of their job.

    Parameters
    ----------
    title : TitleBlock
    sheets : sequence of Sheet
    profile : "package" or "homework"
        Which head the printed sheets get.
    told_once : bool
        Print what several sheets say word for word on the first of them only, with a line on the
        others that says where it stands (:mod:`stepcalc.render.shared_blocks`), and of alike
        sibling parts the one that governs in full, the others as a table
        (:mod:`stepcalc.render.alike_parts`).
    revisions : sequence of Revision
        The revision table of the cover, oldest first; that of the title block if left out.
    editions : mapping of str to str, optional
        Which document and edition the short name of a reference means, such as ``{"LRFD": "AASHTO
        LRFD Bridge Design Specifications, 9th edition, 2020"}``; known ones are filled in.
    scope : str
        What the package covers, for the cover; made from its checks if left out.
    layout : mapping, optional
        Choices for every print of the package, such as ``{"paper": "a4", "seal": "cover"}``.
    """

    def __init__(
        self,
        title: TitleBlock,
        sheets: Sequence[Sheet],
        *,
        profile: str = "package",
        told_once: bool = False,
        revisions: Sequence[Revision] = (),
        editions: Mapping[str, str] | None = None,
        scope: str = "",
        layout: Mapping[str, Any] | None = None,
    ) -> None:
        given: Any = title
        if not isinstance(given, TitleBlock):
            message = f"a package wants a TitleBlock first, not a {type(title).__name__}"
            raise FormulaError(message)
        items: list[Any] = list(sheets)
        for item in items:
            if not isinstance(item, Sheet):
                message = f"a package holds sheets, not a {type(item).__name__}"
                raise FormulaError(message)
        self.sheets: list[Sheet] = _joined(items)
        if profile not in ("package", "homework"):
            message = f"profile is 'package' or 'homework', not {profile!r}"
            raise FormulaError(message)
        self.title = title
        self.profile = profile
        self.told_once = told_once
        self.revisions = revision_rows(revisions) or title.revisions
        self.editions = dict(editions or {})
        self.scope = scope
        self.layout = dict(layout or {})

    @property
    def checks(self) -> list[Any]:
        """The checks of all sheets, in order."""
        return [check for sheet in self.sheets for check in sheet.checks]

    @property
    def passed(self) -> bool:
        """Whether there are checks and all of them pass."""
        checks = self.checks
        return bool(checks) and all(check.passed for check in checks)

    def __getitem__(self, title: str) -> Sheet:
        """Return the sheet of this title."""
        for sheet in self.sheets:
            if sheet.title == title:
                return sheet
        titles = ", ".join(repr(sheet.title) for sheet in self.sheets)
        message = f"no sheet of the package is titled {title!r}; there are {titles}"
        raise UnknownNameError(message)

    def revise(self, changes: Mapping[str, Any]) -> Package:
        """Return a package with other givens; what one sheet takes from another follows.

        Parameters
        ----------
        changes : mapping of a given's name, or ``"sheet title/path"``, to its new value
        """
        by_sheet: dict[int, dict[str, Any]] = {}
        for name, value in changes.items():
            sheet, path = self._locate(name)
            by_sheet.setdefault(id(sheet), {})[path] = value
        renewed: dict[int, Sheet] = {}
        for sheet in merge.in_order(self.sheets):
            new = revise(sheet, by_sheet.get(id(sheet), {}), {})
            renewed[id(sheet)] = _follow(sheet, new, renewed)
        sheets = [renewed[id(sheet)] for sheet in self.sheets]
        return Package(
            self.title, sheets, profile=self.profile, told_once=self.told_once,
            revisions=self.revisions, editions=self.editions, scope=self.scope, layout=self.layout,
        )  # fmt: skip

    def _locate(self, name: str) -> tuple[Sheet, str]:
        for sheet in self.sheets:
            if name.startswith(sheet.title + "/"):
                return sheet, name[len(sheet.title) + 1 :]
        found = [sheet for sheet in self.sheets if name in sheet]
        if len(found) == 1:
            return found[0], name
        titles = ", ".join(f"'{sheet.title}/{name}'" for sheet in found or self.sheets)
        state = "stands on more than one sheet" if found else "is not on any sheet of the package"
        message = f"{name!r} {state}; say which one, as in {titles}"
        raise UnknownNameError(message)

    def evaluate(self, inputs: Mapping[str, Any], outputs: Sequence[str]) -> Any:
        """Return outputs for arrays of givens, across the sheets; names as in :meth:`revise`."""
        return merge.merged(self.sheets).evaluate(inputs, outputs)

    def solve(
        self, name: str, *, check: str | None = None, within: tuple[Any, Any] | None = None
    ) -> Any:
        """Return the value of a given at which D/C = 1, across the sheets."""
        return merge.merged(self.sheets).solve(name, check=check, within=within)

    def print(self, path: str | Path, **options: Any) -> Path:
        """Write the package as ``.pdf``, ``.html``, ``.tex`` or ``.typ``; return the path.

        Parameters
        ----------
        path : str or Path
        **options
            Choices of the print such as ``paper="a4"``, ``cover=False``, ``contents=False``,
            ``front="summary, references"``, ``seal="every sheet"``, ``trace=True``: see
            :class:`stepcalc.print.options.Options`. They come before those of ``layout``. A package
            has a cover, contents and all lists unless told otherwise, homework none of them.

        Raises
        ------
        PrintError
            If the suffix is another, or the file cannot be written.
        """
        document = ports.call("package_document", self)
        chosen = {"usual_front": True} | self.layout | options
        return ports.call("print_document", document, path, **chosen)  # type: ignore[no-any-return]


def _joined(sheets: list[Sheet]) -> list[Sheet]:
    """Return the sheets so that each takes values from those of the package, not of copies."""
    members = {id(sheet) for sheet in sheets}
    by_family = {id(sheet._family): sheet for sheet in sheets}
    current: dict[int, Sheet] = {}
    for sheet in merge.in_order(sheets):
        renewed = {}
        for origin, _ in sheet._sources.values():
            member = origin if id(origin) in members else by_family.get(id(origin._family))
            if member is not None and current[id(member)] is not origin:
                renewed[id(origin)] = current[id(member)]
        current[id(sheet)] = _follow(sheet, sheet, renewed) if renewed else sheet
    return [current[id(sheet)] for sheet in sheets]


def _follow(sheet: Sheet, new: Sheet, renewed: Mapping[int, Sheet]) -> Sheet:
    """Return the sheet with the values that it takes from renewed sheets."""
    sources = {}
    values = new._values.copy()
    for path, (origin, slot) in sheet._sources.items():
        current = renewed.get(id(origin))
        if current is not None:
            values[sheet._book.by_path[path]] = current._values[slot]
            sources[path] = (current, slot)
        else:
            sources[path] = (origin, slot)
    if not sources:
        return new
    followed = twin(new)
    followed._values = recalculate(new, values)
    followed._sources = sources
    return followed  # type: ignore[no-any-return]

"""What may be chosen when a document is printed."""

from __future__ import annotations

from dataclasses import dataclass, fields
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from stepcalc._version import __version__
from stepcalc.errors import PrintError

PAPERS = ("letter", "a4")
SEALS = ("none", "cover", "every sheet")
LISTS = ("summary", "assumptions", "givens", "references", "identity", "nomenclature")


@dataclass(frozen=True, slots=True)
class Options:
    """Choices of one print.

    Attributes
    ----------
    paper : {"letter", "a4"}
    templates : Path, optional
        A folder searched before ours.
    provenance : str
        Stands in the foot of every sheet beside the version.
    cover, contents : bool
        Whether there is a cover, and a table of contents.
    front : str
        Which lists stand before the sheets: ``"all"``, ``"none"``, or some of ``LISTS`` with
        commas between.
    seal : {"none", "cover", "every sheet"}
        Where room is left for a seal and a signature. Nothing is ever drawn there.
    trace : bool
        Whether givens and results that nothing uses are listed.
    """

    paper: str = "letter"
    templates: Path | None = None
    provenance: str = ""
    cover: bool = False
    contents: bool = False
    front: str = "none"
    seal: str = "none"
    trace: bool = False

    def __post_init__(self) -> None:
        """Refuse a choice that is not known.

        Raises
        ------
        PrintError
            Naming those that are.
        """
        if self.paper not in PAPERS:
            msg = f"paper is {self.paper!r}; want {' or '.join(map(repr, PAPERS))}"
            raise PrintError(msg)
        if self.seal not in SEALS:
            msg = f"seal is {self.seal!r}; want {', '.join(map(repr, SEALS[:-1]))} or {SEALS[-1]!r}"
            raise PrintError(msg)
        unknown = [name for name in _named(self.front) if name not in LISTS]
        if unknown:
            msg = (
                f"front names the list {unknown[0]!r}; want 'all', 'none', or some of "
                f"{', '.join(LISTS)}, with commas between"
            )
            raise PrintError(msg)

    @property
    def identity(self) -> str:
        """What made the sheets, for their foot."""
        made = f"stepcalc {__version__}"
        return f"{self.provenance}; {made}" if self.provenance else made

    @property
    def lists(self) -> tuple[str, ...]:
        """The lists that stand before the sheets, in their order."""
        if self.front == "all":
            return LISTS
        return tuple(name for name in LISTS if name in _named(self.front))


def _named(front: str) -> list[str]:
    """Return the lists that a choice names, in its own words."""
    if front in ("all", "none"):
        return []
    return [name.strip() for name in front.split(",") if name.strip()]


def front_of_profile(profile: str) -> dict[str, Any]:
    """Return the choices about front pages that are usual for a profile.

    Parameters
    ----------
    profile : {"package", "homework"}
        A package has cover, contents and all lists, homework has none of them.
    """
    whole = profile == "package"
    return {"cover": whole, "contents": whole, "front": "all" if whole else "none"}


def made_options(**choices: Any) -> Options:
    """Return the options of these choices.

    Raises
    ------
    PrintError
        If a choice has a name that is not known.
    """
    known = [field.name for field in fields(Options)]
    for name in choices:
        if name not in known:
            near = get_close_matches(name, known, 1)
            hint = f"; nearest name: {near[0]!r}" if near else f"; there are {', '.join(known)}"
            msg = f"a print has no choice {name!r}{hint}"
            raise PrintError(msg)
    return Options(**choices)


DEFAULT = Options()

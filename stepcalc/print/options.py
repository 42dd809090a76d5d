"""What may be chosen when a document is printed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from stepcalc._version import __version__
from stepcalc.errors import PrintError

PAPERS = ("letter", "a4")


@dataclass(frozen=True, slots=True)
class Options:
    """Choices of one print.

    ``paper`` is ``letter`` or ``a4``; ``templates`` is a folder searched before ours;
    ``provenance`` stands in the foot of every sheet beside the version.
    """

    paper: str = "letter"
    templates: Path | None = None
    provenance: str = ""

    def __post_init__(self) -> None:
        """Refuse a paper that is not known.

        Raises
        ------
        PrintError
            Naming the papers that are.
        """
        if self.paper not in PAPERS:
            msg = f"paper is {self.paper!r}; want {' or '.join(map(repr, PAPERS))}"
            raise PrintError(msg)

    @property
    def identity(self) -> str:
        """What made the sheets, for their foot."""
        made = f"stepcalc {__version__}"
        return f"{self.provenance}; {made}" if self.provenance else made


DEFAULT = Options()

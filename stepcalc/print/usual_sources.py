"""The source that most givens of a sheet share, said once instead of beside each of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from stepcalc.data.documents import cited_documents
from stepcalc.render import blocks as b

__all__ = ["UsualSources", "usual_sources"]

LEAST = 5
"""So many givens must share a source before it is said once for all of them."""

FROM_MEMORY = " (from memory)"


@dataclass(frozen=True, slots=True)
class UsualSources:
    """What one sheet says once of the sources of its givens.

    Attributes
    ----------
    shared : str
        The source that most givens share; empty where none is shared often enough.
    remembered : bool
        Whether the mark "from memory" is said once for all values of codes.
    """

    shared: str = ""
    remembered: bool = False

    @property
    def note(self) -> str:
        """What stands at the head of the sheet; empty where nothing is said once."""
        said = []
        if self.shared:
            said.append(f"Givens with no source beside them: {self.shared}.")
        if self.remembered:
            said.append("Values that name a code are from memory, to be compared with its text.")
        return " ".join(said)

    def beside(self, given: b.Given) -> str:
        """Return the source that is still printed beside a given.

        Parameters
        ----------
        given : Given
        """
        source = given.source
        if self.shared and source == self.shared:
            return ""
        if self.shared and not given.assumed:
            source = source.removeprefix(f"{self.shared}; ")
        return source.replace(FROM_MEMORY, "") if self.remembered else source


def usual_sources(document: b.Document, sheet: b.SheetPages) -> UsualSources:
    """Return what a sheet may say once of the sources of its givens.

    Parameters
    ----------
    document : Document
        Knows the codes, by their short names.
    sheet : Sheet
        One of its sheets.  A source is shared only where every given has one or is assumed, so
        that a line without a source is not taken for one whose source was said.

    Returns
    -------
    UsualSources
    """
    givens = [block for block in sheet.blocks if isinstance(block, b.Given)]
    codes = tuple(f"{key} " for key in (*cited_documents(), *document.editions))
    own = Counter(
        given.source for given in givens if given.source and not given.source.startswith(codes)
    )
    shared, times = own.most_common(1)[0] if own else ("", 0)
    told = all(given.source or given.assumed for given in givens)
    marked = [given for given in givens if FROM_MEMORY in given.source]
    of_codes = all(
        any(piece.strip().startswith(codes) for piece in given.source.split(";"))
        for given in marked
    )
    return UsualSources(
        shared if told and times >= LEAST else "", of_codes and len(marked) >= LEAST
    )

"""A package as a document with all that its front pages tell: traces, revisions, editions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.render.build import build_document
from stepcalc.render.traces import elsewhere, uses_of
from stepcalc.sheet import state

if TYPE_CHECKING:
    from stepcalc.render.node_blocks import Block

__all__ = ["package_document"]


def package_document(package: Any, *, profile: str | None = None) -> Block:
    """Return a package as a document that knows where each value comes from.

    Parameters
    ----------
    package : Package
    profile : "package" or "homework", optional
        That of the package when left out.

    Returns
    -------
    dict
        As :func:`stepcalc.render.build.build_document` makes it, with the traces of every sheet,
        the revision table, the editions and the scope of the package.
    """
    document = build_document(package, profile=profile)
    for pages, sheet in zip(document["sheets"], package.sheets, strict=True):
        with state.unchanging(sheet):
            pages["uses"] = uses_of(sheet)
            pages["elsewhere"] = elsewhere(sheet, pages["blocks"])
    return document | {
        "revisions": [
            {"revision": r.revision, "date": r.date, "by": r.by, "description": r.description}
            for r in package.revisions
        ],
        "editions": dict(package.editions),
        "scope": package.scope,
    }

"""The rating factors of a sheet as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stepcalc.sheet.sheet import Sheet

__all__ = ["rating_records"]


def rating_records(rating: Sheet) -> list[dict[str, Any]]:
    """Return every rating factor of a sheet, for other programs.

    Parameters
    ----------
    rating : Sheet
        A load rating.

    Returns
    -------
    list of dict
        ``where``, ``factor`` (None where it has no value), ``meaning``, ``ref``.
    """
    return [
        {
            "where": node.path,
            "factor": node.number if node.defined else None,
            "meaning": node.description,
            "ref": node.ref,
        }
        for node in rating.steps
        if node.name.startswith("RF")
    ]

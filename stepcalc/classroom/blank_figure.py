"""A figure for a handout: what is given stays, what follows from the solution is left to draw."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stepcalc.classroom.secrets import LINE, Secret
from stepcalc.render.figure_data import read_figure

__all__ = ["blank_figure"]

_PLACES = ("x", "start", "end", "bottom")
_RESULTS = {"girder_section": ("elastic", "plastic", "stress")}


def blank_figure(data: Mapping[str, Any], secret: Secret) -> tuple[dict[str, Any], bool] | None:
    """Return the data of a figure without the solution, and whether something was taken out.

    A label that quotes a result is blanked; a load, mark or dimension whose place was computed is
    taken out. Of curves and influence lines nothing would be left: they are None.

    Raises
    ------
    SheetFileError
        If the data are not those of a figure.
    """
    read_figure(data)
    kind = data.get("kind")
    if kind not in ("free_body", "bridge_section", "girder_section"):
        return None
    made: dict[str, Any] = {}
    changed = False
    for name, value in data.items():
        if name in _RESULTS.get(str(kind), ()):
            changed = changed or bool(value)
        elif isinstance(value, list) and all(isinstance(item, Mapping) for item in value):
            made[name] = [_labelled(item, secret) for item in value if _is_given(item, secret)]
            changed = changed or made[name] != value
        elif isinstance(value, Mapping):
            made[name] = {k: secret.redacted(str(text)) for k, text in value.items()}
            changed = changed or made[name] != value
        else:
            made[name] = value
    return made, changed


def _is_given(item: Mapping[str, Any], secret: Secret) -> bool:
    """Say whether something stands at places that were typed, not computed."""
    for name in _PLACES:
        place = item.get(name, 0.0)
        if not isinstance(place, (int, float)):
            continue
        typed = abs(place - round(place, 2)) < 1e-9
        if not typed or secret.tells(f"{place:g}"):
            return False
    return True


def _labelled(item: Mapping[str, Any], secret: Secret) -> dict[str, Any]:
    label = str(item.get("label") or "")
    if not secret.holds(label):
        return dict(item)
    blanked = secret.redacted(label)
    return {**item, "label": blanked if blanked.strip() else LINE}

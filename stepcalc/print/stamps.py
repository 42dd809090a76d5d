"""The stamp of a stored output: whether what a notebook holds is what the sheet put there.

The stamp tells an output that was edited by hand from one that was not. It is no seal and holds no
secret: whoever writes programs can make one.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

__all__ = ["broken", "stamp"]


def stamp(bundle: Mapping[str, Any]) -> str:
    """Return the stamp of what an output stores, whatever stamp it has."""
    data = {key: value for key, value in bundle.items() if key != "stamp"}
    text = json.dumps(data, ensure_ascii=False, sort_keys=True, default=str)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def broken(bundle: Mapping[str, Any]) -> bool:
    """Say whether an output has a stamp that does not fit it; outputs without one are older."""
    return "stamp" in bundle and bundle["stamp"] != stamp(bundle)

"""Which characters the print fonts have, and a visible stand-in for those they lack.

A character that a font lacks must not vanish: it prints as ``[U+4E2D]``, its number in Unicode.
So do control characters and the marks that reverse the reading direction of what follows them,
which could make a sheet show something other than what it says.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

# What the four font families inside the typst wheel (0.15) have among the scripts below, upright,
# slanted, bold and in formulas, found by compiling each character; a test compiles all again.
# Scripts that need shaping, and combining marks, are left out on purpose: some of their
# sequences bring the typesetter down.
_COVERED: tuple[tuple[int, int], ...] = (
    (0x0020, 0x007E), (0x00A0, 0x00AC), (0x00AE, 0x024F), (0x02B0, 0x02FF), (0x0370, 0x0377),
    (0x037A, 0x037F), (0x0384, 0x038A), (0x038C, 0x038C), (0x038E, 0x03A1), (0x03A3, 0x0482),
    (0x048A, 0x04FF), (0x0510, 0x0513), (0x051A, 0x051D), (0x05D0, 0x05EA), (0x05EF, 0x05F4),
    (0x1E00, 0x1F15), (0x1F18, 0x1F1D), (0x1F20, 0x1F45), (0x1F48, 0x1F4D), (0x1F50, 0x1F57),
    (0x1F59, 0x1F59), (0x1F5B, 0x1F5B), (0x1F5D, 0x1F5D), (0x1F5F, 0x1F7D), (0x1F80, 0x1FB4),
    (0x1FB6, 0x1FC4), (0x1FC6, 0x1FD3), (0x1FD6, 0x1FDB), (0x1FDD, 0x1FEF), (0x1FF2, 0x1FF4),
    (0x1FF6, 0x1FFE), (0x2010, 0x2027), (0x2030, 0x2040), (0x2042, 0x2042), (0x2044, 0x2052),
    (0x2054, 0x205E), (0x2070, 0x2071), (0x2074, 0x208E), (0x2090, 0x209C), (0x20A0, 0x20C0),
    (0x2100, 0x211E), (0x2120, 0x2120), (0x2122, 0x2122), (0x2124, 0x2124), (0x2126, 0x2151),
    (0x2153, 0x2184), (0x2189, 0x2189), (0x2190, 0x2220), (0x2222, 0x23FF), (0x2422, 0x2423),
    (0x2460, 0x2606), (0x2609, 0x262F), (0x2638, 0x268B), (0x2690, 0x269C), (0x26A0, 0x26A7),
    (0x26AA, 0x26AE), (0x26B2, 0x26B2), (0x2701, 0x2704), (0x2706, 0x2709), (0x270C, 0x2713),
    (0x2717, 0x2726), (0x272A, 0x274B), (0x274D, 0x274D), (0x274F, 0x2752), (0x2756, 0x2756),
    (0x2758, 0x275E), (0x2761, 0x277F), (0x2794, 0x2794), (0x2798, 0x27AF), (0x27B1, 0x27FF),
    (0x2900, 0x2B73), (0x2B76, 0x2B95), (0x2B97, 0x2BFF), (0xFB00, 0xFB06),
)  # fmt: skip

_CLASS = "".join(f"\\U{a:08x}-\\U{z:08x}" for a, z in _COVERED)
_NOT_COVERED = re.compile(f"[^{_CLASS}\\n]")
# Controls (except line feed), direction marks, invisible operators, private use, no-characters.
_HARMFUL = re.compile(
    "[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u00ad\\u061c\\u200b\\u200c\\u200e\\u200f\\u2028-\\u202e"
    "\\u2060-\\u206f\\ufeff\\ufff0-\\uffff\\ud800-\\uf8ff"
    "\\U000e0000-\\U0010ffff]"
)


def _number(found: re.Match[str]) -> str:
    return f"[U+{ord(found.group()):04X}]"


@lru_cache(maxsize=8192)
def printable(text: str) -> str:
    """Return a text that the fonts of the PDF can show.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        Composed form; tabs are spaces; what no font has is named by its number.

    Examples
    --------
    >>> printable("f'c ≥ 4 ksi, 中")
    "f'c ≥ 4 ksi, [U+4E2D]"
    """
    if text.isascii() and text.isprintable():
        return text
    composed = unicodedata.normalize("NFC", _one_kind_of_line(text))
    return _NOT_COVERED.sub(_number, composed)


@lru_cache(maxsize=8192)
def harmless(text: str) -> str:
    r"""Return a text for a browser, which has fonts for all scripts: only controls are named.

    Examples
    --------
    >>> harmless("中 \u202e")
    '中 [U+202E]'
    """
    if text.isascii() and text.isprintable():
        return text
    return _HARMFUL.sub(_number, _one_kind_of_line(text))


def _one_kind_of_line(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", "    ")


def unprintable(texts: Iterable[str]) -> list[str]:
    """Return the characters of some texts that print as a number, in order of their numbers."""
    lacking: set[str] = set()
    for text in texts:
        if not (text.isascii() and text.isprintable()):
            lacking.update(_NOT_COVERED.findall(unicodedata.normalize("NFC", text)))
    return sorted(lacking - {"\t", "\r"})

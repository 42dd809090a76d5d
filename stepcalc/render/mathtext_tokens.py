r"""The tokens of LaTeX math in a note or a Markdown cell, and what each command stands for."""

from __future__ import annotations

import re
from typing import NamedTuple

from stepcalc.errors import MathTextError
from stepcalc.render.symbols import GREEK

MAX_SOURCE = 4_000

SIGNS = {
    "cdot": "·", "times": "×", "le": "≤", "leq": "≤", "ge": "≥", "geq": "≥", "ne": "≠",
    "neq": "≠", "approx": "≈", "pm": "±", "mp": "∓", "to": "→", "rightarrow": "→",
    "Rightarrow": "⇒", "implies": "⇒", "infty": "∞", "partial": "∂", "int": "∫", "prod": "∏",
    "ldots": "…", "cdots": "…", "dots": "…", "in": "∈", "propto": "∝", "equiv": "≡", "ll": "≪",
    "gg": "≫", "sim": "∼", "therefore": "∴", "lt": "<", "gt": ">", "circ": "°", "prime": "'",
    "lfloor": "⌊", "rfloor": "⌋", "lceil": "⌈", "rceil": "⌉", "vert": "|", "mid": "|",
    "lbrace": "{", "rbrace": "}", "colon": ":", "ast": "*", "degree": "°",
    "%": "%", "{": "{", "}": "}", "|": "|", "#": "#", "$": "$", "&": "&", "_": "_",
    ",": " ", ";": " ", ":": " ", ">": " ", " ": " ", "quad": "  ", "qquad": "  ",
}  # fmt: skip
NOTHING = frozenset(
    ("!", "displaystyle", "textstyle", "limits", "nolimits", "left.", "right.", "big", "Big",
     "bigl", "bigr", "Bigl", "Bigr", "bigg", "Bigg", "nonumber", "notag")
)  # fmt: skip
WORDS = frozenset(
    ("text", "textrm", "textit", "textbf", "textnormal", "mathrm", "mathit", "mathbf", "mathsf",
     "mbox", "operatorname", "mathtt", "texttt")
)  # fmt: skip
FUNCTIONS = {
    "min": "min", "max": "max", "sin": "sin", "cos": "cos", "tan": "tan", "exp": "exp",
    "log": "log", "ln": "ln", "arcsin": "asin", "arccos": "acos", "arctan": "atan",
}  # fmt: skip
ACCENTS = {"bar": "bar", "overline": "bar", "hat": "hat", "widehat": "hat", "tilde": "tilde",
           "dot": "dot", "ddot": "ddot", "vec": "vec"}  # fmt: skip
LETTERS = {name: name for name in GREEK} | {
    "varphi": "phi", "varepsilon": "epsilon", "vartheta": "theta", "varrho": "rho",
    "varsigma": "sigma", "ell": "l",
}  # fmt: skip
LINES = frozenset(("aligned", "align", "align*", "split", "gathered", "gather", "gather*",
                   "equation", "equation*", "alignedat"))  # fmt: skip

_TOKEN = re.compile(
    r"(?P<space>[\s~]+)|(?P<command>\\(?:[A-Za-z]+|.))"
    r"|(?P<number>\d+(?:(?:\{,\}|,)\d{3}(?!\d))*(?:\.\d+)?|\.\d+)"
    r"|(?P<letter>[A-Za-z])|(?P<mark>.)",
    re.DOTALL,
)


class Token(NamedTuple):
    """One token; ``kind`` is command, words, begin, end, number, letter or mark."""

    kind: str
    text: str


def tokens_of(source: str) -> list[Token]:
    """Return the tokens of a formula.

    Raises
    ------
    MathTextError
        If the source is too long, or a word is not closed.
    """
    if len(source) > MAX_SOURCE:
        msg = f"a formula of {len(source)} characters; at most {MAX_SOURCE} are printed"
        raise MathTextError(msg)
    tokens: list[Token] = []
    place = 0
    while place < len(source):
        found = _TOKEN.match(source, place)
        if found is None:
            break
        place = found.end()
        kind, text = str(found.lastgroup), found.group()
        if kind == "space":
            continue
        if kind != "command":
            tokens.append(Token(kind, text.replace("{,}", ",") if kind == "number" else text))
            continue
        name = text[1:]
        if name in WORDS or name in ("begin", "end"):
            words, place = _braced(source, place, name)
            tokens.append(Token(name if name in ("begin", "end") else "words", words))
        else:
            tokens.append(Token("command", name))
    return tokens


def _braced(source: str, place: int, name: str) -> tuple[str, int]:
    """Return what stands in the braces after a command, and the place behind them."""
    while place < len(source) and source[place] in " *":
        place += 1
    if place >= len(source) or source[place] != "{":
        msg = rf"\{name} without braces after it"
        raise MathTextError(msg)
    depth, start = 0, place + 1
    for end in range(place, len(source)):
        if source[end] == "{" and source[end - 1] != "\\":
            depth += 1
        elif source[end] == "}" and source[end - 1] != "\\":
            depth -= 1
            if depth == 0:
                return source[start:end], end + 1
    msg = rf"the brace after \{name} is not closed"
    raise MathTextError(msg)


def plain_words(text: str) -> str:
    r"""Return the content of ``\text{}`` as plain text: escapes undone, ``\text{-}`` unpacked."""
    text = re.sub(r"\\(?:text|mathrm|mbox)\s*\{([^{}]*)\}", r"\1", text)
    text = re.sub(r"\\[,;: ]|~", " ", text)
    text = re.sub(r"\\([%&#$_{}])", r"\1", text)
    unknown = re.search(r"\\[A-Za-z]+", text)
    if unknown is not None:
        msg = f"the command {unknown.group()} inside words is not one that is printed here"
        raise MathTextError(msg)
    return text.replace("{", "").replace("}", "")

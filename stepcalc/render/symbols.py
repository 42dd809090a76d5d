"""Trade spellings of symbols, split into the parts that a printer sets.

``M_u``, ``gamma_DC``, ``f'_c``, ``S_x,req`` and ``M_LL+IM`` are how people type the symbols of a
specification. This module splits such a spelling once; each dialect then spells the parts.

The rules, the same in every dialect:

* one Latin letter is italic (``L``, the ``u`` of ``M_u``);
* two or more letters, or letters with digits, are one upright word (``DC1``, ``req``);
* the name of a Greek letter is that letter (``phi``, ``Delta``), also before digits (``beta1``);
* ``'`` or the ending ``prime`` on the base is a prime (``f'_c``, ``fprime_c``);
* everything after the first underscore is the subscript; further underscores print as commas;
* a name that no symbol would have (spaces, brackets, markup) prints as it is, as text.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

GREEK: dict[str, str] = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ",
    "eta": "η", "theta": "θ", "iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν",
    "xi": "ξ", "omicron": "ο", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ",
    "upsilon": "υ", "phi": "ϕ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Alpha": "Α", "Beta": "Β", "Gamma": "Γ", "Delta": "Δ", "Epsilon": "Ε", "Zeta": "Ζ",
    "Eta": "Η", "Theta": "Θ", "Iota": "Ι", "Kappa": "Κ", "Lambda": "Λ", "Mu": "Μ", "Nu": "Ν",
    "Xi": "Ξ", "Omicron": "Ο", "Pi": "Π", "Rho": "Ρ", "Sigma": "Σ", "Tau": "Τ",
    "Upsilon": "Υ", "Phi": "Φ", "Chi": "Χ", "Psi": "Ψ", "Omega": "Ω",
}  # fmt: skip
_BY_LETTER = {letter: name for name, letter in GREEK.items()} | {"φ": "phi", "ϵ": "epsilon"}

_PLAUSIBLE = re.compile(r"[A-Za-zͰ-Ͽϕ][\w'′,.+\-*Ͱ-Ͽ]{0,60}")
_RUN = re.compile(r"[A-Za-z]+\d*[A-Za-z\d]*|\d+(?:\.\d+)?|.", re.DOTALL)
_PRIMES = "'′"


class Run(NamedTuple):
    """A piece of a symbol that is set in one way.

    ``kind`` is ``letter`` (one italic letter), ``greek`` (``text`` is its name), ``word``
    (upright), ``number``, ``mark`` (one of ``, + - . *``) or ``raw`` (any text, to be escaped).
    """

    kind: str
    text: str


class Symbol(NamedTuple):
    """A symbol in its parts: base, number of primes, subscript (empty if there is none)."""

    base: tuple[Run, ...]
    primes: int
    sub: tuple[Run, ...]


@lru_cache(maxsize=4096)
def split_symbol(spelling: str) -> Symbol:
    """Return the parts of a symbol in trade spelling.

    Parameters
    ----------
    spelling : str
        For example ``"M_DC1"``, ``"f'_c"`` or ``"S_x,req"``; any text is accepted.

    Returns
    -------
    Symbol
        A text that is no symbol comes back as one ``raw`` run.

    Source
    ------
    Common practice, no source: how bridge specifications set their symbols.

    Examples
    --------
    >>> split_symbol("gamma_DC")
    Symbol(base=(Run(kind='greek', text='gamma'),), primes=0, sub=(Run(kind='word', text='DC'),))
    >>> split_symbol("f'_c").primes
    1
    """
    if not _PLAUSIBLE.fullmatch(spelling) or spelling.endswith("_"):
        return Symbol((Run("raw", spelling),), 0, ())
    base, _, sub = spelling.partition("_")
    primes = sum(character in _PRIMES for character in spelling)
    base, sub = _without_primes(base), _without_primes(sub)
    if base.endswith("prime") and len(base) > len("prime"):
        base, primes = base.removesuffix("prime"), primes + 1
    return Symbol(_base_runs(base), primes, _runs(sub.replace("_", ",")))


def _without_primes(text: str) -> str:
    return text.translate({ord(character): None for character in _PRIMES})


def _base_runs(base: str) -> tuple[Run, ...]:
    """Split a base; ``DeltaF`` is a change of ``F``."""
    if len(base) == len("Delta") + 1 and base.startswith("Delta") and base[-1].isalpha():
        return (Run("greek", "Delta"), *_runs(base[-1]))
    return _runs(base)


def _runs(part: str) -> tuple[Run, ...]:
    runs: list[Run] = []
    for piece in _RUN.findall(part):
        name = piece.rstrip("0123456789")
        if piece in _BY_LETTER:
            runs.append(Run("greek", _BY_LETTER[piece]))
        elif name in GREEK:
            runs.append(Run("greek", name))
            if piece != name:
                runs.append(Run("number", piece[len(name) :]))
        elif piece[0].isascii() and piece[0].isalpha():
            runs.append(Run("letter" if len(piece) == 1 else "word", piece))
        elif piece[0].isascii() and piece[0].isdigit():
            runs.append(Run("number", piece))
        elif piece in ",+-.*":
            runs.append(Run("mark", piece))
        else:
            runs.append(Run("raw", piece))
    return tuple(runs)


def is_primed(spelling: str) -> bool:
    """Tell whether a symbol carries a prime, so that a power of it needs brackets."""
    return split_symbol(spelling).primes > 0

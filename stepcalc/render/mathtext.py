r"""LaTeX math in notes and Markdown, read into a layout: a subset, and nothing is ever run.

``$M = \frac{w L^2}{8}$`` becomes the same kind of layout that the walker makes, so that it prints
in every dialect. A command that is not known is an error that names it; the caller then prints
the source as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeAlias

from stepcalc.errors import MathTextError
from stepcalc.render.dialects.vocabulary import RELATIONS
from stepcalc.render.mathtext_layout import arranged, scripted, without_if, words_of
from stepcalc.render.mathtext_tokens import (
    ACCENTS,
    FUNCTIONS,
    LETTERS,
    LINES,
    NOTHING,
    SIGNS,
    Token,
    tokens_of,
)

if TYPE_CHECKING:
    from stepcalc.render.dialects.base import Layout

MAX_DEPTH = 30

_Stop: TypeAlias = Callable[[Token], bool]

_LEFT_BRACKET = [Token("command", "left"), Token("mark", "(")]
_PAIRS = {"(": ")", "[": "]", "{": "}", "|": "|", "⌊": "⌋", "⌈": "⌉", "‖": "‖"}
_AROUND = {("(", ")"): "group", ("|", "|"): "abs", ("⌊", "⌋"): "floor", ("⌈", "⌉"): "ceil"}


def parse_math(source: str) -> Layout:
    r"""Return a formula as one layout; several lines are put one after the other.

    Parameters
    ----------
    source : str
        What stands between the dollar signs.

    Returns
    -------
    list
        A layout, see :mod:`stepcalc.render.dialects.vocabulary`.

    Raises
    ------
    MathTextError
        Naming the command or bracket that cannot be printed.

    Examples
    --------
    >>> parse_math(r"\frac{M_u}{8}")
    ['frac', ['sym', 'M_u'], ['num', '8']]
    """
    lines = parse_math_lines(source)
    if len(lines) == 1:
        return lines[0]
    row: list[Layout] = []
    for line in lines:
        row += [["op", "  "], line] if row else [line]
    return ["row", row]


def parse_math_lines(source: str) -> list[Layout]:
    r"""Return the lines of a formula, as ``aligned`` and ``\\`` separate them.

    Raises
    ------
    MathTextError
        As :func:`parse_math`.
    """
    reader = _Reader(tokens_of(source))
    lines = reader.lines(lambda token: False)
    return [line for line in lines if line != ["row", []]] or [["row", []]]


def _is_mark(mark: str, kind: str = "mark") -> _Stop:
    return lambda token: token.kind == kind and token.text == mark


class _Reader:
    """Reads tokens from left to right."""

    def __init__(self, tokens: Sequence[Token]) -> None:
        self.tokens = tokens
        self.place = 0
        self.depth = 0
        self.closing = _matching(tokens)

    def peek(self) -> Token | None:
        return self.tokens[self.place] if self.place < len(self.tokens) else None

    def take(self) -> Token:
        token = self.peek()
        if token is None:
            raise MathTextError("the formula ends where a part of it is missing")
        self.place += 1
        return token

    def lines(self, stop: _Stop) -> list[Layout]:
        found: list[Layout] = []
        while True:
            token = self.peek()
            if token is not None and token.kind == "begin" and token.text in LINES:
                self.take()
                inner = self.lines(lambda t: t.kind == "end")
                self.close(token.text)
                found += inner
            else:
                found.append(self.row(lambda t: stop(t) or _ends_line(t) or _begins_lines(t)))
            token = self.peek()
            if token is None or stop(token):
                return found
            if _ends_line(token):
                self.take()

    def close(self, name: str) -> None:
        token = self.peek()
        if token is None or token != Token("end", name):
            raise MathTextError(rf"\begin{{{name}}} is not closed by \end{{{name}}}")
        self.take()

    def row(self, stop: _Stop) -> Layout:
        """Return what stands up to a token that stops it; the token is left in place."""
        self.deeper()
        items: list[Layout] = []
        while True:
            token = self.peek()
            if token is None or stop(token):
                break
            if token.kind == "mark" and token.text == "&":
                self.take()
                continue
            if token.kind == "mark" and token.text == "}":
                raise MathTextError("a closing brace } without an opening one")
            item = self.item(stop)
            if item is not None:
                items.append(item)
        self.depth -= 1
        return arranged(items)

    def deeper(self) -> None:
        self.depth += 1
        if self.depth > MAX_DEPTH:
            raise MathTextError(f"the formula is nested more than {MAX_DEPTH} deep")

    def item(self, stop: _Stop) -> Layout | None:
        """Return one part with its subscript and exponent."""
        base = self.base(stop)
        primes, lower, upper = 0, None, None
        while (token := self.peek()) is not None and token.kind == "mark" and token.text in "'^_":
            self.take()
            if token.text == "'":
                primes += 1
            elif token.text == "_":
                if lower is not None:
                    raise MathTextError("two subscripts at one place; put them in braces")
                lower = self.argument()
            else:
                if upper is not None:
                    raise MathTextError("two exponents at one place; put them in braces")
                upper = self.argument()
        if base is None and (lower or upper or primes):
            base = ["row", []]
        if base is not None and base[0] == "sum":
            return ["sum", lower, upper, self.row(lambda t: stop(t) or _ends_term(t))]
        return None if base is None else scripted(base, primes, lower, upper)

    def argument(self) -> Layout:
        """Return the braces, or the single token, that a command takes."""
        token = self.peek()
        if token is not None and token.kind == "mark" and token.text == "{":
            return self.braces()
        if token is not None and token.kind == "number":
            return self.one_digit(token)
        self.deeper()
        found = self.base(lambda t: False)
        self.depth -= 1
        return ["row", []] if found is None else found

    def one_digit(self, token: Token) -> Layout:
        r"""Return the first digit of a number, as ``x^23`` raises only the 2."""
        rest = token.text[1:]
        if rest:
            self.tokens = [
                *self.tokens[: self.place], Token("number", token.text[0]),
                Token("number", rest), *self.tokens[self.place + 1 :],
            ]  # fmt: skip
            self.closing = _matching(self.tokens)
        return ["num", self.take().text]

    def braces(self) -> Layout:
        self.take()
        inner = self.row(_is_mark("}"))
        if self.peek() is None:
            raise MathTextError("an opening brace { is not closed")
        self.take()
        return inner

    def base(self, stop: _Stop) -> Layout | None:
        token = self.take()
        if token.kind == "letter":
            return ["sym", token.text]
        if token.kind == "number":
            return ["num", token.text]
        if token.kind == "words":
            return words_of(token.text)
        if token.kind == "begin":
            return self.environment(token.text)
        if token.kind == "end":
            raise MathTextError(rf"\end{{{token.text}}} without \begin{{{token.text}}}")
        if token.kind == "command":
            return self.command(token.text)
        if token.text == "{":
            self.place -= 1
            return self.braces()
        if token.text in "^_'":
            self.place -= 1
            return ["row", []]
        if token.text == "(" and (end := self.closing.get(self.place - 1)) is not None:
            return self.bracketed(end)
        return ["op", token.text]

    def bracketed(self, end: int) -> Layout:
        inner = self.row(lambda t: self.place == end)
        self.place = end + 1
        return ["group", inner]

    def command(self, name: str) -> Layout | None:
        if name in LETTERS:
            return ["sym", LETTERS[name]]
        if name in SIGNS:
            return ["op", SIGNS[name]]
        if name in NOTHING:
            return None
        if name in ("frac", "dfrac", "tfrac", "cfrac"):
            over = self.argument()
            return ["frac", over, self.argument()]
        if name == "sqrt":
            return self.root()
        if name in ACCENTS:
            return ["accent", ACCENTS[name], self.argument()]
        if name in FUNCTIONS:
            return self.function(FUNCTIONS[name])
        if name == "sum":
            return ["sum", None, None, ["row", []]]
        if name == "boxed":
            return ["box", self.argument()]
        if name == "left":
            return self.delimited()
        if name == "\\":
            return ["op", "  "]
        raise MathTextError(rf"the command \{name} is not one that is printed here")

    def root(self) -> Layout:
        token = self.peek()
        if token is None or token.text != "[":
            return ["sqrt", self.argument()]
        self.take()
        degree = self.row(_is_mark("]"))
        self.take()
        return ["root", degree, self.argument()]

    def function(self, name: str) -> Layout:
        token = self.peek()
        inner: Layout | None = None
        if token == Token("mark", "(") and self.place in self.closing:
            self.take()
            inner = self.arguments(self.closing[self.place - 1])
        elif [*self.tokens[self.place : self.place + 2]] == _LEFT_BRACKET:
            self.place += 2
            inner = self.arguments(None)
        return ["text", name] if inner is None else ["call", name, inner]

    def arguments(self, end: int | None) -> list[Layout]:
        r"""Return what stands between the brackets of a function, cut at its commas."""

        def closes(token: Token) -> bool:
            return self.place == end if end is not None else token == Token("command", "right")

        found: list[Layout] = []
        while True:
            found.append(self.row(lambda t: closes(t) or t == Token("mark", ",")))
            token = self.take()
            if token != Token("mark", ","):
                break
        if end is None:
            self.take()
        return found

    def delimited(self) -> Layout:
        r"""Return what stands between ``\left`` and ``\right``."""
        opening = self.delimiter()
        inner = self.row(_is_mark("right", "command"))
        if self.peek() is None:
            raise MathTextError(r"\left without \right")
        self.take()
        closing = self.delimiter()
        kind = _AROUND.get((opening, closing))
        if kind is not None:
            return [kind, inner]
        around = [["op", sign] for sign in (opening, closing) if sign != "."]
        if len(around) == 2:
            return ["row", [around[0], inner, around[1]]]
        return ["row", [*around, inner] if closing == "." else [inner, *around]]

    def delimiter(self) -> str:
        token = self.take()
        sign = SIGNS.get(token.text, "") if token.kind == "command" else token.text
        if sign not in (*_PAIRS, *_PAIRS.values(), "."):
            raise MathTextError(rf"{token.text!r} is no bracket for \left or \right")
        return sign

    def environment(self, name: str) -> Layout:
        if name != "cases":
            raise MathTextError(rf"the environment {name!r} cannot stand inside a formula here")
        rows: list[list[Layout | None]] = []
        while True:
            value = self.row(lambda t: _ends_cell(t) or t == Token("end", "cases"))
            condition: Layout | None = None
            token = self.peek()
            if token == Token("mark", "&"):
                self.take()
                condition = self.row(lambda t: _ends_line(t) or t == Token("end", "cases"))
                token = self.peek()
            if value != ["row", []] or condition is not None:
                rows.append([value, without_if(condition), None])
            if token is None or not _ends_line(token):
                break
            self.take()
        self.close(name)
        return ["cases", rows]


def _matching(tokens: Sequence[Token]) -> dict[int, int]:
    """Return the place of the bracket that closes each round one, where they match."""
    found: dict[int, int] = {}
    open_at: list[tuple[str, int]] = []
    for place, token in enumerate(tokens):
        if token.kind != "mark":
            continue
        after_left = place and tokens[place - 1] in (
            Token("command", "left"), Token("command", "right")
        )  # fmt: skip
        if token.text in "{(" and not after_left:
            open_at.append((token.text, place))
        elif token.text == ")" and not after_left:
            if open_at and open_at[-1][0] == "(":
                found[open_at.pop()[1]] = place
        elif token.text == "}":
            while open_at and open_at.pop()[0] != "{":
                pass
    return found


def _ends_line(token: Token) -> bool:
    return token.kind == "command" and token.text in ("\\", "cr", "newline")


def _ends_cell(token: Token) -> bool:
    return _ends_line(token) or token == Token("mark", "&")


def _begins_lines(token: Token) -> bool:
    return token.kind == "begin" and token.text in LINES


def _ends_term(token: Token) -> bool:
    if token.kind == "mark":
        return token.text in "+-=<>,;)]}"
    sign = SIGNS.get(token.text, "") if token.kind == "command" else ""
    return sign in RELATIONS or sign == "  " or token.text == "right"

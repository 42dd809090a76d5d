"""Every exception that stepcalc raises on purpose.

::

    StepcalcError (Exception)
    ├── DimensionError      (TypeError)        two quantities that do not fit each other
    ├── FormulaError        (TypeError)        something that is not a formula was used as one
    ├── UnitError           (ValueError)       a unit that is unknown, or not allowed here
    ├── NameTakenError      (ValueError)       a name that two places define
    ├── RangeError          (ValueError)       a value outside what was stated for it
    ├── ShapeError          (ValueError)       arrays that do not broadcast
    ├── SheetFileError      (ValueError)       the JSON of a sheet that cannot be read
    ├── BridgeFileError     (ValueError)       a bridge file that cannot be read
    ├── SolveError          (ValueError)       no value of the given answers the question
    ├── UnknownNameError    (KeyError)         a name that nothing defines
    ├── TableError          (LookupError)      a table, row or column that does not exist
    ├── UndefinedError      (ArithmeticError)  a result that has no value for these givens
    ├── LayoutError         (ValueError)       formula data that no printer understands
    ├── MathTextError       (ValueError)       LaTeX math in a text that cannot be printed
    ├── PrintError          (RuntimeError)     a package that cannot be printed
    ├── StaleError          (RuntimeError)     results that no longer follow from the cells shown
    └── FrozenError         (RuntimeError)     a value that is kept, but can no longer be computed

The message is the text given: one paragraph that says what, where, and what would fit.
"""

from __future__ import annotations

import textwrap
import traceback
from pathlib import Path

_PACKAGE = str(Path(__file__).parent)


class StepcalcError(Exception):
    """Base of every error that stepcalc raises on purpose."""

    def __str__(self) -> str:
        """Return the message as it was given."""
        return str(self.args[0]) if self.args else ""

    def _render_traceback_(self) -> list[str]:
        """Return what a notebook shows in place of a stack trace: the line, and what is wrong."""
        lines = []
        for frame in reversed(traceback.extract_tb(self.__traceback__)):
            if not frame.filename.startswith(_PACKAGE) and frame.line:
                lines.append(f"line {frame.lineno}:  {frame.line}")
                break
        text = f"{type(self).__name__}: {self}"
        return [*lines, *textwrap.wrap(text, 72)]  # a narrower window cuts through words


class DimensionError(StepcalcError, TypeError):
    """Two quantities whose dimensions do not fit each other."""


class FormulaError(StepcalcError, TypeError):
    """Something that is not a formula was used as one, or a formula as something else."""


class UnitError(StepcalcError, ValueError):
    """A unit that is unknown, or that is not allowed where it stands."""


class NameTakenError(StepcalcError, ValueError):
    """A name that is already defined elsewhere."""


class RangeError(StepcalcError, ValueError):
    """A value outside the range that was stated for it."""


class ShapeError(StepcalcError, ValueError):
    """Arrays whose shapes do not broadcast against each other."""


class SheetFileError(StepcalcError, ValueError):
    """The JSON form of a sheet that cannot be read."""


class BridgeFileError(StepcalcError, ValueError):
    """A bridge file that cannot be read."""


class SolveError(StepcalcError, ValueError):
    """No value of the given answers the question that was asked."""


class UnknownNameError(StepcalcError, KeyError):
    """A name that nothing defines."""


class TableError(StepcalcError, LookupError):
    """A table, a row or a column that does not exist."""


class UndefinedError(StepcalcError, ArithmeticError):
    """A result that has no value for the present givens."""


class LayoutError(StepcalcError, ValueError):
    """Formula data that no printer understands, or that is too deep or too long."""


class MathTextError(StepcalcError, ValueError):
    """LaTeX math in a text that cannot be printed; the caller shows its source instead."""


class PrintError(StepcalcError, RuntimeError):
    """A package that cannot be printed."""


class StaleError(StepcalcError, RuntimeError):
    """Results that no longer follow from the cells that are shown."""


class FrozenError(StepcalcError, RuntimeError):
    """A value that is kept, but can no longer be computed here."""

r"""Reader of bridge files: one bridge in TOML, every quantity a text with its unit.

::

    source = "plans of 1998, sheets 3 to 7"     # where the values were read

    [title]                                     # optional: the title block
    project = "Alder Creek bridge"

    [geometry]
    span = "47 ft"                              # or 47'-0"
    girders = 4
    girder_spacing = "7'-9\""
    ...

    [sources]                                   # optional: where single values were read
    girder_spacing = "framing plan, sheet 4"

`schema_text` prints every key with its meaning, its possible values and an example.  A key that is
unknown or missing, a unit that does not fit and a value that cannot be are each answered by one
paragraph that names the key and says what would fit.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stepcalc.bridge.composite_data import CompositeData
from stepcalc.bridge.composite_fields import ALL_FIELDS, COMPOSITE_FIELDS, COMPOSITE_SECTIONS
from stepcalc.bridge.data import BridgeData
from stepcalc.bridge.feet_inches import looks_like_feet_and_inches, parse_feet_inches
from stepcalc.bridge.fields import SECTIONS, TITLE_KEYS, Choice, Field
from stepcalc.bridge.section_fields import SECTION_TABLES, change_schema_text, read_changes
from stepcalc.bridge.span_tables import SPAN_TABLES, read_span_tables, span_schema_text
from stepcalc.errors import BridgeFileError, StepcalcError
from stepcalc.units import Q_
from stepcalc.units.info import read_unit

__all__ = ["composite_schema_text", "parse_bridge", "read_bridge_file", "schema_text"]

_LARGEST = 200_000
_QUANTITY = re.compile(r"([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,2})?)\s*([^\d\s.].*)")
_KEY_TABLES = (*SECTIONS, *COMPOSITE_SECTIONS)
_TABLES = ("title", *_KEY_TABLES, "sources")


def read_bridge_file(path: str | Path) -> BridgeData:
    """Return the bridge that a file describes.

    Parameters
    ----------
    path : str or Path
        A TOML file as the module describes.

    Returns
    -------
    BridgeData
        Complete and checked.

    Raises
    ------
    BridgeFileError
        If the file cannot be read, is no TOML, or a key is unknown, missing or impossible; one
        paragraph that names the file, the key and what would fit.
    """
    place = Path(path)
    try:
        content = place.read_bytes()
    except OSError as error:
        raise BridgeFileError(f"cannot read bridge file {path}: {error.strerror}") from None
    if len(content) > _LARGEST:
        raise BridgeFileError(
            f"bridge file {path} has {len(content):,} bytes; a bridge file has a page of text"
        )
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BridgeFileError(
            f"bridge file {path} is not UTF-8 text (byte {error.start}); save it as UTF-8"
        ) from None
    return parse_bridge(text, name=str(path))


def parse_bridge(text: str, *, name: str = "bridge file") -> BridgeData:
    """Return the bridge that a text in TOML describes.

    Parameters
    ----------
    text : str
        The content of a bridge file.
    name : str
        What messages call it.

    Returns
    -------
    BridgeData
        Complete and checked.

    Raises
    ------
    BridgeFileError
        As for `read_bridge_file`.
    """
    try:
        tables = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise BridgeFileError(
            f'{name} is not TOML: {str(error)[:200]}; want lines such as span = "47 ft" below a '
            'heading such as [geometry], and \\" for an inch mark within quotes'
        ) from None
    try:
        return BridgeData(**_arguments(tables))
    except BridgeFileError as error:
        raise BridgeFileError(f"{name}: {error}") from None
    except StepcalcError as error:
        raise BridgeFileError(f"{name}: {_with_table(str(error))}") from None


def schema_text() -> str:
    """Return a bridge file that shows every key, its meaning and its possible values.

    Returns
    -------
    str
        TOML; what is optional stands behind ``#``.
    """
    lines = ['source = "plans of 1998, sheets 3 to 7"  # where the values were read']
    lines += ["", "# [title]  # optional", *(f'# {key} = "..."' for key in TITLE_KEYS)]
    lines += _schema_tables(SECTIONS)
    lines += ["", "# [sources]  # optional: where single values were read"]
    return "\n".join([*lines, '# girder_spacing = "framing plan, sheet 4"', ""])


def composite_schema_text() -> str:
    """Return the tables that a file adds whose table ``[girder]`` says ``composite = true``.

    Returns
    -------
    str
        TOML; every key is optional by itself, some go together.
    """
    more = (change_schema_text(), span_schema_text(), "")
    return "\n".join([*_schema_tables(COMPOSITE_SECTIONS)[1:], *more])


def _schema_tables(sections: tuple[str, ...]) -> list[str]:
    lines: list[str] = []
    for section in sections:
        lines += ["", f"[{section}]"]
        lines += [_schema_line(rule) for rule in ALL_FIELDS.values() if rule.section == section]
    return lines


def _schema_line(rule: Field) -> str:
    if rule.options is not None:
        fits = " | ".join(str(option.value) for option in rule.options)
    else:
        units = rule.units or ("",)
        spans = zip(rule.low, rule.high, units, strict=True) if rule.low else ()
        fits = " or ".join(f"{low:g} to {high:g} {unit}".strip() for low, high, unit in spans)
    start = "" if rule.required else "# "
    note = f"{rule.meaning}{': ' if fits else ''}{fits}{'' if rule.required else ' (optional)'}"
    return f"{start}{rule.key} = {_example(rule)}  # {note}"


def _example(rule: Field) -> str:
    if rule.flag or (rule.low and not rule.units):
        return rule.example
    return '"' + rule.example.replace('"', '\\"') + '"'


def _arguments(tables: Mapping[str, Any]) -> dict[str, Any]:
    for name, content in tables.items():
        _check_top(name, content)
    values: dict[str, Any] = {}
    for section in _KEY_TABLES:
        for key, value in tables.get(section, {}).items():
            rule = ALL_FIELDS.get(key)
            if rule is None or rule.section != section:
                raise BridgeFileError(_wrong_key(key, section))
            values[key] = _value(rule, value)
    details = {key: values.pop(key) for key in tuple(values) if key in COMPOSITE_FIELDS}
    studs = [key for key in details if COMPOSITE_FIELDS[key].section == "studs"]
    changes = read_changes(tables, _value)
    several = read_span_tables(tables, _value)
    if "spans" in several:
        values.setdefault("span", several["spans"][0].length)
    composite = values.get("composite") is True
    welded = any(COMPOSITE_FIELDS[key].section == "plates" for key in details)
    if several and not composite:
        raise BridgeFileError(
            f"[[{next(iter(several))}]] belongs to a composite girder; add composite = true in "
            "[girder], or leave the tables out"
        )
    if changes and not (composite or welded):
        raise BridgeFileError(
            "[[changes]] belongs to a girder with [plates]; add its plates, or leave the tables out"
        )
    details |= changes | several
    if details and not (composite or welded):
        first = COMPOSITE_FIELDS[next(iter(details))]
        raise BridgeFileError(
            f"key {first.key!r} in [{first.section}] belongs to a composite girder; add "
            "composite = true in [girder], or leave the table out"
        )
    if studs and not composite:
        raise BridgeFileError(
            f"key {studs[0]!r} in [studs] belongs to a composite girder; add composite = true in "
            "[girder], or leave the table out"
        )
    if composite or welded:
        values["details"] = CompositeData(**details)
    plates = welded and values["details"].welded
    for rule in ALL_FIELDS.values():
        if rule.required and rule.key not in values and not (plates and rule.key == "shape"):
            raise BridgeFileError(_missing(rule))
    values["title"] = _texts(tables.get("title", {}), "title", TITLE_KEYS)
    values["sources"] = _texts(tables.get("sources", {}), "sources", tuple(ALL_FIELDS))
    values["source"] = tables.get("source", "bridge file")
    return values


def _missing(rule: Field) -> str:
    start = f"key {rule.key!r} is missing in [{rule.section}]"
    if rule.options is None:
        return f"{start}; add a line such as {_schema_line(rule)}"
    fits = " | ".join(f'"{option.value}"' for option in rule.options)
    return f"{start}; it has no default: state one of {fits} ({rule.meaning})"


def _check_top(name: str, content: object) -> None:
    if name == "source":
        if not isinstance(content, str) or not content.strip():
            raise BridgeFileError(f"source is {content!r}; want the text of one source")
    elif name in SPAN_TABLES or name in SECTION_TABLES:
        return
    elif name not in _TABLES:
        if name in ALL_FIELDS:
            raise BridgeFileError(_wrong_key(name, ""))
        raise BridgeFileError(
            f"{'table' if isinstance(content, dict) else 'key'} {name!r} is unknown"
            f"{_nearest(name, (*_TABLES, 'source', *ALL_FIELDS))}; the tables are "
            + ", ".join(f"[{table}]" for table in _TABLES)
        )
    elif not isinstance(content, dict):
        raise BridgeFileError(f"{name} is {content!r}; want a table, opened by the line [{name}]")


def _wrong_key(key: str, section: str) -> str:
    rule = ALL_FIELDS.get(key)
    where = f"in [{section}]" if section else "at the top of the file"
    if rule is not None:
        return f"key {key!r} stands {where}; it belongs in [{rule.section}]"
    near = difflib.get_close_matches(key, ALL_FIELDS, n=1, cutoff=0.5)
    own = ", ".join(rule.key for rule in ALL_FIELDS.values() if rule.section == section)
    if not near:
        return f"key {key!r} {where} is unknown; the keys of this table are {own}"
    rule = ALL_FIELDS[near[0]]
    return (
        f"key {key!r} {where} is unknown; nearest name: {rule.key!r} in [{rule.section}] "
        f"({rule.meaning}); the keys of [{section}] are {own}"
    )


def _nearest(name: str, known: tuple[str, ...]) -> str:
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.5)
    return f"; nearest name: {near[0]!r}" if near else ""


def _texts(content: Mapping[str, Any], section: str, known: tuple[str, ...]) -> dict[str, str]:
    for key, value in content.items():
        if key not in known:
            hint = _nearest(key, known)
            raise BridgeFileError(
                f"key {key!r} in [{section}] is unknown{hint}; it takes {', '.join(known)}"
            )
        if not isinstance(value, str):
            raise BridgeFileError(f"{key} in [{section}] is {value!r}; want text between quotes")
    return dict(content)


def _value(rule: Field, value: Any) -> Any:
    if rule.options is not None and isinstance(value, str):
        return _option(rule, value)
    if rule.units:
        return _quantity(rule, value)
    if isinstance(value, (dict, list)):
        raise BridgeFileError(
            f"{rule.key} in [{rule.section}] is a "
            f"{'table' if isinstance(value, dict) else 'list'}; want one value such as "
            f"{_example(rule)}"
        )
    return value


def _option(rule: Field, value: str) -> Choice:
    options = tuple(rule.options or ())
    for option in options:
        if str(option.value).casefold() == " ".join(value.split()).casefold():
            return option
    fits = " | ".join(f'"{option.value}"' for option in options)
    raise BridgeFileError(
        f"{rule.key} in [{rule.section}] is {value!r}; want one of {fits} ({rule.meaning})"
    )


def _quantity(rule: Field, value: Any) -> Any:
    example = _example(rule)
    if not isinstance(value, str):
        raise BridgeFileError(
            f"{rule.key} in [{rule.section}] is {value!r}, without a unit; "
            f"want a text with its unit, such as {rule.key} = {example} ({rule.meaning})"
        )
    try:
        if looks_like_feet_and_inches(value):
            return parse_feet_inches(value)
        match = _QUANTITY.fullmatch(value.strip())
        if match is None:
            raise BridgeFileError(
                f"{rule.key} in [{rule.section}] is {value!r}; want a number and its unit, such as "
                f"{example} ({rule.meaning})"
            )
        unit = "percent" if match[2] == "%" else match[2]
        number = float(match[1]) if "." in match[1] or "e" in match[1].lower() else int(match[1])
        return Q_(number, read_unit(unit).unit)
    except BridgeFileError:
        raise
    except StepcalcError as error:
        fits = "" if "; want" in str(error) else f"; want a text such as {example}"
        raise BridgeFileError(
            f"{rule.key} in [{rule.section}] cannot be read: {error}{fits}"
        ) from None


def _with_table(message: str) -> str:
    """Return the message with the table of the key behind the key it begins with."""
    key = message.split(" ", 1)[0]
    rule = ALL_FIELDS.get(key)
    return message.replace(key, f"{key} in [{rule.section}]", 1) if rule else message

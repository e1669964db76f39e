"""New figures put into a TOML text that a person wrote: what did not change stays as it stood, with its comments."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array

NAMING = ("name", "reach", "order", "hour")  # the key that tells one row of a list from another


def merged(text: str, data: Mapping[str, Any]) -> str:
    """The text with these tables and keys in it, no more and no fewer; a text that is no TOML is written anew.

    `data` holds what TOML can hold; `None` stands for a key left out.
    """
    wanted = _without_gaps(data)
    try:
        document = tomlkit.parse(text)
        _fill(document, wanted)
        found = re.sub(r"\n{3,}", "\n\n", tomlkit.dumps(document))
        if _same(tomllib.loads(found), wanted):
            return found
    except (tomlkit.exceptions.TOMLKitError, tomllib.TOMLDecodeError, ValueError, TypeError, IndexError, KeyError):
        pass  # an arrangement the editor cannot keep: the figures go before the comments
    return tomlkit.dumps(wanted)


def _without_gaps(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _without_gaps(inner) for key, inner in value.items() if inner is not None}
    if isinstance(value, list | tuple):
        return [_without_gaps(inner) for inner in value if inner is not None]
    return value


def _same(one: Any, other: Any) -> bool:
    """Whether two values read the same; 8 and 8.0 do, 1 and true do not."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
    return isinstance(one, bool) == isinstance(other, bool) and bool(one == other)


def _fill(table: Any, wanted: Mapping[str, Any]) -> None:
    """Make a table of the document hold what is wanted."""
    for key in [key for key in table if key not in wanted]:
        del table[key]
    for key, value in wanted.items():
        here = table.get(key)
        if key in table and _same(here.unwrap() if hasattr(here, "unwrap") else here, value):
            continue
        if isinstance(here, AoT) and _rows(value):
            table[key] = _tables(here, value)
        elif isinstance(here, Array) and _rows(value) and len(here) == len(value):
            for row, inner in zip(here, value, strict=True):
                _fill(row, inner)
        elif isinstance(here, Mapping) and isinstance(value, Mapping):
            _fill(here, value)
        else:
            table[key] = _item(value)


def _rows(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(row, Mapping) for row in value)


def _tables(here: AoT, wanted: Sequence[Mapping[str, Any]]) -> AoT:
    """A list of tables in its new order; each keeps its text if it is still there under its name, or was renamed."""
    left = dict(enumerate(here))
    names = [_name(row) for row in wanted]
    made = tomlkit.aot()
    for index, row in enumerate(wanted):
        known = next((i for i, old in left.items() if _name(old) == names[index]), None)
        if known is None and len(wanted) == len(here) and index in left and _name(left[index]) not in names:
            known = index
        table = tomlkit.table() if known is None else left.pop(known)
        _fill(table, row)
        made.append(table)
    return made


def _name(row: Mapping[str, Any]) -> Any:
    return next((row[key] for key in NAMING if key in row), None)


def _item(value: Any) -> Any:
    """A new value: lists of tables as headed tables, small tables of numbers on one line."""
    if _rows(value):
        made = tomlkit.aot()
        for row in value:
            made.append(_item(row))
        return made
    if isinstance(value, Mapping):
        plain = all(isinstance(inner, int | float | str | bool | datetime) for inner in value.values())
        table: Any = tomlkit.inline_table() if plain and set(value) <= {"latitude", "longitude"} else tomlkit.table()
        for key, inner in value.items():
            table[key] = _item(inner)
        return table
    return tomlkit.item(value)

"""Tables beside `waterway.toml` as CSV: high and low waters, series of levels and of streams; times with zone.

The first line that is no remark (`#`) names the columns. Rows stand in order of time; nothing may be missing.
"""

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from leadsman.errors import InputError, InputErrors
from leadsman.files.folder import CallFolder
from leadsman.units import DEGREE, KNOT

MOST_FAULTS = 50  # told one by one


@dataclass(frozen=True)
class Column:
    """A column of numbers: what it is, its bounds in the file's unit, and that unit in SI."""

    what: str
    low: float
    high: float
    unit: float = 1.0


HIGH_LOW = {"height_m": Column("height of a tide; expected metres", -25.0, 25.0)}
LEVELS = {"level_m": Column("water level; expected metres", -25.0, 25.0)}
STREAMS = {
    "rate_kn": Column("rate of a stream; expected knots", 0.0, 20.0, KNOT),
    "towards_deg": Column("direction; expected degrees true", 0.0, 360.0, DEGREE),
}


def read_table(
    folder: CallFolder, name: str, columns: Mapping[str, Column], errors: list[InputError]
) -> tuple[tuple[float, ...], ...]:
    """(seconds from 1970 UTC, then the columns in SI) in order; faults are added to `errors` with their line."""
    label = folder.label(name)
    try:
        lines = list(csv.reader(io.StringIO(folder.read(name).decode("utf-8-sig"))))
    except (UnicodeDecodeError, csv.Error) as error:
        errors.append(InputError(label, None, "", f"is not a CSV text file: {error}"))
        return ()
    except InputErrors as missing:
        errors.extend(missing.errors)
        return ()
    given = [(number, cells) for number, cells in enumerate(lines, start=1) if _says_something(cells)]
    header = ["time", *columns]
    if not given or [cell.strip() for cell in given[0][1]] != header:
        line = given[0][0] if given else 1
        errors.append(InputError(label, line, "", f"has no header; expected the first line to be {','.join(header)}"))
        return ()
    found: list[InputError] = []
    rows = _rows(given[1:], columns, label, found)
    if not found and len(rows) < 2:
        found.append(InputError(label, None, "", f"has {len(rows)} rows; expected at least two"))
    errors.extend(found[:MOST_FAULTS])
    if len(found) > MOST_FAULTS:
        errors.append(InputError(label, None, "", f"and {len(found) - MOST_FAULTS} more faults of this file"))
    return tuple(rows)


def _says_something(cells: list[str]) -> bool:
    return any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#")


def _rows(
    given: list[tuple[int, list[str]]], columns: Mapping[str, Column], label: str, errors: list[InputError]
) -> list[tuple[float, ...]]:
    rows: list[tuple[float, ...]] = []
    for number, cells in given:
        if len(cells) != len(columns) + 1:
            wanted = ", ".join(["time", *columns])
            errors.append(InputError(label, number, "", f"has {len(cells)} cells; expected {wanted}"))
            continue
        time = _time(cells[0].strip(), label, number, errors)
        values = [
            _number(cell.strip(), key, columns[key], label, number, errors)
            for cell, key in zip(cells[1:], columns, strict=True)
        ]
        if time is None or None in values:
            continue
        if rows and time <= rows[-1][0]:
            errors.append(InputError(label, number, "time", "is not after the line before it; expected times in order"))
        rows.append((time, *(value for value in values if value is not None)))
    return rows


def _time(text: str, label: str, number: int, errors: list[InputError]) -> float | None:
    try:
        time = datetime.fromisoformat(text)
    except ValueError:
        errors.append(InputError(label, number, "time", f"'{text}' is no time; expected such as 2031-05-04T06:12Z"))
        return None
    if time.tzinfo is None:
        errors.append(InputError(label, number, "time", f"'{text}' has no zone; expected such as 2031-05-04T06:12Z"))
        return None
    return time.timestamp()


def _number(text: str, key: str, column: Column, label: str, number: int, errors: list[InputError]) -> float | None:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not column.low <= value <= column.high:
        why = f"'{text}' is no {column.what}, {column.low:g} to {column.high:g}"
        errors.append(InputError(label, number, key, why))
        return None
    return value * column.unit

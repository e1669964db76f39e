"""A table of high and low waters as CSV: `time,height_m`, times with zone, heights above chart datum."""

import csv
import io
import math
from datetime import datetime

from leadsman.errors import InputError
from leadsman.files.folder import CallFolder

HEADER = ["time", "height_m"]


def read_tide_table(folder: CallFolder, name: str, errors: list[InputError]) -> tuple[tuple[float, float], ...]:
    """(seconds since 1970 UTC, metres above chart datum) in order; faults are added to `errors` with their line."""
    label = folder.label(name)
    rows: list[tuple[float, float]] = []
    try:
        lines = list(csv.reader(io.StringIO(folder.read(name).decode("utf-8-sig"))))
    except (UnicodeDecodeError, csv.Error) as error:
        errors.append(InputError(label, None, "", f"is not a CSV text file: {error}"))
        return ()
    if not lines or [cell.strip() for cell in lines[0]] != HEADER:
        errors.append(InputError(label, 1, "", f"has no header; expected the first line to be {','.join(HEADER)}"))
        return ()
    for number, cells in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        row = _row(cells, label, number, errors)
        if row is None:
            continue
        if rows and row[0] <= rows[-1][0]:
            errors.append(InputError(label, number, "time", "is not after the line before it; expected times in order"))
        rows.append(row)
    if len(rows) < 2:
        errors.append(InputError(label, None, "", f"has {len(rows)} rows; expected at least two high or low waters"))
    return tuple(rows)


def _row(cells: list[str], label: str, number: int, errors: list[InputError]) -> tuple[float, float] | None:
    if len(cells) != 2:
        errors.append(InputError(label, number, "", f"has {len(cells)} cells; expected a time and a height"))
        return None
    try:
        time = datetime.fromisoformat(cells[0].strip())
    except ValueError:
        errors.append(
            InputError(label, number, "time", f"'{cells[0].strip()}' is no time; expected such as 2031-05-04T06:12Z")
        )
        return None
    if time.tzinfo is None:
        errors.append(
            InputError(label, number, "time", f"'{cells[0].strip()}' has no zone; expected such as 2031-05-04T06:12Z")
        )
        return None
    try:
        height = float(cells[1])
    except ValueError:
        height = math.nan
    if not -25.0 <= height <= 25.0:
        errors.append(
            InputError(
                label, number, "height_m", f"'{cells[1].strip()}' is no height of a tide; expected metres, -25 to 25"
            )
        )
        return None
    return time.timestamp(), height

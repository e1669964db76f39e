"""Vertical datums by the code that S-57 and S-100 files give; a code without a row is never guessed.

Source: [S57Attributes], attribute VERDAT; code 30 from [S104Schema].
"""

import csv
import functools
from dataclasses import dataclass
from importlib.resources import files


@dataclass(frozen=True, kw_only=True)
class Datum:
    """One vertical datum of the code list."""

    code: int
    name: str
    """Short name, as written in our files: `LAT`, `MHWS`."""
    meaning: str
    mark: str


@functools.cache
def datums() -> dict[int, Datum]:
    """The code list."""
    text = files("leadsman.files.formats").joinpath("vertical_datums.csv").read_text(encoding="utf-8")
    return {
        int(row["code"]): Datum(code=int(row["code"]), name=row["datum"], meaning=row["meaning"], mark=row["mark"])
        for row in csv.DictReader(text.splitlines())
    }


def datum_name(code: object) -> str | None:
    """Short name of the datum of this code; None where the code is absent or not in the list."""
    try:
        found = datums().get(int(str(code)))
    except ValueError:
        return None
    return found.name if found else None

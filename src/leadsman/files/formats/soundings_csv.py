"""Soundings as a table: latitude, longitude, and a depth below (or a height above) a datum that is named.

Columns `latitude` (or `latitude_deg`, `lat`), `longitude` (`longitude_deg`, `lon`), one of `depth_m`, `depth_ft`,
`depth_fathom` (positive down) or `height_m` (positive up); optional `uncertainty_m` (95 %) and `quality`. Remarks
before the header: `# datum: LAT`, `# surveyed: 2026-03-01`. A column `z` is refused: which way it points is not said.
"""

import math
from datetime import date
from pathlib import Path

from leadsman.files.formats.door import write_bytes
from leadsman.files.formats.records import Soundings, array
from leadsman.files.formats.tables import Table
from leadsman.files.formats.times import shortened
from leadsman.units import FATHOM, FOOT

LATITUDE = ("latitude", "latitude_deg", "lat")
LONGITUDE = ("longitude", "longitude_deg", "lon")
DEPTH = {"depth_m": 1.0, "depth_ft": FOOT, "depth_fathom": FATHOM, "height_m": -1.0}
COLUMNS = frozenset((*LATITUDE, *LONGITUDE, *DEPTH, "uncertainty_m", "quality", "z"))


def read(path: Path, *, datum: str | None = None) -> Soundings:
    """The soundings of a file; `datum` where the file does not name it; all faults at once as `InputErrors`."""
    table = Table(path, COLUMNS)
    latitude, longitude = table.needed(*LATITUDE), table.needed(*LONGITUDE)
    if table.column("z"):
        raise table.faults.stop(
            "does not say which way it points; name it depth_m (positive down) or height_m (positive up)",
            line=table.header_line, field="z",
        )  # fmt: skip
    depth = table.needed(*DEPTH)
    named = table.said("datum", datum)
    if named is None:
        raise table.faults.stop("is not named; write '# datum: LAT' (or another) before the header", field="datum")
    surveyed = _date(table)
    uncertainty = table.column("uncertainty_m")
    rows: list[tuple[float, float, float, float]] = []
    quality: list[str] = []
    for row in table.rows():
        lat = table.number(row, latitude, -90.0, 90.0, empty="is empty")
        lon = table.number(row, longitude, -180.0, 180.0, empty="is empty")
        down = table.number(
            row, depth, *_possible(DEPTH[depth]), unit=DEPTH[depth],
            empty="is empty; a missing depth is never assumed (leave the line out)",
        )  # fmt: skip
        doubt = table.number(row, uncertainty, 0.0, 100.0) if uncertainty else None
        if lat is not None and lon is not None and down is not None:
            rows.append((lat, lon, down, math.nan if doubt is None else doubt))
            quality.append(row.cells.get("quality", ""))
    table.faults.check()
    if not rows:
        raise table.faults.stop("holds no sounding")
    columns = list(zip(*rows, strict=True))
    return Soundings(
        latitude=array(columns[0]),
        longitude=array(columns[1]),
        depth=array(columns[2]),
        datum=named,
        uncertainty=array(columns[3]) if uncertainty else None,
        quality=tuple(quality) if "quality" in table.header else (),
        surveyed=surveyed,
        notes=tuple(table.notes),
    )


def _possible(unit: float) -> tuple[float, float]:
    """Least and greatest number in a column of this unit: 50 m above the datum to 12 000 m below it."""
    low, high = sorted((-50.0 / unit, 12_000.0 / unit))
    return low, high


def _date(table: Table) -> date | None:
    """The date of the survey, if a remark gives one."""
    text = table.remarks.get("surveyed")
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        table.faults.add(f"'{shortened(text)}' is no date; expected one such as 2026-03-01", field="surveyed")
        return None


def write(soundings: Soundings, path: Path) -> None:
    """Write the soundings as a table that `read` takes back."""
    lines = [f"# datum: {soundings.datum}"]
    if soundings.surveyed is not None:
        lines.append(f"# surveyed: {soundings.surveyed.isoformat()}")
    header = ["latitude", "longitude", "depth_m"]
    header += ["uncertainty_m"] if soundings.uncertainty is not None else []
    header += ["quality"] if soundings.quality else []
    lines.append(",".join(header))
    for index in range(len(soundings.depth)):
        cells = [repr(float(c[index])) for c in (soundings.latitude, soundings.longitude, soundings.depth)]
        if soundings.uncertainty is not None:
            doubt = float(soundings.uncertainty[index])
            cells.append(repr(doubt) if math.isfinite(doubt) else "")
        if soundings.quality:
            cells.append(quoted(soundings.quality[index]))
        lines.append(",".join(cells))
    write_bytes(path, ("\n".join(lines) + "\n").encode())


def quoted(text: str) -> str:
    """A text as one cell on one line."""
    flat = " ".join(text.split())
    return '"' + flat.replace('"', '""') + '"' if any(mark in flat for mark in ',;"#') else flat

"""The water against the outside world as `make validate` runs it: writes docs/validation/water.md."""

import csv
import io
import math
import sys
import tempfile
import tomllib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pyogrio
from astral import Observer
from astral.sun import dusk, sunrise
from pyproj import Geod

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "builders"))

from small_port import write_sources

from leadsman.environment.prediction import predicted, turning_points
from leadsman.files.call_files import read_call
from leadsman.files.export_call import ExportFormat, export
from leadsman.files.formats import s57
from leadsman.files.formats.route_files import distance_between
from leadsman.geometry import LocalPlane, Position
from leadsman.physics import sun
from leadsman.station import TideStation
from leadsman.units import DEGREE, MINUTE

HEAD = """# Tides, light, positions and formats against the outside world

Made by `make validate`.
"""
NOWHERE = Position(0.0, 0.0)


def main() -> None:
    text = "\n".join([HEAD, tables(), light(), positions(), formats()])
    (ROOT / "docs/validation/water.md").write_text(text)


def boston() -> TideStation:
    station = tomllib.loads((ROOT / "authorities/noaa_boston/station.toml").read_text())
    return TideStation(
        name="Boston",
        position=NOWHERE,
        mean_level=station["mean_level_m"],
        constituents=tuple((name, height, lag * DEGREE) for name, (height, lag) in station["constituents"].items()),
    )


def tables() -> str:
    """What a table of high and low waters alone is worth against the published hourly heights it belongs to."""
    rows = list(csv.DictReader((ROOT / "authorities/noaa_boston/turning_points.csv").open()))
    table = TideStation(
        name="Boston", position=NOWHERE, table=tuple((utc(row["time"]), float(row["level_m"])) for row in rows)
    )
    first, last = table.table[0][0], table.table[-1][0]
    time = np.arange(first, last, 6.0 * MINUTE)
    lacking = predicted(table, time)[0] - predicted(boston(), time)[0]
    own = turning_points(boston(), moment(first - 60.0), moment(last + 60.0))
    every = np.arange(first - 3600.0, last + 3600.0, 600.0)
    rows_of_series = tuple(zip(every.tolist(), predicted(boston(), every)[0].tolist(), strict=True))
    series = TideStation(name="Boston", position=NOWHERE, series=rows_of_series)
    through = predicted(series, time)[0] - predicted(boston(), time)[0]
    return f"""
## What a tide table and a series are worth

Boston, NOAA 8443970, high and low waters as published (seen), {len(rows)} of them, {(last - first) / 86400.0:.1f} days; half a cosine
between them against the harmonic tide, which keeps within 3 mm of the published heights (../validation.md).

| given | rms | greatest |
|---|---|---|
| high and low waters, half a cosine between | {rms(lacking) * 100:.1f} cm | {np.abs(lacking).max() * 100:.1f} cm |
| a series of ten minutes, a monotone cubic between | {rms(through) * 1000:.1f} mm | {np.abs(through).max() * 1000:.1f} mm |

The sheet found 5.6 cm rms and 16.7 cm for the half cosine at Boston over one week (computed there by another program). A
level from a table alone therefore carries a standard deviation of 9 cm here, against 5 cm from constants. Constants and
predictions of other stations than Boston are not in the sheet, so no other station was compared. {len(own.time)} turning points.
"""


def light() -> str:
    """Sunrise and the end of civil twilight against astral."""
    apart = []
    for latitude in (-45.0, -31.5, 0.0, 20.0, 51.0):
        for day in range(0, 365, 20):
            noon = datetime(2031, 1, 1, 12, tzinfo=UTC) + timedelta(days=day)
            place = Observer(latitude, -17.5, 0.0)
            where = noon.timestamp(), latitude * DEGREE, -17.5 * DEGREE
            rise, _ = sun.crossings(*where)
            _, dark = sun.crossings(*where, sun.CIVIL_TWILIGHT)
            apart += [rise - sunrise(place, noon.date()).timestamp(), dark - dusk(place, noon.date()).timestamp()]
    return f"""
## Sun

Sunrise and the end of civil twilight at five latitudes from 45 S to 51 N, every twentieth day of 2031, against astral, a
library for that purpose with an algorithm of the same family: {len(apart)} moments, rms {rms(apart):.0f} s, greatest {max(map(abs, apart)):.0f} s. No
general astronomy library with an ephemeris is among the dependencies, so none was asked.
"""


def positions() -> str:
    """The local plane and distances against GeographicLib's algorithm in PROJ."""
    geod, origin = Geod(ellps="WGS84"), Position(-31.5, -17.5)
    plane = LocalPlane(origin)
    worst = 0.0
    for bearing in range(0, 360, 30):
        for reach in (5_000.0, 18_000.0):
            longitude, latitude, _ = geod.fwd(origin.longitude, origin.latitude, bearing, reach)
            there_longitude, there_latitude, _ = geod.fwd(longitude, latitude, bearing + 40.0, 1_700.0)
            x, y = plane.to_plane([latitude, there_latitude], [longitude, there_longitude])
            worst = max(worst, abs(math.hypot(x[1] - x[0], y[1] - y[0]) - 1_700.0))
    apart = distance_between(origin, Position(-31.0, -17.0)) - geod.inv(-17.5, -31.5, -17.0, -31.0)[2]
    return f"""
## Positions

Legs of 1 700 m in twelve directions, 5 and 18 km from the origin of the plane, against the geodesic (GeographicLib's
algorithm, in PROJ): greatest difference {worst * 1000:.1f} mm. Distances between positions are that algorithm's own ({apart:.0f} m apart).
"""


def formats() -> str:
    """Exports opened by GDAL, and a cell of our own read by GDAL."""
    call = read_call(ROOT / "examples/1-river-coaster")
    lines = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for to, file in (
            (ExportFormat.GPX, "a.gpx"),
            (ExportFormat.GEOJSON, "a.geojson"),
            (ExportFormat.GEOPACKAGE, "a.gpkg"),
        ):
            export(call, to, folder / file)
            counts = {
                str(layer): pyogrio.read_info(folder / file, layer=str(layer), force_feature_count=True)["features"]
                for layer, _ in pyogrio.list_layers(folder / file)
            }
            told = ", ".join(f"{layer} {count}" for layer, count in counts.items() if count)
            lines.append(f"| {to} | {told} |")
        cell = s57.read(write_sources(folder)["chart"])
    buffer = io.StringIO()
    print("\n".join(lines), file=buffer)
    return f"""
## Formats

Example 1 exported and opened by GDAL {pyogrio.__gdal_version_string__}, layers and features found:

| format | opened |
|---|---|
{buffer.getvalue().rstrip()}

RTZ files are held against a schema in our own words after the published one (in the tests). GDAL reads our invented S-57
cell with {len(cell.features)} objects; writer and tests have one author, and no cell of an office was read.
"""


def moment(time: float) -> datetime:
    return datetime.fromtimestamp(time, UTC)


def utc(text: str) -> float:
    return datetime.fromisoformat(text.replace("Z", "")).replace(tzinfo=UTC).timestamp()


def rms(values: object) -> float:
    return float(np.sqrt(np.mean(np.square(np.asarray(values, dtype=float)))))


if __name__ == "__main__":
    main()

"""One small, sound, invented file of each foreign format, with its reader: what fuzzing begins with."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
import s100_files
import shapely
from pyais import encode_dict
from s57_cell import AREA, Cell

from leadsman.files.formats import (
    ais,
    geojson,
    geopackage,
    gpx,
    map_features,
    rtz,
    rtz_writing,
    s57,
    s102,
    s104,
    s111,
    soundings_csv,
    tide_csv,
    waterway_draft,
)
from leadsman.files.formats.draft_files import files_of
from leadsman.files.formats.gpx import GpxContent
from leadsman.files.formats.records import (
    Extension,
    MapFeature,
    Route,
    RouteLeg,
    RouteSchedule,
    RouteWaypoint,
    ScheduleEntry,
    Soundings,
    array,
)
from leadsman.files.formats.survey_areas import areas_of_grid
from leadsman.geometry import Position
from leadsman.sailed import SailedTrack

START = datetime(2026, 8, 15, 5, 28, tzinfo=UTC)


@dataclass(frozen=True)
class Sample:
    """A sound file, and how it is read."""

    path: Path
    read: Callable[[Path], Any]
    isolated: bool
    """Whether its reader starts a process of its own."""


def route() -> Route:
    leg = RouteLeg(geometry="Loxodrome", cross_track_limit_port=74.0, speed_max=5.0, texts={"legNote1": "x"})
    kept = Extension(
        manufacturer="Nobody", name="x", xml='<extension manufacturer="Nobody" name="x"><a>1</a></extension>'
    )
    points = tuple(
        RouteWaypoint(
            identifier=i, position=Position(-30.5 + 0.05 * i, -120.2), name=f"W{i}", turn_radius=500.0, leg=leg
        )
        for i in range(4)
    )
    entry = ScheduleEntry(waypoint=1, arrival=START, speed=4.0)
    schedule = RouteSchedule(identifier=1, manual=(entry,))
    return Route(name="Inward", waypoints=points, schedules=(schedule,), extensions={"route": (kept,)})


def track() -> SailedTrack:
    return SailedTrack(
        name="Invented", start=START, elapsed=array([0.0, 10.0, 20.5]), latitude=array([-30.5, -30.4995, -30.499]),
        longitude=array([-120.25, -120.2499, -120.2495]), speed_over_ground=array([4.0, 4.1, 4.2]),
    )  # fmt: skip


def cell() -> Cell:
    made = Cell()
    ring = [(0.0, 0.0), (0.0, 0.1), (0.1, 0.1), (0.1, 0.0)]
    hole = [(0.04, 0.04), (0.04, 0.06), (0.06, 0.06), (0.06, 0.04)]
    made.area("DEPARE", ring, [hole], DRVAL1=5, DRVAL2=10, QUASOU="6,10")
    south, north = made.node(0.2, 0.2), made.node(0.4, 0.2)
    edges = [made.edge(south, north), made.edge(north, south, [(0.4, 0.4), (0.2, 0.4)])]
    made.feature("DRGARE", AREA, [(edge, 1, 1) for edge in edges], {"DRVAL1": 9}, related=[1, 2])
    made.line("BRIDGE", [(0.0, 0.0), (0.05, 0.05), (0.1, 0.1)], VERCLR=31.5, CATBRG="5", OBJNAM="Bridge")
    made.point("OBSTRN", 0.03, 0.03, VALSOU=4.2, WATLEV=3)
    made.point("BOYLAT", 0.02, 0.02, BOYSHP=2, CATLAM=1, COLOUR="3", OBJNAM="No 1")
    made.soundings([(0.05, 0.05, 12.3), (0.05, 0.06, -1.4)], QUASOU="6")
    made.area("M_QUAL", ring, CATZOC=3)
    return made


def log() -> str:
    lines = []
    for number in range(4):
        position = {
            "type": 1,
            "mmsi": 999000001 + number % 2,
            "lat": -30.5,
            "lon": -120.2,
            "speed": 9.0,
            "course": 45.0,
        }
        lines.append(f"2026-08-15T05:28:{number:02d}Z {encode_dict(position, sentence_type='VDM')[0]}")
    static = encode_dict(
        {"type": 5, "mmsi": 999000001, "shipname": "INVENTED", "to_bow": 90}, sentence_type="VDM", seq_id=1
    )
    return "\n".join(
        [*lines, *static, "$GPRMC,052800.50,A,3030.000,S,12015.000,W,9.3,045.1,150826,,,A*5E", "$HEHDT,044.0,T*2A"]
    )


def read_and_draft(path: Path) -> Any:
    """A cell, a draft of it, and its files: whatever is read must also be fit to be used."""
    return files_of(waterway_draft.draft(s57.read(path)), name="Invented")


def read_and_join(path: Path) -> Any:
    """Grids of depths, and the depth areas they become."""
    return [areas_of_grid(grid) for grid in s102.read(path)]


def read_features(read: Callable[[Path], tuple[MapFeature, ...]]) -> Callable[[Path], Any]:
    def every_way(path: Path) -> Any:
        features = read(path)
        return map_features.routes(features), map_features.tracks(features), map_features.soundings(features)

    return every_way


def write_samples(folder: Path) -> dict[str, Sample]:
    """Write one file of each format into a folder."""
    soundings = Soundings(
        latitude=array([-30.5]), longitude=array([-120.2]), depth=array([12.3]), datum="LAT", quality=("6",)
    )
    area = MapFeature(geometry=shapely.box(-120.3, -30.6, -120.1, -30.4), properties={"depth_m": 5.0}, layer="areas")
    features = [
        *map_features.of_route(route()),
        *map_features.of_track(track()),
        *map_features.of_soundings(soundings),
        area,
    ]
    rtz_writing.write(route(), folder / "a.rtz")
    gpx.write(GpxContent(routes=(route(),), tracks=(track(),)), folder / "a.gpx")
    geojson.write(features, folder / "a.geojson")
    geopackage.write(features, folder / "a.gpkg")
    soundings_csv.write(soundings, folder / "soundings.csv")
    (folder / "tide.csv").write_text(
        "# station: Roads\n# datum: LAT\n# zone: +01:00\n# latitude: -30.5\n# longitude: -120\ntime,height_m,kind\n"
        "2026-08-15T06:28,5.1,HW\n2026-08-15T12:40,0.8,LW\n2026-08-15T18:50,5.3,HW\n"
    )
    (folder / "gauge.csv").write_text(
        "# datum: LAT\n# kind: observed\ntime_utc;level_m\n2026-08-15T06:00;1,25\n2026-08-15T06:10;\n2026-08-15T06:20;1,31\n"
    )
    (folder / "log.txt").write_text(log())
    cell().write(folder / "XX5DEMO1.000")
    rows, trend = [[1.0, 1.1, 1.2], [1.3, 1.4, -9999.0]], np.ones((2, 3))
    times = ("20260815T052800Z", "20260815T053800Z")
    s100_files.grids(folder / "levels.h5", 104, "WaterLevel", s100_files.LEVEL, [(rows, trend, trend)] * 2, times=times)
    s100_files.grids(folder / "streams.h5", 111, "SurfaceCurrent", s100_files.STREAM, [(trend, rows)], times=times)
    s100_files.grids(
        folder / "depths.h5", 102, "BathymetryCoverage", s100_files.DEPTH, [(trend * 5.0, trend)], edition="3.0"
    )
    s100_files.stations(
        folder / "stations.h5",
        104,
        "WaterLevel",
        s100_files.LEVEL,
        [("A", -30.5, -120.2, ([1.0, 1.1], [1, 1], [0.1, 0.1]))],
    )
    return {
        "RTZ": Sample(folder / "a.rtz", rtz.read, False),
        "GPX": Sample(folder / "a.gpx", gpx.read, False),
        "GeoJSON": Sample(folder / "a.geojson", read_features(geojson.read), False),
        "soundings CSV": Sample(folder / "soundings.csv", soundings_csv.read, False),
        "tide CSV": Sample(folder / "tide.csv", tide_csv.read_high_low, False),
        "gauge CSV": Sample(folder / "gauge.csv", tide_csv.read_series, False),
        "AIS log": Sample(folder / "log.txt", ais.read, False),
        "S-57": Sample(folder / "XX5DEMO1.000", read_and_draft, True),
        "GeoPackage": Sample(folder / "a.gpkg", read_features(geopackage.read), True),
        "S-104": Sample(folder / "levels.h5", s104.read, True),
        "S-104 stations": Sample(folder / "stations.h5", s104.read, True),
        "S-111": Sample(folder / "streams.h5", s111.read, True),
        "S-102": Sample(folder / "depths.h5", read_and_join, True),
    }

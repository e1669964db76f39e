"""The papers of example 2 as a handler has them before there is a call: chart cell, tide table, track.

`python tests/builders/bar_papers.py` writes `examples/papers-of-a-bar` anew. The cell carries the depth areas with the
accuracy of their survey (SOUACC), the fairway, the berth and the marks; the table is of the bar's tide station alone.
A chart has no siltation, no second tide, no streams and no local rules: those are on other papers.
"""

import sys
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from s57_cell import Cell

from leadsman.environment.prediction import turning_points
from leadsman.files.call_files import read_call
from leadsman.files.export_call import ExportFormat, export
from leadsman.geometry import Position
from leadsman.portcall import PortCall

EXAMPLES = Path(__file__).parents[2] / "examples"
CALL = EXAMPLES / "2-bar-bulk-carrier"
SHIP = CALL / "ship.toml"
PAPERS = EXAMPLES / "papers-of-a-bar"
CELL = "XX5PELLI.000"
FIRST, LAST = datetime(2031, 3, 7, tzinfo=UTC), datetime(2031, 3, 21, tzinfo=UTC)
STATION = "Pellisand Bar"
SIDES = {"port": {"CATLAM": "1", "COLOUR": "3"}, "starboard": {"CATLAM": "2", "COLOUR": "4"}}


def places(ring: tuple[Position, ...]) -> list[tuple[float, float]]:
    return [(place.latitude, place.longitude) for place in ring]


def chart(call: PortCall) -> Cell:
    """The cell: depth areas, berth, marks; sounding datum LAT."""
    waterway = call.waterway
    cell = Cell("XX5PELLI", scale=12_000, vertical_datum=30, sounding_datum=23)
    for area in waterway.areas:
        assert area.depth is not None
        cell.area("DEPARE", places(area.ring), DRVAL1=area.depth, SOUACC=area.uncertainty)
    for berth in waterway.berths:
        ends = [(place.latitude, place.longitude) for place in (berth.begin, berth.end)]
        cell.line("BERTHS", ends, OBJNAM=berth.name, DRVAL1=berth.depth)
    for mark in waterway.marks:
        kind = {"buoy": "BOYLAT", "beacon": "BCNLAT"}.get(mark.kind)
        if kind:
            side = next((more for side, more in SIDES.items() if mark.name.endswith(side)), {})
            cell.point(kind, mark.position.latitude, mark.position.longitude, OBJNAM=mark.name, **side)
    corners = [place for area in waterway.areas for place in area.ring]
    south, north = min(p.latitude for p in corners), max(p.latitude for p in corners)
    west, east = min(p.longitude for p in corners), max(p.longitude for p in corners)
    cell.area("M_COVR", [(south, west), (south, east), (north, east), (north, west)], CATCOV=1)
    return cell


def tides(call: PortCall) -> str:
    """High and low waters of the bar, to the minute and the centimetre, as a tide table prints them."""
    station = next(one for one in call.waterway.tide_stations if one.name == STATION)
    points = turning_points(station, FIRST, LAST)
    rows = [
        f"{datetime.fromtimestamp(round(time / 60) * 60, UTC):%Y-%m-%dT%H:%MZ},{level:.2f}"
        for time, level in zip(points.time.tolist(), points.level.tolist(), strict=True)
    ]
    head = [
        f"# station: {station.name}",
        "# datum: LAT",
        f"# latitude: {station.position.latitude}",
        f"# longitude: {station.position.longitude}",
        "time,height_m",
    ]
    return "\n".join([*head, *rows]) + "\n"


def write_papers(folder: Path) -> dict[str, Path]:
    """Chart, tide table and track, by what each is for."""
    call = read_call(CALL)
    (folder / "tides.csv").write_text(tides(call))
    export(call, ExportFormat.RTZ, folder / "inward.rtz")
    return {
        "chart": chart(call).write(folder / CELL),
        "tide": folder / "tides.csv",
        "route": folder / "inward.rtz",
    }


if __name__ == "__main__":
    PAPERS.mkdir(exist_ok=True)
    write_papers(PAPERS)

"""An invented harbour as files of others: a chart cell, a table of tides, a route, a card, and the answers that are asked.

A channel 200 m wide runs 4 km northward about east = 500 m, under one bridge, to Grain Quay on its eastern side.
"""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from s57_cell import Cell

from leadsman.files.formats import rtz_writing
from leadsman.files.formats.records import Route, RouteWaypoint
from leadsman.geometry import Position

SOUTH, WEST = -30.5, -120.5  # mid-ocean, invented
NORTH_M = 1.0 / 110_860.0  # degrees a metre northward at 30.5 south: meridian arc, WGS 84 (within 0.1 %)
EAST_M = 1.0 / 95_980.0  # degrees a metre eastward there
SHIP = Path(__file__).parents[2] / "examples/1-river-coaster/ship.toml"
FIRST_HIGH_WATER = datetime(2031, 5, 4, 0, 10, tzinfo=UTC)

ANSWERS = {
    "berth": "Grain Quay",
    "side_to": "starboard",
    "start": "2031-05-05T10:00Z",
    "speed_kn": "6",
    "channel": "open",
    "siltation_m": "0",
    "HAT_above_chart_datum_m": "5.9",
    "underkeel_m": "0.6",
    "underkeel_percent_of_draught": "10",
    "overhead_m": "1.5",
    "residual_m": "0",
    "residual_low_m": "-0.2",
    "residual_high_m": "0.2",
    "forecast_issued": "2031-05-05T08:00Z",
    "forecast_source": "the port's gauge",
}


def at(north: float, east: float) -> tuple[float, float]:
    """(latitude, longitude) so many metres from the corner of the invented water."""
    return SOUTH + north * NORTH_M, WEST + east * EAST_M


def box(south: float, west: float, north: float, east: float) -> list[tuple[float, float]]:
    return [at(south, west), at(south, east), at(north, east), at(north, west)]


def harbour(*, recommended_track: bool = True) -> Cell:
    """The cell, with a bridge of known height and one that stands far off."""
    cell = Cell("XX5HARBR", scale=8_000, vertical_datum=30, sounding_datum=23)
    cell.area("DEPARE", box(-200, 400, 4000, 600), DRVAL1=8.0, DRVAL2=12.0)
    cell.area("DEPARE", box(-200, 0, 4000, 400), DRVAL1=2.0, DRVAL2=5.0)
    cell.area("LNDARE", box(-200, 600, 4000, 1000), OBJNAM="East Bank")
    cell.area("FAIRWY", box(-200, 420, 4000, 590), OBJNAM="Harbour Channel", DRVAL1=8.0, ORIENT=0)
    cell.line("BRIDGE", [at(1000, 300), at(1000, 700)], CATBRG="1", VERCLR=35.0, OBJNAM="Harbour Bridge")
    cell.line("BRIDGE", [at(1000, -900), at(1400, -900)], CATBRG="1", VERCLR=5.0, OBJNAM="Bridge over the Backwater")
    cell.line("BERTHS", [at(3500, 595), at(3700, 595)], OBJNAM="Grain Quay", DRVAL1=9.5)
    cell.point("BERTHS", *at(3600, 400), OBJNAM="West Dolphin")
    cell.point("MORFAC", *at(3600, 595), CATMOR=1)
    cell.point("BOYLAT", *at(100, 420), CATLAM=1, COLOUR="3", OBJNAM="No 1")
    if recommended_track:
        cell.line("RECTRC", [at(2000, 505), at(1000, 502), at(0, 500)], ORIENT=180, TRAFIC=4)
        cell.line("RECTRC", [at(2000, 505), at(2800, 507), at(3600, 550)], ORIENT=0, TRAFIC=4)
    cell.area("M_QUAL", box(-300, -100, 4100, 1100), CATZOC=2)
    cell.area("M_COVR", box(-300, -100, 4100, 1100), CATCOV=1)
    return cell


def route(*, radius: float | None = 400.0) -> Route:
    """Inward, with one bend."""
    places = [(0, 500), (2800, 507), (3600, 540)]
    points = [
        RouteWaypoint(identifier=number, position=Position(*at(*place)), turn_radius=radius)
        for number, place in enumerate(places, start=1)
    ]
    return Route(name="inward", waypoints=tuple(points))


def tide_table(days: int = 6, *, datum: str = "LAT") -> str:
    """High waters of 4.5 m and low waters of 0.8 m, 6 h 12 min apart."""
    lines = [
        "# station: Invented Roads",
        f"# datum: {datum}",
        "# latitude: -30.49",
        "# longitude: -120.495",
        "time,height_m",
    ]
    step = timedelta(hours=6, minutes=12)
    for k in range(int(timedelta(days=days) / step) + 1):
        lines.append(f"{FIRST_HIGH_WATER + k * step:%Y-%m-%dT%H:%MZ},{4.5 if k % 2 == 0 else 0.8}")
    return "\n".join(lines) + "\n"


def write_sources(folder: Path, *, recommended_track: bool = True) -> dict[str, Path]:
    """Chart, tide table, ship card and route, by what each is for."""
    (folder / "tides.csv").write_text(tide_table())
    rtz_writing.write(route(), folder / "inward.rtz")
    (folder / "ship.toml").write_bytes(SHIP.read_bytes())
    chart = harbour(recommended_track=recommended_track).write(folder / "XX5HARBR.000")
    return {"chart": chart, "tide": folder / "tides.csv", "ship": folder / "ship.toml", "route": folder / "inward.rtz"}

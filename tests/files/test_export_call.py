"""A call written for other programs, and opened by a general reader."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pyogrio
import pytest
import shapely
import xmlschema

from leadsman.files.call_files import read_call
from leadsman.files.export_call import ExportFormat, Passed, export, features_of, route_of
from leadsman.files.formats import rtz
from leadsman.files.formats.route_files import distance_between, read_routes
from leadsman.portcall import Direction
from leadsman.units import KNOT

HERE = Path(__file__).parent
CALL = read_call(HERE.parents[1] / "examples/1-river-coaster")
START = datetime(2031, 5, 6, 14, 12, tzinfo=UTC)
PASSED = [Passed(time=START)] + [
    Passed(time=START + timedelta(minutes=10 * k), speed=6.0 * KNOT) for k in range(1, len(CALL.waterway.waypoints))
]
SCHEMA = xmlschema.XMLSchema(HERE / "formats/rtz_1_2.xsd")  # in our own words, after [RTZ12Schema]


def test_an_rtz_file_keeps_to_the_schema_and_comes_back(tmp_path: Path) -> None:
    export(CALL, ExportFormat.RTZ, tmp_path / "out.rtz", PASSED)
    SCHEMA.validate(tmp_path / "out.rtz")
    found = rtz.read(tmp_path / "out.rtz")
    assert found.name == CALL.name
    for ours, theirs in zip(CALL.waterway.waypoints, found.waypoints, strict=True):
        assert distance_between(ours.position, theirs.position) < 0.05
        assert theirs.turn_radius == pytest.approx(ours.bend_radius)
    leg = found.waypoints[3].leg
    reach = CALL.waterway.reaches[2]
    assert leg is not None
    assert (leg.cross_track_limit_port, leg.speed_max) == pytest.approx((reach.width_port, reach.maximum_speed))
    assert [entry.arrival for entry in found.schedules[0].calculated] == [at.time for at in PASSED]


def test_outward_the_track_runs_the_other_way() -> None:
    outward = route_of(replace(CALL, direction=Direction.OUTWARD))
    assert [point.name for point in outward.waypoints] == [point.name for point in CALL.waterway.waypoints[::-1]]
    leg = outward.waypoints[1].leg
    assert leg is not None
    assert leg.cross_track_limit_port == CALL.waterway.reaches[-1].width_starboard


@pytest.mark.parametrize(
    ("to", "name", "layers"),
    [
        (ExportFormat.GEOPACKAGE, "out.gpkg", {"route", "waypoints", "depth_areas", "gate", "berth", "mark", "basin",
                                               "tide_station", "stream_station"}),
        (ExportFormat.GPX, "out.gpx", {"routes", "route_points", "waypoints"}),
        (ExportFormat.GEOJSON, "out.geojson", {"out"}),
    ],
)  # fmt: skip
def test_a_general_reader_opens_it(to: ExportFormat, name: str, layers: set[str], tmp_path: Path) -> None:
    """GDAL, by pyogrio: layers, how many features, and where the first waypoint lies."""
    path = tmp_path / name
    export(CALL, to, path, PASSED)
    found = {
        str(layer): pyogrio.read_info(path, layer=str(layer), force_feature_count=True)["features"]
        for layer, _ in pyogrio.list_layers(path)
    }
    assert {layer for layer, count in found.items() if count} == layers
    if to is ExportFormat.GEOJSON:
        assert found["out"] == len(features_of(CALL, PASSED))
        return
    places = pyogrio.raw.read(path, layer="waypoints" if to is ExportFormat.GEOPACKAGE else "route_points")[2]
    assert len(places) == len(CALL.waterway.waypoints)
    first = shapely.from_wkb(places[0])
    origin = CALL.waterway.waypoints[0].position
    assert (first.y, first.x) == pytest.approx((origin.latitude, origin.longitude))


@pytest.mark.parametrize("to", [ExportFormat.GPX, ExportFormat.GEOJSON, ExportFormat.GEOPACKAGE])
def test_the_route_comes_back(to: ExportFormat, tmp_path: Path) -> None:
    export(CALL, to, tmp_path / "out", PASSED)
    routes = read_routes(tmp_path / "out")
    route = routes[CALL.name]
    assert [point.name for point in route.waypoints] == [point.name for point in CALL.waterway.waypoints]


def test_a_table_of_waypoints(tmp_path: Path) -> None:
    export(CALL, ExportFormat.CSV, tmp_path / "out.csv", PASSED)
    lines = (tmp_path / "out.csv").read_text().splitlines()
    assert lines[1] == "1,Ambry Roads,-31.5541050,-17.5463410,,,,2031-05-06T14:12:00Z,"
    assert lines[2] == "2,Bar Buoy,-31.5357530,-17.5329400,1500.00,250.00,250.00,2031-05-06T14:22:00Z,6.00"
    export(CALL, ExportFormat.CSV, tmp_path / "plain.csv")
    assert (tmp_path / "plain.csv").read_text().splitlines()[2].endswith("250.00,250.00,,")

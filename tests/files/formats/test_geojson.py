"""GeoJSON and the map features it carries; independent party: GDAL."""

import json
from pathlib import Path

import hypothesis.strategies as st
import numpy as np
import pyogrio
import pytest
import shapely
from hypothesis import given, settings
from sample_records import EASTWARD, ROUTE, SOUNDINGS, TRACK

from leadsman.errors import Impossible, InputErrors
from leadsman.files.formats import geojson, map_features
from leadsman.files.formats.records import MapFeature
from leadsman.geometry import Position


def test_route_comes_back(tmp_path: Path) -> None:
    geojson.write(map_features.of_route(ROUTE), tmp_path / "route.geojson")
    (again,) = map_features.routes(geojson.read(tmp_path / "route.geojson"))
    assert again.name == ROUTE.name
    assert [w.identifier for w in again.waypoints] == [4, 2, 9]
    assert [w.position for w in again.waypoints] == [w.position for w in ROUTE.waypoints]
    assert [w.name for w in again.waypoints] == [w.name for w in ROUTE.waypoints]
    assert again.waypoints[1].turn_radius == 926.0
    assert again.waypoints[0].leg is None
    leg = again.waypoints[1].leg
    assert leg is not None
    assert (leg.geometry, leg.cross_track_limit_port) == ("Loxodrome", 74.08)
    assert leg.speed_max == pytest.approx(5.0)


def test_track_comes_back(tmp_path: Path) -> None:
    geojson.write(map_features.of_track(TRACK), tmp_path / "track.geojson")
    (again,) = map_features.tracks(geojson.read(tmp_path / "track.geojson"))
    assert (again.name, again.identifier, again.start) == (TRACK.name, TRACK.identifier, TRACK.start)
    for name in ("elapsed", "latitude", "longitude", "speed_over_ground", "course"):
        np.testing.assert_allclose(getattr(again, name), getattr(TRACK, name), rtol=1e-12)
    assert again.heading is None


def test_soundings_come_back(tmp_path: Path) -> None:
    geojson.write(map_features.of_soundings(SOUNDINGS), tmp_path / "soundings.geojson")
    again = map_features.soundings(geojson.read(tmp_path / "soundings.geojson"))
    assert again is not None
    np.testing.assert_array_equal(again.depth, SOUNDINGS.depth)
    np.testing.assert_array_equal(again.uncertainty, SOUNDINGS.uncertainty)
    assert (again.datum, again.quality) == ("LAT", ("6", ""))


def test_gdal_reads_the_same(tmp_path: Path) -> None:
    geojson.write(map_features.of_route(ROUTE), tmp_path / "route.geojson")
    meta, _, geometry, _ = pyogrio.raw.read(tmp_path / "route.geojson")
    assert meta["crs"] in ("EPSG:4326", "OGC:CRS84")
    expected = [(w.position.longitude, w.position.latitude) for w in ROUTE.waypoints]
    np.testing.assert_allclose(shapely.get_coordinates(shapely.from_wkb(geometry[0])), expected)


def test_a_line_over_the_antimeridian_is_cut(tmp_path: Path) -> None:
    """RFC 7946, section 3.1.9; by hand: half way between 10 and 12 degrees north."""
    line = map_features.of_route(EASTWARD)[0].geometry
    assert line.wkt == "MULTILINESTRING ((179 10, 180 11), (-180 11, -179 12))"


@given(st.floats(90.0, 179.99), st.floats(-179.99, -90.0), st.booleans())
@settings(max_examples=50, deadline=None)
def test_cut_lines_stay_on_earth(east: float, west: float, back: bool) -> None:
    line = map_features.cut_line([east, west] if not back else [west, east], [0.0, 10.0])
    short = 360.0 - east + west
    assert np.all(np.abs(shapely.get_coordinates(line)[:, 0]) <= 180.0)
    assert sum(part.bounds[2] - part.bounds[0] for part in shapely.get_parts(line)) == pytest.approx(
        min(short, 360 - short)
    )


def test_rings_follow_the_right_hand_rule() -> None:
    """RFC 7946, section 3.1.6: outer rings counter-clockwise, holes clockwise."""
    clockwise = shapely.Polygon([(0, 0), (0, 3), (3, 3), (3, 0)], [[(1, 1), (2, 1), (2, 2), (1, 2)]])
    content = json.loads(geojson.to_bytes([MapFeature(geometry=clockwise)]))
    outer, hole = content["features"][0]["geometry"]["coordinates"]
    assert shapely.LinearRing(outer).is_ccw
    assert not shapely.LinearRing(hole).is_ccw


def test_plain_line_of_another_program_is_a_route(tmp_path: Path) -> None:
    (tmp_path / "a.geojson").write_text(
        '{"type": "LineString", "coordinates": [[-120.2, -30.5], [-120.1, -30.4, 7.0]]}'
    )
    (route,) = map_features.routes(geojson.read(tmp_path / "a.geojson"))
    assert [w.position for w in route.waypoints] == [Position(-30.5, -120.2), Position(-30.4, -120.1)]


def collection(geometry: str) -> str:
    feature = f'{{"type": "Feature", "properties": null, "geometry": {geometry}}}'
    return f'{{"type": "FeatureCollection", "features": [{feature}]}}'


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[1, 2]", "is no GeoJSON"),
        ('{"type": "Topology"}', "type: is 'Topology'; expected FeatureCollection, Feature or a geometry"),
        ('{"type": "FeatureCollection"}', "features: is missing"),
        ('{"type": "FeatureCollection", "features": []}', "holds no feature"),
        ('{"type": "FeatureCollection", "features": [3]}', r"features\[0\]: is no Feature"),
        ('{"type": "FeatureCollection",\n "features": [}', "a.geojson:2: is not whole JSON"),
        (collection('{"type": "Point", "coordinates": [NaN, 0]}'), "'NaN' is no number of JSON"),
        (collection('{"type": "Point", "coordinates": [1e999, 0]}'), "expected numbers"),
        (collection('{"type": "Point", "coordinates": [true, 0]}'), "expected numbers"),
        (collection('{"type": "Point", "coordinates": ["1", 0]}'), "expected numbers"),
        (collection('{"type": "Point", "coordinates": [1]}'), r"\[1\] is no position"),
        (collection('{"type": "Point", "coordinates": [-30.5, -120.2]}'), r"features\[0\].geometry: .*swapped"),
        (collection('{"type": "Point", "coordinates": [190, 0]}'), r"\[190, 0\] is no place on earth"),
        (collection('{"type": "Circle", "coordinates": [1, 0]}'), "type 'Circle' is not taken"),
        (collection('{"type": "Polygon", "coordinates": [[[0, 0], [1, 0], [1, 1]]]}'), "a ring is not closed"),
        (collection('{"type": "LineString", "coordinates": [[0, 0]]}'), "a line has 1 positions"),
        (collection('{"type": "LineString", "coordinates": []}'), "coordinates are missing or not nested"),
        (collection('{"type": "LineString"}'), "coordinates are missing or not nested"),
        (
            '{"crs": {"properties": {"name": "EPSG:32618"}}, ' + collection("null")[1:],
            "crs: 'EPSG:32618' is not WGS 84",
        ),
        ("[" * 200_000, "nested deeper|not whole JSON"),
        ('{"type": "Point", "coordinates": [' + "9" * 5000 + ", 0]}", "is not JSON"),
    ],
)
def test_faults(tmp_path: Path, text: str, sentence: str) -> None:
    (tmp_path / "a.geojson").write_text(text)
    with pytest.raises(InputErrors, match=sentence):
        geojson.read(tmp_path / "a.geojson")


def test_text_that_is_not_utf8(tmp_path: Path) -> None:
    (tmp_path / "a.geojson").write_bytes(b'{\n"type": "\xff"}')
    with pytest.raises(InputErrors, match=r"a.geojson:2: byte 11 is not UTF-8"):
        geojson.read(tmp_path / "a.geojson")


def point(**properties: object) -> MapFeature:
    return MapFeature(geometry=shapely.Point(1.0, 2.0), properties=properties)


@pytest.mark.parametrize(
    ("features", "sentence"),
    [
        ([point(kind="waypoint", id=1, order=1)], "a route needs at least two waypoints, got 1"),
        ([point(kind="waypoint", id=1, order="x")] * 2, "order: is 'x'; expected a number"),
        ([point(kind="waypoint", id=1)] * 2, "order: is missing"),
        ([point(kind="waypoint", id=1, order=1)] * 2, "the id 1 stands twice"),
    ],
)
def test_routes_that_cannot_be(features: list[MapFeature], sentence: str) -> None:
    with pytest.raises(Impossible, match=sentence):
        map_features.routes(features)


def test_tracks_need_zones_and_order() -> None:
    with pytest.raises(Impossible, match="has no zone"):
        map_features.tracks([point(time="2026-01-01T00:00:00")])
    with pytest.raises(Impossible, match="is not in order"):
        map_features.tracks([point(time="2026-01-01T00:00:00Z")] * 2)


def test_soundings_need_one_datum() -> None:
    with pytest.raises(Impossible, match="every sounding must name the same one; found: LAT"):
        map_features.soundings([point(depth_m=1.0, datum="LAT"), point(depth_m=1.0)])
    assert map_features.soundings([point()]) is None

"""Routes from any file, turned round, and joined from the recommended tracks of a cell."""

from pathlib import Path

import pytest
import small_port
from small_port import at

from leadsman.errors import InputErrors
from leadsman.files.formats import geojson, geopackage, gpx, map_features, rtz_writing, s57
from leadsman.files.formats.gpx import GpxContent
from leadsman.files.formats.records import ChartCell, Route, RouteLeg, RouteWaypoint
from leadsman.files.formats.route_files import (
    distance_between,
    ends_at,
    read_routes,
    recommended_route,
    reversed_route,
)
from leadsman.geometry import Position

BERTH = Position(*at(3600, 595))


def test_every_format_gives_the_same_places(tmp_path: Path) -> None:
    route = small_port.route()
    rtz_writing.write(route, tmp_path / "a.rtz")
    gpx.write(GpxContent(routes=(route,)), tmp_path / "a.gpx")
    geojson.write(map_features.of_route(route), tmp_path / "a.geojson")
    geopackage.write(map_features.of_route(route), tmp_path / "a.gpkg")
    for name in ("a.rtz", "a.gpx", "a.geojson", "a.gpkg"):
        ((_, found),) = read_routes(tmp_path / name).items()
        for ours, theirs in zip(route.waypoints, found.waypoints, strict=True):
            assert distance_between(ours.position, theirs.position) < 0.05, name


def test_routes_of_one_name_are_told_apart(tmp_path: Path) -> None:
    gpx.write(GpxContent(routes=(small_port.route(), small_port.route())), tmp_path / "two.gpx")
    assert list(read_routes(tmp_path / "two.gpx")) == ["inward", "inward (2)"]


def test_a_file_without_a_route(tmp_path: Path) -> None:
    (tmp_path / "tides.csv").write_text(small_port.tide_table())
    with pytest.raises(InputErrors, match="is a table of high and low waters; expected a route as RTZ, GPX"):
        read_routes(tmp_path / "tides.csv")
    (tmp_path / "empty.geojson").write_text('{"type": "FeatureCollection", "features": []}')
    with pytest.raises(InputErrors, match="holds no"):
        read_routes(tmp_path / "empty.geojson")


def test_the_same_route_the_other_way() -> None:
    """The leg of a waypoint leads to it: by hand, the leg to B from A becomes the leg to A from B, sides exchanged."""
    leg = RouteLeg(cross_track_limit_port=50.0, cross_track_limit_starboard=80.0)
    places = [Position(*at(0, 0)), Position(*at(100, 0)), Position(*at(200, 50))]
    legs = [None, leg, None]
    points = tuple(RouteWaypoint(identifier=k, position=place, leg=legs[k]) for k, place in enumerate(places))
    back = reversed_route(Route(name="r", waypoints=points, default_waypoint=(300.0, leg)))
    assert [point.identifier for point in back.waypoints] == [2, 1, 0]
    assert [point.leg is None for point in back.waypoints] == [True, True, False]
    turned = back.waypoints[2].leg
    assert turned is not None
    assert (turned.cross_track_limit_port, turned.cross_track_limit_starboard) == (80.0, 50.0)
    assert back.default_waypoint[1] == turned
    assert [point.position for point in reversed_route(back).waypoints] == places
    assert ends_at(small_port.route(), BERTH)
    assert not ends_at(reversed_route(small_port.route()), BERTH)


def recommended(tmp_path: Path, *tracks: tuple[list[tuple[float, float]], int]) -> ChartCell:
    cell = small_port.harbour(recommended_track=False)
    for places, traffic in tracks:
        cell.line("RECTRC", [at(*place) for place in places], TRAFIC=traffic)
    return s57.read(cell.write(tmp_path / "XX5HARBR.000"))


def test_recommended_tracks_join_towards_the_berth(tmp_path: Path) -> None:
    cell = recommended(tmp_path, ([(3500, 550), (2000, 505)], 4), ([(0, 500), (2000, 505)], 4))
    route = recommended_route(cell, BERTH)
    assert route is not None
    assert [point.position.latitude for point in route.waypoints] == pytest.approx(
        [at(n, 0)[0] for n in (0, 2000, 3500)]
    )
    assert route.notes == ()


def test_tracks_apart_and_one_way_tracks(tmp_path: Path) -> None:
    far, near = ([(0, 500), (1000, 500)], 4), ([(2000, 505), (3500, 505)], 4)
    one_way = ([(3500, 505), (3600, 590)], 2)
    route = recommended_route(recommended(tmp_path, far, near, one_way), BERTH)
    assert route is not None
    assert [point.position.latitude for point in route.waypoints] == pytest.approx([at(n, 0)[0] for n in (2000, 3500)])
    assert route.notes == ("of 2 recommended tracks the one that ends nearest the berth",)
    assert recommended_route(recommended(tmp_path, one_way), BERTH) is None

"""GeoPackage; independent parties: GDAL, and SQLite which opens the file as the database it is."""

import sqlite3
from contextlib import closing
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely
from pyproj import Transformer
from sample_records import ROUTE, SOUNDINGS, TRACK

from leadsman.errors import Impossible, InputErrors
from leadsman.files.formats import geopackage, map_features
from leadsman.files.formats.isolated import Limits
from leadsman.files.formats.records import MapFeature


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("package") / "all.gpkg"
    features = [
        *map_features.of_route(ROUTE),
        *map_features.of_track(TRACK),
        *map_features.of_soundings(SOUNDINGS),
        MapFeature(geometry=shapely.box(-120.3, -30.6, -120.1, -30.4), properties={"depth_m": 5.0}, layer="areas"),
    ]
    geopackage.write(features, path)
    return path


def test_everything_comes_back(package: Path) -> None:
    features = geopackage.read(package)
    (route,) = map_features.routes(features)
    assert [(w.identifier, w.position, w.name) for w in route.waypoints] == [
        (w.identifier, w.position, w.name) for w in ROUTE.waypoints
    ]
    assert route.waypoints[1].leg is not None
    assert route.waypoints[1].leg.speed_max == pytest.approx(5.0)
    (track,) = map_features.tracks(features)
    np.testing.assert_allclose(track.speed_over_ground, TRACK.speed_over_ground)
    np.testing.assert_array_equal(track.elapsed, TRACK.elapsed)
    soundings = map_features.soundings(features)
    assert soundings is not None
    np.testing.assert_array_equal(soundings.depth, SOUNDINGS.depth)
    (area,) = [feature for feature in features if feature.layer == "areas"]
    assert area.geometry.area == pytest.approx(0.04)


def test_layers_stand_in_the_database(package: Path) -> None:
    with closing(sqlite3.connect(package)) as database:
        rows = database.execute("select table_name, srs_id from gpkg_contents").fetchall()
    assert sorted(rows) == [
        ("areas", 4326),
        ("positions", 4326),
        ("route", 4326),
        ("soundings", 4326),
        ("waypoints", 4326),
    ]


def test_nothing_else_is_left_in_the_folder(package: Path) -> None:
    assert [file.name for file in package.parent.iterdir()] == ["all.gpkg"]


def test_other_coordinates_are_brought_to_wgs84(tmp_path: Path) -> None:
    east, north = Transformer.from_crs(4326, 32710, always_xy=True).transform(-120.25, -30.5)
    write_layer(tmp_path / "utm.gpkg", shapely.Point(east, north), "EPSG:32710")
    (feature,) = geopackage.read(tmp_path / "utm.gpkg")
    assert shapely.distance(feature.geometry, shapely.Point(-120.25, -30.5)) < 1e-9


def write_layer(path: Path, geometry: object, crs: str | None) -> None:
    pyogrio.raw.write(
        str(path),
        geometry=np.array([shapely.to_wkb(geometry)], dtype=object),
        field_data=[],
        fields=np.array([], dtype=object),
        geometry_type="Point",
        crs=crs,
        driver="GPKG",
    )


@pytest.mark.filterwarnings("ignore:'crs' was not provided")
def test_a_layer_without_coordinate_system_is_refused(tmp_path: Path) -> None:
    write_layer(tmp_path / "none.gpkg", shapely.Point(1.0, 2.0), None)
    with pytest.raises(InputErrors, match=r"layer none: does not name its coordinate system|cannot be used"):
        geopackage.read(tmp_path / "none.gpkg")


def test_places_outside_the_earth(tmp_path: Path) -> None:
    write_layer(tmp_path / "off.gpkg", shapely.Point(-30.0, -120.0), "EPSG:4326")
    with pytest.raises(
        InputErrors, match=r"layer off, feature 1: lies outside the earth \(latitude and longitude swapped"
    ):
        geopackage.read(tmp_path / "off.gpkg")


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"<OGRVRTDataSource/>", "is no GeoPackage"),
        (b"SQLite format 3\x00 and then nothing", "cannot be read|holds no feature"),
        (b"", "is no GeoPackage"),
    ],
)
def test_other_files(tmp_path: Path, content: bytes, sentence: str) -> None:
    (tmp_path / "a.gpkg").write_bytes(content)
    with pytest.raises(InputErrors, match=sentence):
        geopackage.read(tmp_path / "a.gpkg")


def test_a_view_that_never_ends_is_given_up(tmp_path: Path, package: Path) -> None:
    """A database can carry work: here a view that counts without end stands in the place of a layer."""
    path = tmp_path / "endless.gpkg"
    path.write_bytes(package.read_bytes())
    with closing(sqlite3.connect(path)) as database:
        database.execute("pragma writable_schema = on")
        database.execute("pragma trusted_schema = on")
        for (trigger,) in database.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            database.execute(f'drop trigger "{trigger}"')
        database.execute("drop table areas")
        database.execute(
            "create view areas as with recursive n(fid) as (select 1 union all select fid + 1 from n)"
            " select fid, null as geom, 5.0 as depth_m from n"
        )
        database.commit()
    with pytest.raises(InputErrors, match=r"took longer than 2 s|broke its reader|memory|cannot be read"):
        geopackage.read(path, limits=Limits(seconds=2))


def test_nothing_to_write(tmp_path: Path) -> None:
    with pytest.raises(Impossible, match="there is none to write"):
        geopackage.write([], tmp_path / "a.gpkg")

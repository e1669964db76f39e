"""S-104, S-111 and S-102: values back in our units, and every refusal by name."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import h5py
import numpy as np
import pytest
import s100_files
from pyproj import Transformer
from s100_files import DEPTH, LEVEL, STREAM

from leadsman.errors import Impossible, InputErrors
from leadsman.files.formats import s102, s104, s111
from leadsman.files.formats.isolated import Limits, read_tree
from leadsman.files.formats.series import LevelKind
from leadsman.geometry import Position

TIMES = ("20260815T052800Z", "20260815T053800Z")
LOW = [[1.0, 1.1, 1.2], [1.3, 1.4, -9999.0]]
HIGH = [[2.0, 2.1, 2.2], [2.3, 2.4, -9999.0]]
TREND, DOUBT = np.full((2, 3), 2), [[0.1, 0.1, 0.1], [0.1, 0.1, -1.0]]


def levels(tmp_path: Path, **options: Any) -> Path:
    layers = [(LOW, TREND, DOUBT), (HIGH, TREND, DOUBT)]
    return s100_files.grids(tmp_path / "levels.h5", 104, "WaterLevel", LEVEL, layers, **{"times": TIMES, **options})


def streams(tmp_path: Path, speed: Any = None, direction: Any = None, **options: Any) -> Path:
    layer = (
        [[1.0, 2.0, 3.0], [0.0, 0.5, -9999.0]] if speed is None else speed,
        [[0.0, 90.0, 359.0], [10.0, 20.0, -9999.0]] if direction is None else direction,
    )
    options = {"times": TIMES[:1], **options}
    return s100_files.grids(tmp_path / "streams.h5", 111, "SurfaceCurrent", STREAM, [layer], **options)


def depths(tmp_path: Path, depth: Any = None, **options: Any) -> Path:
    layer = ([[5.0, 6.0, 7.0], [-1.5, 9.0, 1_000_000.0]] if depth is None else depth, np.full((2, 3), 0.4))
    options = {"edition": "3.0", **options}
    return s100_files.grids(tmp_path / "depths.h5", 102, "BathymetryCoverage", DEPTH, [layer], **options)


def test_levels_of_a_grid(tmp_path: Path) -> None:
    (grid,) = s104.read(levels(tmp_path, root={"dataDynamicity": 2})).grids
    assert (grid.name, grid.datum, grid.kind) == ("WaterLevel.01", "LAT", LevelKind.PREDICTED)
    assert grid.start == datetime(2026, 8, 15, 5, 28, tzinfo=UTC)
    np.testing.assert_array_equal(grid.elapsed, [0.0, 600.0])
    np.testing.assert_allclose(grid.latitude, [-30.5, -30.49])
    np.testing.assert_allclose(grid.longitude, [-120.25, -120.23, -120.21])
    np.testing.assert_allclose(grid.level[0], [[1.0, 1.1, 1.2], [1.3, 1.4, np.nan]], rtol=1e-6)
    assert grid.uncertainty is not None
    assert np.isnan(grid.uncertainty[1, 1, 2])
    series = grid.series(Position(-30.494, -120.229))  # the northern row, the middle column
    np.testing.assert_allclose(series.level, [1.4, 2.4], rtol=1e-6)
    assert series.position is not None
    assert series.position.latitude == pytest.approx(-30.49)


@pytest.mark.parametrize(
    ("place", "sentence"),
    [
        (Position(-30.49, -120.21), "holds no level at"),
        (Position(-30.4, -120.21), "latitude: -30.40000 lies outside the grid 'WaterLevel.01'"),
        (Position(-30.49, 120.0), "longitude: 120.00000 lies outside the grid"),
    ],
)
def test_places_without_a_level(tmp_path: Path, place: Position, sentence: str) -> None:
    (grid,) = s104.read(levels(tmp_path)).grids
    with pytest.raises(Impossible, match=sentence):
        grid.series(place)


def test_times_from_first_record_and_interval(tmp_path: Path) -> None:
    instance = {"dateTimeOfFirstRecord": "20260815T052800Z", "timeRecordInterval": 360}
    (grid,) = s104.read(levels(tmp_path, times=(), instance=instance)).grids
    np.testing.assert_array_equal(grid.elapsed, [0.0, 360.0])


def test_datum_of_the_instance_comes_before_the_root(tmp_path: Path) -> None:
    assert s104.read(levels(tmp_path, instance={"verticalDatum": 12})).grids[0].datum == "MLLW"


def test_a_grid_over_the_antimeridian(tmp_path: Path) -> None:
    (grid,) = s104.read(levels(tmp_path, instance={"gridOriginLongitude": 179.98})).grids
    np.testing.assert_allclose(grid.longitude, [179.98, -180.0, -179.98])
    np.testing.assert_allclose(grid.series(Position(-30.5, -179.985)).level, [1.2, 2.2], rtol=1e-6)


REFUSED_LEVELS: list[tuple[dict[str, Any], str]] = [
    ({"root": {"productSpecification": None}}, "productSpecification: is missing; expected INT.IHO.S-104.x.y"),
    ({"root": {"productSpecification": "S-104"}}, "productSpecification: is 'S-104'; expected INT.IHO.S-104.x.y"),
    ({"root": {"productSpecification": "INT.IHO.S-111.2.0"}}, "productSpecification: says S-111; expected S-104"),
    ({"edition": "7.1"}, "says edition 7.1 of S-104, which is not supported; expected 1.x and 2.x"),
    ({"coding": 8}, r"dataCodingFormat: is 8 \(fixed stations one by one\), which is not supported; expected 2"),
    ({"coding": 3}, r"dataCodingFormat: is 3 \(irregular grid\), which is not supported"),
    ({"coding": 99}, r"dataCodingFormat: is 99 \(unknown\)"),
    ({"root": {"horizontalCRS": 32710}}, "horizontalCRS: is 32710; expected EPSG 4326"),
    ({"root": {"horizontalCRS": None}}, "horizontalCRS: is None; expected EPSG 4326"),
    ({"root": {"verticalDatum": None}}, "verticalDatum: is None, which is no datum known here"),
    ({"root": {"verticalDatum": 77}}, "verticalDatum: is 77, which is no datum known here"),
    ({"root": {"verticalDatumReference": 2}}, "verticalDatumReference: is 2; expected 1"),
    ({"root": {"verticalCS": 6498}}, "verticalCS: counts downward; expected heights"),
    ({"instance": {"sequencingRule.scanDirection": "latitude,-longitude"}}, "scanDirection: is 'latitude,-longitude'"),
    ({"instance": {"startSequence": "0,1"}}, "startSequence: is '0,1'; expected '0,0'"),
    ({"instance": {"gridSpacingLatitudinal": 0.0}}, "gridSpacingLatitudinal: is 0; expected a step above zero"),
    ({"instance": {"gridSpacingLatitudinal": np.nan}}, "gridSpacingLatitudinal: is None; expected a number"),
    ({"instance": {"gridOriginLatitude": None}}, "gridOriginLatitude: is None; expected a number"),
    ({"instance": {"gridOriginLatitude": 120.0}}, "grid: goes beyond the earth's latitudes"),
    ({"instance": {"numPointsLatitudinal": 3}}, r"has the shape \(2, 3\); expected \(3, 3\)"),
    ({"instance": {"numPointsLatitudinal": 10**15}}, "numPointsLatitudinal: is 1e.15; expected 1 to 100000"),
    ({"instance": {"numPointsLatitudinal": "two"}}, "numPointsLatitudinal: is two; expected a number"),
    ({"times": ("20260815T053800Z", "20260815T052800Z")}, "timePoint: is not later than that of the group before"),
    ({"times": ("20260815T052800", "20260815T053800")}, "Group_001/timePoint: '20260815T052800' has no zone"),
    ({"times": ()}, "dateTimeOfFirstRecord: 'None' is no time"),
    (
        {"times": (), "instance": {"dateTimeOfFirstRecord": "20260815T052800Z", "timeRecordInterval": -1}},
        "timeRecordInterval: is -1; expected seconds",
    ),
]


@pytest.mark.parametrize(("options", "sentence"), REFUSED_LEVELS)
def test_levels_that_are_refused(tmp_path: Path, options: dict[str, Any], sentence: str) -> None:
    with pytest.raises(InputErrors, match=sentence):
        s104.read(levels(tmp_path, **options))


def test_levels_in_the_wrong_unit(tmp_path: Path) -> None:
    high = np.full((2, 3), 900.0)
    path = s100_files.grids(tmp_path / "cm.h5", 104, "WaterLevel", LEVEL, [(high, TREND, DOUBT)], times=TIMES[:1])
    with pytest.raises(InputErrors, match="waterLevelHeight: goes beyond 30 m; expected metres"):
        s104.read(path)
    path = levels(tmp_path)
    with h5py.File(path, "a") as file:
        rows = file["Group_F/WaterLevel"][()]
        rows["uom.name"][0] = "foot"
        file["Group_F/WaterLevel"][...] = rows
    with pytest.raises(InputErrors, match="waterLevelHeight: is in 'foot'; expected metre"):
        s104.read(path)


def test_levels_at_stations_of_an_earlier_edition(tmp_path: Path) -> None:
    rows = [("Gauge A", -30.5, -120.2, ([1.0, -9999.0, 1.2], [1, 0, 2], [0.1, -1.0, 0.1])),
            ("Gauge B", -30.4, -120.1, ([0.5, 0.6], [2, 2], [0.1, 0.1]))]  # fmt: skip
    path = s100_files.stations(tmp_path / "old.h5", 104, "WaterLevel", LEVEL, rows)
    first, second = s104.read(path).series
    assert (first.station, first.position, first.datum) == ("Gauge A", Position(-30.5, -120.2), "LAT")
    np.testing.assert_array_equal(first.elapsed, [0.0, 600.0, 1200.0])
    np.testing.assert_allclose(first.level, [1.0, np.nan, 1.2], rtol=1e-6)
    assert len(second.level) == 2
    assert "layout from memory" in first.notes[0]


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"attributes": {"timeIntervalIndex": 0}}, "has times at uneven intervals, which are not supported"),
        ({"attributes": {"startDateTime": "soon"}}, "startDateTime: 'soon' is no time"),
        ({"interval": 0.0}, "timeRecordInterval: is 0; expected seconds"),
    ],
)
def test_stations_that_are_refused(tmp_path: Path, options: dict[str, Any], sentence: str) -> None:
    rows = [("Gauge", -30.5, -120.2, ([1.0, 1.1], [1, 0], [0.1, 0.1]))]
    with pytest.raises(InputErrors, match=sentence):
        s104.read(s100_files.stations(tmp_path / "old.h5", 104, "WaterLevel", LEVEL, rows, **options))


def test_stations_swapped(tmp_path: Path) -> None:
    rows = [("Gauge", -120.2, -30.5, ([1.0], [1], [0.1]))]
    with pytest.raises(InputErrors, match=r"latitude: -120.2 is outside -90 to 90"):
        s104.read(s100_files.stations(tmp_path / "old.h5", 104, "WaterLevel", LEVEL, rows))


def test_streams_of_a_grid_are_in_knots_and_towards(tmp_path: Path) -> None:
    """Knots and degrees true, towards: reference sheet ecosystem.md, S-111 [units read]."""
    found = s111.read(streams(tmp_path, root={"surfaceCurrentDepth": -4.5}))
    (grid,) = found.grids
    np.testing.assert_allclose(grid.rate[0, 0], np.array([1.0, 2.0, 3.0]) * 1852 / 3600, rtol=1e-6)
    np.testing.assert_allclose(np.degrees(grid.towards[0, 0]), [0.0, 90.0, 359.0], rtol=1e-6)
    assert np.isnan(grid.rate[0, 1, 2])
    assert np.isnan(grid.towards[0, 1, 2])
    assert grid.notes == ("streams hold 4.5 m below the surface",)
    series = grid.series(Position(-30.5, -120.23))
    assert series.rate[0] == pytest.approx(2.0 * 1852 / 3600)
    with pytest.raises(Impossible, match="holds no stream"):
        grid.series(Position(-30.49, -120.21))


@pytest.mark.parametrize(
    ("speed", "direction", "sentence"),
    [
        (np.full((2, 3), 31.0), None, "surfaceCurrentSpeed: goes beyond 0 to 30; expected knots"),
        (np.full((2, 3), -1.0), None, "surfaceCurrentSpeed: goes beyond 0 to 30; expected knots"),
        (None, np.full((2, 3), 361.0), "surfaceCurrentDirection: goes beyond 0 to 360"),
    ],
)
def test_streams_that_are_refused(tmp_path: Path, speed: Any, direction: Any, sentence: str) -> None:
    with pytest.raises(InputErrors, match=sentence):
        s111.read(streams(tmp_path, speed, direction))


def test_streams_at_stations(tmp_path: Path) -> None:
    rows = [("Narrows", -30.5, -120.2, ([1.0, 2.0], [45.0, 225.0]))]
    (series,) = s111.read(s100_files.stations(tmp_path / "s.h5", 111, "SurfaceCurrent", STREAM, rows)).series
    np.testing.assert_allclose(np.degrees(series.towards), [45.0, 225.0])
    np.testing.assert_allclose(series.rate, np.array([1.0, 2.0]) * 1852 / 3600)


@pytest.mark.parametrize("edition", ["2.2", "3.0"])
def test_depths(tmp_path: Path, edition: str) -> None:
    (grid,) = s102.read(depths(tmp_path, edition=edition))
    assert (grid.datum, grid.crs) == ("LAT", 4326)
    np.testing.assert_array_equal(grid.depth, [[5.0, 6.0, 7.0], [-1.5, 9.0, np.nan]])
    soundings = grid.soundings()
    np.testing.assert_array_equal(soundings.depth, [5.0, 6.0, 7.0, -1.5, 9.0])
    np.testing.assert_allclose(soundings.latitude, [-30.5, -30.5, -30.5, -30.49, -30.49])
    np.testing.assert_allclose(soundings.longitude, [-120.25, -120.23, -120.21, -120.25, -120.23])
    assert soundings.uncertainty is not None
    np.testing.assert_allclose(soundings.uncertainty, 0.4, rtol=1e-6)


def test_depths_on_a_projected_grid(tmp_path: Path) -> None:
    """Positions against pyproj's own transformation of the same node."""
    east, north = Transformer.from_crs(4326, 32710, always_xy=True).transform(-120.25, -30.5)
    instance = {"gridOriginLatitude": north, "gridOriginLongitude": east, "gridSpacingLatitudinal": 10.0,
                "gridSpacingLongitudinal": 10.0}  # fmt: skip
    (grid,) = s102.read(depths(tmp_path, root={"horizontalCRS": 32710}, instance=instance))
    latitude, longitude = grid.positions()
    assert latitude[0, 0] == pytest.approx(-30.5, abs=1e-9)
    assert longitude[0, 0] == pytest.approx(-120.25, abs=1e-9)
    assert (latitude[1, 0] - latitude[0, 0]) * 110_900 == pytest.approx(10.0, rel=0.01)


@pytest.mark.parametrize(
    ("depth", "options", "sentence"),
    [
        (np.full((2, 3), -500.0), {}, "depth: goes beyond -50 to 12000 m; expected depths, positive down"),
        (np.full((2, 3), 13_000.0), {}, "depth: goes beyond -50 to 12000 m"),
        (np.full((2, 3), np.inf), {}, "depth: goes beyond -50 to 12000 m"),
        (None, {"edition": "1.0"}, "says edition 1.0 of S-102, which is not supported; expected 2.x and 3.x"),
        (None, {"root": {"horizontalCRS": 3857}}, "horizontalCRS: is 3857; expected EPSG 4326, 32601, 32602"),
        (None, {"root": {"verticalCS": 6499}}, "verticalCS: counts upward; expected depths"),
    ],
)
def test_depths_that_are_refused(tmp_path: Path, depth: Any, options: dict[str, Any], sentence: str) -> None:
    with pytest.raises(InputErrors, match=sentence):
        s102.read(depths(tmp_path, depth, **options))


def hostile(tmp_path: Path) -> tuple[Path, h5py.File]:
    path = depths(tmp_path)
    return path, h5py.File(path, "a")


def test_absurd_dimensions_are_refused_before_allocation(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        del file["BathymetryCoverage/BathymetryCoverage.01/Group_001/values"]
        place = file["BathymetryCoverage/BathymetryCoverage.01/Group_001"]
        place.create_dataset("values", shape=(10**6, 10**6), dtype=DEPTH, chunks=(1000, 1000), compression="gzip")
    assert path.stat().st_size < 100_000
    with pytest.raises(InputErrors, match=r"has the shape \(1000000, 1000000\); that is more than is read"):
        s102.read(path)


def test_values_in_other_files_and_links_are_not_followed(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        file["elsewhere"] = h5py.ExternalLink("/etc/hostname", "/")
    with pytest.raises(InputErrors, match="links 'elsewhere' to another place"):
        s102.read(path)
    path, file = hostile(tmp_path)
    with file:
        file.create_dataset("outside", shape=(4,), dtype="u1", external=[("/etc/hostname", 0, 4)])
    with pytest.raises(InputErrors, match="keeps '/outside' in another file"):
        s102.read(path)
    path, file = hostile(tmp_path)
    with file:
        layout = h5py.VirtualLayout(shape=(4,), dtype="u1")
        layout[:] = h5py.VirtualSource("/etc/hostname", "x", shape=(4,))
        file.create_virtual_dataset("virtual", layout)
    with pytest.raises(InputErrors, match="keeps '/virtual' in another file"):
        s102.read(path)


def test_groups_in_a_circle(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        file["Group_F/again"] = file["/"]
    with pytest.raises(InputErrors, match="is nested deeper than 8 groups, or in a circle"):
        s102.read(path)


def test_too_many_groups(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        for number in range(30):
            file.create_group(f"group {number}")
    with pytest.raises(InputErrors, match="holds more than 20 groups"):
        read_tree(path, limits=Limits(features=20))


def test_a_missing_feature_and_missing_values(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        del file["BathymetryCoverage/BathymetryCoverage.01/Group_001/values"]
    with pytest.raises(InputErrors, match="holds no Group_001 with values"):
        s102.read(path)
    path, file = hostile(tmp_path)
    with file:
        del file["BathymetryCoverage/BathymetryCoverage.01"]
    with pytest.raises(InputErrors, match=r"holds no BathymetryCoverage.01"):
        s102.read(path)


def test_values_of_another_shape_or_kind(tmp_path: Path) -> None:
    path, file = hostile(tmp_path)
    with file:
        del file["BathymetryCoverage/BathymetryCoverage.01/Group_001/values"]
        file["BathymetryCoverage/BathymetryCoverage.01/Group_001/values"] = np.zeros((2, 3))
    with pytest.raises(InputErrors, match="holds no field depth"):
        s102.read(path)


@pytest.mark.parametrize("content", [b"not HDF5", b"\x89HDF\r\n\x1a\n" + b"\x00" * 200])
def test_other_files(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.h5").write_bytes(content)
    with pytest.raises(InputErrors, match=r"a.h5: cannot be read"):
        s104.read(tmp_path / "a.h5")

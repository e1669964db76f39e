"""GPX; independent party: GDAL, which reads the five layers of every GPX file."""

from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely
from sample_records import EASTWARD, ROUTE, TRACK

from leadsman.errors import Impossible, InputErrors
from leadsman.files.formats import gpx
from leadsman.files.formats.gpx import GpxContent
from leadsman.files.formats.records import MapFeature, Route

POINT = MapFeature(
    geometry=shapely.Point(-120.2, -30.5), properties={"name": "Mark", "description": "red"}, layer="points"
)
CONTENT = GpxContent(routes=(ROUTE,), tracks=(TRACK,), points=(POINT,))
HEAD = '<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="x">\n'


def read_text(tmp_path: Path, text: str) -> GpxContent:
    (tmp_path / "in.gpx").write_text(text)
    return gpx.read(tmp_path / "in.gpx")


def test_round_trip(tmp_path: Path) -> None:
    gpx.write(CONTENT, tmp_path / "out.gpx")
    again = gpx.read(tmp_path / "out.gpx")
    (route,) = again.routes
    assert [(w.position, w.name) for w in route.waypoints] == [(w.position, w.name) for w in ROUTE.waypoints]
    (track,) = again.tracks
    assert (track.name, track.start) == (TRACK.name, TRACK.start)
    np.testing.assert_array_equal(track.elapsed, TRACK.elapsed)
    np.testing.assert_array_equal(track.latitude, TRACK.latitude)
    assert again.points[0].properties == POINT.properties
    assert gpx.to_bytes(GpxContent(routes=again.routes, tracks=again.tracks, points=again.points)) == gpx.to_bytes(
        CONTENT
    )


def test_gdal_reads_the_same(tmp_path: Path) -> None:
    gpx.write(CONTENT, tmp_path / "out.gpx")
    _, _, geometry, _ = pyogrio.raw.read(tmp_path / "out.gpx", layer="routes")
    expected = [(w.position.longitude, w.position.latitude) for w in ROUTE.waypoints]
    np.testing.assert_allclose(shapely.get_coordinates(shapely.from_wkb(geometry[0])), expected)
    meta, _, geometry, columns = pyogrio.raw.read(tmp_path / "out.gpx", layer="track_points", datetime_as_string=True)
    times = columns[list(meta["fields"]).index("time")]
    assert str(times[2]).startswith("2026-08-15T05:28:20.5")
    np.testing.assert_allclose(shapely.get_coordinates(shapely.from_wkb(geometry))[:, 1], TRACK.latitude)


def test_180_east_is_written_as_180_west(tmp_path: Path) -> None:
    last = EASTWARD.waypoints[0].__class__(identifier=3, position=EASTWARD.waypoints[0].position.__class__(0.0, 180.0))
    gpx.write(GpxContent(routes=(Route(name="r", waypoints=(EASTWARD.waypoints[0], last)),)), tmp_path / "e.gpx")
    assert gpx.read(tmp_path / "e.gpx").routes[0].waypoints[1].position.longitude == -180.0


def test_a_track_without_times_is_a_route(tmp_path: Path) -> None:
    content = read_text(
        tmp_path,
        HEAD + '<trk><name>plan</name><trkseg><trkpt lat="1" lon="2"/><trkpt lat="2" lon="2"/></trkseg></trk></gpx>',
    )
    assert content.routes[0].name == "plan"
    assert content.notes == ("track 'plan' has no times; it was read as a route",)


@pytest.mark.parametrize(
    ("body", "sentence"),
    [
        ('<wpt lat="91" lon="0"/>', ":2: lat: is 91; expected -90 to 90"),
        ('<wpt lat="x" lon="0"/>', ":2: lat: 'x' is no number"),
        ('<wpt lon="0"/>', ":2: lat: is missing"),
        ('<rte><name>r</name><rtept lat="0" lon="0"/></rte>', ":2: r: has 1 points; expected at least two"),
        (
            '<trk><trkseg><trkpt lat="0" lon="0"><time>2026-01-01T00:00:00Z</time></trkpt>\n'
            '<trkpt lat="0" lon="0"><time>2026-01-01T00:00:00Z</time></trkpt></trkseg></trk>',
            ":3: time: 2026-01-01T00:00:00Z does not come after 2026-01-01T00:00:00Z",
        ),
        (
            '<trk><trkseg><trkpt lat="0" lon="0"><time>2026-01-01T00:00:00Z</time></trkpt>\n'
            '<trkpt lat="0" lon="0"/></trkseg></trk>',
            ":3: time: is missing here, though other points have one",
        ),
        (
            '<trk><trkseg><trkpt lat="0" lon="0"><time>2026-01-01T00:00:00</time></trkpt></trkseg></trk>',
            ":2: time: '2026-01-01T00:00:00' has no zone",
        ),
        ("", "holds no route, track or point"),
    ],
)
def test_faults(tmp_path: Path, body: str, sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        read_text(tmp_path, HEAD + body + "</gpx>")
    assert f"in.gpx{sentence}" in str(caught.value) or sentence in str(caught.value)


def test_other_xml_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match=r"is 'kml' in 'urn:x'; expected 'gpx' of GPX 1.0 or 1.1"):
        read_text(tmp_path, '<kml xmlns="urn:x"/>')


def test_text_that_xml_cannot_carry(tmp_path: Path) -> None:
    with pytest.raises(Impossible, match="characters that XML cannot carry"):
        gpx.to_bytes(GpxContent(routes=(Route(name="a\x00", waypoints=ROUTE.waypoints),)))

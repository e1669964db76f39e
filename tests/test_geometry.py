"""Track, arcs and plane against hand calculation and against an independent geodesic library."""

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import Impossible
from leadsman.geometry import LocalPlane, Position, Track, rectangle, reversed_track

one_centimetre = 0.01
one_millimetre = 0.001

CORNER = Track(np.array([[0.0, 0.0], [1000.0, 0.0], [1000.0, 1000.0]]), (200.0,))


def test_a_right_angle_by_hand() -> None:
    """Tangent R tan 45 = 200, arc R pi/2 = 314.159: water.md section 6, derived."""
    (bend,) = CORNER.bends
    assert bend.begin == pytest.approx(800.0)
    assert bend.end == pytest.approx(800.0 + 314.159, abs=one_millimetre)
    assert bend.deflection == pytest.approx(math.pi / 2.0)
    assert CORNER.length == pytest.approx(800.0 + 314.159 + 800.0, abs=one_millimetre)
    x, y, course = CORNER.at(bend.begin + 0.5 * (bend.end - bend.begin))
    assert (x[0], y[0]) == pytest.approx((800.0 + 200.0 * math.sin(math.pi / 4), 200.0 * (1 - math.cos(math.pi / 4))))
    assert course[0] == pytest.approx(math.pi / 4.0)


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.floats(600.0, 3000.0), st.floats(-1.4, 1.4)), min_size=2, max_size=6), st.floats(50.0, 250.0))
def test_the_track_is_smooth_and_as_long_as_it_says(legs: list[tuple[float, float]], radius: float) -> None:
    course, points = 0.3, [np.zeros(2)]
    for length, turn in legs:
        points.append(points[-1] + length * np.array([math.cos(course), math.sin(course)]))
        course += turn
    track = Track(np.array(points), (radius,) * (len(points) - 2))
    if list(track.problems()):
        return
    along = np.arange(0.0, track.length, 0.5)
    x, y, heading = track.at(along)
    steps = np.hypot(np.diff(x), np.diff(y))
    assert np.max(np.abs(steps - 0.5)) < 1e-4  # a chord of half a metre on 50 m is 2e-6 m short
    turned = (np.diff(heading) + math.pi) % (2 * math.pi) - math.pi
    assert np.max(np.abs(turned)) <= 0.5 / radius + 1e-9
    np.testing.assert_allclose([x[0], y[0]], track.points[0], atol=1e-9)
    ex, ey, _ = track.at(track.length)
    np.testing.assert_allclose([ex[0], ey[0]], track.points[-1], atol=1e-6)
    back = reversed_track(track)
    bx, by, bc = back.at(track.length - along)
    np.testing.assert_allclose(np.column_stack([bx, by]), np.column_stack([x, y]), atol=1e-6)
    inside = np.all([np.abs(along - edge) > 1e-6 for bend in track.bends for edge in (bend.begin, bend.end)], axis=0)
    apart = (bc - heading - math.pi + math.pi) % (2 * math.pi) - math.pi
    assert np.max(np.abs(apart[inside])) < 1e-6


def test_nearest_and_side() -> None:
    assert CORNER.nearest(500.0, 30.0) == pytest.approx((500.0, 30.0), abs=one_centimetre)
    assert CORNER.nearest(500.0, -30.0) == pytest.approx((500.0, -30.0), abs=one_centimetre)
    assert CORNER.nearest(-50.0, 0.0)[0] == pytest.approx(0.0, abs=one_centimetre)


def test_beyond_the_ends_the_straights_go_on() -> None:
    x, y, course = CORNER.at(np.array([-100.0, CORNER.length + 100.0]))
    np.testing.assert_allclose(np.column_stack([x, y, course]), [[-100.0, 0.0, 0.0], [1000.0, 1100.0, math.pi / 2]], atol=1e-9)


def test_impossible_tracks_are_told() -> None:
    tight = Track(np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 300.0]]), (400.0,))
    assert next(why for _, why in tight.problems()).startswith("the bends at the ends of this reach need 400 m of it")
    hairpin = Track(np.array([[0.0, 0.0], [1000.0, 0.0], [0.0, 10.0]]), (1.0,))
    assert any("turns back on itself" in why for _, why in hairpin.problems())
    double = Track(np.array([[0.0, 0.0], [0.0, 0.0], [100.0, 0.0]]), (1.0,))
    assert any("lies on the waypoint before it" in why for _, why in double.problems())


@settings(max_examples=40, deadline=None)
@given(st.floats(-0.15, 0.15), st.floats(-0.15, 0.15))
def test_the_plane_keeps_distances(north: float, east: float) -> None:
    """Against geographiclib (Karney): scale of a transverse Mercator within 25 km is off by less than 1 in 100 000."""
    plane = LocalPlane(Position(-31.5, -17.5))
    x, y = plane.to_plane(-31.5 + north, -17.5 + east)
    geodesic = Geodesic.WGS84.Inverse(-31.5, -17.5, -31.5 + north, -17.5 + east)
    assert math.hypot(float(x), float(y)) == pytest.approx(geodesic["s12"], rel=1e-5, abs=one_millimetre)
    latitude, longitude = plane.to_earth(x, y)
    assert (float(latitude), float(longitude)) == pytest.approx((-31.5 + north, -17.5 + east), abs=1e-9)


def test_no_place_on_earth() -> None:
    with pytest.raises(Impossible, match=r"latitude: 91 is outside -90 to 90; expected degrees north"):
        Position(91, 0)
    with pytest.raises(Impossible, match="longitude: 181"):
        Position(0, 181)


def test_an_outline_heading_east() -> None:
    corners = rectangle(0.0, 0.0, math.pi / 2.0, ahead=60.0, astern=40.0, half_beam=10.0)
    np.testing.assert_allclose(corners, [[10.0, 60.0], [-10.0, 60.0], [-10.0, -40.0], [10.0, -40.0]], atol=1e-9)

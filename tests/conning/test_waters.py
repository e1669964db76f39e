"""Water and wind about a moving ship: what is sampled is what was laid down, and nothing unknown is deep."""

import math

import numpy as np
import pytest

from leadsman.conning import waters
from leadsman.conning.run import undisturbed
from leadsman.conning.waters import Waters


def drawn() -> np.recarray:
    return undisturbed().view(np.recarray)


def small() -> Waters:
    """A track due east at 100 m steps of level 2 to 4 m, depth 10 m but one cell unknown."""
    points = np.zeros((11, 10))
    points[:, waters.EAST] = 10.0 * np.arange(11)
    points[:, waters.COURSE] = 0.5 * math.pi
    depth = np.full((5, 5), 10.0)
    depth[0, 0] = -np.inf
    return Waters(
        track=points,
        track_step=10.0,
        level=np.array([[2.0, 4.0], [2.0, 4.0]]),
        stream_north=np.ones((2, 2)),
        stream_east=np.zeros((2, 2)),
        station_step=100.0,
        time_step=60.0,
        depth=depth,
        clear=depth,
        cell=10.0,
        north=0.0,
        east=0.0,
        wind_speed=10.0,
        wind_from=0.0,
        gust_deviation=2.0,
        density=1025.0,
    )


def test_level_lies_on_straight_lines_between_moments() -> None:
    assert waters.level_here(small(), drawn()[0], 50.0, 30.0) == pytest.approx(3.0)  # by hand: half of 2 to 4


def test_stream_is_turned_and_scaled_as_drawn() -> None:
    draw = drawn()
    draw["stream"], draw["stream_turn"] = 2.0, 0.5 * math.pi
    north, east = waters.stream_here(small(), draw[0], 0.0, 0.0)
    assert (north, east) == pytest.approx((0.0, 2.0))  # by hand: 1 m/s north, doubled, turned to the east


def test_unknown_water_is_never_deep() -> None:
    assert waters.depth_at(small(), 0.0, 0.0) == -np.inf
    assert waters.depth_at(small(), 1e6, 0.0) == -np.inf
    assert waters.clear_at(small(), -1e6, 0.0) == 0.0
    assert waters.depth_at(small(), 20.0, 20.0) == 10.0


def test_the_place_on_the_track_goes_on_past_its_end() -> None:
    nearest = waters.progress(small(), 0, 5.0, 130.0)
    assert nearest == 10
    along, across = waters.along_across(small(), nearest, 5.0, 130.0)
    assert (along, across) == pytest.approx((130.0, -5.0))  # by hand: north of an easterly track is to port


def test_gusts_have_no_mean_and_the_deviation_they_are_scaled_by() -> None:
    draw = drawn()
    draw["phases"] = np.random.default_rng(4).uniform(0.0, 2.0 * np.pi, waters.GUST_PERIODS.size)
    values = np.array([waters.gust(draw[0], time) for time in np.arange(0.0, 200_000.0, 7.0)])
    assert values.mean() == pytest.approx(0.0, abs=0.02)
    assert values.std() == pytest.approx(1.0, abs=0.02)  # derived: n harmonics of amplitude sqrt(2/n)

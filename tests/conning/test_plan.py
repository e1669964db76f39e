"""The plan of the slow work: poses at the quay, phases, the orders that are tried."""

import math

import numpy as np
import pytest

from leadsman.conning import outline, plan
from leadsman.conning.harbour import GO, KIND, LAND, SWING
from leadsman.conning.plan import Pose
from leadsman.simulation.state import Motion


def face() -> outline.Quay:
    """A quay along the east of the water, from south to north."""
    return plan.quay([0.0, 200.0], [0.0, 0.0], (100.0, -50.0))


@pytest.mark.parametrize(("side", "heading"), [("starboard", 0.0), ("port", 180.0)])
def test_the_side_to_the_quay_gives_the_heading(side: str, heading: float) -> None:
    pose = plan.alongside(face(), side, 10.0)
    assert math.degrees(pose.heading) == pytest.approx(heading)
    assert (pose.north, pose.east) == pytest.approx((100.0, -10.0))


def test_she_swings_only_where_the_way_in_is_not_the_way_she_lies() -> None:
    straight = plan.inward(face(), "starboard", 100.0, 16.0, 0.0, None, 0.0, 0.15, 30.0)
    assert straight[:, KIND].tolist() == [GO, LAND]
    swung = plan.inward(face(), "port", 100.0, 16.0, 0.0, Pose(north=-200.0, east=-40.0, heading=0.0), 1.0, 0.15, 30.0)
    assert swung[:, KIND].tolist() == [GO, SWING, GO, LAND]


def test_far_off_after_a_swing_she_is_lined_up_first() -> None:
    aside = Pose(north=-200.0, east=-150.0, heading=0.0)
    rows = plan.inward(face(), "port", 100.0, 16.0, 0.0, aside, 0.0, 0.15, 30.0)
    assert rows[:, KIND].tolist() == [GO, SWING, GO, GO, LAND]
    assert rows[2, 2] == pytest.approx(-30.0)  # on the line of the standoff


def test_gap_to_the_quay_is_that_of_the_nearest_point() -> None:
    hull = outline.outline(100.0, 16.0)
    gap, _ = outline.quay_gap(face(), hull, Motion(100.0, -20.0, 0.0, 0.0, 0.0, 0.0))
    assert gap == pytest.approx(12.0)  # by hand: 20 m less half the beam
    beside, _ = outline.quay_gap(face(), hull, Motion(600.0, -2.0, 0.0, 0.0, 0.0, 0.0))
    assert beside == np.inf


def test_the_outline_is_symmetrical_and_as_long_and_wide_as_the_ship() -> None:
    hull = outline.outline(100.0, 16.0)
    assert np.ptp(hull[:, 0]) == pytest.approx(100.0)
    assert np.ptp(hull[:, 1]) == pytest.approx(16.0)
    assert sorted(hull[:, 1]) == pytest.approx(sorted(-hull[:, 1]))

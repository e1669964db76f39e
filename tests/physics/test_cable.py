"""Anchor and cable on a moving ship: the catenary, dredging, holding, the brake."""

import math

import numpy as np
import pytest

from leadsman.physics import anchor as rules
from leadsman.physics import cable

BOWER = cable.Anchor(
    position=80.0,
    offset=3.0,
    hawse=8.0,
    mass=7000.0,
    weight=1500.0,
    holding=600e3,
    drag_ratio=1.0,
    brake=3000e3,
    most=300.0,
    veer=3.0,
    heave=0.15,
)


@pytest.mark.parametrize("stiffness", np.geomspace(1e-3, 1e4, 15))
def test_the_inverse_of_the_rise(stiffness: float) -> None:
    assert cable.stiffness_at(cable.rise(stiffness)) == pytest.approx(stiffness, rel=1e-6)


@pytest.mark.parametrize("pull", [20e3, 60e3, 150e3, 300e3])
def test_the_pull_is_that_of_the_catenary(pull: float) -> None:
    """Cable on the bed beyond the span of `anchor.catenary`, whose own figures are tested against the sheet."""
    height, out = 25.0, 165.0
    hanging = rules.catenary(height, pull, BOWER.weight)
    distance = hanging.span + (out - hanging.length)
    assert cable.pull(BOWER, height, out, distance) == pytest.approx(pull, rel=1e-6)


def test_a_cable_up_and_down_pulls_nothing() -> None:
    assert cable.pull(BOWER, 25.0, 165.0, 139.0) == 0.0
    assert cable.pull(BOWER, 25.0, 165.0, 141.0) > 0.0


def test_dredged_at_short_stay_she_is_held_by_the_dragging_force() -> None:
    """Forces sheet 6.4: the anchor's weight and twice the weight of the hanging chain [common practice]."""
    height = 20.0
    expected = 7000.0 * 9.80665 + 2.0 * 1500.0 * height
    assert cable.greatest_pull(BOWER, height, 1.5 * height) == pytest.approx(expected)
    taut = cable.greatest_reach(BOWER, height, 1.5 * height)
    assert taut == pytest.approx(math.sqrt(1.25) * height)
    assert cable.pull(BOWER, height, 1.5 * height, taut) == pytest.approx(expected)


def test_with_cable_enough_the_holding_of_the_bottom_is_the_limit() -> None:
    assert cable.greatest_pull(BOWER, 20.0, 250.0) == 600e3
    reach = cable.greatest_reach(BOWER, 20.0, 250.0)
    assert cable.pull(BOWER, 20.0, 250.0, reach) == pytest.approx(600e3)
    assert cable.pull(BOWER, 20.0, 250.0, reach + 50.0) == pytest.approx(600e3)


def test_the_bottom_that_holds_nothing_gives_nothing() -> None:
    rock = BOWER._replace(holding=0.0)
    assert cable.greatest_pull(rock, 20.0, 30.0) == 0.0


def test_a_weak_brake_is_the_limit() -> None:
    assert cable.greatest_pull(BOWER._replace(brake=100e3), 20.0, 250.0) == pytest.approx(70e3)


@pytest.mark.parametrize("out", [22.0, 30.0, 60.0, 120.0, 250.0])
def test_the_pull_grows_steadily_with_the_distance(out: float) -> None:
    pulls = [cable.pull(BOWER, 20.0, out, float(d)) for d in np.linspace(0.0, out, 400)]
    assert (np.diff(pulls) >= -1e-6).all()
    assert pulls[0] == 0.0
    assert pulls[-1] == pytest.approx(cable.greatest_pull(BOWER, 20.0, out))

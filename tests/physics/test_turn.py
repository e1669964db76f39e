"""Turn geometry, stopping, crab: rows 52 to 55 and section 6 of the sheet on water, derived."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.compiled import kernel
from leadsman.physics import turn
from leadsman.units import DEGREE, KNOT, MINUTE, NAUTICAL_MILE

per_minute = DEGREE / MINUTE
deflections = st.floats(0.05, 2.8)


def test_the_example_turn() -> None:
    """Row 53 and section 6: 10 kn, radius 0.5 nm, 60 degrees, reach 0.10 nm."""
    radius, deflection = 0.5 * NAUTICAL_MILE, 60.0 * DEGREE
    rate = turn.rate_of_turn(10 * KNOT, radius)
    assert rate / per_minute == pytest.approx(19.10, abs=0.01)
    assert turn.tangent_distance(radius, deflection) / NAUTICAL_MILE == pytest.approx(0.2887, abs=0.0005)
    assert turn.arc_length(radius, deflection) / NAUTICAL_MILE == pytest.approx(0.5236, abs=0.0005)
    assert turn.turn_time(deflection, rate) / MINUTE == pytest.approx(3.14, abs=0.01)
    assert turn.wheel_over(radius, deflection, 0.1 * NAUTICAL_MILE) / NAUTICAL_MILE == pytest.approx(0.389, abs=0.0005)


def test_other_examples_of_rate_and_radius() -> None:
    """Section 6: 8 kn on 750 m; 9 kn at 12 degrees a minute."""
    assert turn.rate_of_turn(8 * KNOT, 750.0) / per_minute == pytest.approx(18.86, abs=0.01)
    assert turn.radius(9 * KNOT, 12.0 * per_minute) / NAUTICAL_MILE == pytest.approx(0.716, abs=0.0005)


def test_wheel_over_by_advance() -> None:
    """Row 54: advance 0.45, transfer 0.20, 60 degrees; in any unit of length."""
    assert turn.wheel_over_by_advance(0.45, 0.20, 60.0 * DEGREE) == pytest.approx(0.3345, abs=0.0005)


def test_stopping() -> None:
    """Row 55: from 6 kn at 0.02 m/s²."""
    assert turn.stopping_distance(6 * KNOT, 0.02) == pytest.approx(238.2, abs=0.1)
    assert turn.stopping_time(6 * KNOT, 0.02) / MINUTE == pytest.approx(2.57, abs=0.01)
    assert turn.stopping_distance(6 * KNOT, 0.0) == math.inf
    assert turn.stopping_time(6 * KNOT, -0.01) == math.inf


def test_crab() -> None:
    """Row 52: 1.2 kn across, 8 kn through the water. Setting to starboard, the bow is laid off to port."""
    assert turn.crab_angle(1.2 * KNOT, 8 * KNOT) / DEGREE == pytest.approx(-8.63, abs=0.01)
    assert turn.crab_angle(-1.2 * KNOT, 8 * KNOT) / DEGREE == pytest.approx(8.63, abs=0.01)
    assert turn.crab_angle(3.0, 2.0) == pytest.approx(-math.pi / 2)
    assert turn.crab_angle(-3.0, 0.0) == pytest.approx(math.pi / 2)


@given(radius=st.floats(50.0, 5000.0), deflection=deflections)
def test_by_advance_of_a_round_turn_is_by_radius(radius: float, deflection: float) -> None:
    """A turn that is round from the order has advance R sin, transfer R (1 - cos); both ways lead to the same place."""
    advance, transfer = radius * math.sin(deflection), radius * (1.0 - math.cos(deflection))
    assert turn.wheel_over_by_advance(advance, transfer, deflection) == pytest.approx(
        turn.tangent_distance(radius, deflection), rel=1e-6, abs=1e-6
    )
    assert turn.new_track_distance(transfer, deflection) == pytest.approx(
        turn.tangent_distance(radius, deflection), rel=1e-9
    )


@given(radius=st.floats(50.0, 5000.0), deflection=deflections)
def test_port_and_starboard_are_alike(radius: float, deflection: float) -> None:
    for formula in (turn.tangent_distance, turn.arc_length, turn.cut_in):
        assert formula(radius, deflection) == formula(radius, -deflection) == formula(-radius, deflection)
    assert turn.rate_of_turn(3.0, -radius) == -turn.rate_of_turn(3.0, radius)


@given(radius=st.floats(50.0, 5000.0), deflection=deflections)
def test_cut_in_by_pythagoras(radius: float, deflection: float) -> None:
    """Centre, tangent point and waypoint make a right angle."""
    tangent = turn.tangent_distance(radius, deflection)
    assert turn.cut_in(radius, deflection) == pytest.approx(math.hypot(radius, tangent) - radius, rel=1e-6, abs=1e-6)


@given(speed=st.floats(1.0, 12.0), direction=st.floats(-math.pi, math.pi), rate=st.floats(0.0, 0.95))
def test_the_crab_angle_holds_the_track(speed: float, direction: float, rate: float) -> None:
    across, along = rate * speed * math.sin(direction), rate * speed * math.cos(direction)
    angle = turn.crab_angle(across, speed)
    assert speed * math.sin(angle) + across == pytest.approx(0.0, abs=1e-9)
    assert speed * math.cos(angle) + along == pytest.approx(turn.speed_made_good(speed, across, along), abs=1e-9)


def test_a_stream_that_wins_leaves_no_track() -> None:
    assert turn.speed_made_good(2.0, 2.5, 1.0) == -math.inf


@given(before=st.floats(0.1, 10.0), after=st.floats(0.0, 10.0), distance=st.floats(10.0, 20000.0))
def test_leg_time_of_even_slowing(before: float, after: float, distance: float) -> None:
    """Speed falling evenly in time covers the mean speed times the time."""
    time = turn.leg_time(distance, before, after)
    deceleration = (before - after) / time
    assert before * time - 0.5 * deceleration * time**2 == pytest.approx(distance, rel=1e-9)


def test_leg_time_without_headway() -> None:
    assert turn.leg_time(1000.0, 0.0, 0.0) == math.inf


def test_two_turns_on_one_leg() -> None:
    np.testing.assert_allclose(turn.straight_left(np.array([1000.0, 500.0]), 300.0, 400.0), [300.0, -200.0])
    assert turn.set_by_stream(0.5, 180.0) == pytest.approx(90.0)


@kernel
def in_a_kernel(speed: float, radius: float) -> float:
    return (
        turn.wheel_over(radius, 0.8, 50.0)
        + turn.crab_angle(0.4, speed)
        + turn.speed_made_good(speed, 0.4, 0.1)
        + turn.leg_time(1000.0, speed, 2.0)
        + turn.stopping_distance(speed, 0.02)
    )


def test_the_formulas_compile_to_the_same_numbers() -> None:
    assert in_a_kernel(4.0, 700.0) == pytest.approx(in_a_kernel.function(4.0, 700.0), rel=1e-12)

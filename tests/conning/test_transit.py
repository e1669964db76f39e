"""Steering along a track: the triangle of velocities, the telegraph, the kick ahead."""

import math

import numpy as np
import pytest

from leadsman.conning import transit
from leadsman.conning.bridge import memory_type
from leadsman.conning.known import Known
from leadsman.simulation.state import Motion

DRIFT = [  # course_deg, speed, stream north, stream east, allowance_deg, origin
    (0.0, 4.0, 0.0, 2.0, -30.0, "by hand: asin(2/4), to port against a stream to the east"),
    (90.0, 4.0, 2.0, 0.0, 30.0, "by hand: going east a stream to the north is countered to starboard"),
    (0.0, 5.0, 3.0, 0.0, 0.0, "by hand: a stream along the course needs no allowance"),
]


@pytest.mark.parametrize(("course", "speed", "north", "east", "expected", "origin"), DRIFT)
def test_drift_allowance(course: float, speed: float, north: float, east: float, expected: float, origin: str) -> None:
    found = math.degrees(transit.drift_allowance(math.radians(course), speed, north, east))
    assert found == pytest.approx(expected, abs=1e-9), origin


def test_with_the_allowance_she_makes_good_her_course() -> None:
    course, speed, north, east = 0.7, 4.0, -0.4, 1.1
    heading = course + transit.drift_allowance(course, speed, north, east)
    made = math.atan2(speed * math.sin(heading) + east, speed * math.cos(heading) + north)
    assert made == pytest.approx(course, abs=1e-12)


def known() -> Known:
    return Known(
        speeds=np.arange(-2.0, 4.0),
        pitches=np.ones(6),
        steady=np.array([-3.0, -1.5, 0.0, 2.0, 3.0, 4.0]),
        slowing=np.zeros((6, 50)),
        stop=2,
        turning=1.0,
        answer=1.5,
        drift=-0.2,
        wheel_rate=0.05,
        hard_over=math.radians(35.0),
        length=100.0,
    )


@pytest.mark.parametrize(("speed", "line"), [(1.0, 3), (2.0, 3), (2.5, 4), (9.0, 5)])
def test_the_lowest_order_that_makes_a_speed(speed: float, line: int) -> None:
    assert transit.telegraph_line(known(), speed) == line


def test_a_stopped_engine_is_kicked_ahead_in_a_bend_and_more_with_all_the_wheel_on() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    slow = Motion(0.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    assert transit.kicked(known(), memory, slow, 2) == 2
    memory["bend"] = 1.0
    assert transit.kicked(known(), memory, slow, 2) == 3
    memory["told_wheel"], memory["off"] = math.radians(35.0), math.radians(10.0)
    assert transit.kicked(known(), memory, slow, 3) == 5


def test_angles_come_back_between_half_turns() -> None:
    for value in np.linspace(-20.0, 20.0, 81):
        found = transit.angle(float(value))
        assert -math.pi <= found <= math.pi
        assert math.cos(found) == pytest.approx(math.cos(value))

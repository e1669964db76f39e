"""Steering along a track: the triangle of velocities, the telegraph, the kick ahead."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

from leadsman.conning import bridge, transit
from leadsman.conning.bridge import memory_type
from leadsman.conning.known import Known
from leadsman.conning.waters import COURSE, CURVATURE
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


def test_the_kick_grows_while_all_the_wheel_does_nothing_and_ends_when_she_is_back() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    slow = Motion(0.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    memory["told_wheel"], memory["off"] = math.radians(35.0), math.radians(10.0)
    many = known()._replace(steady=np.arange(-2.0, 8.0))
    given = []
    for _ in range(5):
        memory["told_telegraph"][0] = transit.kicked(many, memory, slow, 3)
        given.append(int(memory["told_telegraph"][0]))
    assert given == [5, 6, 7, 7, 7], "another order each time, four more than planned at most"
    memory["told_wheel"] = 0.0
    assert transit.kicked(many, memory, slow, 3) == 3


def test_what_thrusters_and_tugs_still_do_is_stopped_once() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    memory["thrust"][:2], memory["pull"][:2], memory["lead"][:2] = (-3.0, 0.0), (0.0, 2.0), (0.0, 1.0)
    ship = SimpleNamespace(thruster_count=2, tug_count=2)
    log = np.zeros((10, 6))
    for time in (100.0, 102.0):
        bridge.helpers_stop(ship, log, memory, time)
    assert memory["orders"] == 2.0, "one thruster and one tug, told once each"
    assert log[:2, [bridge.KIND, bridge.UNIT, bridge.VALUE]].tolist() == [
        [bridge.THRUSTER_ORDER, 0.0, 0.0],
        [bridge.TUG_ORDER, 1.0, 0.0],
    ]
    assert not memory["thrust"].any()
    assert not memory["pull"].any()


def test_a_ship_that_gathers_way_is_steered_by_the_race() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    memory["telegraph"][0] = 4.0
    assert 0.5 * 3.0 < transit.steering_speed(known(), memory, 0.2) < 3.0, "half of the speed of the order, or more"
    assert transit.steering_speed(known(), memory, 5.0) == 5.0, "a fast ship by her way"
    memory["telegraph"][0] = 1.0
    assert transit.steering_speed(known(), memory, 1.0) == 1.0, "an engine astern makes no race for the rudder"


def test_a_bend_is_eased_over_its_last_length() -> None:
    step, radius = 10.0, 500.0
    arc = np.concatenate([np.zeros(50), np.arange(1, 79) * step / radius, np.full(50, 78 * step / radius)])
    curvature = np.concatenate([np.zeros(50), np.full(78, 1.0 / radius), np.zeros(50)])
    track = np.zeros((arc.size, 8))
    track[:, COURSE], track[:, CURVATURE] = arc, curvature
    waters = SimpleNamespace(track=track, track_step=step)
    found = []
    for point in range(arc.size - 11):
        memory = SimpleNamespace(point=point, across=0.0)
        found.append(transit.wanted_course(waters, known(), memory, 0.0)[1])
    turning = np.array(found)
    assert not turning[:50].any(), "not begun before the arc"
    assert turning[51:116] == pytest.approx(1.0 / radius), "whole in the arc"
    assert np.all(np.diff(turning[117:129]) < 1e-12), "falling over the last length"
    assert turning[122] == pytest.approx(0.5 / radius, rel=0.15), "half of it half a length before the end"
    assert not turning[129:].any()


def test_angles_come_back_between_half_turns() -> None:
    for value in np.linspace(-20.0, 20.0, 81):
        found = transit.angle(float(value))
        assert -math.pi <= found <= math.pi
        assert math.cos(found) == pytest.approx(math.cos(value))

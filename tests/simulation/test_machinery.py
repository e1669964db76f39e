"""Engines as they are handled: delay, ramps, air starts counted, reversal held up by headway, pitch, pods, rudder
rate."""

import math

import numpy as np
import pytest

from leadsman.simulation import sail, slow, stopping, turning
from leadsman.simulation.estimate import estimate
from leadsman.simulation.particulars import Particulars
from leadsman.simulation.setting import Setting, straight
from leadsman.simulation.state import at_rest
from leadsman.units import DEGREE

SHAFT, PITCH, TIME, RUDDER = 8, 9, 0, 7


@pytest.fixture(scope="module")
def ready(examples: dict[str, Particulars]) -> dict[str, Setting]:
    return {name: estimate(card).setting() for name, card in examples.items()}


def sailed(setting: Setting, begin: str, then: str, time: float = 600.0, rudder: float = 0.0) -> sail.Run:
    steady = setting.steady(begin)
    ending = sail.Ending(time, 0.0, -math.inf, 0.0)
    return setting.sail(straight(steady.speed), setting.plan(then, rudder), ending, gear=steady.gear)


def test_an_order_waits_for_the_telegraph(ready: dict[str, Setting]) -> None:
    track = sailed(ready["bulk carrier"], "full_ahead", "half_ahead", 60.0).track
    assert (track[:4, SHAFT] == track[0, SHAFT]).all(), "4 s of delay, sheet 6 [memory: 2 to 5 s from the bridge]"
    assert track[10, SHAFT] < track[0, SHAFT]


def test_a_reversing_diesel_waits_for_her_to_slow_at_sea_speed(ready: dict[str, Setting]) -> None:
    """Sheet 6: from manoeuvring speed 30 to 90 s, from sea speed 90 to 240 s until the shaft turns astern [memory]."""
    times = {}
    for order in ("full_ahead", "full_sea_speed"):
        track = sailed(ready["bulk carrier"], order, "full_astern").track
        times[order] = track[np.argmax(track[:, SHAFT] < 0.0), TIME]
    assert 30.0 <= times["full_ahead"] <= 100.0
    assert times["full_ahead"] < times["full_sea_speed"] <= 240.0


def test_the_time_of_the_card_is_kept(ready: dict[str, Setting]) -> None:
    """90 s from full ahead manoeuvring to running astern, as the card of this ship has it."""
    track = sailed(ready["bulk carrier"], "full_ahead", "full_astern").track
    assert track[np.argmax(track[:, SHAFT] < 0.0), TIME] == pytest.approx(90.0, abs=12.0)


def test_each_start_takes_air_until_none_is_left(ready: dict[str, Setting]) -> None:
    setting = ready["bulk carrier"]
    gear = setting.steady("stop").gear.copy()
    gear[0]["shafts"][0]["starts"] = 2.0
    motion = at_rest()
    left = []
    for order in ("dead_slow_ahead", "dead_slow_astern", "dead_slow_ahead"):
        ending = sail.Ending(100.0, 0.0, -math.inf, 0.0)
        run = setting.sail(motion, setting.plan(order), ending, gear=gear)
        motion, gear = run.motion, run.gear
        left.append(float(gear[0]["shafts"][0]["starts"]))
    shaft = gear[0]["shafts"][0]
    assert left[0] == pytest.approx(1.0 + 100.0 / 240.0, abs=0.1), "one start used, four minutes to recharge one"
    assert shaft["starts_made"] + shaft["starts"] == pytest.approx(2.0 + 300.0 / 240.0), "what was there and is made up"
    assert left[1] < left[0]


def test_without_air_she_does_not_start(ready: dict[str, Setting]) -> None:
    setting = ready["bulk carrier"]
    gear = setting.steady("stop").gear.copy()
    gear[0]["shafts"][0]["starts"] = 0.0
    run = setting.sail(at_rest(), setting.plan("half_ahead"), sail.Ending(60.0, 0.0, -math.inf, 0.0), gear=gear)
    assert run.gear[0]["shafts"][0]["failed_starts"] > 0.0
    assert run.motion.surge == pytest.approx(0.0, abs=1e-6)


def test_the_stopped_shaft_windmills_and_then_stands(ready: dict[str, Setting]) -> None:
    track = sailed(ready["bulk carrier"], "full_sea_speed", "stop", 3000.0).track
    share = track[30, SHAFT] / track[0, SHAFT]
    assert 0.4 < share < 0.8, "sheet 6: falls to 60 to 70 % within seconds [memory]; found 47 % for this loaded screw"
    assert track[-1, SHAFT] < 0.2 * track[0, SHAFT]


def test_an_overloaded_engine_gives_way(ready: dict[str, Setting]) -> None:
    """In the turn she slows, the screw takes more torque, the engine holds fewer revolutions: a fact of any torque
    limit."""
    track = sailed(ready["container ship"], "full_sea_speed", "full_sea_speed", 400.0, rudder=0.6).track
    assert track[-1, SHAFT] < 0.97 * track[0, SHAFT]


def test_turning_blades_keep_the_shaft_turning_the_same_way(ready: dict[str, Setting]) -> None:
    track = sailed(ready["coaster"], "full_ahead", "full_astern", 60.0).track
    assert (track[:, SHAFT] > 0.0).all()
    assert track[0, PITCH] > 0.0 > track[-1, PITCH]
    through = track[np.argmax(track[:, PITCH] <= 0.95 * track[-1, PITCH]), TIME]
    assert through == pytest.approx(25.0, abs=6.0), "the card of this ship: 25 s full ahead to full astern"


def test_the_rudder_goes_at_the_rate_of_the_card(ready: dict[str, Setting]) -> None:
    track = sailed(ready["bulk carrier"], "half_ahead", "half_ahead", 20.0, rudder=-0.6).track
    rate = (track[5, RUDDER] - track[1, RUDDER]) / 4.0
    assert rate == pytest.approx(-70.0 * DEGREE / 26.0, rel=1e-9), "70 degrees in 26 s"


def test_hard_over_is_not_passed(ready: dict[str, Setting]) -> None:
    track = sailed(ready["bulk carrier"], "half_ahead", "half_ahead", 60.0, rudder=2.0).track
    assert track[-1, RUDDER] == pytest.approx(35.0 * DEGREE)


def test_pods_turned_athwart_push_the_stern_off(ready: dict[str, Setting]) -> None:
    """Pods at 90 degrees to starboard: thrust pushes the stern to port, the bow turns to starboard, she hardly
    gathers way."""
    track = sailed(ready["cruise ship"], "stop", "half_ahead", 120.0, rudder=90.0 * DEGREE).track
    assert track[-1, 3] > 0.1
    assert track[-1, 2] < 0.0
    ahead = sailed(ready["cruise ship"], "stop", "half_ahead", 120.0).track
    assert abs(track[-1, 4]) < 0.5 * ahead[-1, 4]


def test_pods_steer_the_way_a_rudder_does(ready: dict[str, Setting]) -> None:
    setting = ready["cruise ship"]
    assert math.degrees(setting.hard_over) == pytest.approx(35.0)
    circle = turning.turning_circle(setting, "full_ahead", setting.hard_over)
    assert circle.transfer is not None
    assert circle.transfer > 0.0


def test_twisting_on_two_screws(ready: dict[str, Setting]) -> None:
    """She turns to the asked side, gathers hardly any way, and the astern screw works harder than the ahead one."""
    setting = ready["ferry"]
    swing, share = slow.twist(setting, "half_ahead", 1)
    other, _ = slow.twist(setting, "half_ahead", -1)
    assert share > 1.0
    assert swing.rate > 0.0 > other.rate
    assert swing.rate == pytest.approx(-other.rate, rel=1e-3)
    assert np.abs(swing.track[:, 4]).max() < 1.0
    assert swing.shift < 1.5 * setting.length


def test_two_screws_turning_outward_stop_straight(ready: dict[str, Setting]) -> None:
    stop = stopping.stop(ready["ferry"], "full_ahead", "full_astern")
    assert stop.stopped
    assert stop.heading_change == pytest.approx(0.0, abs=1e-6)


def test_one_right_handed_screw_stops_with_the_bow_to_starboard(ready: dict[str, Setting]) -> None:
    stop = stopping.stop(ready["bulk carrier"], "half_ahead", "full_astern")
    assert math.degrees(stop.heading_change) > 5.0


def test_a_fishtail_rudder_kicks_a_stopped_ship_round(ready: dict[str, Setting]) -> None:
    kicked = {name: slow.kick(ready[name], "half_ahead", ready[name].hard_over) for name in ("coaster", "bulk carrier")}
    assert kicked["coaster"].later_heading_change > 3.0 * kicked["bulk carrier"].later_heading_change

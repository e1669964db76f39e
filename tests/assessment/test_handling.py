"""What the model is asked on the way: balance in wind and in a turn, wheel-over, way lost. No number here is its own."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.handling import DEPTH_STEP, Handling, Model, model
from leadsman.equipment import Engine, EngineKind, State
from leadsman.errors import CannotCompute
from leadsman.files.call_files import read_call
from leadsman.geometry import Array
from leadsman.portcall import PortCall
from leadsman.simulation import kernel, sail, state
from leadsman.simulation.state import Motion
from leadsman.units import DEGREE, KNOT

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def made(first_call: PortCall) -> Model:
    return model(first_call.ship, first_call.loading, first_call.forecast.water_density)


@pytest.fixture(scope="module")
def she(made: Model) -> Handling:
    return made.in_depth(9.0)


def test_in_calm_air_she_runs_straight(she: Handling) -> None:
    """But for what the throw of her single screw asks of the wheel."""
    found = she.straight(8.0 * KNOT, 0.0, 0.0)
    assert abs(found.drift_angle) < 0.5 * DEGREE
    assert abs(found.rudder) < 3.0 * DEGREE
    assert found.held


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_wind_abeam_sets_her_down_and_asks_wheel(she: Handling, side: float) -> None:
    """Blown to the side away from the wind; more in more wind, less at more speed."""
    found = [she.straight(6.0 * KNOT, wind, side * 0.5 * math.pi) for wind in (5.0, 10.0, 15.0)]
    drifts = [side * balance.drift_angle for balance in found]
    assert drifts[0] > 0.0  # wind from starboard: she makes way to port of her heading
    assert drifts == sorted(drifts)
    slower = she.straight(4.0 * KNOT, 10.0, side * 0.5 * math.pi)
    assert side * slower.drift_angle > drifts[1]


def test_a_balance_is_one(she: Handling) -> None:
    """Put back into the equations of motion, side force and yaw moment are nil (docs/methods/manoeuvring.md)."""
    found = she.straight(6.0 * KNOT, 10.0, 0.5 * math.pi)
    setting = she.setting
    steady = setting.steady("slow_ahead")
    turning = steady.shaft_speed * 6.0 * KNOT / steady.speed
    gear = state.gear(setting.fleet, 0, turning, setting.orders["slow_ahead"].pitch_ratio, found.rudder)
    around = state.record_of(setting.around._replace(wind_speed=10.0, wind_from=0.5 * math.pi))
    speed = 0.05 * round(6.0 * KNOT / 0.05)
    motion = Motion(0.0, 0.0, 0.0, speed * math.cos(found.drift_angle), -speed * math.sin(found.drift_angle), 0.0)
    force = kernel.pushed(setting.fleet, 0, gear, motion, around, sail.NO_FORCE)
    unit = 0.5 * 1025.0 * 90.0 * 6.3 * speed * speed
    assert abs(force.sway) / unit < 1e-3
    assert abs(force.yaw) / (unit * 90.0) < 1e-3


def test_more_wind_than_the_wheel_holds_is_told_and_the_drift_is_not_nought(she: Handling) -> None:
    found = she.straight(2.0 * KNOT, 30.0, 0.5 * math.pi)
    assert not found.held
    assert found.drift_angle > 10.0 * DEGREE


def test_a_tighter_turn_asks_more_wheel(she: Handling) -> None:
    radii = (200.0, 300.0, 500.0, 1000.0)
    wheels = [she.turning(6.0 * KNOT, radius, 1.0).rudder for radius in radii]
    assert wheels == sorted(wheels, reverse=True)
    drifts = [she.turning(6.0 * KNOT, radius, 1.0).drift_angle for radius in radii]
    assert drifts == sorted(drifts, reverse=True)
    assert drifts[-1] > 0.0  # bow inside the turn: the water comes from port ahead in a turn to starboard
    port = she.turning(6.0 * KNOT, 300.0, -1.0)
    assert port.drift_angle == pytest.approx(-drifts[1], rel=0.1)


def test_no_wheel_keeps_a_turn_shorter_than_herself(she: Handling) -> None:
    assert not she.turning(6.0 * KNOT, 40.0, 1.0).held


def carried_out(she: Handling, speed: float, deflection: float, rudder: float, meet: float) -> Array:
    """The end of a turn by the kernel alone: wheel, counter-wheel at `meet` before the new course, rate gone."""
    setting = she.setting
    steady = setting.steady("slow_ahead")
    asked = setting.orders["slow_ahead"]
    turning = steady.shaft_speed * speed / steady.speed
    gear = state.gear(setting.fleet, 0, turning, asked.pitch_ratio, 0.0)
    wheel = sail.steady_plan(setting.fleet, rudder, turning, asked.pitch_ratio)
    counter = sail.steady_plan(setting.fleet, -rudder, turning, asked.pitch_ratio)
    one = setting.sail(
        Motion(0.0, 0.0, 0.0, speed, 0.0, 0.0), wheel, sail.Ending(2000.0, deflection - meet, -np.inf, 0.0), gear=gear
    )
    two = setting.sail(one.motion, counter, sail.Ending(600.0, 0.0, 0.1, 0.0), gear=one.gear)
    return np.asarray(two.track[int(np.argmax(two.track[:, 6] <= 0.0))])


def test_the_wheel_over_leads_onto_the_new_track(she: Handling) -> None:
    """Carried out again from the wheel-over, she ends on the new course, on the leg through the waypoint."""
    speed, deflection, radius = 6.5 * KNOT, 40.0 * DEGREE, 500.0
    speed = 0.05 * round(speed / 0.05)
    turned = she.turn(speed, 10.0 * DEGREE, deflection, radius)
    assert turned is not None
    end = carried_out(she, speed, deflection, turned.rudder, turned.meet)
    assert end[3] == pytest.approx(deflection, abs=1.0 * DEGREE)
    north, east = end[1] - turned.wheel_over, end[2]  # from the waypoint
    across = east * math.cos(end[3]) - north * math.sin(end[3])
    assert abs(across) < 0.05 * she.setting.length
    assert turned.meet > 0.0
    assert turned.wheel_over > 0.5 * she.setting.length


def test_she_loses_way_sooner_by_full_astern_than_coasting(she: Handling) -> None:
    speed = 7.0 * KNOT
    stops = [she.way_lost(speed, by, 1.0 * KNOT)[0] for by in ("full_astern", "slow_astern", "stop")]
    assert stops == sorted(stops)
    assert she.way_lost(speed, "full_astern", 4.0 * KNOT)[0] < stops[0]
    assert she.way_lost(speed, "stop", 0.0) == (math.inf, math.inf)  # without engine she never quite stops


@pytest.mark.parametrize("name", ["2-bar-bulk-carrier", "3-container-basin", "4-ferry-corner-berth"])
def test_shallower_water_asks_more_wheel_for_the_same_turn(name: str) -> None:
    """At depth/draught 1.2 circles are 1.5 to 2 times as wide as in deep water: water.md 4.5 [memory].

    The coaster of example 1 does not follow: her model asks the same wheel at 1.2 as in deep water.
    """
    call = read_call(EXAMPLES / name)
    found = model(call.ship, call.loading, None)
    radius, draught = 5.0 * call.ship.length_overall, call.loading.mean_draught
    wheels = [found.in_depth(share * draught).turning(6.0 * KNOT, radius, 1.0).rudder for share in (8.0, 2.0, 1.5, 1.2)]
    assert wheels == sorted(wheels)
    assert wheels[-1] > 1.5 * wheels[0]


def test_depths_are_taken_down_and_never_below_what_the_model_knows(made: Model, first_call: PortCall) -> None:
    assert made.in_depth(9.0 + 0.9 * DEPTH_STEP) is made.in_depth(9.0)
    assert made.in_depth(0.1).setting.around.depth_midships == pytest.approx(1.05 * first_call.loading.mean_draught)


def test_a_ship_without_engine_has_no_model(first_call: PortCall) -> None:
    dead = replace(first_call.ship, engine=Engine(kind=EngineKind.GEARED_DIESEL, state=State.DEFECTIVE))
    with pytest.raises(CannotCompute, match="no manoeuvring model of Sedgewren"):
        model(dead, first_call.loading, None)

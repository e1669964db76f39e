"""What she does slowly or stopped: kick ahead, turn on the thruster, twist on two screws, steer by the wind, drift."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from leadsman.physics.hull_force import Force
from leadsman.simulation import kernel, sail, state
from leadsman.simulation.parameters import Array, Records
from leadsman.simulation.setting import COLUMN, Setting, crossing, speed_of
from leadsman.simulation.state import at_rest


@dataclass(frozen=True, kw_only=True)
class Kick:
    """A short burst ahead with the rudder hard over from rest: heading and speed when the engine stops, and a minute
    later."""

    order: str
    rudder: float
    duration: float
    heading_change: float
    speed: float
    later_heading_change: float
    later_rate: float
    track: Array


def kick(setting: Setting, order: str, rudder: float, duration: float = 30.0) -> Kick:
    """Engine order and rudder [rad] together from rest for a time [s], then stop."""
    asked, stopped = setting.orders[order], setting.orders["stop"]
    single = setting.plan(order, rudder)
    plan = sail.Plan(
        times=np.array([0.0, duration]),
        rudders=np.repeat(single.rudders, 2, axis=0),
        speeds=np.array([[asked.shaft_speed], [stopped.shaft_speed]]) * np.ones_like(single.speeds),
        pitches=np.array([[asked.pitch_ratio], [stopped.pitch_ratio]]) * np.ones_like(single.pitches),
    )
    idle = setting.steady("stop").gear
    run = setting.sail(at_rest(), plan, sail.Ending(duration + 60.0, 0.0, -np.inf, 0.0), gear=idle)
    end = crossing(run.track, "time", duration)
    assert end is not None
    return Kick(
        order=order,
        rudder=rudder,
        duration=duration,
        heading_change=float(end[COLUMN["heading"]]),
        speed=speed_of(end),
        later_heading_change=run.motion.heading,
        later_rate=run.motion.yaw_rate,
        track=run.track,
    )


@dataclass(frozen=True, kw_only=True)
class Swing:
    """Turning on the spot: steady rate [rad/s], time to a quarter turn [s], midships' shift by then [m], pivot point
    [m].

    The pivot point is forward of midships where positive.
    """

    rate: float
    time_90: float | None
    shift: float
    pivot: float
    track: Array


def thruster_swing(setting: Setting, thrust: float, position: float) -> Swing:
    """Turn on a thruster alone: sideways thrust [N, positive to starboard] at a position forward of midships [m]."""
    push = Force(0.0, thrust, thrust * position)
    return _swing(setting, setting.plan("stop"), push, setting.steady("stop").gear)


def twist(setting: Setting, order: str, side: int) -> tuple[Swing, float]:
    """Turn on two screws, one ahead under `order`, the other astern so that she gathers no way; to `side` (+1
    starboard).

    Returns the swing and the astern shaft speed as a share of the ahead one: more than one, because a screw is weaker
    astern.

    Raises
    ------
    ValueError
        If she has not two screws at opposite offsets.
    """
    offsets = setting.screws["offset"]
    if len(offsets) != 2 or offsets[0] * offsets[1] >= 0.0:
        raise ValueError(f"twist: two screws on opposite sides are needed, the offsets are {list(offsets)}")
    asked = setting.orders[order]
    rudder = side * setting.hard_over
    plan = setting.plan(order, rudder)
    # To turn to starboard the port screw drives ahead.
    ahead = int(np.argmin(offsets)) if side > 0 else int(np.argmax(offsets))
    astern = 1 - ahead
    flips_pitch = bool(setting.screws["controllable"][astern])

    def orders(share: float) -> tuple[Array, Array]:
        speeds, pitches = plan.speeds.copy(), plan.pitches.copy()
        if flips_pitch:
            pitches[0, astern] = -share * asked.pitch_ratio
        else:
            speeds[0, astern] = -share * asked.shaft_speed
        return speeds, pitches

    def spare(share: float) -> float:
        speeds, pitches = orders(share)
        return surge_force(setting, speeds[0], pitches[0], rudder)

    share = float(brentq(spare, 0.2, 4.0))
    speeds, pitches = orders(share)
    return _swing(setting, plan._replace(speeds=speeds, pitches=pitches), sail.NO_FORCE, None), share


def surge_force(setting: Setting, speeds: Array, pitches: Array, rudder: float) -> float:
    """Force ahead of all screws and rudders at rest in still water. [N]"""
    gear = state.gear(setting.fleet, setting.variant, speeds, pitches, rudder)
    around = state.record_of(setting.around)
    force = kernel.pushed(setting.fleet, setting.variant, gear, at_rest(), around, sail.NO_FORCE)
    return float(force.surge)


def _swing(setting: Setting, plan: sail.Plan, push: Force, gear: Records | None) -> Swing:
    ending = sail.Ending(1800.0, np.pi, -np.inf, 0.0)
    run = setting.sail(at_rest(), plan, ending, outside=push, gear=gear)
    sign = 1.0 if run.motion.heading >= 0.0 else -1.0
    turned = run.track.copy()
    turned[:, COLUMN["heading"]] *= sign
    quarter = crossing(turned, "heading", 0.5 * np.pi)
    last = run.track[-1] if quarter is None else quarter
    rate = run.motion.yaw_rate
    return Swing(
        rate=rate,
        time_90=None if quarter is None else float(quarter[COLUMN["time"]]),
        shift=float(np.hypot(last[COLUMN["north"]], last[COLUMN["east"]])),
        pivot=-run.motion.sway / rate if rate else 0.0,
        track=run.track,
    )


@dataclass(frozen=True, kw_only=True)
class Drift:
    """Stopped engine in a steady wind: where she ends up lying and how fast she goes to leeward.

    `heading_to_wind` [rad] between the wind's direction and her head (0 head to wind), `speed` [m/s] over still water,
    `leeway` [rad] from straight downwind to her motion, `settled` whether the rate of turn had died away.
    """

    wind_speed: float
    heading_to_wind: float
    speed: float
    leeway: float
    settled: bool
    track: Array


def drift(setting: Setting, wind_speed: float) -> Drift:
    """Leave her stopped, wind [m/s] abeam to begin with, for an hour."""
    around = setting.around._replace(wind_speed=wind_speed, wind_from=0.5 * np.pi)
    ending = sail.Ending(3600.0, 0.0, -np.inf, 0.0)
    here = Setting(
        fleet=setting.fleet,
        orders=setting.orders,
        around=around,
        variant=setting.variant,
        interval=setting.interval,
    )
    run = here.sail(at_rest(), here.plan("stop"), ending, gear=setting.steady("stop").gear)
    before, last = run.track[-max(2, int(60.0 / setting.interval))], run.track[-1]
    north, east = last[1:3] - before[1:3]
    elapsed = last[0] - before[0]
    towards = np.arctan2(east, north)
    half_turn = np.pi
    leeway = (towards - (around.wind_from + half_turn) + half_turn) % (2.0 * half_turn) - half_turn
    lying = (around.wind_from - run.motion.heading + half_turn) % (2.0 * half_turn) - half_turn
    return Drift(
        wind_speed=wind_speed,
        heading_to_wind=float(lying),
        speed=float(np.hypot(north, east) / elapsed),
        leeway=float(leeway),
        settled=abs(run.motion.yaw_rate) < 1e-4,
        track=run.track,
    )


def minimum_steering_speed(
    setting: Setting, order: str, wind_speed: float, fastest: str = "full_sea_speed"
) -> float | None:
    """Least speed through the water [m/s] at which the rudder holds her against a wind [m/s] from any direction.

    Held means: with a drift angle at which the side force balances, the yaw moment balances within the greatest rudder
    angle. `order` is what the engine does meanwhile: `stop` for a coasting ship, else its shaft speed in proportion to
    her speed. None if even under the order `fastest` she cannot be held.

    Source: our definition; the pilot card asks for the figure without defining it (A.601(15)).
    """
    top = setting.steady(fastest)
    base = setting.steady(order) if order != "stop" else top

    def held(speed: float) -> bool:
        turning = base.shaft_speed * (speed / base.speed) * (WINDMILLING if order == "stop" else 1.0)
        directions = np.radians(np.arange(15.0, 180.0, 15.0))
        return all(_holds(setting, speed, turning, wind_speed, float(angle)) for angle in directions)

    if not held(top.speed):
        return None
    low, high = 0.05, top.speed
    while high - low > 0.01:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if held(middle) else (middle, high)
    return high


WINDMILLING = 0.6  # shaft speed of a stopped engine over that which drives her at the same speed (sheet 6, memory)


def _holds(setting: Setting, speed: float, turning: float, wind_speed: float, wind_from: float) -> bool:
    """Whether hard-over rudder on the needed side turns her against the wind while she drifts in balance."""
    around = state.record_of(setting.around._replace(wind_speed=wind_speed, wind_from=wind_from))

    reach = 0.5 * speed + 2.0 + wind_speed

    def yaw(rudder: float) -> float:
        gear = state.gear(setting.fleet, setting.variant, turning, None, rudder)
        return float(kernel.pushed_adrift(setting.fleet, setting.variant, gear, speed, around, reach).yaw)

    return yaw(-setting.hard_over) <= 0.0 <= yaw(setting.hard_over)

"""Turning trials, measured as MSC.137(76) defines them: circles, zig-zags, initial turning, spiral, pull-out."""

from dataclasses import dataclass

import numpy as np

from leadsman.simulation import sail
from leadsman.simulation.parameters import Array
from leadsman.simulation.setting import COLUMN, Setting, Steady, crossing, path_length, speed_of, straight
from leadsman.simulation.state import at_rest

CIRCLE = 3.0 * np.pi  # rad of turn a circle is followed: past the tactical diameter into the steady turn
SPIRAL_ANGLES = (15.0, 10.0, 5.0, 2.5, 0.0, -2.5, -5.0, -10.0, -15.0)  # degrees


@dataclass(frozen=True, kw_only=True)
class TurningCircle:
    """A turn under one rudder angle; lengths in m, times in s from the order, angles in rad; None where not reached.

    `side` is +1 to starboard, -1 to port; advance and transfer are of midships at 90 degrees of heading change, the
    tactical diameter at 180.
    """

    order: str
    side: int
    rudder: float
    approach_speed: float
    advance: float | None
    transfer: float | None
    tactical_diameter: float | None
    time_90: float | None
    time_180: float | None
    speed_90: float | None
    speed_180: float | None
    steady_diameter: float | None
    steady_speed: float
    steady_rate: float
    steady_drift: float
    track: Array


def turning_circle(setting: Setting, order: str, rudder: float, steady: Steady | None = None) -> TurningCircle:
    """Turn under a rudder angle [rad, positive to starboard] from the steady speed of an engine order."""
    steady = steady or setting.steady(order)
    ending = sail.Ending(setting.time_for(120.0, steady.speed), CIRCLE, -np.inf, 0.0)
    run = setting.sail(straight(steady.speed), setting.plan(order, rudder), ending, gear=steady.gear)
    return measured_circle(run.track, order, rudder, steady.speed)


def accelerating_turn(setting: Setting, order: str, rudder: float) -> TurningCircle:
    """Turn from rest: engine order and rudder given together."""
    ending = sail.Ending(setting.time_for(240.0, setting.steady(order).speed), CIRCLE, -np.inf, 0.0)
    stopped = setting.steady("stop").gear if "stop" in setting.orders else None
    run = setting.sail(at_rest(), setting.plan(order, rudder), ending, gear=stopped)
    return measured_circle(run.track, order, rudder, 0.0)


def measured_circle(track: Array, order: str, rudder: float, approach_speed: float) -> TurningCircle:
    """Read advance, transfer, diameters and times off a track that began northward at the origin."""
    side = 1 if rudder > 0.0 else -1
    mirrored = track.copy()
    for name in ("east", "heading", "sway", "yaw_rate"):
        mirrored[:, COLUMN[name]] *= side
    quarter = crossing(mirrored, "heading", 0.5 * np.pi)
    half = crossing(mirrored, "heading", np.pi)
    last = mirrored[-1]
    speed, rate = speed_of(last), float(last[COLUMN["yaw_rate"]])
    turned = last[COLUMN["heading"]] > 1.5 * np.pi
    return TurningCircle(
        order=order,
        side=side,
        rudder=rudder,
        approach_speed=approach_speed,
        advance=None if quarter is None else float(quarter[COLUMN["north"]]),
        transfer=None if quarter is None else float(quarter[COLUMN["east"]]),
        tactical_diameter=None if half is None else float(half[COLUMN["east"]]),
        time_90=None if quarter is None else float(quarter[COLUMN["time"]]),
        time_180=None if half is None else float(half[COLUMN["time"]]),
        speed_90=None if quarter is None else speed_of(quarter),
        speed_180=None if half is None else speed_of(half),
        steady_diameter=2.0 * speed / rate if turned else None,
        steady_speed=speed,
        steady_rate=rate * side,
        steady_drift=float(np.arctan2(-last[COLUMN["sway"]], last[COLUMN["surge"]])) * side,
        track=track,
    )


@dataclass(frozen=True, kw_only=True)
class ZigZag:
    """A zig-zag: rudder `angle` [rad], reversed at the same heading change; first to `side` (+1 starboard).

    `overshoots` [rad] one after another; `first_heading_time` [s] and `initial_turning` [m along the track] until the
    first reversal; `period` [s] between the first and third crossings of the old course, where reached.
    """

    order: str
    side: int
    angle: float
    approach_speed: float
    overshoots: tuple[float, ...]
    first_heading_time: float | None
    initial_turning: float | None
    period: float | None
    track: Array


def zigzag(setting: Setting, order: str, angle: float, side: int, steady: Steady | None = None) -> ZigZag:
    """Zig-zag of equal rudder and heading `angle` [rad], first to `side`, until three overshoots or the time is up."""
    steady = steady or setting.steady(order)
    helmsman = sail.Helmsman(sail.ZIGZAG, side * angle, angle)
    ending = sail.Ending(setting.time_for(90.0, steady.speed), 0.0, -np.inf, 0.0)
    start = straight(steady.speed)
    run = setting.sail(start, setting.plan(order), ending, helmsman=helmsman, gear=steady.gear)
    heading = run.track[:, COLUMN["heading"]] * side
    first = crossing(run.track * side, "heading", angle)
    reversal = None if first is None else first * side
    until = None if reversal is None else run.track[run.track[:, 0] <= reversal[0]]
    crossings = np.flatnonzero(heading[1:] * heading[:-1] < 0.0)
    step = setting.interval
    return ZigZag(
        order=order,
        side=side,
        angle=angle,
        approach_speed=steady.speed,
        overshoots=overshoots(heading, run.track[:, COLUMN["yaw_rate"]] * side, angle, step)[:3],
        first_heading_time=None if reversal is None else float(reversal[0]),
        initial_turning=None if until is None else path_length(until),
        period=float((crossings[2] - crossings[0]) * step) if crossings.size >= 3 else None,
        track=run.track,
    )


def overshoots(heading: Array, rate: Array, angle: float, interval: float) -> tuple[float, ...]:
    """How far the heading passes the reversal angle each time, at the zeros of the rate of turn. [rad]"""
    turning = np.flatnonzero(rate[1:] * rate[:-1] < 0.0)
    share = rate[turning] / (rate[turning] - rate[turning + 1])
    extremes = heading[turning] + 0.5 * rate[turning] * share * interval
    return tuple(float(abs(extreme) - angle) for extreme in extremes if abs(extreme) >= angle)


@dataclass(frozen=True, kw_only=True)
class Spiral:
    """Steady rate of turn [rad/s] at each rudder angle [rad], going down from starboard and coming back up.

    `loop_width` [rad] is the span of rudder angles with two answers, `loop_height` [rad/s] the rates at midships apart;
    both nil for a ship that keeps her course by herself.
    """

    rudders: tuple[float, ...]
    down: tuple[float, ...]
    up: tuple[float, ...]
    loop_width: float
    loop_height: float


def spiral(setting: Setting, order: str, steady: Steady | None = None) -> Spiral:
    """Dieudonne spiral: rudder in steps from 15 degrees starboard to 15 port and back, each held until she turns
    steadily."""
    steady = steady or setting.steady(order)
    rudders = tuple(float(np.radians(angle)) for angle in SPIRAL_ANGLES)
    motion, gear = straight(steady.speed), steady.gear
    found = []
    for rudder in rudders + rudders[::-1]:
        ending = sail.Ending(setting.time_for(80.0, steady.speed), 0.0, -np.inf, 1e-3)
        run = setting.sail(motion, setting.plan(order, rudder), ending, gear=gear, tracked=False)
        motion, gear = run.motion, run.gear
        found.append(motion.yaw_rate)
    down, up = tuple(found[: len(rudders)]), tuple(found[len(rudders) :][::-1])
    width = float(neutral(rudders, up) - neutral(rudders, down))
    middle = rudders.index(0.0)
    return Spiral(
        rudders=rudders, down=down, up=up, loop_width=max(width, 0.0), loop_height=max(down[middle] - up[middle], 0.0)
    )


def neutral(rudders: tuple[float, ...], rates: tuple[float, ...]) -> float:
    """Rudder angle at which a branch of the spiral changes side. [rad]"""
    return float(np.interp(0.0, rates[::-1], rudders[::-1]))


@dataclass(frozen=True, kw_only=True)
class PullOut:
    """Rate of turn [rad/s] that is left after a turn of 20 degrees of rudder is ended by rudder amidships, from each
    side."""

    starboard: float
    port: float


def pull_out(setting: Setting, order: str, steady: Steady | None = None) -> PullOut:
    """Rudder from 20 degrees to midships out of a steady turn, followed until the rate settles, from both sides."""
    steady = steady or setting.steady(order)
    left = []
    for side in (1.0, -1.0):
        ending = sail.Ending(setting.time_for(80.0, steady.speed), 0.0, -np.inf, 1e-3)
        rudder = side * np.radians(20.0)
        turn = setting.sail(
            straight(steady.speed), setting.plan(order, rudder), ending, gear=steady.gear, tracked=False
        )
        out = setting.sail(turn.motion, setting.plan(order), ending, gear=turn.gear, tracked=False)
        left.append(out.motion.yaw_rate)
    return PullOut(starboard=left[0], port=left[1])

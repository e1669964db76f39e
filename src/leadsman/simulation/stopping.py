"""Stopping and gathering way: crash stop, coasting, astern from any order, and how long she takes to come up to
speed."""

from dataclasses import dataclass

import numpy as np

from leadsman.simulation import sail
from leadsman.simulation.parameters import Array
from leadsman.simulation.setting import COLUMN, Setting, Steady, crossing, path_length, straight
from leadsman.simulation.state import at_rest
from leadsman.units import KNOT

COASTED = 1.0 * KNOT  # m/s: a ship without engine never quite stops; her coasting is measured to one knot


@dataclass(frozen=True, kw_only=True)
class Stop:
    """A stop from the steady speed of one order by another; lengths in m, time in s, heading change in rad.

    `track_reach` along the track, `head_reach` and `side_reach` along and across the old course. `stopped` is False
    where she was still moving faster than `end_speed` when the trial's time was up; `starts_used` counts air starts.
    """

    order: str
    stopped_by: str
    approach_speed: float
    end_speed: float
    stopped: bool
    track_reach: float
    head_reach: float
    side_reach: float
    heading_change: float
    time: float
    starts_used: float
    track: Array


def stop(setting: Setting, order: str, by: str, steady: Steady | None = None) -> Stop:
    """Order `by` (an astern order, or `stop` to coast) from the steady speed of `order`, rudder amidships.

    Followed until she is dead in the water, or down to one knot when she coasts.
    """
    steady = steady or setting.steady(order)
    end_speed = COASTED if by == "stop" else 0.0
    ending = sail.Ending(setting.time_for(150.0, steady.speed), 0.0, end_speed, 0.0)
    run = setting.sail(straight(steady.speed), setting.plan(by), ending, gear=steady.gear)
    last = crossing(run.track, "surge", end_speed)
    track = run.track if last is None else np.vstack([run.track[:-1], last])
    before, after = (found[0]["shafts"]["starts_made"].sum() for found in (steady.gear, run.gear))
    return Stop(
        order=order,
        stopped_by=by,
        approach_speed=steady.speed,
        end_speed=end_speed,
        stopped=last is not None,
        track_reach=path_length(track),
        head_reach=float(track[-1, COLUMN["north"]]),
        side_reach=float(track[-1, COLUMN["east"]]),
        heading_change=float(track[-1, COLUMN["heading"]]),
        time=float(track[-1, COLUMN["time"]]),
        starts_used=float(after - before),
        track=track,
    )


@dataclass(frozen=True, kw_only=True)
class Acceleration:
    """From rest under one order to nine tenths of its steady speed: speed reached [m/s], time [s] and distance [m]."""

    order: str
    steady_speed: float
    speed: float
    time: float | None
    distance: float | None
    track: Array


def acceleration(setting: Setting, order: str) -> Acceleration:
    """Gather way from rest under an order, straight ahead."""
    steady = setting.steady(order)
    ending = sail.Ending(setting.time_for(200.0, steady.speed), 0.0, -np.inf, 0.0)
    stopped = setting.steady("stop").gear if "stop" in setting.orders else None
    run = setting.sail(at_rest(), setting.plan(order), ending, helmsman=sail.RAILS, gear=stopped)
    reached = crossing(run.track, "surge", 0.9 * steady.speed)
    return Acceleration(
        order=order,
        steady_speed=steady.speed,
        speed=0.9 * steady.speed,
        time=None if reached is None else float(reached[COLUMN["time"]]),
        distance=None if reached is None else float(reached[COLUMN["north"]]),
        track=run.track,
    )

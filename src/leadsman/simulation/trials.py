"""The whole set of standard trials of one ship in one loading and depth, and how they stand against MSC.137(76)."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from leadsman.simulation import criteria, slow, stopping, turning
from leadsman.simulation.criteria import Criterion
from leadsman.simulation.kernel import AFLOAT
from leadsman.simulation.setting import Setting
from leadsman.simulation.slow import Drift, Kick, Swing
from leadsman.simulation.stopping import Acceleration, Stop
from leadsman.simulation.turning import PullOut, Spiral, TurningCircle, ZigZag

HOLDING_WIND = 10.0  # m/s: the wind in which minimum steering speed and drift are stated, a fresh breeze (Beaufort 5)


@dataclass(frozen=True, kw_only=True)
class SteadySpeed:
    """Speed through the water [m/s] and shaft speed [1/s] under an engine order, running straight."""

    order: str
    speed: float
    shaft_speed: float


@dataclass(frozen=True, kw_only=True)
class Trials:
    """What came out of the trials; SI and radians. Parts that a ship cannot do (twist with one screw) are None.

    `depth_to_draught` is infinite in deep water. `aground` are the orders under which she touches the bottom before she
    has gathered her speed; nothing is tried from them, and what is otherwise tried at full sea speed is tried from
    `fastest`, the fastest order that leaves her afloat.
    """

    length: float
    depth_to_draught: float
    aground: tuple[str, ...]
    fastest: str
    speeds: tuple[SteadySpeed, ...]
    circles: tuple[TurningCircle, ...]
    zigzags: tuple[ZigZag, ...]
    spiral: Spiral
    pull_out: PullOut
    stops: tuple[Stop, ...]
    accelerations: tuple[Acceleration, ...]
    accelerating_turns: tuple[TurningCircle, ...]
    kick: Kick
    thruster_swing: Swing | None
    twist: Swing | None
    twist_astern_share: float | None
    minimum_steering_speed: float | None
    drift: Drift | None
    criteria: tuple[Criterion, ...]

    def circle(self, order: str, side: int) -> TurningCircle:
        """The turning circle under an order to a side (+1 starboard)."""
        return next(circle for circle in self.circles if circle.order == order and circle.side == side)

    def zigzag(self, degrees: float, side: int) -> ZigZag:
        """The zig-zag of an angle first to a side."""
        return next(
            found for found in self.zigzags if found.side == side and abs(found.angle - np.radians(degrees)) < 1e-6
        )

    def stop(self, order: str, by: str) -> Stop:
        """The stop from one order by another."""
        return next(found for found in self.stops if found.order == order and found.stopped_by == by)


def trials(setting: Setting, thruster: tuple[float, float] | None = None) -> Trials:
    """Try a ship in all standard manoeuvres.

    Parameters
    ----------
    setting : Setting
        With the orders `full_sea_speed`, `full_ahead`, `half_ahead`, `stop`, `full_astern` and any others of
        `setting.ORDERS`.
    thruster : (float, float), optional
        Sideways thrust at rest [N] and its place forward of midships [m].

    Raises
    ------
    ValueError
        If she touches the bottom under every order ahead.
    """
    every = {order: setting.steady(order) for order in setting.orders}
    steady = {order: found for order, found in every.items() if found.standing == AFLOAT}
    ahead = [order for order in steady if steady[order].speed > 0.0 and order != "stop"]
    if not ahead or "stop" not in steady:
        raise ValueError("she touches the bottom under every order ahead in this depth")
    fastest = "full_sea_speed" if "full_sea_speed" in ahead else max(ahead, key=lambda order: steady[order].speed)
    sea = steady[fastest]
    sides = (1, -1)
    hull = setting.ship["hull"]
    middle_draught = 0.5 * float(hull["draught_forward"] + hull["draught_aft"])
    circles = tuple(
        turning.turning_circle(setting, order, side * setting.hard_over, steady[order])
        for order in ("full_sea_speed", "full_ahead", "half_ahead")
        if order in steady
        for side in sides
    )
    zigzags = tuple(
        turning.zigzag(setting, fastest, float(np.radians(angle)), side, sea)
        for angle in (10.0, 20.0)
        for side in sides
    )
    stops = tuple(stopping.stop(setting, order, by, steady[order]) for order in ahead for by in ("full_astern", "stop"))
    swing, share = (None, None) if not _twin(setting) else slow.twist(setting, "half_ahead", 1)
    windy = bool(np.any(setting.fleet.tables["wind"]))
    return Trials(
        length=setting.length,
        depth_to_draught=setting.around.depth_midships / middle_draught,
        aground=tuple(order for order in every if order not in steady),
        fastest=fastest,
        speeds=tuple(
            SteadySpeed(order=order, speed=found.speed, shaft_speed=found.shaft_speed)
            for order, found in steady.items()
        ),
        circles=circles,
        zigzags=zigzags,
        spiral=turning.spiral(setting, fastest, sea),
        pull_out=turning.pull_out(setting, fastest, sea),
        stops=stops,
        accelerations=tuple(
            stopping.acceleration(setting, order) for order in ("half_ahead", "full_ahead") if order in steady
        ),
        accelerating_turns=tuple(
            turning.accelerating_turn(setting, "half_ahead", side * setting.hard_over)
            for side in sides
            if "half_ahead" in steady
        ),
        kick=slow.kick(setting, "half_ahead", setting.hard_over),
        thruster_swing=slow.thruster_swing(setting, *thruster) if thruster else None,
        twist=swing,
        twist_astern_share=share,
        minimum_steering_speed=slow.minimum_steering_speed(setting, "stop", HOLDING_WIND, fastest) if windy else None,
        drift=slow.drift(setting, HOLDING_WIND) if windy else None,
        criteria=judged(setting.length, circles, zigzags, stops) if fastest == "full_sea_speed" else (),
    )


def _twin(setting: Setting) -> bool:
    screws = setting.screws
    offsets = screws["offset"]
    return len(offsets) == 2 and bool(offsets[0] * offsets[1] < 0.0) and not screws["azimuthing"].any()


def judged(
    length: float, circles: Iterable[TurningCircle], zigzags: Iterable[ZigZag], stops: Iterable[Stop]
) -> tuple[Criterion, ...]:
    """The trials at sea speed against MSC.137(76); each limit on the worse side."""
    at_sea = [circle for circle in circles if circle.order == "full_sea_speed"]
    ten = [found for found in zigzags if abs(found.angle - np.radians(10.0)) < 1e-6]
    twenty = [found for found in zigzags if abs(found.angle - np.radians(20.0)) < 1e-6]
    time_per_length = length / ten[0].approach_speed
    crash = next((stop for stop in stops if (stop.order, stop.stopped_by) == ("full_sea_speed", "full_astern")), None)
    reach = crash.track_reach / length if crash is not None and crash.stopped else None
    first, second = criteria.first_overshoot_limit(time_per_length), criteria.second_overshoot_limit(time_per_length)
    rows = (
        ("advance", [_in(length, circle.advance) for circle in at_sea], criteria.ADVANCE, "lengths"),
        (
            "tactical diameter",
            [_in(length, circle.tactical_diameter) for circle in at_sea],
            criteria.TACTICAL_DIAMETER,
            "lengths",
        ),
        (
            "initial turning",
            [_in(length, found.initial_turning) for found in ten],
            criteria.INITIAL_TURNING,
            "lengths",
        ),
        ("first overshoot 10/10", [_nth(found, 0) for found in ten], first, "rad"),
        ("second overshoot 10/10", [_nth(found, 1) for found in ten], second, "rad"),
        ("first overshoot 20/20", [_nth(found, 0) for found in twenty], criteria.FIRST_OVERSHOOT_20, "rad"),
        ("track reach", [reach], criteria.TRACK_REACH, "lengths"),
    )
    return tuple(
        Criterion(name=name, value=_worst(values), limit=limit, unit=unit) for name, values, limit, unit in rows
    )


def _in(length: float, distance: float | None) -> float | None:
    return None if distance is None else distance / length


def _nth(found: ZigZag, index: int) -> float | None:
    return found.overshoots[index] if len(found.overshoots) > index else None


def _worst(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return max(known) if len(known) == len(values) and known else None

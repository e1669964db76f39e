"""What the manoeuvring model says of her where the passage asks: drift in wind, wheel for a bend, way lost.

Everything is estimated from the card. A `Handling` is she in water of one depth; its answers are kept, for a
start moved by a minute asks the same again.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from leadsman.assessment.moving import reading_of
from leadsman.assessment.own_figures import with_own_figures
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.ship import Loading, Ship
from leadsman.simulation import kernel, sail, state
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.parameters import Records
from leadsman.simulation.setting import COLUMN, Setting, Steady
from leadsman.simulation.state import Motion, even_depth
from leadsman.units import DEGREE, SEA_WATER_DENSITY

DEPTH_STEP = 0.5  # m, to which depths are taken down: she is never tried in more water than there is
SPEED_STEP = 0.05  # m/s, to which speeds are rounded
LEAST_DEPTH_TO_DRAUGHT = 1.05  # the model's shallow-water factors have no source below
LEAST_WHEEL = 5.0 * DEGREE  # a bend is begun with no less: a ship that turns by herself still needs a first wheel
TURNED_AT_LEAST = 2.0 * DEGREE  # before counter-wheel is thought of
LONGEST_LOST = 3600.0  # s for which way lost is followed


@dataclass(frozen=True, kw_only=True)
class Balance:
    """A steady run, straight or round: what angle she makes through the water, and the wheel it takes."""

    drift_angle: float
    """From her heading to her way through the water, positive where the water comes from port ahead. [rad]

    Where the wheel cannot hold her, that of a heading held by other means; not a number in a bend she cannot keep.
    """
    rudder: float
    """Starboard positive; not a number where no angle would do. [rad]"""
    held: bool
    """Whether that is within her greatest angle."""


@dataclass(frozen=True, kw_only=True)
class Turn:
    """A change of course with one wheel and the same counter-wheel, measured on the model."""

    rudder: float
    wheel_over: float
    """Before the waypoint along the old track, where the wheel goes over: her own delay is in it. [m]"""
    meet: float
    """How long before the new course the counter-wheel is given. [rad]"""
    time: float
    """From wheel-over to steady on the new course. [s]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class Model:
    """Her manoeuvring model, made once for a call."""

    made: Estimate
    least_depth: float
    """In which she can be tried. [m]"""
    density: float

    def in_depth(self, depth: float) -> "Handling":
        """She in even water of this depth, taken down to half a metre; never in less than 1.05 draughts. [m]"""
        return _handling(self, max(math.floor(depth / DEPTH_STEP) * DEPTH_STEP, self.least_depth))


def model(ship: Ship, loading: Loading, density: float | None) -> Model:
    """The model of a ship so loaded, in water of a density; `CannotCompute` where the card does not let it be made."""
    ship, loading = with_own_figures(ship, loading)
    try:
        made = estimate(reading_of(ship, loading).particulars)
    except ValueError as error:
        raise CannotCompute(f"no manoeuvring model of {ship.name}: {error}") from error
    return Model(
        made=made,
        least_depth=LEAST_DEPTH_TO_DRAUGHT * loading.mean_draught,
        density=density or loading.water_density or SEA_WATER_DENSITY,
    )


@lru_cache(maxsize=128)
def _handling(made: Model, depth: float) -> "Handling":
    return Handling(setting=made.made.setting(even_depth(depth, made.density)))


@dataclass(frozen=True, kw_only=True, eq=False)
class Handling:
    """She in even water of one depth, as estimated from her card."""

    setting: Setting

    @property
    def hard_over(self) -> float:
        """[rad]"""
        return float(self.setting.hard_over)

    def straight(self, speed: float, wind_speed: float, wind_from: float) -> Balance:
        """Held on a straight way in a wind; `wind_from` from her heading, starboard positive. [rad]"""
        return _balance(self, _speed(speed), 0.0, round(wind_speed, 2), round(wind_from, 3))

    def turning(self, speed: float, radius: float, side: float) -> Balance:
        """Held in a steady turn of a radius in calm air, to a side (+1 starboard)."""
        return _balance(self, _speed(speed), side / radius, 0.0, 0.0)

    def turn(self, speed: float, rudder: float, deflection: float, radius: float) -> Turn | None:
        """From one course to another, `deflection` to starboard positive; None where she does not get round."""
        return _turn(self, _speed(speed), round(rudder, 4), round(deflection, 5), radius)

    def way_lost(self, speed: float, by: str, to: float) -> tuple[float, float]:
        """(distance through the water, time) under an order, down to a speed; infinite if never. [m], [s]"""
        time, distance, speeds = _way_lost(self, _speed(speed), by)
        slow = np.flatnonzero(speeds <= to)
        return (float(distance[slow[0]]), float(time[slow[0]])) if len(slow) else (math.inf, math.inf)


def _speed(speed: float) -> float:
    return max(round(speed / SPEED_STEP) * SPEED_STEP, SPEED_STEP)


def _gear(she: Handling, speed: float, rudder: float) -> Records:
    """Shafts turning as they do at this speed: in proportion to those of the order that drives her nearest to it."""
    name = _nearest_order(she, speed)
    steady, setting = _steady(she, name), she.setting
    turning = steady.shaft_speed * speed / steady.speed
    return state.gear(setting.fleet, setting.variant, turning, setting.orders[name].pitch_ratio, rudder)


@lru_cache(maxsize=1024)
def _steady(she: Handling, order: str) -> Steady:
    return she.setting.steady(order)


@lru_cache(maxsize=1024)
def _nearest_order(she: Handling, speed: float) -> str:
    ahead = [name for name in she.setting.orders if name.endswith(("ahead", "speed"))]
    return min(ahead, key=lambda name: abs(_steady(she, name).speed - speed))


@lru_cache(maxsize=4096)
def _balance(she: Handling, speed: float, curvature: float, wind_speed: float, wind_from: float) -> Balance:
    """Sway and wheel at which side force and yaw moment balance, at a steady speed and rate of turn.

    The inertial terms are those of the equations of motion (docs/methods/manoeuvring.md).
    """
    from scipy.optimize import root

    setting = she.setting
    hull = setting.ship["hull"]
    gear = _gear(she, speed, 0.0)
    around = state.record_of(setting.around._replace(wind_speed=wind_speed, wind_from=wind_from))
    rate = speed * curvature
    unit = 0.5 * setting.around.density * setting.length * float(hull["draught_aft"]) * speed * speed
    helms = gear[0]["helms"]
    count = int(setting.ship["rudder_count"])
    arm = float(hull["mass"] * hull["centre_of_gravity"])

    def left(unknown: Array) -> list[float]:
        drift, rudder = float(unknown[0]), float(unknown[1])
        helms["angle"][:count] = rudder
        helms["angle_before"][:count] = rudder
        motion = Motion(0.0, 0.0, 0.0, speed * math.cos(drift), -speed * math.sin(drift), rate)
        force = kernel.pushed(setting.fleet, setting.variant, gear, motion, around, sail.NO_FORCE)
        mass = float(hull["mass"] + hull["surge_added_mass"] * gear[0]["factors"]["surge_added_mass"])
        side = force.sway - mass * motion.surge * rate
        yaw = force.yaw - arm * motion.surge * rate
        return [side / unit, yaw / (unit * setting.length)]

    found = root(left, np.zeros(2), method="hybr")
    drift, rudder = float(found.x[0]), float(found.x[1])
    possible = bool(found.success) and abs(drift) < 0.5 * math.pi
    if possible and abs(rudder) <= setting.hard_over:
        return Balance(drift_angle=drift, rudder=rudder, held=True)
    if curvature == 0.0:
        drift = _leeway(lambda angle: left(np.array([angle, 0.0]))[0])
    elif not possible:
        drift = math.nan
    return Balance(drift_angle=drift, rudder=rudder if possible else math.nan, held=False)


def _leeway(side: Callable[[float], float]) -> float:
    """The drift angle at which the side force alone balances, wheel amidships, her heading held by other means."""
    from scipy.optimize import brentq

    most = math.radians(85.0)
    if side(-most) * side(most) > 0.0:
        return math.nan
    return float(brentq(side, -most, most, xtol=1e-5))


@lru_cache(maxsize=512)
def _turn(she: Handling, speed: float, rudder: float, deflection: float, radius: float) -> Turn | None:
    """The counter-wheel is put where the turn ends on the new course, found by halving."""
    setting = she.setting
    side = 1.0 if deflection > 0.0 else -1.0
    wheel, wanted = abs(rudder), abs(deflection)
    gear = _gear(she, speed, 0.0)
    longest = setting.time_for(30.0, speed) + wanted * radius / speed * 3.0

    def sailed(meet_at: float) -> Array:
        """The track with counter-wheel from this heading change on, to where she stops turning."""
        first = _run(she, speed, gear, side * wheel, sail.Ending(longest, meet_at, -np.inf, 0.0), None)
        second = _run(she, speed, first.gear, -side * wheel, sail.Ending(longest, 0.0, 0.05, 0.0), first.motion)
        track = second.track.copy()
        track[:, COLUMN["time"]] += first.time
        turning = side * track[:, COLUMN["yaw_rate"]]
        end = int(np.argmax(turning <= 0.0)) if np.any(turning <= 0.0) else len(track) - 1
        return np.asarray(track[end])

    low, high = min(TURNED_AT_LEAST, 0.5 * wanted), wanted
    if side * sailed(low)[COLUMN["heading"]] > wanted:
        high = low  # even the shortest touch of wheel turns her farther; told as it is
    for _ in range(12):
        middle = 0.5 * (low + high)
        if side * sailed(middle)[COLUMN["heading"]] > wanted:
            high = middle
        else:
            low = middle
    last = sailed(low)
    turned = abs(float(last[COLUMN["heading"]]))
    if turned < 0.9 * wanted or not turned > 0.0:
        return None
    advance, transfer = float(last[COLUMN["north"]]), abs(float(last[COLUMN["east"]]))
    before = advance - transfer / math.tan(turned)
    return Turn(
        rudder=side * wheel,
        wheel_over=before,
        meet=wanted - low,
        time=float(last[COLUMN["time"]]),
    )


def _run(
    she: Handling, speed: float, gear: Records, rudder: float, ending: sail.Ending, motion: Motion | None
) -> sail.Run:
    setting = she.setting
    order = setting.orders[_nearest_order(she, speed)]
    shaft = float(gear[0]["shafts"][0]["order_speed"])
    plan = sail.steady_plan(setting.fleet, rudder, shaft, order.pitch_ratio)
    return setting.sail(motion or Motion(0.0, 0.0, 0.0, speed, 0.0, 0.0), plan, ending, gear=gear)


@lru_cache(maxsize=256)
def _way_lost(she: Handling, speed: float, by: str) -> tuple[Array, Array, Array]:
    """(time, distance run, speed) along a stop on a straight way."""
    setting, gear = she.setting, _gear(she, speed, 0.0)
    ending = sail.Ending(LONGEST_LOST, 0.0, 0.0, 0.0)
    run = setting.sail(Motion(0.0, 0.0, 0.0, speed, 0.0, 0.0), setting.plan(by), ending, helmsman=sail.RAILS, gear=gear)
    return run.track[:, COLUMN["time"]], run.track[:, COLUMN["north"]], run.track[:, COLUMN["surge"]]

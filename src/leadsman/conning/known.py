"""What the conn knows of the ship before she moves: her telegraph, how she loses way, how she answers the wheel.

All is found by trying the ship as estimated, in water as deep as most of the passage; the conn of a drawn ship knows no
more than this, as a pilot knows no more than the card.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.simulation import sail
from leadsman.simulation.setting import COLUMN, Setting, straight

LADDER = (
    "full_astern",
    "half_astern",
    "slow_astern",
    "dead_slow_astern",
    "stop",
    "dead_slow_ahead",
    "slow_ahead",
    "half_ahead",
    "full_ahead",
    "full_sea_speed",
)
"""Telegraph orders from full astern to full sea speed; a ship has those of her card."""

SPEED_STEP = 0.1  # m/s, of the table of way lost
PROBE = np.radians(15.0)  # rad: the wheel by which her answer is tried
TRIED_FOR = 1800.0  # s: longer than any merchant ship needs to come to the speed of another order


class Known(NamedTuple):
    """The conn's knowledge of her.

    `speeds` [orders] of shaft [1/s], `pitches` and `steady` speeds through the water [m/s], lines in the order of the
    ladder; `stop` the line of stop. `slowing` [orders, speeds] the distance run from the greatest speed of the table
    down to each multiple of `SPEED_STEP`, infinite where the order never brings her so low [m]. `turning` steady rate
    of turn by wheel, times length over speed [-]; `answer` the time constant of it times speed over length [-];
    `drift` sway over yaw rate in a steady turn, over length [-]; `wheel_rate` of the steering gear [rad/s]; `hard_over`
    [rad]. `delay` of engine [s].
    """

    speeds: Any
    pitches: Any
    steady: Any
    slowing: Any
    stop: int
    turning: float
    answer: float
    drift: float
    wheel_rate: float
    hard_over: float
    length: float


def known(setting: Setting, fastest: float) -> tuple[Known, tuple[str, ...]]:
    """Try the ship of a setting, up to a speed [m/s]; and the names of her telegraph orders, lines of the table."""
    names = tuple(name for name in LADDER if name in setting.orders)
    orders = [setting.orders[name] for name in names]
    steady = np.array([_steady(setting, name) for name in names])
    turning, answer, drift = answers(setting, names, steady)
    top = fastest + SPEED_STEP
    slowing = np.array([way_lost(setting, name, top) for name in names])
    rudders = setting.ship["rudders"][: int(setting.ship["rudder_count"])]
    found = Known(
        speeds=np.array([order.shaft_speed for order in orders]),
        pitches=np.array([order.pitch_ratio for order in orders]),
        steady=steady,
        slowing=slowing,
        stop=names.index("stop"),
        turning=turning,
        answer=answer,
        drift=drift,
        wheel_rate=float(rudders["rate"].min()),
        hard_over=float(setting.hard_over),
        length=setting.length,
    )
    return found, names


def _steady(setting: Setting, order: str) -> float:
    return 0.0 if order == "stop" else float(setting.steady(order).speed)


def way_lost(setting: Setting, order: str, top: float) -> Any:
    """Distance run under an order from a speed down to each lower one; infinite where she never gets there. [m]"""
    start = setting.steady("full_ahead").gear
    ending = sail.Ending(TRIED_FOR, 0.0, SPEED_STEP, 0.0)
    run = setting.sail(straight(top), setting.plan(order), ending, helmsman=sail.RAILS, gear=start)
    speed, north = run.track[:, COLUMN["surge"]], run.track[:, COLUMN["north"]]
    falling = np.minimum.accumulate(speed)
    wanted = np.arange(0.0, top, SPEED_STEP)
    reached = np.interp(-wanted, -falling, north)
    return np.where(wanted >= falling[-1] - SPEED_STEP, reached, np.inf)


def answers(setting: Setting, names: tuple[str, ...], steady: Any) -> tuple[float, float, float]:
    """Steady turning by wheel, time constant and sway by turning, made free of speed and length."""
    order = "slow_ahead" if "slow_ahead" in names else names[-1]
    run = setting.sail(
        straight(float(steady[names.index(order)])),
        setting.plan(order, float(PROBE)),
        sail.Ending(600.0, float(np.radians(150.0)), -np.inf, 0.0),
        gear=setting.steady(order).gear,
    )
    rate, speed = run.track[:, COLUMN["yaw_rate"]], run.track[:, COLUMN["surge"]]
    last = float(rate[-1])
    reached = int(np.flatnonzero(rate >= 0.632 * last)[0])
    turning = last * setting.length / (float(speed[-1]) * float(PROBE))
    answer = float(run.track[reached, 0]) * float(speed[: reached + 1].mean()) / setting.length
    drift = float(run.track[-1, COLUMN["sway"]]) / (last * setting.length)
    return turning, max(answer, 0.1), drift


@formula
def distance_to_slow(known: Known, order: int, speed: float, wanted: float) -> Real:
    """Distance through the water from one speed to a lower under a telegraph order; infinite if never. [m]"""
    table = known.slowing
    last = table.shape[1] - 1
    low = min(max(wanted / SPEED_STEP, 0.0), float(last))
    high = min(max(speed / SPEED_STEP, 0.0), float(last))
    return table[order, int(low)] - table[order, int(high)]

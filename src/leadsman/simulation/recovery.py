"""Going back for a person in the water: the turn that brings a ship back along her own track."""

from dataclasses import dataclass

import numpy as np

from leadsman.simulation import sail
from leadsman.simulation.parameters import Array
from leadsman.simulation.setting import COLUMN, Setting, Steady, crossing, straight

SHORT = np.radians(20.0)  # rad short of the opposite course: wheel amidships (IAMSAR manual, volume III, memory)
LEAST_AWAY, MOST_AWAY = np.radians(10.0), np.radians(110.0)  # rad: where the heading to shift the wheel at is sought
NEAR = 0.05  # lengths from the old track that are near enough
HALVINGS = 12


@dataclass(frozen=True, kw_only=True)
class Recovery:
    """A turn back along the old track: hard over to `side` (+1 starboard) until she is `away` off her course [rad],
    hard over to the other, midships.

    `time_shifted` and `time_eased` when the wheel is put over the other way and amidships, `time_back` when she heads
    back [s]; then she is `offset` to the right of the track she came on, and `ahead` on it of where the turn began [m].
    """

    order: str
    side: int
    away: float
    time_shifted: float
    time_eased: float
    time_back: float
    offset: float
    ahead: float
    track: Array


def williamson(setting: Setting, order: str, side: int, away: float, steady: Steady | None = None) -> Recovery | None:
    """Williamson's turn from the steady speed of an order; None where she does not get round.

    `away` is the heading change [rad] at which the wheel is put over the other way.
    Source: [IAMSAR3], memory: 60 degrees off, hard over the other way, midships 20 degrees short of the opposite.
    """
    steady = steady or setting.steady(order)
    over = side * setting.hard_over
    first = _sailed(setting, order, steady, ((0.0, over),), away)
    shifted = crossing(_sided(first, side), "heading", away)
    if shifted is None:
        return None
    at_shift = float(shifted[COLUMN["time"]])
    second = _sailed(setting, order, steady, ((0.0, over), (at_shift, -over)), np.pi - SHORT)
    eased = crossing(_sided(second, -side), "heading", np.pi - SHORT)
    if eased is None:
        return None
    at_ease = float(eased[COLUMN["time"]])
    whole = _sailed(setting, order, steady, ((0.0, over), (at_shift, -over), (at_ease, 0.0)), np.pi)
    back = crossing(_sided(whole, -side), "heading", np.pi)
    if back is None:
        return None
    return Recovery(
        order=order,
        side=side,
        away=away,
        time_shifted=at_shift,
        time_eased=at_ease,
        time_back=float(back[COLUMN["time"]]),
        offset=float(back[COLUMN["east"]]),
        ahead=float(back[COLUMN["north"]]),
        track=whole,
    )


def onto_her_track(setting: Setting, order: str, side: int) -> Recovery | None:
    """Williamson's turn with the wheel put over the other way just where it brings this ship back onto her own track.

    None where no heading change from 10 to 110 degrees does.
    """
    steady = setting.steady(order)

    def turn(away: float) -> Recovery | None:
        return williamson(setting, order, side, away, steady)

    low, high = float(LEAST_AWAY), float(MOST_AWAY)
    if not _opposite(turn(low), turn(high), side):
        return None
    found = None
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        found = turn(middle)
        if found is None or abs(found.offset) < NEAR * setting.length:
            return found
        # The longer she turns away, the farther to that side she comes back.
        low, high = (middle, high) if found.offset * side < 0.0 else (low, middle)
    return found


def _opposite(short: Recovery | None, long: Recovery | None, side: int) -> bool:
    """Whether the old track lies between where a short and a long turn away bring her."""
    return short is not None and long is not None and short.offset * side < 0.0 < long.offset * side


def _sailed(
    setting: Setting, order: str, steady: Steady, wheel: tuple[tuple[float, float], ...], turned: float
) -> Array:
    """The track under wheel orders in time, until the heading is off by so much."""
    one = setting.plan(order)
    lines = len(wheel)
    plan = one._replace(
        times=np.array([time for time, _ in wheel]),
        rudders=np.array([np.full(one.rudders.shape[1], angle) for _, angle in wheel]),
        speeds=np.repeat(one.speeds, lines, axis=0),
        pitches=np.repeat(one.pitches, lines, axis=0),
    )
    ending = sail.Ending(setting.time_for(200.0, steady.speed), float(turned), -np.inf, 0.0)
    return setting.sail(straight(steady.speed), plan, ending, gear=steady.gear).track


def _sided(track: Array, side: int) -> Array:
    """The track with headings counted positive to a side."""
    sided = track.copy()
    sided[:, COLUMN["heading"]] *= side
    return sided

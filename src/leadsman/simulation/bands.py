"""How far the trial figures of a ship may be off: the same manoeuvres with her uncertain factors drawn many times."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leadsman.simulation import stopping, turning
from leadsman.simulation.factors import Factors, applied
from leadsman.simulation.parameters import Parameters, packed
from leadsman.simulation.setting import Order, Setting
from leadsman.simulation.state import Surroundings, deep_calm

LOW, HIGH = 0.05, 0.95  # of the draws lie below and above the band's ends


@dataclass(frozen=True, kw_only=True)
class TrialBand:
    """A trial figure as the undisturbed ship has it, and between which values nine draws in ten lie; SI and radians.

    `reached` is the share of the draws that got so far at all.
    """

    name: str
    value: float | None
    low: float
    high: float
    reached: float


def trial_bands(
    parameters: Parameters,
    orders: Mapping[str, Order],
    drawn: Sequence[Factors],
    around: Surroundings | None = None,
) -> tuple[TrialBand, ...]:
    """Bands of turning to both sides, 10/10 zig-zag and crash stop at sea speed; the first draw is the ship
    undisturbed.

    Raises
    ------
    ValueError
        If nothing is drawn.
    """
    if not drawn:
        raise ValueError("draws: none; one at least is needed")
    rows: dict[str, list[float | None]] = {}
    for factors in drawn:
        fleet = packed(applied(parameters, factors))
        setting = Setting(fleet=fleet, orders=orders, around=around or deep_calm())
        for name, value in figures(setting).items():
            rows.setdefault(name, []).append(value)
    return tuple(_band(name, values) for name, values in rows.items())


def figures(setting: Setting) -> dict[str, float | None]:
    """The figures a band is made of, for one ship."""
    steady = setting.steady("full_sea_speed")
    found: dict[str, float | None] = {}
    sides: tuple[tuple[str, int], ...] = (("starboard", 1), ("port", -1))
    for word, side in sides:
        circle = turning.turning_circle(setting, "full_sea_speed", side * setting.hard_over, steady)
        found[f"advance, {word}"] = circle.advance
        found[f"transfer, {word}"] = circle.transfer
        found[f"tactical diameter, {word}"] = circle.tactical_diameter
    zigzag = turning.zigzag(setting, "full_sea_speed", float(np.radians(10.0)), 1, steady)
    for place, word in enumerate(("first", "second")):
        overshoots = zigzag.overshoots
        found[f"{word} overshoot 10/10"] = overshoots[place] if len(overshoots) > place else None
    crash = stopping.stop(setting, "full_sea_speed", "full_astern", steady)
    found["track reach, full astern"] = crash.track_reach if crash.stopped else None
    return found


def _band(name: str, values: Sequence[float | None]) -> TrialBand:
    known = np.array([value for value in values if value is not None])
    low, high = np.quantile(known, (LOW, HIGH)) if known.size else (np.nan, np.nan)
    return TrialBand(name=name, value=values[0], low=float(low), high=float(high), reached=known.size / len(values))

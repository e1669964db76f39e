"""The greatest wind from each direction in which a call still succeeds, with none of its tugs to all of them.

For each direction the wind is halved in upon: at each the same runs are sailed, drawn by one seed, so that two winds
differ by the wind alone. The plan of the slow work is made anew for every wind, as a person would.
"""

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from leadsman.assessment.failures_result import Limits, WindLimit
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import BATCH, relied_on
from leadsman.assessment.rehearse_draws import Drawn, Spread, draw
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_run import GOOD, WORDS
from leadsman.assessment.rehearse_slow import in_wind
from leadsman.conning.run import rehearse
from leadsman.portcall import PortCall
from leadsman.simulation.parameters import Records
from leadsman.units import KNOT

GREATEST = 40.0 * KNOT  # m/s: winds above it are not tried
HALVINGS = 4  # of the span to the greatest: 2.5 kn
DIRECTIONS = 8
RUNS = 20  # for each wind
LEVEL = 0.9  # share of the runs that must succeed


def rehearsed_limits(
    call: PortCall,
    runs: int = RUNS,
    seed: int = 1,
    level: float = LEVEL,
    directions: int = DIRECTIONS,
    progress: Callable[[int, int], None] | None = None,
) -> Limits:
    """Greatest winds by direction for none of the call's tugs up to all of them.

    `level` share of `runs` that must succeed. `progress` is told how many of how many directions are done.
    """
    sets = [call.tugs[:count] for count in range(len(call.tugs) + 1)]
    asked = [2.0 * math.pi * number / directions for number in range(directions)]
    winds = []
    done = 0
    estimated: tuple[str, ...] = ()
    for tugs in sets:
        made = ready(prepare(replace(call, tugs=tugs)), call.start)
        drawn = without_the_undisturbed(draw(made, runs + 1, seed, Spread()))
        estimated = relied_on(made)
        row = []
        for wind_from in asked:
            row.append(greatest_wind(made, drawn, wind_from, level))
            done += 1
            if progress:
                progress(done, len(sets) * directions)
        winds.append(tuple(row))
    return Limits(
        call=call.name,
        ship=call.ship.name,
        start=call.start,
        level=level,
        runs=runs,
        seed=seed,
        greatest=GREATEST,
        tugs=tuple(tuple(tug.name for tug in tugs) for tugs in sets),
        winds=tuple(winds),
        estimated=estimated,
    )


def without_the_undisturbed(drawn: Drawn) -> Drawn:
    """The draws but the first, which changes nothing."""
    return replace(
        drawn,
        draws=drawn.draws[1:],
        fleet=drawn.fleet._replace(ships=drawn.fleet.ships[1:]),
        inputs=drawn.inputs[1:],
    )


def greatest_wind(made: Ready, drawn: Drawn, wind_from: float, level: float) -> WindLimit:
    """By halving; the success is taken to fall with the wind."""
    reasons: dict[str, int] = {}

    def goes(wind_speed: float) -> bool:
        nonlocal reasons
        outcomes = in_this_wind(made, drawn, wind_speed, wind_from)
        if float(np.isin(outcomes["reason"].astype(int), GOOD).mean()) >= level:
            return True
        reasons = dict(Counter(WORDS[int(one)] for one in outcomes["reason"]))
        return False

    if not goes(0.0):
        return WindLimit(wind_from=wind_from, wind_speed=None, beyond=False, reasons=reasons)
    low, high = 0.0, GREATEST
    if goes(high):
        return WindLimit(wind_from=wind_from, wind_speed=high, beyond=True, reasons={})
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if goes(middle) else (low, middle)
    return WindLimit(wind_from=wind_from, wind_speed=low, beyond=False, reasons=reasons)


def in_this_wind(made: Ready, drawn: Drawn, wind_speed: float, wind_from: float) -> Records:
    """The outcomes of the drawn runs in a wind."""
    case = in_wind(made.case, made.prepared, made.setting, made.parameters, wind_speed, wind_from)
    parts = []
    for begin in range(0, drawn.draws.shape[0], BATCH):
        batch = slice(begin, begin + BATCH)
        fleet = drawn.fleet._replace(ships=drawn.fleet.ships[batch])
        parts.append(rehearse(case, fleet, drawn.draws[batch], kept=False).outcomes)
    return np.concatenate(parts)

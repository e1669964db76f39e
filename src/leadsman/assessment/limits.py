"""The greatest wind from each direction in which a call still succeeds, with none of its tugs to all of them.

Winds are tried in steps of 2.5 kn. For each direction the greatest step is searched for from what fewer tugs could
hold, and at each step no more runs are sailed than settle it (`limits_search`); the success is taken to fall with the
wind. The runs are the same at every wind, drawn by one seed, so that two winds differ by the wind alone. The plan of
the slow work is made anew for every wind, as a person would.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from hashlib import sha256

from leadsman.assessment.assess import fingerprint
from leadsman.assessment.failures_result import Limits, WindLimit
from leadsman.assessment.limits_search import Tried, boundary, in_threads
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import Store, relied_on
from leadsman.assessment.rehearse_draws import Drawn, Spread, draw
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_slow import in_wind
from leadsman.conning.in_turn import in_turn
from leadsman.conning.run import Case
from leadsman.portcall import PortCall
from leadsman.simulation.parameters import Records
from leadsman.units import KNOT

GREATEST = 40.0 * KNOT  # m/s: winds above it are not tried
STEPS = 16  # of the wind up to the greatest: 2.5 kn
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
    store: Store | None = None,
    fewest_tugs: int = 0,
) -> Limits:
    """Greatest winds by direction for `fewest_tugs` of the call's tugs up to all of them.

    `level` share of `runs` that must succeed. `progress` is told how many of how many directions are done; with a
    `store` every run is kept there, and a search that was stopped goes on with what it has.
    """
    sets = [call.tugs[:count] for count in range(min(fewest_tugs, len(call.tugs)), len(call.tugs) + 1)]
    key = sha256(f"limits {fingerprint(call)} {fewest_tugs} {runs} {seed} {directions}".encode()).hexdigest()[:16]
    tried = Tried.of(store, key, len(sets) * directions, STEPS + 1, runs)
    best = [STEPS // 2] * directions
    winds: list[tuple[WindLimit, ...]] = []
    estimated: tuple[str, ...] = ()
    for number, tugs in enumerate(sets):
        made = ready(prepare(replace(call, tugs=tugs)), call.start)
        drawn = without_the_undisturbed(draw(made, runs + 1, seed, Spread()))
        estimated = relied_on(made)
        search = partial(greatest_step, made, drawn, tried, number * directions, directions, level, tuple(best))
        best = in_threads(search, directions, tried, partial(_told, progress, number, directions, len(sets)))
        winds.append(
            tuple(
                _limit(made, tried, number * directions + index, 2.0 * math.pi * index / directions, step)
                for index, step in enumerate(best)
            )
        )
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


def _told(progress: Callable[[int, int], None] | None, number: int, directions: int, sets: int, done: int) -> None:
    if progress:
        progress(number * directions + done, sets * directions)


def without_the_undisturbed(drawn: Drawn) -> Drawn:
    """The draws but the first, which changes nothing."""
    return replace(
        drawn,
        draws=drawn.draws[1:],
        fleet=drawn.fleet._replace(ships=drawn.fleet.ships[1:]),
        inputs=drawn.inputs[1:],
    )


def greatest_step(
    made: Ready,
    drawn: Drawn,
    tried: Tried,
    first: int,
    directions: int,
    level: float,
    guesses: tuple[int, ...],
    index: int,
) -> int:
    """The greatest step of the wind from the direction `index` in which the call goes, -1 if it does not in calm.

    `first` is the row in `tried` of the first direction, `guesses` steps to begin from.
    """
    wind_from = 2.0 * math.pi * index / directions

    def goes(step: int) -> bool:
        case = case_in(made, GREATEST * step / STEPS, wind_from)
        return tried.goes(first + index, step, level, partial(sailed, case, drawn))

    return boundary(goes, STEPS, guesses[index])


def case_in(made: Ready, wind_speed: float, wind_from: float) -> Case:
    """The call planned for a wind. [m/s, rad]"""
    return in_wind(made.case, made.prepared, made.setting, made.parameters, wind_speed, wind_from)


def sailed(case: Case, drawn: Drawn, run: int) -> Records:
    """The outcome of one of the draws. [record]"""
    one = slice(run, run + 1)
    found: Records = in_turn(case, drawn.fleet._replace(ships=drawn.fleet.ships[one]), drawn.draws[one])[0]
    return found


def in_this_wind(made: Ready, drawn: Drawn, wind_speed: float, wind_from: float) -> Records:
    """The outcomes of all draws in a wind. [runs]"""
    return in_turn(case_in(made, wind_speed, wind_from), drawn.fleet, drawn.draws)


def _limit(made: Ready, tried: Tried, search: int, wind_from: float, step: int) -> WindLimit:
    beyond = step == STEPS
    broken, place = ("", math.nan) if beyond else tried.broken(search, step + 1)
    return WindLimit(
        wind_from=wind_from,
        wind_speed=None if step < 0 else GREATEST * step / STEPS,
        beyond=beyond,
        too_much=None if beyond else GREATEST * (step + 1) / STEPS,
        reasons={} if beyond else tried.reasons(search, step + 1),
        broken=broken,
        place="" if beyond else made.prepared.passage.place(place),
    )

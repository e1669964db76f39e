"""Many variants of one ship under the same plan, everything uncertain drawn by a seed: how far the answer may be off.

The draws are made once, in order, before the runs; each run then depends on its own draw alone, so that the outcome is
the same to the last bit whatever the number of threads.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import kernel
from leadsman.physics.hull_force import Force
from leadsman.simulation import sail as sailing
from leadsman.simulation.factors import Factors, applied
from leadsman.simulation.kernel import STEP
from leadsman.simulation.parameters import Array, Fleet, Parameters, Records, packed, record_type
from leadsman.simulation.sail import WIDTH, Ending, Helmsman, Plan, sail
from leadsman.simulation.state import Motion, Surroundings, deep_calm

NEVER_NEGATIVE = ("wind_speed", "depth_bow", "depth_midships", "depth_stern", "density")


def _sail_all(
    fleet: Any,
    motions: Any,
    gears: Any,
    arounds: Any,
    plan: Plan,
    helmsman: Helmsman,
    ending: Ending,
    interval: float,
    tracks: Any,
    counts: Any,
    standings: Any,
) -> None:
    """Carry out the plan with every variant; motions and gears are brought forward in place."""
    calm = Force(0.0, 0.0, 0.0)
    for run in numba.prange(motions.shape[0]):
        start = motions[run]
        motion = Motion(start[0], start[1], start[2], start[3], start[4], start[5])
        last, count, state = sail(
            fleet.ships[run],
            fleet.tables[0],
            gears[run],
            motion,
            arounds[run],
            calm,
            plan,
            helmsman,
            ending,
            interval,
            tracks[run],
        )
        start[0] = last.north
        start[1] = last.east
        start[2] = last.heading
        start[3] = last.surge
        start[4] = last.sway
        start[5] = last.yaw_rate
        counts[run] = count
        standings[run] = state


sail_all = kernel(_sail_all, parallel=True)


@dataclass(frozen=True, kw_only=True)
class Ensemble:
    """What came of all runs; the first run is the undisturbed one.

    `motions` [runs, 6] as `Motion`; `times` [runs] in s; `standings` [runs]; `tracks` [runs, moments, COLUMNS] where
    asked for, lines after the end of a run repeat nothing and stay zero; `factors` drawn; `arounds` [runs] drawn;
    `seed`.
    """

    motions: Array
    times: Array
    standings: NDArray[np.int64]
    tracks: Array
    factors: tuple[Factors, ...]
    arounds: Records
    seed: int


def surroundings(
    around: Surroundings, spread: Mapping[str, float], runs: int, generator: np.random.Generator
) -> Records:
    """Surroundings of each run: normal about the given ones with the standard deviations named; the first undisturbed.

    Raises
    ------
    ValueError
        For a name that is no quantity of the surroundings.
    """
    found = np.full(runs, np.array([tuple(around)], record_type(Surroundings))[0])
    for name, deviation in spread.items():
        if name not in Surroundings._fields:
            known = ", ".join(Surroundings._fields)
            raise ValueError(f"spread: '{name}' is no quantity of the surroundings; expected one of {known}")
        found[name][1:] += deviation * generator.standard_normal(runs - 1)
        if name in NEVER_NEGATIVE:
            found[name] = np.maximum(found[name], 1e-6)
    return found


def ships(parameters: Parameters, factors: Sequence[Factors]) -> Fleet:
    """One variant of the ship for each draw."""
    return packed([applied(parameters, one) for one in factors])


def run(
    parameters: Parameters,
    factors: Sequence[Factors],
    start: tuple[Motion, Records],
    plan: Plan,
    ending: Ending,
    *,
    seed: int,
    around: Surroundings | None = None,
    spread: Mapping[str, float] | None = None,
    helmsman: Helmsman = sailing.PLANNED,
    interval: float = STEP,
    tracked: bool = False,
) -> Ensemble:
    """Carry out a plan with every drawn ship from the same motion and gear.

    Parameters
    ----------
    parameters : Parameters
        The ship the factors act on.
    factors : sequence of Factors
        One a run, as `factors.drawn` gives them.
    start : (Motion, records)
        And the gear at that moment.
    plan, ending, helmsman, interval
        As `sail.run`.
    seed : int
        Of the surroundings' draws.
    around, spread
        The surroundings, and standard deviations of those that are uncertain, by name.
    tracked : bool
        Keep every moment of every run; without it memory does not grow with the length of the runs.

    Raises
    ------
    ValueError
        Naming what is not a number or not known.
    """
    runs = len(factors)
    fleet = ships(parameters, factors)
    motion, gear = start
    sailing.refuse_nan("motion", motion)
    sailing.refuse_nan("plan", plan)
    arounds = surroundings(around or deep_calm(), spread or {}, runs, np.random.default_rng(seed))
    for name in Surroundings._fields:
        if np.isnan(arounds[name]).any():
            raise ValueError(f"surroundings: {name.replace('_', ' ')} is not a number")
    motions = np.tile(np.array(motion), (runs, 1))
    gears = np.repeat(gear, runs)
    moments = int(np.ceil(ending.time / interval)) + 2 if tracked else 0
    tracks = np.zeros((runs, moments, WIDTH))
    counts = np.zeros(runs, np.int64)
    standings = np.zeros(runs, np.int64)
    sail_all(fleet, motions, gears, arounds, plan, helmsman, ending, interval, tracks, counts, standings)
    return Ensemble(
        motions=motions,
        times=counts.astype(np.float64) * interval,
        standings=standings,
        tracks=tracks,
        factors=tuple(factors),
        arounds=arounds,
        seed=seed,
    )

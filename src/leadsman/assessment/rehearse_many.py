"""All runs summed up: how often it went, where it was tight, what she swept, what mattered."""

import math

import numpy as np
from numpy.typing import NDArray
from scipy.stats import rankdata

from leadsman.assessment.rehearse_draws import Drawn, Spread, spread_words
from leadsman.assessment.rehearse_prepare import Ready
from leadsman.assessment.rehearse_result import Ensemble, Matter, Run, Tight
from leadsman.assessment.rehearse_run import GOOD, WORDS, told
from leadsman.assessment.rehearse_stage import outlines
from leadsman.assessment.rehearse_waters import TRACK_STEP
from leadsman.conning.outcome import ALONGSIDE
from leadsman.conning.outline import STRETCH, Stage
from leadsman.conning.run import Runs, rehearse
from leadsman.geometry import Array
from leadsman.physics.survey import TWO_SIDED_95
from leadsman.simulation.parameters import Records

QUANTILES = {"lowest of twenty": 0.05, "median": 0.5, "highest of twenty": 0.95}
SHARES = {"50": 0.50, "95": 0.95, "99": 0.99}
TIGHT_PLACES = 4


def ensemble(made: Ready, drawn: Drawn, runs: Runs, seed: int, spread: Spread, stage: Stage) -> Ensemble:
    """The drawn runs summed up; the undisturbed first run is not one of them. `stage` is that they were sailed on."""
    outcomes = runs.outcomes[1:]
    good = np.isin(outcomes["reason"].astype(int), GOOD)
    count = int(outcomes.shape[0])
    low, high = wilson(int(good.sum()), count)
    kinds, numbers = np.unique(outcomes["reason"].astype(int), return_counts=True)
    landed = outcomes["landing_speed"][outcomes["reason"] == ALONGSIDE]
    return Ensemble(
        runs=count,
        seed=seed,
        spread=spread_words(spread),
        successes=int(good.sum()),
        rate=float(good.mean()),
        low=low,
        high=high,
        reasons={WORDS[int(kind)]: int(number) for kind, number in zip(kinds, numbers, strict=True)},
        tight=tight_places(made, outcomes),
        matters=matters(drawn, outcomes, good),
        envelope_distance=np.arange(runs.swept.shape[1], dtype=np.float64) * (STRETCH * TRACK_STEP),
        envelope={name: envelope(runs.swept[1:], share) for name, share in SHARES.items()},
        slow_work=outlines(stage, runs.covered[1:], SHARES),
        worst=worst(made, drawn, outcomes, good),
        landing_speed=quantiles(landed),
        duration=quantiles(outcomes["time"][good]),
        busiest=quantiles(outcomes["busiest"]),
        without_air=int(np.count_nonzero(outcomes["starts_refused"])),
        starts_left=starts_left(outcomes),
    )


def wilson(successes: int, count: int, deviations: float = TWO_SIDED_95) -> tuple[float, float]:
    """Interval that holds the true share with 95 %, or as many standard deviations as told.

    Source: [Wilson1927], the score interval.
    """
    z = deviations
    share = successes / count
    middle = (share + z * z / (2.0 * count)) / (1.0 + z * z / count)
    half = z / (1.0 + z * z / count) * math.sqrt(share * (1.0 - share) / count + z * z / (4.0 * count * count))
    return max(middle - half, 0.0), min(middle + half, 1.0)


def quantiles(values: Array) -> dict[str, float]:
    """By name; empty where there is nothing."""
    if values.size == 0:
        return {}
    return {name: float(np.quantile(values, share)) for name, share in QUANTILES.items()}


def starts_left(outcomes: Records) -> int | None:
    """Starts there was air for at the least in any run; None where no engine starts on air."""
    least = float(np.min(outcomes["starts_left"]))
    return int(least) if math.isfinite(least) else None


def envelope(swept: Array, share: float) -> Array:
    """Reach to port and starboard that a share of the runs does not pass, where at least that share came by. [m]"""
    been = np.isfinite(swept[..., 0]).mean(axis=0) > 1.0 - share
    found = np.full(swept.shape[1:], np.nan)
    inside = np.where(np.isfinite(swept), swept, np.nan)
    found[been] = np.nanquantile(inside[:, been], share, axis=0)
    return found


def tight_places(made: Ready, outcomes: Records) -> tuple[Tight, ...]:
    """For each quantity the places where most runs have their least, tightest first."""
    found = []
    for quantity, key in (
        ("room port", "room_port"),
        ("room starboard", "room_starboard"),
        ("underkeel", "keel"),
        ("water room", "water_room"),
    ):
        known = np.isfinite(outcomes[key])
        values, at = outcomes[key][known], outcomes[f"{key}_at"][known]
        places = np.array([made.prepared.passage.place(float(one)) for one in at])
        for name in np.unique(places):
            mine = places == name
            if mine.mean() < 0.1:
                continue
            found.append(
                Tight(
                    quantity=quantity,
                    place=str(name),
                    distance=float(np.median(at[mine])),
                    usual=float(np.median(values[mine])),
                    one_in_twenty=float(np.quantile(values[mine], 0.05)),
                )
            )
    found.sort(key=lambda one: one.one_in_twenty)
    return tuple(found)


def matters(drawn: Drawn, outcomes: Records, good: NDArray[np.bool_]) -> tuple[Matter, ...]:
    """Rank correlations of what was drawn with how it went, heaviest first.

    Source: Spearman's rank correlation.
    """
    room = np.minimum(outcomes["room_port"], outcomes["room_starboard"])
    landed = outcomes["landing_speed"] > 0.0
    found = []
    for name, column in zip(drawn.names, drawn.inputs[1:].T, strict=True):
        found.append(
            Matter(
                name=name,
                success=ranked(column, good.astype(np.float64)),
                room=ranked(column, np.where(np.isfinite(room), room, 0.0)),
                landing=ranked(column[landed], outcomes["landing_speed"][landed]),
            )
        )
    found.sort(key=lambda one: -one.weight)
    return tuple(found)


def ranked(first: Array, second: Array) -> float:
    """Correlation of the ranks; nil where one of them does not vary."""
    if first.size < 3 or np.ptp(first) == 0.0 or np.ptp(second) == 0.0:
        return 0.0
    return float(np.corrcoef(rankdata(first), rankdata(second))[0, 1])


def worst(made: Ready, drawn: Drawn, outcomes: Records, good: NDArray[np.bool_]) -> Run | None:
    """The run that failed earliest on the way, else the one with least room; sailed again with its track kept."""
    if good.all():
        room = np.minimum(outcomes["room_port"], outcomes["room_starboard"])
        number = 1 + int(np.argmin(room))
    else:
        failed = np.flatnonzero(~good)
        number = 1 + int(failed[np.argmin(outcomes["time"][failed])])
    fleet = drawn.fleet._replace(ships=drawn.fleet.ships[number : number + 1])
    again = rehearse(made.case, fleet, drawn.draws[number : number + 1], kept=True)
    return told(made, again, number)

"""The chance that she touches the bed on the passage, reach by reach and in all, beside the rule of metres and percent.

What is uncertain is drawn once for a passage, and is the same all along it: the share by which squat is other than
told, the share by which waves move her otherwise, and for each depth area the error of its survey. The greatest wave
motion is drawn for each station and part from the cycles she meets there. Level and reading of draughts shift all
stations alike; they are not drawn but integrated exactly, given the rest:

    P = mean over draws of Phi(-least clearance / deviation of level and reading)

Every draw is fixed by a seed, the evenly spread ones by Sobol's sequence, so equal calls give equal answers. Clearance
is to the bed as charted, siltation off, at the best forecast of the level; no allowance and no margin is taken off.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from leadsman.assessment import windows
from leadsman.assessment.parts import PARTS
from leadsman.assessment.result import ReachTouching, Touching
from leadsman.assessment.underkeel import Underkeel
from leadsman.geometry import Array
from leadsman.physics import uncertainty
from leadsman.physics.survey import TWO_SIDED_95

DRAWS = 2048  # a chance of 1 in 1 000 comes out within a tenth of itself (tests/assessment/test_touching.py)
SEED = 20310506
TOLD = 1e-6  # smaller chances are told as less than this: the tails of the components are not known so far out
FAR = 6.5  # standard deviations: a station farther from touching than this adds less than 1e-10
SMALL_RISE = 0.02  # m: over which the slope of squat is taken; it is steepest where the water is lowest
LEAST_FACTOR = 0.05  # of squat and waves: a normal factor is cut there, never to lift her


@dataclass(frozen=True, kw_only=True, eq=False)
class Chances:
    """Ready to answer for any levels at the stations."""

    underkeel: Underkeel
    level_deviation: Array
    """Of the water level at each station, one standard deviation. [m]"""

    @cached_property
    def common(self) -> float:
        """Deviation of what shifts all stations alike: level and reading of draughts, at the greatest. [m]"""
        return float(np.hypot(np.max(self.level_deviation), self.underkeel.reading_deviation))

    @cached_property
    def _still(self) -> Array:
        """Clearance at level nought without squat and waves, parts by stations. [m]"""
        account = self.underkeel
        return np.asarray(
            account.depth.depth - account.draught[:, None] - account.depth.siltation - account.heel.sinkage
        )

    @cached_property
    def _factors(self) -> tuple[Array, Array, Array]:
        """Draws of the squat factor, the wave factor and each area's survey error in deviations, (draws, areas)."""
        from scipy.stats import qmc

        areas = len(self.underkeel.passage.call.waterway.areas)
        under = np.unique(self.underkeel.depth.area)
        drawn = ndtri(qmc.Sobol(2 + len(under), seed=SEED).random(DRAWS))
        errors = np.zeros((DRAWS, areas))
        errors[:, under] = drawn[:, 2:]
        squat = 1.0 + uncertainty.default("squat").value * drawn[:, 0]
        waves = 1.0 + uncertainty.default("wave_motion").value * drawn[:, 1]
        return np.maximum(squat, LEAST_FACTOR), np.maximum(waves, LEAST_FACTOR), errors

    def _rows(self, level: Array, squats: Array) -> NDArray[np.intp]:
        """Flat rows (part, station) near enough to the bed to count."""
        account = self.underkeel
        clear = self._still + level - squats
        spread = np.sqrt(
            self.common**2
            + (account.depth.survey / TWO_SIDED_95) ** 2
            + (uncertainty.default("squat").value * squats) ** 2
        )
        wave = (1.0 + FAR * uncertainty.default("wave_motion").value) * FAR * account.seaway.deviation
        return np.flatnonzero((clear - FAR * spread - wave < 0.0).ravel())

    def least(self, level: Array, squats: Array, groups: NDArray[np.int64] | None = None) -> Array:
        """Least clearance of each draw without level and reading, (draws,) or by groups of stations. [m]

        `squats`: of parts by stations at these levels. `groups`: of each station its group's number from nought.
        """
        number = 1 if groups is None else int(np.max(groups)) + 1
        found = np.full((number, DRAWS), np.inf)
        squat_factor, wave_factor, errors = self._factors
        account, count = self.underkeel, len(level)
        for row in self._rows(level, squats):
            part, station = divmod(int(row), count)
            clear = (
                self._still[part, station]
                + level[station]
                - squats[part, station] * squat_factor
                + account.depth.survey[part, station] / TWO_SIDED_95 * errors[:, account.depth.area[part, station]]
            )
            if account.seaway.deviation[part, station] > 0.0:
                clear = clear - wave_factor * self._greatest(part, station)
            group = 0 if groups is None else int(groups[station])
            np.minimum(found[group], clear, out=found[group])
        return found[0] if groups is None else found

    def _greatest(self, part: int, station: int) -> Array:
        """Greatest wave motion of a part while she is at a station, draw by draw: of so many Rayleigh cycles. [m]"""
        seaway = self.underkeel.seaway
        cycles = max(float(seaway.cycles_here[part, station]), 1e-6)
        below = np.random.default_rng([SEED, part, station]).random(DRAWS)
        # exceeded by none of the cycles with the chance `below`: 1 - below^(1/cycles), kept exact near nought
        exceeded = -np.expm1(np.log(np.maximum(below, 1e-300)) / cycles)
        return np.asarray(seaway.deviation[part, station] * np.sqrt(-2.0 * np.log(np.maximum(exceeded, 1e-300))))

    def squats(self, level: Array) -> Array:
        """Squat of every part at every station, the governing method's. [m]"""
        part, station = np.indices(self.underkeel.depth.depth.shape).reshape(2, -1)
        found = self.underkeel.squats(np.tile(level, len(PARTS)), part, station).governing
        return np.asarray(np.minimum(found, 50.0).reshape(self.underkeel.depth.depth.shape))

    @cached_property
    def response(self) -> float:
        """How much a clearance can change with a level, at most, from the levels needed upwards: squat shrinks. [-]"""
        need = self.underkeel.needed_levels
        slope = float(np.max(self.squats(need) - self.squats(need + SMALL_RISE))) / SMALL_RISE
        return 1.0 + max(slope, 0.0) * float(np.max(self._factors[0]))

    def probability(self, least: Array) -> Array:
        """Chance of touching from the least clearances of the draws (last axis). [-]"""
        return np.asarray(np.mean(ndtr(-least / self.common), axis=-1))

    def to_spare(self, least: Array, limit: float) -> float:
        """How far all levels could fall until the chance reaches a limit; negative: it is exceeded by so much. [m]"""
        low, high = -10.0, 30.0
        for _ in range(40):
            middle = 0.5 * (low + high)
            exceeded = float(np.mean(ndtr((middle - least) / self.common))) > limit
            low, high = (low, middle) if exceeded else (middle, high)
        return low


def narrowed(
    chances: Chances, search: windows.Search, levels: Callable[[float], Array], steepness: float, limit: float
) -> windows.Search:
    """The search with only what of its spans the limit leaves; `levels` at the stations for a start. [s] -> [m]

    What there is to spare rises and falls with the levels, and a little faster for the squat that goes with them; so
    the solver of windows finds its edges as it does those of the water.
    """

    def evaluate(starts: Array) -> Array:
        rows = np.full((len(starts), 3), np.inf)
        for index, start in enumerate(starts):
            level = levels(float(start))
            rows[index, 0] = chances.to_spare(chances.least(level, chances.squats(level)), limit)
        return rows

    kept = []
    for span in search.spans:
        for inner in windows.solve(evaluate, span.opens, span.closes, steepness * chances.response).spans:
            kept.append(
                windows.Span(
                    opens=inner.opens,
                    closes=inner.closes,
                    opens_at_edge=inner.opens_at_edge or span.opens_at_edge,
                    closes_at_edge=inner.closes_at_edge or span.closes_at_edge,
                )
            )
    return windows.Search(
        spans=tuple(kept), sampled=search.sampled, margins=search.margins, evaluations=search.evaluations
    )


def touching(chances: Chances, level: Array) -> Touching:
    """The chance of touching for one start, in all and reach by reach."""
    account = chances.underkeel
    passage = account.passage
    by_reach = chances.least(level, chances.squats(level), passage.reach)
    rows = np.full((len(passage.reaches), DRAWS), np.inf)
    rows[: len(by_reach)] = by_reach
    limit = passage.call.margins.touching
    whole = np.min(rows, axis=0)
    return Touching(
        probability=float(chances.probability(whole)),
        limit=limit,
        to_spare=None if limit is None else chances.to_spare(whole, limit),
        reaches=tuple(
            ReachTouching(reach=reach.name, probability=float(chance))
            for reach, chance in zip(passage.reaches, chances.probability(rows), strict=True)
        ),
        least_told=TOLD,
        draws=DRAWS,
        seed=SEED,
    )

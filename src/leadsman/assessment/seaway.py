"""How far waves move bow, stern and bilges: bounds that hold for every start, from the forecast's waves.

The closed form of Jensen, Mansour and Olsen for heave and pitch, and the greater of two forms for roll, over a JONSWAP
spectrum (docs/methods/waves.md). The method is for deep water; the waves are taken once as deep, as published, and once
as in water a tenth deeper than she draws, and the greater motion counts, so that it does not depend on the level. It is
also the greatest over every angle the waves can have to her, so that it does not depend on the start.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.drift import Drift
from leadsman.assessment.heeling import HEADING_UNCERTAINTY, Stability
from leadsman.assessment.parts import BILGE_REACH, PARTS
from leadsman.assessment.passage import Passage
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.physics import waves
from leadsman.physics.squat import Hull
from leadsman.units import SEA_WATER_DENSITY

CHANCE = 0.01  # that the greatest wave motion of the passage exceeds the one taken off. Ours, no source
PEAKEDNESS = 3.3  # of the JONSWAP spectrum, its mean: [Hasselmann1973], memory
ROLL_DAMPING = 0.05  # share of the critical one: the low end of 0.05 to 0.2 (water.md 3.3, seen in code), so careful
SHALLOW = 1.1  # water depth / draught for the waves in shallow water
FREQUENCIES = np.linspace(0.5, 4.0, 80)  # of the peak frequency
ANGLES = 181  # whole degrees from following to head seas


class Motion(NamedTuple):
    """Motion of a part for waves of one metre, by whole degrees between heading and the way the waves go."""

    deviation: Array
    """[m/m]"""
    period: Array
    """Mean, between zero crossings, as met by her. [s]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class Seaway:
    """Wave motion of parts at stations; arrays of shape (parts, stations)."""

    deviation: Array
    """One standard deviation of the vertical motion. [m]"""
    cycles_here: Array
    """Cycles of the motion while she is between a station and the next."""
    findings: tuple[Finding, ...]

    @cached_property
    def allowance(self) -> Array:
        """What the greatest motion of the passage exceeds with the chance of `CHANCE`. [m]"""
        cycles = np.sum(self.cycles_here, axis=1, keepdims=True)
        return np.asarray(waves.exceeded_with(CHANCE, self.deviation, np.maximum(cycles, 1.0)))


def seaway(passage: Passage, drift: Drift, hull: Hull, stability: Stability) -> Seaway:
    """Wave motion at every station, whatever the start."""
    forecast = passage.call.forecast
    share = np.array([reach.wave_share for reach in passage.reaches])[passage.reach]
    shape = (len(PARTS), len(passage.distance))
    deviation, cycles = np.zeros(shape), np.zeros(shape)
    if forecast.wave_height is None or forecast.wave_period is None:
        exposed = dict.fromkeys(reach.name for reach in passage.reaches if reach.wave_share > 0.0)
        return Seaway(deviation=deviation, cycles_here=cycles, findings=(_no_waves(list(exposed)),) if exposed else ())
    met = np.flatnonzero(share * forecast.wave_height > 0.0)
    low, high = _angles(passage, drift)
    spent = drift.spacing / drift.slowest
    form = (hull.length_between_perpendiculars, hull.beam, hull.draught, hull.block_coefficient)
    for speed, first, last in {(float(passage.speed[i]), int(low[i]), int(high[i])) for i in met}:
        here = met[(passage.speed[met] == speed) & (low[met] == first) & (high[met] == last)]
        by_part = _motions(forecast.wave_period, speed, form, stability.metacentric_heights)
        for row, part in enumerate(PARTS):
            motion = by_part[int(part.bilge != 0.0)]
            worst = first + int(np.argmax(motion.deviation[first : last + 1]))
            deviation[row, here] = motion.deviation[worst] * share[here] * forecast.wave_height
            cycles[row, here] = spent[here] / motion.period[worst]
    return Seaway(deviation=deviation, cycles_here=cycles, findings=())


def _angles(passage: Passage, drift: Drift) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Least and greatest angle to the waves, 0 to 180 whole degrees, outward."""
    count = len(passage.distance)
    if passage.call.forecast.wave_from is None:
        return np.zeros(count, dtype=np.int64), np.full(count, ANGLES - 1)
    half = 0.5 * (drift.crab_most - drift.crab_least) + HEADING_UNCERTAINTY
    middle = passage.course + 0.5 * (drift.crab_most + drift.crab_least)
    off = np.abs((passage.call.forecast.wave_from + np.pi - middle + np.pi) % (2.0 * np.pi) - np.pi)
    low = np.floor(np.degrees(np.maximum(off - half, 0.0)) + 1e-9)
    high = np.ceil(np.degrees(np.minimum(off + half, np.pi)) - 1e-9)
    return low.astype(np.int64), high.astype(np.int64)


@lru_cache(maxsize=256)
def _motions(
    peak_period: float, speed: float, form: tuple[float, float, float, float], heights: tuple[float, ...]
) -> tuple[Motion, Motion]:
    """Of the ends, and of the bilges, at one speed: the greater of deep and shallow water, and of the GM's range."""
    frequency = FREQUENCIES * 2.0 * np.pi / peak_period
    spectrum = waves.jonswap(frequency, 1.0, peak_period, PEAKEDNESS)
    angle = np.radians(np.arange(ANGLES))[:, None]
    length, beam, draught, block = form
    ends, bilges = [], []
    for number in (waves.wave_number_in_deep_water(frequency), waves.wave_number(frequency, SHALLOW * draught)):
        ratio = waves.encounter_ratio(frequency, number, speed, angle)
        heave, pitch = waves.response(frequency, number, angle, speed, length, beam, draught, block)
        ends.append(_motion(waves.vertical_motion(heave, pitch, 0.5 * length), spectrum, frequency, ratio))
        of_keel = waves.vertical_motion(heave, pitch, BILGE_REACH * length)
        for height in heights:
            roll = _roll(frequency, number, angle, speed, form, height)
            # Heave follows the water's height and roll its slope: a quarter period apart, so that squares add.
            bilges.append(_motion(np.hypot(of_keel, 0.5 * beam * roll), spectrum, frequency, ratio))
    return _greatest(ends), _greatest(bilges)


def _roll(
    frequency: Array,
    number: Array,
    angle: Array,
    speed: float,
    form: tuple[float, float, float, float],
    height: float,
) -> Array:
    """The greater of the two forms, as docs/methods/waves.md asks. [rad/m]"""
    length, beam, draught, block = form
    period = waves.roll_period(length, beam, draught, height)
    by_waves = waves.roll_response(
        frequency, number, angle, speed, length, beam, draught, block, height, ROLL_DAMPING, SEA_WATER_DENSITY
    )
    by_slope = waves.roll_by_slope(frequency, number, angle, speed, length, period, ROLL_DAMPING)
    return np.asarray(np.maximum(by_waves, by_slope))


def _motion(amplitude: Array, spectrum: Array, frequency: Array, ratio: Array) -> Motion:
    return Motion(
        deviation=np.asarray(waves.deviation(amplitude, spectrum, frequency)),
        period=np.asarray(waves.zero_crossing_period(amplitude, spectrum, frequency, ratio)),
    )


def _greatest(motions: list[Motion]) -> Motion:
    deviations = np.array([one.deviation for one in motions])
    rows = np.argmax(deviations, axis=0)
    column = np.arange(ANGLES)
    return Motion(deviation=deviations[rows, column], period=np.array([one.period for one in motions])[rows, column])


def _no_waves(reaches: list[str]) -> Finding:
    more = f" and {len(reaches) - 3} more" if len(reaches) > 3 else ""
    return Finding(
        grade=Grade.CAUTION,
        subject="waves",
        sentence=f"The forecast gives no waves: none are counted in {', '.join(reaches[:3])}{more}.",
        source="forecast.toml",
    )

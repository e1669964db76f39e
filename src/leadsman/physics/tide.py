"""The astronomical tide from harmonic constants: heights, rates, high and low waters.

    height = mean level + sum of f H cos(V + u - G)

`harmonics` turns the constants of a port into plain sums of cosines, one per span of time over which the nodal
corrections are held; everything else works on these sums. Times are seconds from 1970-01-01 00:00 UTC.
Source: [Schureman1940].
"""

from collections.abc import Mapping
from datetime import UTC, datetime
from math import ceil, isqrt
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real
from leadsman.physics import tide_astronomy
from leadsman.units import DAY

SCHEMES = ("yearly", "daily")
"""How f and u follow the lunar node. `yearly`: held from 1 January to 31 December at their mid-year values, as NOAA
does; exact to NOAA's millimetre, with a step of up to some centimetres at New Year. `daily`: taken at each noon, which
differs from taking them at every instant by less than a millimetre."""

SAMPLING = 360.0  # s: six minutes, fine enough that no two turning points worth a name fall between two samples
_HALVINGS = 20  # of a bracket of SAMPLING: to a third of a millisecond
_STEP_SHADOW = 1800.0 / (365.0 * DAY)  # of the time f and u are held: near their step it can feign turning points


class Harmonics(NamedTuple):
    """Sums of cosines, one row per piece of time: amplitude cos(speed (time - edge) + phase) + mean level."""

    edges: Real  # where the pieces begin, and the end of the last [s from 1970 UTC]
    mean_level: float  # [m]
    amplitude: Real  # f H, one row per piece, one column per constituent [m]
    phase: Real  # V + u - G at the beginning of the piece [rad]
    speed: Real  # [rad/s]


class TurningPoints(NamedTuple):
    """High and low waters in order of time."""

    time: Real  # [s from 1970 UTC]
    level: Real  # [m]
    high: Real  # true at high water


def harmonics(
    constants: Mapping[str, tuple[float, float]],
    mean_level: float,
    start: float,
    end: float,
    scheme: str = "yearly",
) -> Harmonics:
    """The tide from `start` to `end` [s from 1970 UTC] as sums of cosines.

    `constants`: amplitude [m] and phase lag on Greenwich [rad] of each constituent. `mean_level`: Z0 above the datum in
    which heights are wanted [m]. ValueError for an unknown constituent or scheme, a missing figure or an empty span.
    Source: [Schureman1940]; the yearly scheme: [NOAATides].
    """
    if not constants:
        raise ValueError("a tide needs at least one harmonic constituent")
    if not np.all(np.isfinite([mean_level, *(number for pair in constants.values() for number in pair)])):
        raise ValueError("a mean level, amplitude or phase lag is missing or no number")
    if not start <= end:
        raise ValueError("the tide is wanted to an end before its start")
    if scheme == "yearly":
        edges = np.array([_new_year(year) for year in range(_year(start), _year(end) + 2)])
    elif scheme == "daily":
        edges = np.arange(np.floor(start / DAY), np.floor(end / DAY) + 2) * DAY
    else:
        raise ValueError(f"nodal scheme {scheme!r} is not known; known are {', '.join(SCHEMES)}")
    amplitude, lag = np.array(list(constants.values()), dtype=float).T
    f, u = tide_astronomy.nodal_corrections(constants, (edges[:-1] + edges[1:]) / 2.0)
    return Harmonics(
        edges=edges,
        mean_level=float(mean_level),
        amplitude=f * amplitude,
        phase=tide_astronomy.equilibrium_arguments(constants, edges[:-1]) + u - lag,
        speed=tide_astronomy.speeds(constants),
    )


def level(tide: Harmonics, time: Real) -> Real:
    """Height of the tide above the datum of its mean level. [m]

    `time`: number or array [s from 1970 UTC]; ValueError outside the edges of the harmonics.
    """
    piece, since = _placed(tide, time)
    total = np.full(np.shape(time), tide.mean_level)
    for k, speed in enumerate(tide.speed):
        total += tide.amplitude[piece, k] * np.cos(speed * since + tide.phase[piece, k])
    return total[()]


def rate(tide: Harmonics, time: Real) -> Real:
    """Rate of rise of the tide, the derivative of `level`. [m/s]"""
    piece, since = _placed(tide, time)
    total = np.zeros(np.shape(time))
    for k, speed in enumerate(tide.speed):
        total -= tide.amplitude[piece, k] * speed * np.sin(speed * since + tide.phase[piece, k])
    return total[()]


def grid(tide: Harmonics, start: float, step: float, count: int) -> tuple[Real, Real]:
    """Height [m] and rate of rise [m/s] at `count` times `step` apart from `start` [s from 1970 UTC].

    The same numbers as `level` and `rate`, fast: the time is cut into rows, and the cosine of the sum of two angles
    makes rows times columns one matrix product.
    """
    time = start + step * np.arange(count)
    piece, since = _placed(tide, time)
    found = np.empty((2, count))
    for inside in np.split(np.arange(count), np.flatnonzero(np.diff(piece)) + 1):
        row = piece[inside[0]]
        found[:, inside] = _piece_grid(tide.amplitude[row], tide.phase[row], tide.speed, since[inside], step)
    return found[0] + tide.mean_level, found[1]


def greatest_rate(tide: Harmonics) -> float:
    """A bound that the rate of rise or fall never passes, within each piece of the harmonics. [m/s]"""
    return float(np.max(np.abs(tide.amplitude) @ tide.speed))


def turning_points(tide: Harmonics, start: float, end: float) -> TurningPoints:
    """High and low waters between `start` and `end` [s from 1970 UTC], to a millisecond.

    Sampled every six minutes: two turning points that both fall between two samples, a stand of less than that, are
    not seen. Around the step of the yearly scheme at most one turning point is kept within half an hour.
    """
    count = ceil((end - start) / SAMPLING)
    sampled_rate = grid(tide, start, (end - start) / max(count, 1), count + 1)[1]
    sample = np.linspace(start, end, count + 1)
    rising = sampled_rate > 0.0
    turns = np.flatnonzero(rising[:-1] != rising[1:])
    low, high, was_rising = sample[turns], sample[turns + 1], rising[turns]
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        before = (rate(tide, middle) > 0.0) == was_rising
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    time = (low + high) / 2.0
    kept = _without_feigned(time, tide.edges)
    return TurningPoints(time=time[kept], level=level(tide, time[kept]), high=was_rising[kept])


def greenwich_phase_lag(local_phase_lag: Real, speed: Real, zone: float) -> Real:
    """Phase lag on Greenwich from a phase lag in the time of a zone. [rad]

    `speed` of the constituent [rad/s]; `zone`: what is added to zone time to give UTC, positive west of Greenwich [s].
    """
    return (local_phase_lag + speed * zone) % (2.0 * np.pi)


def _year(time: float) -> int:
    return datetime.fromtimestamp(time, UTC).year


def _new_year(year: int) -> float:
    return datetime(year, 1, 1, tzinfo=UTC).timestamp()


def _placed(tide: Harmonics, time: Real) -> tuple[Real, Real]:
    """The piece of each time, and how long that piece has run. [s]"""
    time = np.asarray(time, dtype=float)
    piece = np.searchsorted(tide.edges, time, side="right") - 1
    if np.any((piece < 0) | (time > tide.edges[-1])) or np.any(np.isnan(time)):
        first, last = (datetime.fromtimestamp(edge, UTC) for edge in tide.edges[[0, -1]])
        raise ValueError(f"the tide is prepared from {first:%Y-%m-%d} to {last:%Y-%m-%d} only")
    piece = np.minimum(piece, len(tide.edges) - 2)
    return piece, time - tide.edges[piece]


def _piece_grid(amplitude: Real, phase: Real, speed: Real, since: Real, step: float) -> Real:
    """Level without the mean [m] and rate [m/s] at equally spaced times of one piece."""
    columns = isqrt(len(since) - 1) + 1
    row_angle = np.multiply.outer(since[::columns], speed) + phase
    cosine, sine = amplitude * np.cos(row_angle), amplitude * np.sin(row_angle)
    rows = np.block([[cosine, -sine], [-sine * speed, -cosine * speed]])
    column_angle = np.multiply.outer(speed, step * np.arange(columns))
    found = rows @ np.vstack([np.cos(column_angle), np.sin(column_angle)])
    return found.reshape(2, -1)[:, : len(since)]


def _without_feigned(time: Real, edges: Real) -> Real:
    """True for turning points to keep: near a step of f and u the last of an odd number, none of an even one."""
    kept = np.ones(len(time), dtype=bool)
    first, last = np.searchsorted(time, edges[1:-1] + np.multiply.outer([-1, 1], _STEP_SHADOW * np.diff(edges)[:-1]))
    for i, j in zip(first, last, strict=True):
        kept[i : j - (j - i) % 2] = False
    return kept

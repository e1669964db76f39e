"""The tide at one station, whatever it is known from: constants, high and low waters, a series, or another station.

Times are seconds from 1970 UTC, levels metres above the station's chart datum. Nothing is stretched over what is
missing.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from leadsman.errors import CannotCompute
from leadsman.physics import tide
from leadsman.physics.interpolation import cubic, cubic_rate, monotone_rates
from leadsman.physics.secondary_port import Differences as DifferencesOf
from leadsman.physics.secondary_port import by_differences, by_offsets
from leadsman.physics.tide_curve import port_curve, through_turning_points
from leadsman.station import Differences, Offsets, PortCurve, TideStation
from leadsman.units import HOUR

Array = NDArray[np.float64]
Others = Mapping[str, TideStation]
"""The tide stations of the waterway by name: a secondary port finds its standard port here."""
Turning = tuple[Array, Array, NDArray[np.bool_]]
"""Times, levels and whether high, in turn."""

GREATEST_GAP = 16.0 * HOUR  # between successive high and low waters; more means rows are missing. Common practice
GREATEST_STEP = HOUR  # between levels of a series: a wider hole is not bridged. Ours, no source
_AROUND = timedelta(hours=30)  # enough for a high and a low water on either side, also of a diurnal tide


def predicted(
    station: TideStation, time: Array, scheme: str = "yearly", others: Others | None = None
) -> tuple[Array, Array]:
    """Level [m] and its rate [m/s] at equally spaced times, two or more.

    `scheme`: of the nodal corrections, see `tide.SCHEMES`. `CannotCompute` where the station cannot answer.
    """
    if station.constituents:
        prepared = harmonics_of(station, time[0], time[-1], scheme)
        return tide.grid(prepared, time[0], (time[-1] - time[0]) / (len(time) - 1), len(time))
    if station.series:
        return through_series(np.array(station.series), time, f"the series of tide station '{station.name}'")
    points = _turning(station, time[0], time[-1], scheme, others)
    if time[0] < points[0][0] or time[-1] > points[0][-1]:
        what = "the table" if station.table else "the tide"
        raise CannotCompute(
            f"{what} of tide station '{station.name}' runs from {spoken(points[0][0])} to {spoken(points[0][-1])}; "
            f"expected high and low waters from {spoken(time[0])} to {spoken(time[-1])}"
        )
    if station.curve is None:
        return through_turning_points(time, points[0], points[1])
    level = on_port_curve(time, points, station.curve)
    return level, monotone_rates(time, level)


def turning_points(
    station: TideStation, start: datetime, end: datetime, scheme: str = "yearly", others: Others | None = None
) -> tide.TurningPoints:
    """High and low waters of the predicted tide at a station from `start` to `end`.

    Those of a table are given back as they stand in it, whether or not it covers the span.
    `CannotCompute` for an unknown constituent or a table that cannot be.
    """
    first, last = start.timestamp(), end.timestamp()
    time, level, high = _turning(station, first, last, scheme, others)
    inside = (first <= time) & (time <= last)
    return tide.TurningPoints(time=time[inside], level=level[inside], high=high[inside])


def _turning(station: TideStation, first: float, last: float, scheme: str, others: Others | None) -> Turning:
    """The turning points from `first` to `last` and some on either side, where the station has them."""
    if station.table:
        return checked_table(station)
    if station.constituents:
        found = tide.turning_points(harmonics_of(station, first, last, scheme), first, last)
        return found.time, found.level, found.high
    if station.series:
        return _turning_of_series(station, first, last)
    return _turning_of_secondary(station, first, last, scheme, others or {})


def checked_table(station: TideStation) -> Turning:
    """Times, levels and whether high of a station's table of high and low waters.

    `CannotCompute` unless times rise without a hole and levels rise and fall in turn.
    """
    time, level = np.array(station.table, dtype=float).T
    name = f"the table of tide station '{station.name}'"
    if len(time) < 2:
        raise CannotCompute(f"{name} has {len(time)} row; expected at least one high and one low water")
    if not np.all(np.isfinite(time) & np.isfinite(level)):
        raise CannotCompute(f"{name} has a row without time or height; nothing missing is assumed")
    return _in_turn(time, level, name)


def _in_turn(time: Array, level: Array, name: str) -> Turning:
    for one, other in pairwise(time):
        if other == one:
            raise CannotCompute(f"{name} has two rows at {spoken(one)}; expected one")
        if other < one:
            raise CannotCompute(f"{name} has {spoken(other)} after {spoken(one)}; expected rows in order of time")
        if other - one > GREATEST_GAP:
            raise CannotCompute(
                f"{name} has nothing for {(other - one) / HOUR:.1f} h after {spoken(one)}; are rows missing? "
                f"Expected high and low waters in turn, at most {GREATEST_GAP / HOUR:.0f} h apart"
            )
    rise = np.diff(level)
    for k, (one_rise, other_rise) in enumerate(pairwise(rise)):
        if not one_rise * other_rise < 0.0:
            raise CannotCompute(
                f"{name} has {level[k]:.2f}, {level[k + 1]:.2f}, {level[k + 2]:.2f} m from {spoken(time[k])}; "
                "expected high and low waters in turn"
            )
    if rise[0] == 0.0:
        raise CannotCompute(f"{name} has the same height twice; expected a high and a low water")
    return time, level, np.append(rise < 0.0, rise[-1] > 0.0)


def harmonics_of(station: TideStation, first: float, last: float, scheme: str) -> tide.Harmonics:
    """The station's constants made ready for a span of time."""
    if station.mean_level is None:
        raise CannotCompute(f"tide station '{station.name}' has no mean level above chart datum")
    constants = {name: (amplitude, lag) for name, amplitude, lag in station.constituents}
    if len(constants) < len(station.constituents):
        raise CannotCompute(f"tide station '{station.name}' has a constituent twice")
    try:
        return tide.harmonics(constants, station.mean_level, first, last, scheme)
    except ValueError as error:
        raise CannotCompute(f"tide station '{station.name}': {error}") from error


def through_series(series: Array, time: Array, name: str) -> tuple[Array, Array]:
    """Level and rate of a series of (time, level) at times, on a cubic that never leaves the span of its neighbours.

    `CannotCompute` where the series does not reach, or has a hole of more than `GREATEST_STEP`.
    """
    when, value = series.T
    check_series(when, time, name)
    rate = monotone_rates(when, value)
    i = np.clip(np.searchsorted(when, time, side="right") - 1, 0, len(when) - 2)
    step = when[i + 1] - when[i]
    ends = value[i], rate[i], value[i + 1], rate[i + 1], (time - when[i]) / step, step
    return cubic(*ends), cubic_rate(*ends)


def check_series(when: Array, time: Array, name: str) -> None:
    """Refuse a series that is out of order, does not cover the times, or has a hole among them."""
    if len(when) < 2 or np.any(np.diff(when) <= 0.0):
        raise CannotCompute(f"{name} is not in order of time, or has fewer than two rows")
    if time[0] < when[0] or time[-1] > when[-1]:
        raise CannotCompute(
            f"{name} runs from {spoken(when[0])} to {spoken(when[-1])}; "
            f"expected it from {spoken(time[0])} to {spoken(time[-1])}"
        )
    wanted = (when[1:] > time[0]) & (when[:-1] < time[-1])
    hole = np.where(wanted, np.diff(when), 0.0)
    worst = int(np.argmax(hole))
    if hole[worst] > GREATEST_STEP:
        raise CannotCompute(
            f"{name} has nothing for {hole[worst] / HOUR:.1f} h after {spoken(when[worst])}; expected a row at least "
            f"every {GREATEST_STEP / HOUR:g} h"
        )


def _turning_of_series(station: TideStation, first: float, last: float) -> Turning:
    """The highest and lowest samples between passages of the mean; good to the step of the series, not better."""
    time, level = np.array(station.series, dtype=float).T
    inside = (first <= time) & (time <= last)
    time, level = time[inside], level[inside]
    if len(time) < 3:
        raise CannotCompute(f"the series of tide station '{station.name}' does not reach the time wanted")
    above = level > float(np.mean(level))
    edges = np.concatenate([[0], np.flatnonzero(np.diff(above)) + 1, [len(time)]])
    found = [
        begin + int(np.argmax(level[begin:end]) if above[begin] else np.argmin(level[begin:end]))
        for begin, end in pairwise(edges.tolist())
    ]
    inner = [k for k in found if 0 < k < len(time) - 1]
    return time[inner], level[inner], above[inner]


def _turning_of_secondary(station: TideStation, first: float, last: float, scheme: str, others: Others) -> Turning:
    """High and low waters of the standard port, each with what the tables add."""
    secondary = station.secondary
    if secondary is None or secondary.reference not in others:
        wanted = secondary.reference if secondary else ""
        raise CannotCompute(f"tide station '{station.name}' needs the tide station '{wanted}'")
    around = _AROUND.total_seconds()
    time, level, high = _turning(others[secondary.reference], first - around, last + around, scheme, others)
    moved = np.empty_like(time)
    raised = np.empty_like(level)
    for kind, what in ((high, secondary.high), (~high, secondary.low)):
        season = secondary.standard_season, secondary.secondary_season
        moved[kind], raised[kind] = _corrected(time[kind], level[kind], what, secondary.zone, *season)
    return _in_turn(moved, raised, f"the differences of tide station '{station.name}'")


def _corrected(
    time: Array, level: Array, what: Differences | Offsets, zone: float, standard_season: float, season: float
) -> tuple[Array, Array]:
    if isinstance(what, Offsets):
        return by_offsets(time, level, what.time, what.ratio, what.added)
    differences = DifferencesOf(what.clock, what.time, what.level, what.height)
    return by_differences(time, level, differences, zone, standard_season, season)


def on_port_curve(time: Array, points: Turning, curve: PortCurve) -> Array:
    """Level on a port's own curve between its turning points. [m]

    The curve's time is stretched so that its two ends fall on the low waters of the day: as printed it would leave a
    step where a tide is longer or shorter than the curve. Source: [AdmiraltyTideTables]; the stretching is ours.
    """
    when, level, high = points
    shape = np.array(curve.rows, dtype=float).T
    after = np.clip(np.searchsorted(when, time, side="right"), 1, len(when) - 1)
    rising = high[after]
    top = np.where(rising, after, after - 1)
    bottom = np.where(rising, after - 1, after)
    duration = np.abs(when[top] - when[bottom])
    whole = np.where(rising, -shape[0, 0], shape[0, -1])
    from_high = (time - when[top]) / duration * whole
    found = np.empty_like(time)
    for pair in np.unique(np.column_stack([top, bottom]), axis=0):
        here = (top == pair[0]) & (bottom == pair[1])
        found[here] = port_curve(
            np.clip(from_high[here], shape[0, 0], shape[0, -1]),
            level[pair[0]],
            level[pair[1]],
            shape[0],
            shape[1],
            shape[2],
            curve.spring_range,
            curve.neap_range,
        )
    return found


def spoken(time: float | datetime) -> str:
    """A time in a sentence."""
    moment = time if isinstance(time, datetime) else datetime.fromtimestamp(time, UTC)
    return f"{moment:%Y-%m-%d %H:%M} UTC"

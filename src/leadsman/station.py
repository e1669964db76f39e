"""Tide and stream stations: where the water level and the stream are known, and from what. No physics.

Times are seconds from 1970 UTC, heights metres above chart datum, directions towards, phase lags on Greenwich in
radians.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from leadsman.errors import refuse
from leadsman.geometry import Position
from leadsman.units import HOUR

Moments = tuple[tuple[float, float], ...]
"""(time, metres) in order of time."""

_LEVEL_AT_LOW_WATER = 0.05  # of the range: a port curve may end this far from low water, read off a printed curve. Ours


@dataclass(frozen=True, kw_only=True)
class PortCurve:
    """How the tide rises and falls at a port between its high and low waters, at springs and at neaps."""

    rows: tuple[tuple[float, float, float], ...]
    """(time from high water [s], share of the range above low water at springs, at neaps), low water to low water."""
    spring_range: float
    neap_range: float

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not self.spring_range > self.neap_range > 0.0:
            yield "spring_range", "expected spring range above neap range, both metres"
        times = [row[0] for row in self.rows]
        if len(times) < 3 or times != sorted(set(times)) or not times[0] < 0.0 < times[-1]:
            yield "row", "expected at least three rows in order of time, from the low water before to that after"
            return
        for time, *shares in self.rows:
            if not all(0.0 <= share <= 1.0 for share in shares):
                yield "row", f"{time / HOUR:+g} h: expected shares of the range, 0 at low and 1 at high water"
        if any(share > _LEVEL_AT_LOW_WATER for row in (self.rows[0], self.rows[-1]) for share in row[1:]):
            yield "row", "does not end at low water: expected a share of 0 in the first and in the last row"
        if any(row[1:] != (1.0, 1.0) for row in self.rows if row[0] == 0.0) or 0.0 not in times:
            yield "row", "expected a row at high water, 0 hours, with the whole range: 1 and 1"


@dataclass(frozen=True, kw_only=True)
class Differences:
    """What tables print for a secondary port's high waters, or its low waters, at two clock times and two levels."""

    clock: tuple[float, float]
    """Of the standard port's turning point, each valid twelve hours later too. [s after midnight]"""
    time: tuple[float, float]
    """Added to the standard port's time then. [s]"""
    level: tuple[float, float]
    """Mean spring and mean neap level of the standard port, above its chart datum. [m]"""
    height: tuple[float, float]
    """Added to the standard port's level then. [m]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if (self.clock[1] - self.clock[0]) % (12.0 * HOUR) == 0.0:
            yield "clock", "the two clock times are the same half-day time; expected two that differ"
        if self.level[0] == self.level[1]:
            yield "level", "the spring and the neap level are the same; expected two that differ"
        if not all(abs(value) <= 12.0 * HOUR for value in self.time):
            yield "time", "expected differences of at most 12 hours"


@dataclass(frozen=True, kw_only=True)
class Offsets:
    """What tables print for a subordinate station's high or low waters as one time and one height correction."""

    time: float
    """Added to the reference station's time. [s]"""
    ratio: float = 1.0
    """Multiplies its level. [-]"""
    added: float = 0.0
    """Added then. [m]"""


@dataclass(frozen=True, kw_only=True)
class Secondary:
    """High and low waters of a secondary port from those of another station of the waterway."""

    reference: str
    """Name of the tide station."""
    high: Differences | Offsets
    low: Differences | Offsets
    zone: float = 0.0
    """What is added to the time of the tables to give UTC, positive west of Greenwich. [s]"""
    standard_season: float = 0.0
    """Seasonal change of mean level at the standard port, taken off first. [m]"""
    secondary_season: float = 0.0
    """The same at the secondary port, put on at the end. [m]"""


@dataclass(frozen=True, kw_only=True)
class TideStation:
    """Where the water level is known, above chart datum: from constants, a table, a series or another station."""

    name: str
    position: Position
    mean_level: float | None = None
    """Z0: mean level above chart datum, for constants. [m]"""
    constituents: tuple[tuple[str, float, float], ...] = ()
    """(name, amplitude, phase lag on Greenwich)."""
    table: Moments = ()
    """Successive high and low waters."""
    curve: PortCurve | None = None
    """Between the high and low waters of `table` or `secondary`; None: half a cosine."""
    series: Moments = ()
    """Predicted or forecast levels at close times, without the residual."""
    secondary: Secondary | None = None
    gauge: Moments = ()
    """Levels observed here; they tell the residual."""
    reference_only: bool = False
    """Whether other stations take their tide from it, but the level of this waterway is not its own."""
    deviation: float | None = None
    """One standard deviation of the prediction here. [m]"""
    source: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        given = [self.constituents, self.table, self.series, self.secondary]
        if sum(bool(one) for one in given) != 1:
            yield (
                "constituents",
                f"station '{self.name}' needs one of: constituents, a table of high and low waters, a series of "
                "levels, or differences from another station",
            )
        if self.constituents and self.mean_level is None:
            yield "mean_level", f"station '{self.name}' has constants but no mean level above chart datum"
        if self.curve is not None and not (self.table or self.secondary):
            yield "curve", f"station '{self.name}' has no high and low waters that a curve could run between"
        if self.deviation is not None and not 0.0 <= self.deviation <= 5.0:
            yield "deviation", f"{self.deviation} m is no deviation of a level; expected metres, 0 to 5"


@dataclass(frozen=True, kw_only=True)
class StreamStation:
    """Where the stream is known: by hours from high water, from constants along an axis, or from a series."""

    name: str
    position: Position
    reference: str = ""
    """Name of the tide station whose high water counts, for `rows`."""
    spring_range: float | None = None
    neap_range: float | None = None
    rows: tuple[tuple[float, float, float, float], ...] = ()
    """(hours from high water, direction towards, spring rate, neap rate): s, rad, m/s, m/s."""
    axis: float | None = None
    """Towards which a stream from constants is positive. [rad]"""
    mean: float = 0.0
    """Steady part along the axis, such as a river's. [m/s]"""
    constituents: tuple[tuple[str, float, float], ...] = ()
    """(name, amplitude [m/s], phase lag on Greenwich [rad]) along the axis."""
    series: tuple[tuple[float, float, float], ...] = ()
    """(time, rate [m/s], towards [rad]) in order of time."""
    deviation: float | None = None
    """One standard deviation of the rate here. [m/s]"""
    source: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if sum(bool(one) for one in (self.rows, self.constituents, self.series)) != 1:
            yield (
                "rows",
                f"station '{self.name}' needs one of: rows by hours from high water, constituents, or a series",
            )
        if self.rows:
            yield from self._row_problems()
        if self.constituents and self.axis is None:
            yield "axis", f"station '{self.name}' has constants but no axis; expected where its stream sets to"
        if not math.isfinite(self.mean) or abs(self.mean) > 8.0:
            yield "mean", f"{self.mean} m/s is no stream; expected up to 15 kn"
        if self.deviation is not None and not 0.0 <= self.deviation <= 5.0:
            yield "deviation", f"{self.deviation:.3g} m/s is no deviation of a stream; expected 0 to 10 kn"

    def _row_problems(self) -> Iterator[tuple[str, str]]:
        if not self.reference:
            yield "reference", f"station '{self.name}' needs the tide station whose high water its hours count from"
        if self.spring_range is None or self.neap_range is None or not self.spring_range > self.neap_range > 0.0:
            yield "spring_range", f"station '{self.name}': expected spring range above neap range, both metres"
        hours = [row[0] for row in self.rows]
        if len(hours) < 2 or hours != sorted(set(hours)):
            yield "rows", f"station '{self.name}': expected at least two rows in order of hours from high water"

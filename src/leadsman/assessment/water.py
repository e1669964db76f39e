"""Water level and stream along the track for the time of the search, from the stations of the waterway."""

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from leadsman.assessment.passage import Passage
from leadsman.environment.level import WaterLevel, water_level
from leadsman.environment.stream import Stream, no_stream, tidal_stream
from leadsman.figure import Finding, Grade
from leadsman.physics.survey import TWO_SIDED_95

BOUNDS_TO_DEVIATION = 2.0 * TWO_SIDED_95  # low and high residual are read as the bounds of 95 %
HOURS_AFTER = 25.0  # h: a lunar day, so that both low waters alongside are seen
LONGEST_PASSAGE = timedelta(hours=24)


@dataclass(frozen=True, kw_only=True, eq=False)
class Water:
    """Level and stream on one clock: seconds from `begin`."""

    begin: datetime
    level: WaterLevel
    stream: Stream

    def elapsed(self, time: datetime) -> float:
        """Seconds from the beginning. [s]"""
        return (time - self.begin).total_seconds()

    def time(self, elapsed: float) -> datetime:
        """The moment this many seconds from the beginning."""
        return self.begin + timedelta(seconds=float(elapsed))


def water(passage: Passage) -> Water:
    """The water of a call, from the earliest start to a lunar day after the latest arrival."""
    call = passage.call
    begin = min(call.search_begin, call.start) - timedelta(hours=1)
    end = max(call.search_end, call.start) + LONGEST_PASSAGE + timedelta(hours=HOURS_AFTER)
    forecast, waterway = call.forecast, call.waterway

    def along(position: object) -> float:
        x, y = waterway.plane.to_plane(position.latitude, position.longitude)  # type: ignore[attr-defined]
        return passage.track.nearest(float(x), float(y))[0]

    level = water_level(
        [(along(station.position), station) for station in waterway.tide_stations],
        begin,
        end,
        residual=forecast.residual,
        residual_deviation=(forecast.residual_high - forecast.residual_low) / BOUNDS_TO_DEVIATION,
    )
    if not waterway.stream_stations:
        return Water(begin=begin, level=level, stream=no_stream(begin, end))
    references = {station.name: station for station in waterway.tide_stations}
    stream = tidal_stream(
        [(along(station.position), station, references[station.reference]) for station in waterway.stream_stations],
        begin,
        end,
    )
    return Water(begin=begin, level=level, stream=stream)


def water_findings(passage: Passage, found: Water) -> list[Finding]:
    """What a person must know about the water behind the figures."""
    findings = []
    if not passage.call.waterway.stream_stations:
        findings.append(
            Finding(
                grade=Grade.CAUTION,
                subject="stream",
                sentence="No tidal stream is given for this waterway: times are computed in still water.",
            )
        )
    if found.stream.extrapolated:
        names = ", ".join(name for name, _ in found.stream.extrapolated)
        worst = max((breach for _, breach in found.stream.extrapolated), key=lambda breach: breach.value)
        findings.append(
            Finding(
                grade=Grade.NOTE,
                subject="stream",
                sentence=f"The {worst}, in metres, neaps to springs: beyond them the rates are carried on ({names}).",
                value=worst.value,
                limit=worst.high,
                unit="m",
            )
        )
    beyond = np.asarray(found.level.beyond_stations(passage.distance))
    if len(found.level.names) == 1:
        findings.append(
            Finding(
                grade=Grade.NOTE,
                subject="water_level",
                sentence=f"The water level of {found.level.names[0]} is used for the whole track.",
            )
        )
    elif np.any(beyond):
        miles = float(np.sum(beyond)) / len(beyond) * passage.track.length / 1852.0
        findings.append(
            Finding(
                grade=Grade.NOTE,
                subject="water_level",
                sentence=f"Beyond the end tide stations, {miles:.1f} nm of the track, the nearest one's level is used.",
            )
        )
    return findings

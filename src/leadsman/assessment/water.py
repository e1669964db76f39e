"""Water level and stream along the track for the time of the search, from the stations of the waterway."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment.gauge import Reading, gauge_finding, last_reading, residual_in_time
from leadsman.assessment.passage import Passage
from leadsman.environment.level import WaterLevel, rate_at, water_level
from leadsman.environment.stream import Stream, no_stream, tidal_stream
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array, Position
from leadsman.physics.method import Breach
from leadsman.physics.survey import TWO_SIDED_95
from leadsman.units import HOUR, KNOT, MINUTE, NAUTICAL_MILE

BOUNDS_TO_DEVIATION = 2.0 * TWO_SIDED_95  # low and high residual are read as the bounds of 95 %
HOURS_AFTER = 25.0  # h: a lunar day, so that both low waters alongside are seen
LONGEST_PASSAGE = timedelta(hours=24)
OLD_FORECAST = timedelta(hours=12)  # before her start: weather services renew theirs at least twice a day. Ours
FAR_GATE = 0.5 * NAUTICAL_MILE  # off the track: farther off it may stand over other water. Ours, no source
FAR_STATION = {"tide": 5.0 * NAUTICAL_MILE, "stream": 0.5 * NAUTICAL_MILE}  # off the track. Ours, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Water:
    """Level and stream on one clock: seconds from `begin`."""

    begin: datetime
    level: WaterLevel
    stream: Stream
    reading: Reading | None = None
    """What the last gauge showed."""

    def elapsed(self, time: datetime) -> float:
        """Seconds from the beginning. [s]"""
        return (time - self.begin).total_seconds()

    def time(self, elapsed: float) -> datetime:
        """The moment this many seconds from the beginning."""
        return self.begin + timedelta(seconds=float(elapsed))

    def lateness(self, passage: Passage) -> Array:
        """One standard deviation of when she passes each station, by what the stream may be off all along. [s]

        The stream's error is taken as one for the whole way, and her speed over the ground as that through the water.
        """
        slowness = np.asarray(self.stream.deviation(passage.distance)) / passage.speed**2
        return np.concatenate([[0.0], np.cumsum(np.diff(passage.distance) * slowness[:-1])])

    def level_deviation(self, passage: Passage, passed: Array) -> Array:
        """One standard deviation of the level she meets: of the level itself, and of the time she is there. [m]"""
        rate = np.asarray(rate_at(self.level.grid, passage.distance, passed))
        own = np.asarray(self.level.deviation(passage.distance))
        return np.asarray(np.hypot(own, np.abs(rate) * self.lateness(passage)))


def water(passage: Passage) -> Water:
    """The water of a call, from the earliest start to a lunar day after the latest arrival."""
    call = passage.call
    begin = min(call.search_begin, call.start) - timedelta(hours=1)
    end = max(call.search_end, call.start) + LONGEST_PASSAGE + timedelta(hours=HOURS_AFTER)
    forecast, waterway = call.forecast, call.waterway
    others = {station.name: station for station in waterway.tide_stations}
    reading = last_reading(waterway)
    level = water_level(
        [
            (_nearest(passage, station.position)[0], station)
            for station in waterway.tide_stations
            if not station.reference_only
        ],
        begin,
        end,
        residual=residual_in_time(forecast, reading, begin, end),
        residual_deviation=(forecast.residual_high - forecast.residual_low) / BOUNDS_TO_DEVIATION,
        others=others,
    )
    if not waterway.stream_stations:
        return Water(begin=begin, level=level, stream=no_stream(begin, end), reading=reading)
    stream = tidal_stream(
        [
            (_nearest(passage, station.position)[0], station, others.get(station.reference))
            for station in waterway.stream_stations
        ],
        begin,
        end,
        others=others,
    )
    return Water(begin=begin, level=level, stream=stream, reading=reading)


def _nearest(passage: Passage, position: Position) -> tuple[float, float]:
    """(distance along the track, distance off it) of the nearest place of the track. [m]"""
    x, y = passage.call.waterway.plane.to_plane(position.latitude, position.longitude)
    return passage.track.nearest(float(x), float(y))


def water_findings(passage: Passage, found: Water) -> list[Finding]:
    """What a person must know about the water behind the figures."""
    findings = [*_stream_findings(passage, found), *_level_findings(passage, found), *_far_off(passage)]
    if found.reading is not None:
        findings.append(gauge_finding(passage.call.forecast, found.reading))
    return [*findings, *_forecast_age(passage)]


def _in_lengths(breach: Breach) -> str:
    """A breach of a limit that is a length, in the unit lengths are written in."""
    unit, _ = text.length_unit()
    shown = replace(breach, value=breach.value / unit, low=breach.low / unit, high=breach.high / unit)
    return f"{shown}, in {text.lengths()}"


def _stream_findings(passage: Passage, found: Water) -> Iterator[Finding]:
    if not passage.call.waterway.stream_stations:
        yield Finding(
            grade=Grade.CAUTION,
            subject="stream",
            sentence="No tidal stream is given for this waterway: times are computed in still water.",
        )
        return
    late = float(found.lateness(passage)[-1])
    worst_rate = float(np.max(found.stream.station_deviation))
    yield Finding(
        grade=Grade.NOTE,
        subject="stream",
        sentence=f"The stream is taken as good to {worst_rate / KNOT:.1f} kn (one standard deviation): she may be at "
        f"the end of the track {late / MINUTE:.0f} min sooner or later.",
        value=late,
        unit="s",
    )
    if found.stream.extrapolated:
        names = ", ".join(name for name, _ in found.stream.extrapolated)
        worst = max((breach for _, breach in found.stream.extrapolated), key=lambda breach: breach.value)
        yield Finding(
            grade=Grade.NOTE,
            subject="stream",
            sentence=f"The {_in_lengths(worst)}, neaps to springs: beyond them the rates are carried on ({names}).",
            value=worst.value,
            limit=worst.high,
            unit="m",
        )


def _level_findings(passage: Passage, found: Water) -> Iterator[Finding]:
    beyond = np.asarray(found.level.beyond_stations(passage.distance))
    if len(found.level.names) == 1:
        yield Finding(
            grade=Grade.NOTE,
            subject="water_level",
            sentence=f"The water level of {found.level.names[0]} is used for the whole track.",
        )
    elif np.any(beyond):
        miles = float(np.sum(beyond)) / len(beyond) * passage.track.length / NAUTICAL_MILE
        yield Finding(
            grade=Grade.NOTE,
            subject="water_level",
            sentence=f"Beyond the end tide stations, {miles:.1f} nm of the track, the nearest one's level is used.",
        )


def _far_off(passage: Passage) -> Iterator[Finding]:
    """Gates and stations that lie so far from the track that they may belong to other water."""
    waterway = passage.call.waterway
    placed = [("gate", gate.name, gate.position, FAR_GATE, "stands") for gate in waterway.gates]
    placed += [
        ("water_level", station.name, station.position, FAR_STATION["tide"], "lies")
        for station in waterway.tide_stations
        if not station.reference_only
    ]
    placed += [
        ("stream", station.name, station.position, FAR_STATION["stream"], "lies")
        for station in waterway.stream_stations
    ]
    for subject, name, position, far, verb in placed:
        off = abs(_nearest(passage, position)[1])
        if off > far:
            yield Finding(
                grade=Grade.CAUTION,
                subject=subject,
                sentence=f"{name} {verb} {off / NAUTICAL_MILE:.1f} nm off the track and is counted at its nearest "
                "place: is it hers?",
                value=off,
                limit=far,
                unit="m",
                place=name,
            )


def _forecast_age(passage: Passage) -> Iterator[Finding]:
    call = passage.call
    age = call.start - call.forecast.issued
    if age > OLD_FORECAST:
        yield Finding(
            grade=Grade.CAUTION,
            subject="forecast",
            sentence=f"The forecast was issued {age.total_seconds() / HOUR:.0f} h before she starts: get the latest.",
            value=age.total_seconds(),
            limit=OLD_FORECAST.total_seconds(),
            unit="s",
            time=call.forecast.issued,
            source=call.forecast.source,
        )

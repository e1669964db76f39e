"""What a gauge shows of the residual, and how that dies away into the forecast."""

from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from leadsman import format as text
from leadsman.environment.level import Moments
from leadsman.environment.prediction import predicted
from leadsman.figure import Finding, Grade
from leadsman.forecast import Forecast
from leadsman.physics.surge import decayed
from leadsman.units import HOUR, MINUTE
from leadsman.waterway import Waterway

RECENT = HOUR  # of readings that are averaged, so that a seiche or a ship's wash does not count. Ours, no source
STEP = 0.5 * HOUR  # between the residuals laid out in time


@dataclass(frozen=True, kw_only=True)
class Reading:
    """The residual at a gauge, averaged over its last hour."""

    station: str
    time: float
    """Of the last level read. [s from 1970 UTC]"""
    residual: float
    """Observed less predicted. [m]"""


def last_reading(waterway: Waterway) -> Reading | None:
    """The latest residual of all gauges of the waterway; None where there is none."""
    others = {station.name: station for station in waterway.tide_stations}
    found = []
    for station in waterway.tide_stations:
        if not station.gauge:
            continue
        time, level = np.array(station.gauge, dtype=float).T
        recent = time > time[-1] - RECENT
        time, level = time[recent], level[recent]
        grid = np.arange(time[0] - MINUTE, time[-1] + 1.5 * MINUTE, MINUTE)
        tide, _ = predicted(station, grid, others=others)
        residual = float(np.mean(level - np.interp(time, grid, tide)))
        found.append(Reading(station=station.name, time=float(time[-1]), residual=residual))
    return max(found, key=lambda reading: reading.time, default=None)


def residual_in_time(forecast: Forecast, reading: Reading | None, begin: datetime, end: datetime) -> float | Moments:
    """The best residual: the forecast's, or from what the gauge showed dying away into it. [m]"""
    if reading is None or forecast.gauge_decay is None:
        return forecast.residual
    first, last = begin.timestamp(), end.timestamp()
    turn = np.clip(reading.time, first, last)  # where it begins to die away
    time = np.union1d(np.arange(first, last + STEP, STEP), turn)
    since = np.maximum(time - reading.time, 0.0)
    residual = forecast.residual + decayed(reading.residual - forecast.residual, since, forecast.gauge_decay)
    return [(float(when), float(what)) for when, what in zip(time, residual, strict=True)]


def gauge_finding(forecast: Forecast, reading: Reading) -> Finding:
    """What the gauge shows beside what is forecast: a caution where it lies outside the forecast's bounds."""
    low, best, high = forecast.residual_low, forecast.residual, forecast.residual_high
    beyond = not low <= reading.residual <= high
    when = datetime.fromtimestamp(reading.time, UTC)
    way = "above" if reading.residual >= 0.0 else "below"
    use = "it dies away into the forecast" if forecast.gauge_decay is not None else "the forecast alone is used"
    return Finding(
        grade=Grade.CAUTION if beyond else Grade.NOTE,
        subject="residual",
        sentence=f"At {text.day_clock(when)} the gauge at {reading.station} stood "
        f"{text.metres(abs(reading.residual))} {way} the predicted tide; the forecast is {text.metres_signed(best)}, "
        f"{text.metres_signed(low)} to {text.metres_signed(high)}: {use}.",
        value=reading.residual,
        limit=(low if reading.residual < low else high) if beyond else None,
        unit="m",
        place=reading.station,
        time=when,
        source=forecast.source,
    )

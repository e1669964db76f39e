"""Visibility, wind and waves against the forecast: the same for every start, since the forecast is one state."""

import math

from leadsman import format as text
from leadsman.assessment.rules.limit import FixedLimit, Unjudged
from leadsman.assessment.rules.stretch import Stretch
from leadsman.forecast import Forecast
from leadsman.rule import GreatestWaves, GreatestWind, LeastVisibility, Rule


def least_visibility(forecast: Forecast, rule: Rule, asked: LeastVisibility, stretch: Stretch) -> FixedLimit | Unjudged:
    """The limit: the forecast visibility is not less."""
    if forecast.visibility is None:
        return Unjudged(rule=rule, why="the forecast gives no visibility")
    return FixedLimit(
        rule=rule,
        stretch=stretch,
        unit="m",
        value=forecast.visibility,
        required=asked.visibility,
        margin=forecast.visibility - asked.visibility,
        words=f"visibility {_below(forecast.visibility)} forecast, {text.miles(asked.visibility)} required",
    )


def greatest_wind(forecast: Forecast, rule: Rule, asked: GreatestWind, stretch: Stretch) -> FixedLimit | Unjudged:
    """The limit: neither the mean wind nor the gusts are stronger; the one with less to spare is told.

    A gust limit without forecast gusts cannot be judged: gusts are stronger than the mean, so the mean alone would be
    the hopeful side. What is known and broken is told all the same.
    """
    pairs = (("mean wind", forecast.wind_speed, asked.mean), ("gusts", forecast.gust_speed, asked.gust))
    known = [(limit - value, name, value, limit) for name, value, limit in pairs if limit and value is not None]
    missing = [name for name, value, limit in pairs if limit and value is None]
    margin, name, value, limit = min(known, default=(math.inf, "", 0.0, 0.0))
    if missing and margin >= 0.0:
        return Unjudged(rule=rule, why=f"the forecast gives no {' and no '.join(missing)}")
    return FixedLimit(
        rule=rule,
        stretch=stretch,
        unit="m/s",
        value=value,
        required=limit,
        margin=margin,
        words=f"{name} {text.knots_above(value)} forecast, the limit is {text.knots(limit)}",
    )


def greatest_waves(forecast: Forecast, rule: Rule, asked: GreatestWaves, stretch: Stretch) -> FixedLimit | Unjudged:
    """The limit: the forecast waves are not higher."""
    if forecast.wave_height is None:
        return Unjudged(rule=rule, why="the forecast gives no waves")
    return FixedLimit(
        rule=rule,
        stretch=stretch,
        unit="m",
        value=forecast.wave_height,
        required=asked.height,
        margin=asked.height - forecast.wave_height,
        words=f"waves {text.metres(forecast.wave_height)} forecast, the limit is {text.metres(asked.height)}",
    )


def _below(visibility: float) -> str:
    """Rounded down: what can be seen is never written farther than it is."""
    return text.miles(math.floor(visibility / 18.52 + 1e-6) * 18.52)

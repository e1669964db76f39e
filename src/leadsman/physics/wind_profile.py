"""The wind before it meets the ship: its growth with height, its gusts, and the wind felt aboard."""

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.units import TONNE_FORCE

REFERENCE_HEIGHT = 10.0  # m, at which wind is given (WMO practice) [memory]
OPEN_SEA_EXPONENT = 1.0 / 7.0  # ISO 15016, neutral air over open sea [memory]
OPEN_WATER_EXPONENT = 0.12  # middle of 0.11 to 0.13 (common practice, no source)
SUBURBAN_QUAY_EXPONENT = 0.18  # middle of 0.16 to 0.20 (common practice, no source)
SHIP_GUST = 30.0  # s, the gust a ship feels fully; design wind of UFC 4-159-03 [memory]
SHORT_GUST = 3.0  # s, what forecasts and anemometers call the gust (WMO practice) [memory]
LARGE_TANKER_GUST = 60.0  # s, the same for large tankers [memory]
FORECAST_MEAN = 600.0  # s, over which forecasts and anemometers give the mean wind (WMO practice) [memory]


@formula
def at_height(speed: Real, height: Real, exponent: Real) -> Real:
    """Wind at a height from the wind at 10 m, by a power law. [m/s]

    Source: power law with the exponent of [ISO15016] over open sea, larger over rough ground.
    """
    return speed * (height / REFERENCE_HEIGHT) ** exponent


@formula
def pressure_ratio(height: Real, exponent: Real) -> Real:
    """Mean dynamic pressure from the water up to a height, over the dynamic pressure at 10 m. [-]

    Source: derived: mean of the square of the power law.
    """
    return (height / REFERENCE_HEIGHT) ** (2.0 * exponent) / (2.0 * exponent + 1.0)


@formula
def top_of(centroid_height: Real) -> Real:
    """Height to which a windage reaches, from that of its centroid: as wide below as above. [m]

    Source: derived: a rectangle.
    """
    return 2.0 * centroid_height


@formula
def felt_ratio(height: Real, exponent: Real) -> Real:
    """`pressure_ratio`, but never under 1: a low ship is not credited with the calmer air near the water. [-]

    Source: derived: mean of the square of the power law; the floor is ours.
    """
    return np.maximum(pressure_ratio(height, exponent), 1.0)


@formula
def hourly_gust(seconds: Real) -> Real:
    """Greatest mean wind over some seconds, over the mean of the hour around it. [-]

    Source: [CEM2002], equation II-2-1, after Durst 1960.
    """
    short = 1.277 + 0.296 * np.tanh(0.9 * np.log10(45.0 / seconds))
    return where(seconds <= 3600.0, short, 1.5334 - 0.15 * np.log10(seconds))


@formula
def gust_factor(gust_seconds: Real, mean_seconds: Real) -> Real:
    """Gust of one duration over the mean wind of a longer one. [-]

    Source: [CEM2002], equation II-2-1.
    """
    return hourly_gust(gust_seconds) / hourly_gust(mean_seconds)


@formula
def dynamic_pressure(speed: Real, air_density: Real) -> Real:
    """Half of density times speed squared. [Pa]"""
    return 0.5 * air_density * speed**2


@formula
def relative(speed: Real, from_bow: Real, ahead: Real, to_starboard: Real) -> tuple[Real, Real]:
    """Speed of the wind as felt aboard, and the angle from the bow it comes from.

    Parameters
    ----------
    speed : float or array
        True wind over the ground. [m/s]
    from_bow : float or array
        Where the true wind comes from, off the bow, to starboard positive. [rad]
    ahead, to_starboard : float
        Ship's velocity over the ground in ship axes. [m/s]

    Returns
    -------
    speed [m/s], angle [rad]
    """
    ahead_wind = speed * np.cos(from_bow) + ahead
    starboard_wind = speed * np.sin(from_bow) + to_starboard
    return np.hypot(ahead_wind, starboard_wind), np.arctan2(starboard_wind, ahead_wind)


@formula
def trade_rule(speed: Real, lateral_area: Real) -> Real:
    """Force of a wind abeam: a tonne-force for each 1000 m² and 18 m²/s². [N]

    Source: common practice, no source; equals a lateral coefficient of 0.89.
    """
    return speed**2 / 18.0 * lateral_area / 1000.0 * TONNE_FORCE

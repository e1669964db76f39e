"""Mean levels of springs and neaps, the kind of tide, and its extremes, from harmonic constants."""

from collections.abc import Mapping
from datetime import UTC, datetime

from leadsman.compiled import Real, formula
from leadsman.physics import tide


@formula
def spring_levels(mean_level: Real, m2: Real, s2: Real) -> tuple[Real, Real]:
    """Mean high and mean low water springs, about, of a semidiurnal tide from its amplitudes. [m]

    Source: [PughWoodworth2014]. Limits: form number below 0.25; without the seasons and the shallow-water tides.
    """
    return mean_level + (m2 + s2), mean_level - (m2 + s2)


@formula
def neap_levels(mean_level: Real, m2: Real, s2: Real) -> tuple[Real, Real]:
    """Mean high and mean low water neaps, about, of a semidiurnal tide from its amplitudes. [m]

    Source: [PughWoodworth2014]. Limits: as `spring_levels`.
    """
    return mean_level + (m2 - s2), mean_level - (m2 - s2)


@formula
def form_number(m2: Real, s2: Real, k1: Real, o1: Real) -> Real:
    """How diurnal a tide is, from amplitudes: up to 0.25 semidiurnal, to 1.5 and 3 mixed, above diurnal. [-]

    Source: [PughWoodworth2014].
    """
    return (k1 + o1) / (m2 + s2)


def astronomical_extremes(
    constants: Mapping[str, tuple[float, float]], mean_level: float, first_year: int, years: int = 19
) -> tuple[float, float]:
    """Lowest and highest predicted tide in whole calendar years: LAT and HAT above the datum of `mean_level`. [m]

    `constants`: amplitude [m] and phase lag on Greenwich [rad]. Nineteen years hold a whole round of the lunar node.
    Source: [S4].
    """
    start = datetime(first_year, 1, 1, tzinfo=UTC).timestamp()
    end = datetime(first_year + years, 1, 1, tzinfo=UTC).timestamp() - 1.0
    level = tide.turning_points(tide.harmonics(constants, mean_level, start, end), start, end).level
    return float(level.min()), float(level.max())

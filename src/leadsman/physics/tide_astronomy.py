"""The moon, the sun and the lunar node as the tide knows them: equilibrium arguments and nodal corrections.

All times are seconds from 1970-01-01 00:00 UTC; UTC stands for UT1, less than a second away. All angles are radians.
"""

import difflib
import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real
from leadsman.units import DAY, DEGREE, HOUR

_ARCSECOND = DEGREE / 3600.0
_REVOLUTION = 1_296_000.0  # arcseconds
_CENTURY = 36525.0 * DAY
_EPOCH = (2415020.0 - 2440587.5) * DAY  # 1899-12-31 12:00 UT, seconds from 1970
_OBLIQUITY = 23.452 * DEGREE  # omega, of the ecliptic in 1900: [Schureman1940], memory
_MOON_INCLINATION = 5.145 * DEGREE  # i, of the moon's orbit to the ecliptic: [Schureman1940], memory

# Mean longitudes in arcseconds: constant and powers of the century from the epoch. [Schureman1940] table 1, memory;
# within 0.02 degrees of the set of 1961 that UTide carries.
_MOON = (270 * 3600 + 26 * 60 + 14.72, 1336 * _REVOLUTION + 1_108_411.20, 9.09, 0.0068)
_SUN = (279 * 3600 + 41 * 60 + 48.04, 129_602_768.13, 1.089, 0.0)
_PERIGEE = (334 * 3600 + 19 * 60 + 40.87, 11 * _REVOLUTION + 392_515.94, -37.24, -0.045)
_PERIHELION = (281 * 3600 + 13 * 60 + 15.0, 6_189.03, 1.63, 0.012)
_NODE = (259 * 3600 + 10 * 60 + 57.12, -(5 * _REVOLUTION + 482_912.63), 7.58, 0.008)


class Longitudes(NamedTuple):
    """Mean longitudes in [0, 2 pi) [rad]: s, h, p, p1 and N of the literature."""

    moon: Real
    sun: Real
    perigee: Real
    perihelion: Real
    node: Real


class Node(NamedTuple):
    """What the place of the moon's node does to her tides [rad]; xi to R as in [Schureman1940]."""

    inclination: Real  # I: of the moon's orbit to the equator
    perigee: Real  # P: from the moon's intersection with the equator
    xi: Real
    nu: Real
    nu_prime: Real
    nu_second: Real
    Q: Real
    R: Real


class Constituent(NamedTuple):
    """One harmonic constituent: speed [rad/s], argument V, nodal phase u and nodal factor f as small whole numbers."""

    name: str
    speed: float
    argument: tuple[int, ...]  # multiples of T, s, h, p, p1
    constant: float  # added to V [rad]
    node_phase: Mapping[str, int]
    node_factor: Mapping[str, int]


def longitudes(time: Real) -> Longitudes:
    """Mean longitudes of moon, sun, lunar perigee, perihelion and lunar node at `time` [s from 1970 UTC].

    Source: [Schureman1940] table 1. Limits: centuries about 1900.
    """
    century = (np.asarray(time, dtype=float) - _EPOCH) / _CENTURY

    def longitude(constant: float, linear: float, square: float, cube: float) -> Real:
        arcseconds = constant + century * (linear + century * (square + century * cube))
        return arcseconds % _REVOLUTION * _ARCSECOND

    return Longitudes(*(longitude(*row) for row in (_MOON, _SUN, _PERIGEE, _PERIHELION, _NODE)))


def node(time: Real) -> Node:
    """The angles of the moon's orbit that change with her node, 18.6 years round, and her perigee, 8.85 years.

    Source: [Schureman1940], memory.
    """
    at = longitudes(time)
    half_node = (at.node + np.pi) % (2.0 * np.pi) / 2.0 - np.pi / 2.0
    sum_, difference = (_OBLIQUITY + _MOON_INCLINATION) / 2.0, (_OBLIQUITY - _MOON_INCLINATION) / 2.0
    a1 = np.arctan(np.cos(difference) / np.cos(sum_) * np.tan(half_node))
    a2 = np.arctan(np.sin(difference) / np.sin(sum_) * np.tan(half_node))
    xi, nu = 2.0 * half_node - (a1 + a2), a1 - a2
    cosine = np.cos(_MOON_INCLINATION) * np.cos(_OBLIQUITY)
    inclination = np.arccos(cosine - np.sin(_MOON_INCLINATION) * np.sin(_OBLIQUITY) * np.cos(2.0 * half_node))
    twice, squared = np.sin(2.0 * inclination), np.sin(inclination) ** 2
    perigee = at.perigee - xi
    return Node(
        inclination=inclination,
        perigee=perigee,
        xi=xi,
        nu=nu,
        nu_prime=np.arctan2(twice * np.sin(nu), twice * np.cos(nu) + 0.3347),
        nu_second=np.arctan2(squared * np.sin(2.0 * nu), squared * np.cos(2.0 * nu) + 0.0727) / 2.0,
        Q=np.arctan2(
            (5.0 * np.cos(inclination) - 1.0) * np.sin(perigee), (7.0 * np.cos(inclination) + 1.0) * np.cos(perigee)
        ),
        R=np.arctan2(np.sin(2.0 * perigee), 1.0 / (6.0 * np.tan(inclination / 2.0) ** 2) - np.cos(2.0 * perigee)),
    )


def node_factors(at: Node) -> dict[str, Real]:
    """Node factors f of the tides from which all others are made. [-]

    Source: [Schureman1940] equations 73 to 78, 149, 206, 215, 227, 235, memory.
    """
    cosine, sine, twice = np.cos(at.inclination), np.sin(at.inclination), np.sin(2.0 * at.inclination)
    half_cosine, half_sine = np.cos(at.inclination / 2.0), np.sin(at.inclination / 2.0)
    half_tangent, perigee = half_sine / half_cosine, np.cos(2.0 * at.perigee)
    o1, m2 = sine * half_cosine**2 / 0.3800, half_cosine**4 / 0.9154
    inverse_q = np.sqrt(0.25 + 1.5 * cosine / half_cosine**2 * perigee + 2.25 * cosine**2 / half_cosine**4)
    inverse_r = np.sqrt(1.0 - 12.0 * half_tangent**2 * perigee + 36.0 * half_tangent**4)
    return {
        "Mm": (2.0 / 3.0 - sine**2) / 0.5021,
        "Mf": sine**2 / 0.1578,
        "O1": o1,
        "J1": twice / 0.7214,
        "OO1": sine * half_sine**2 / 0.0164,
        "M2": m2,
        "M3": half_cosine**6 / 0.8758,
        "K1": np.sqrt(0.8965 * twice**2 + 0.6001 * twice * np.cos(at.nu) + 0.1006),
        "K2": np.sqrt(19.0444 * sine**4 + 2.7702 * sine**2 * np.cos(2.0 * at.nu) + 0.0981),
        "L2": m2 * inverse_r,
        "M1": o1 * inverse_q,
    }


@cache
def constituents() -> Mapping[str, Constituent]:
    """Every constituent known here, by the name it has in NOAA's lists."""
    text = resources.files("leadsman.physics").joinpath("tide_constituents.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)["constituents"]
    return {
        name: Constituent(
            name=name,
            speed=row["speed_deg_h"] * DEGREE / HOUR,
            argument=tuple(row["argument"][:-1]),
            constant=row["argument"][-1] * DEGREE,
            node_phase=row["node_phase"],
            node_factor=row["node_factor"],
        )
        for name, row in rows.items()
    }


def constituent(name: str) -> Constituent:
    """The constituent of this name; ValueError with the nearest known name if there is none."""
    known = constituents()
    if name in known:
        return known[name]
    near = difflib.get_close_matches(name.upper(), known, n=1)
    advice = f"did you mean {near[0]!r}?" if near else f"known are {', '.join(known)}"
    raise ValueError(f"tidal constituent {name!r} is not known; {advice}")


def speeds(names: Iterable[str]) -> Real:
    """Speeds of the constituents. [rad/s]"""
    return np.array([constituent(name).speed for name in names])


def equilibrium_arguments(names: Iterable[str], time: Real) -> Real:
    """V at Greenwich at `time` [s from 1970 UTC], one column per constituent. [rad]

    Source: [Schureman1940] table 2.
    """
    at = longitudes(time)
    hour_angle = np.asarray(time, dtype=float) % DAY / DAY * 2.0 * np.pi + np.pi
    elements = (hour_angle, at.moon, at.sun, at.perigee, at.perihelion)
    columns = []
    for name in names:
        row = constituent(name)
        columns.append(sum(k * element for k, element in zip(row.argument, elements, strict=True)) + row.constant)
    return np.stack(columns, axis=-1) % (2.0 * np.pi)


def nodal_corrections(names: Iterable[str], time: Real) -> tuple[Real, Real]:
    """Factor f [-] and phase u [rad] at `time` [s from 1970 UTC], one column per constituent.

    Source: [Schureman1940] table 2; compound tides have the product and the sum over their parents.
    """
    at = node(time)
    factors, still = node_factors(at), np.zeros(np.shape(time))
    f, u = [], []
    for name in names:
        row = constituent(name)
        f.append(np.prod([factors[parent] ** power for parent, power in row.node_factor.items()], axis=0) + still)
        u.append(sum((k * getattr(at, angle) for angle, k in row.node_phase.items()), still))
    return np.stack(f, axis=-1), np.stack(u, axis=-1)

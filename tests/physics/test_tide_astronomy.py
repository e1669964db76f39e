"""Moon, sun and node against the reference sheet's values, and against each other."""

import csv
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from leadsman.physics import tide_astronomy
from leadsman.units import DAY, DEGREE, HOUR

AUTHORITY = Path(__file__).parents[2] / "authorities" / "noaa_boston"
NEW_YEAR = datetime(2026, 1, 1, tzinfo=UTC).timestamp()
MID_YEAR = datetime(2026, 7, 2, 12, tzinfo=UTC).timestamp()
one_in_the_last_figure = 6e-5  # degrees: the sheet prints four decimals
half_a_hundredth = 0.0051  # degrees: the sheet prints two decimals

LONGITUDES = [  # time, moon, sun, perigee, perihelion, node in degrees, origin
    (NEW_YEAR, (67.9854, 280.6660, 61.2922, 283.3877, 342.1665), "sheet water.md 1.1.4, computed"),
    (MID_YEAR, (312.6778, 100.5466, 81.6233, 283.3963, 332.5024), "sheet water.md 1.1.4, computed"),
]


@pytest.mark.parametrize(("time", "expected", "origin"), LONGITUDES)
def test_mean_longitudes(time: float, expected: tuple[float, ...], origin: str) -> None:
    found = np.array(tide_astronomy.longitudes(time)) / DEGREE
    np.testing.assert_allclose(found, expected, atol=one_in_the_last_figure, rtol=0.0, err_msg=origin)


NODE = [  # angle, degrees at mid-2026: sheet water.md 1.1.4, computed
    ("inclination", 28.1106),
    ("xi", -4.5439),
    ("nu", -5.0414),
    ("nu_prime", -3.5947),
    ("nu_second", -7.6004 / 2.0),
    ("perigee", 86.1671),
    ("Q", 81.9773),
    ("R", 2.0929),
]


@pytest.mark.parametrize(("angle", "expected"), NODE)
def test_angles_of_the_node(angle: str, expected: float) -> None:
    found = getattr(tide_astronomy.node(MID_YEAR), angle) / DEGREE
    assert found == pytest.approx(expected, abs=one_in_the_last_figure)


def rows() -> list[dict[str, str]]:
    with open(AUTHORITY / "arguments_2026.csv", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["name"])
def test_corrections_and_arguments_of_2026(row: dict[str, str]) -> None:
    """Sheet water.md 1.1.4, computed; rows 11 and 12 of its check values are among these."""
    f, u = tide_astronomy.nodal_corrections([row["name"]], MID_YEAR)
    argument = tide_astronomy.equilibrium_arguments([row["name"]], NEW_YEAR)
    assert f[0] == pytest.approx(float(row["node_factor_mid_2026"]), abs=0.5e-4 + 1e-6)
    assert u[0] / DEGREE == pytest.approx(float(row["node_phase_deg_mid_2026"]), abs=half_a_hundredth)
    assert argument[0] / DEGREE == pytest.approx(float(row["argument_deg_2026_01_01"]), abs=half_a_hundredth)


def test_there_are_the_37_constituents_of_noaa() -> None:
    assert sorted(tide_astronomy.constituents()) == sorted(row["name"] for row in rows())
    assert len(tide_astronomy.constituents()) == 37


@pytest.mark.parametrize("name", tide_astronomy.constituents())
def test_the_speed_is_the_motion_of_the_argument(name: str) -> None:
    """The two columns of the table come from different places of the literature; in 1900 they must agree."""
    row = tide_astronomy.constituent(name)
    rates = np.array([15.0, 0.54901653, 0.04106864, 0.00464183, 0.00000196])  # degrees an hour, sheet water.md 1.1.1
    motion = float(np.dot(row.argument, rates))
    if name == "M1":  # its speed has the perigee's motion in it, its argument has not: the convention of NOAA
        motion += 0.00464183
    assert row.speed / DEGREE * HOUR == pytest.approx(motion, abs=2e-7)


DOODSON = [  # f: mean and cosines of N, 2N, 3N; u in degrees: sines of N, 2N, 3N. Doodson's expansions, from memory
    ("MM", (1.0000, -0.1300, 0.0013, 0.0), (0.0, 0.0, 0.0)),
    ("MF", (1.0429, 0.4135, -0.0040, 0.0), (-23.74, 2.68, -0.38)),
    ("O1", (1.0089, 0.1871, -0.0147, 0.0014), (10.80, -1.34, 0.19)),
    ("K1", (1.0060, 0.1150, -0.0088, 0.0006), (-8.86, 0.68, -0.07)),
    ("J1", (1.0129, 0.1676, -0.0170, 0.0016), (-12.94, 1.34, -0.19)),
    ("OO1", (1.1027, 0.6504, 0.0317, -0.0014), (-36.68, 4.02, -0.57)),
    ("M2", (1.0004, -0.0373, 0.0002, 0.0), (-2.14, 0.0, 0.0)),
    ("K2", (1.0241, 0.2863, 0.0083, -0.0015), (-17.74, 0.68, -0.04)),
]


@pytest.mark.parametrize(("name", "factor", "angle"), DOODSON)
def test_corrections_follow_the_node_as_doodson_has_them(
    name: str, factor: tuple[float, ...], angle: tuple[float, ...]
) -> None:
    """Another development of the same potential, over a whole round of the node.

    Schureman divides by means of three or four figures (OO1: 0.0164), so f may differ by some parts in a thousand.
    """
    time = NEW_YEAR + np.linspace(0.0, 18.613 * 365.25 * DAY, 400)
    f, u = tide_astronomy.nodal_corrections([name], time)
    node = tide_astronomy.longitudes(time).node
    expected_f = sum(a * np.cos(k * node) for k, a in enumerate(factor))
    expected_u = sum(a * np.sin(k * node) for k, a in enumerate(angle, start=1))
    np.testing.assert_allclose(f[:, 0], expected_f, rtol=0.003)
    np.testing.assert_allclose(u[:, 0] / DEGREE, expected_u, atol=0.15)


def test_shape_follows_the_times() -> None:
    time = NEW_YEAR + np.arange(6.0).reshape(2, 3)
    f, u = tide_astronomy.nodal_corrections(["M2", "S2"], time)
    assert f.shape == u.shape == tide_astronomy.equilibrium_arguments(["M2", "S2"], time).shape == (2, 3, 2)


def test_an_unknown_constituent_is_refused_with_advice() -> None:
    with pytest.raises(ValueError, match="'LAM' is not known; did you mean 'LAM2'"):
        tide_astronomy.constituent("LAM")
    with pytest.raises(ValueError, match="'##' is not known; known are M2, S2"):
        tide_astronomy.constituent("##")

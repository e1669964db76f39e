"""Cross-sections, Schijf's limiting speed, drawdown. Rows and sections are those of the project's sheet on water."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import channel
from leadsman.physics.channel import Kind, Section
from leadsman.units import GRAVITY, KNOT

CANAL_C = Section(kind=Kind.CANAL, water_depth=15.0, bottom_width=100.0, slope=3.0)

SCHIJF = [  # blockage, limiting speed / sqrt(g mean depth), origin
    (0.00, 1.0, "water sheet 2.6, table; computed"),
    (0.05, 0.7309, "water sheet 2.6, table; computed"),
    (0.10, 0.6228, "water sheet row 34; derived"),
    (0.15, 0.5416, "water sheet 2.6, table; computed"),
    (0.20, 0.4746, "water sheet row 34; derived"),
    (0.25, 0.4167, "water sheet 2.6, table; computed"),
    (0.30, 0.3655, "water sheet 2.6, table; computed"),
]


@pytest.mark.parametrize(("blockage", "expected", "origin"), SCHIJF)
def test_limiting_froude(blockage: float, expected: float, origin: str) -> None:
    assert channel.limiting_froude(blockage) == pytest.approx(expected, abs=0.0002), origin


@given(st.floats(0.0, 0.95))
def test_limiting_froude_solves_schijfs_equation(blockage: float) -> None:
    froude = channel.limiting_froude(blockage)
    assert 1.0 - blockage + froude**2 / 2.0 - 1.5 * froude ** (2.0 / 3.0) == pytest.approx(0.0, abs=1e-9)


def test_schijf_in_case_c() -> None:
    """Water sheet row 35, derived; blockage with 0.98 x beam x draught."""
    blockage = 0.98 * 32.2 * 11.5 / CANAL_C.area
    assert channel.limiting_speed(blockage, CANAL_C.mean_depth) / KNOT == pytest.approx(10.67, abs=0.01)
    assert channel.drawdown(7 * KNOT, blockage, CANAL_C.mean_depth) == pytest.approx(0.370, abs=0.002)


@given(blockage=st.floats(0.01, 0.6), depth=st.floats(2.0, 30.0), share=st.floats(0.05, 0.999))
def test_drawdown_obeys_continuity_and_bernoulli(blockage: float, depth: float, share: float) -> None:
    speed = share * channel.limiting_speed(blockage, depth)
    lowered = channel.drawdown(speed, blockage, depth)
    back = channel.return_speed(speed, blockage, depth)
    past_ship = speed + back
    assert past_ship * (1.0 - blockage - lowered / depth) == pytest.approx(speed, rel=1e-6), "continuity"
    assert (past_ship**2 - speed**2) / (2.0 * GRAVITY) == pytest.approx(lowered, rel=1e-6, abs=1e-9), "Bernoulli"


def test_nothing_steady_from_the_limiting_speed_on() -> None:
    limit = channel.limiting_speed(0.2, 10.0)
    assert np.isfinite(channel.drawdown(0.999 * limit, 0.2, 10.0))
    for speed in (limit, 1.5 * limit):
        assert channel.drawdown(speed, 0.2, 10.0) == np.inf
        assert channel.return_speed(speed, 0.2, 10.0) == np.inf


def test_width_of_influence() -> None:
    """Worksheet of a shipping company, seen: waterplane coefficient 0.9057 gives 8.100409 beams.

    The coefficient stands there with four decimals, half of the last being worth 0.0004 beams.
    """
    assert channel.width_of_influence_by_waterplane(1.0, 0.9057) == pytest.approx(8.100409, abs=0.0004)
    # Water sheet 2.7, case A, computed: the cross-section of open water is 6300.2 m².
    assert channel.width_of_influence(45.0, 0.82) * 16.8 == pytest.approx(6300.2, abs=0.1)


def test_sections_of_the_three_kinds() -> None:
    """Areas of cases B and C: water sheet 2.7, computed; the rest by hand."""
    section = Section(
        kind=np.array([Kind.UNRESTRICTED, Kind.TRENCH, Kind.CANAL]),
        water_depth=np.array([16.8, 16.8, 15.0]),
        bottom_width=np.array([np.nan, 250.0, 100.0]),
        slope=np.array([np.nan, 4.0, 3.0]),
        trench_height=np.array([np.nan, 6.0, np.nan]),
    )
    np.testing.assert_allclose(section.area, [np.inf, 5328.96, 2175.0])
    np.testing.assert_allclose(section.surface_width, [np.inf, 250.0 + 2 * 4 * 16.8, 190.0])
    np.testing.assert_allclose(section.mean_depth, [16.8, 5328.96 / 384.4, 2175.0 / 190.0])
    np.testing.assert_allclose(section.trench_share, [0.0, 6.0 / 16.8, 1.0])
    np.testing.assert_allclose(section.width, [np.inf, 250.0, 100.0])


def test_a_trench_higher_than_the_water_is_a_canal() -> None:
    dry_shoals = Section(kind=Kind.TRENCH, water_depth=5.0, bottom_width=80.0, slope=2.0, trench_height=6.0)
    assert dry_shoals.trench_share == 1.0


MISSING = [  # fields, message
    ({"kind": 0, "water_depth": np.array([9.0, np.nan])}, "water_depth is missing at 1 of the stations that need it"),
    ({"kind": 2, "water_depth": 9.0, "slope": 1.0}, "bottom_width is missing at 1 of the stations that need it"),
    ({"kind": 1, "water_depth": 9.0, "bottom_width": 90.0}, "slope is missing at 1 of the stations that need it"),
    (
        {"kind": 1, "water_depth": 9.0, "bottom_width": 90.0, "slope": 3.0},
        "trench_height is missing or zero at a station in a trench",
    ),
]


@pytest.mark.parametrize(("fields", "message"), MISSING)
def test_a_missing_figure_is_refused(fields: dict[str, float], message: str) -> None:
    with pytest.raises(ValueError) as caught:
        Section(**fields)
    assert str(caught.value) == message

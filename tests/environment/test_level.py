"""The level along the track: the harmonic sum to a micrometre, tables never stretched, nothing missing assumed."""

import tomllib
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.compiled import kernel
from leadsman.environment import level
from leadsman.environment.level import level_at, rate_at, water_level
from leadsman.errors import CannotCompute
from leadsman.geometry import Position
from leadsman.physics import tide
from leadsman.station import TideStation
from leadsman.units import DAY, DEGREE, HOUR, MINUTE

AUTHORITY = Path(__file__).parents[2] / "authorities" / "noaa_boston"
BOSTON = tomllib.loads((AUTHORITY / "station.toml").read_text(encoding="utf-8"))
NOWHERE = Position(0.0, 0.0)
START = datetime(2026, 8, 15, tzinfo=UTC)
END = START + timedelta(days=3)
SPAN = 3.0 * DAY
one_micrometre = 1e-6


def harmonic(name: str, factor: float, delay: float = 0.0) -> TideStation:
    """Boston's tide, grown and late: an invented place up an invented river."""
    return TideStation(
        name=name,
        position=NOWHERE,
        mean_level=BOSTON["mean_level_m"] * factor,
        constituents=tuple((key, a * factor, g * DEGREE + delay) for key, (a, g) in BOSTON["constituents"].items()),
    )


def tabled(*rows: tuple[float, float]) -> TideStation:
    """High and low waters at hours from the start."""
    first = START.timestamp()
    return TideStation(name="quay", position=NOWHERE, table=tuple((first + hours * HOUR, h) for hours, h in rows))


MOUTH, TOWN = harmonic("mouth", 1.0), harmonic("town", 1.2, 0.3)
WATER = water_level([(20_000.0, TOWN), (5_000.0, MOUTH)], START, END, residual=0.2, residual_deviation=0.15)
ROWS = ((-3.0, 0.4), (3.0, 4.1), (9.5, 0.6), (15.6, 4.4), (22.0, 0.2), (28.1, 4.2), (34.5, 0.5))
elapsed_times = st.floats(0.0, SPAN)
places = st.floats(-1_000.0, 30_000.0)


def direct(station: TideStation, elapsed: float) -> tuple[float, float]:
    constants = {name: (amplitude, lag) for name, amplitude, lag in station.constituents}
    time = START.timestamp() + elapsed
    assert station.mean_level is not None
    prepared = tide.harmonics(constants, station.mean_level, time, time)
    return tide.level(prepared, time), tide.rate(prepared, time)


@given(distance=places, elapsed=elapsed_times)
def test_the_level_is_the_harmonic_sum(distance: float, elapsed: float) -> None:
    weight = np.clip((distance - 5_000.0) / 15_000.0, 0.0, 1.0)
    (mouth, mouth_rate), (town, town_rate) = direct(MOUTH, elapsed), direct(TOWN, elapsed)
    expected = (1.0 - weight) * mouth + weight * town + 0.2
    assert WATER.level(distance, elapsed) == pytest.approx(expected, abs=one_micrometre)
    assert WATER.rate(distance, elapsed) == pytest.approx((1.0 - weight) * mouth_rate + weight * town_rate, abs=2e-9)


@given(distance=places, elapsed=st.floats(1.0, SPAN - 1.0))
def test_the_rate_is_the_derivative_and_keeps_its_bound(distance: float, elapsed: float) -> None:
    difference = WATER.level(distance, elapsed + 0.5) - WATER.level(distance, elapsed - 0.5)
    assert WATER.rate(distance, elapsed) == pytest.approx(difference, abs=1e-9)
    assert abs(WATER.rate(distance, elapsed)) <= WATER.greatest_rate


def test_the_bound_is_close() -> None:
    elapsed = np.linspace(0.0, SPAN, 20_000)
    assert np.abs(WATER.rate(20_000.0, elapsed)).max() == pytest.approx(WATER.greatest_rate, rel=1e-3)


@kernel
def levels(grid: level.LevelGrid, distance: np.ndarray, elapsed: np.ndarray) -> np.ndarray:
    found = np.empty((2, len(elapsed)))
    for k in range(len(elapsed)):
        found[0, k] = level_at(grid, distance[k], elapsed[k])
        found[1, k] = rate_at(grid, distance[k], elapsed[k])
    return found


def test_a_kernel_reads_the_same_level() -> None:
    drawn = np.random.default_rng(1)
    distance, elapsed = drawn.uniform(0.0, 25_000.0, 500), drawn.uniform(0.0, SPAN, 500)
    elapsed[:3] = 0.0, SPAN, SPAN / 2.0
    found = levels(WATER.grid, distance, elapsed)
    np.testing.assert_allclose(found[0], WATER.level(distance, elapsed), atol=1e-12)
    np.testing.assert_allclose(found[1], WATER.rate(distance, elapsed), atol=1e-15)
    outside = levels(WATER.grid, np.zeros(3), np.array([-1.0, SPAN + 1.0, np.nan]))
    assert np.all(np.isnan(outside))


def test_one_station_serves_the_whole_track() -> None:
    water = water_level([(0.0, MOUTH)], START, END, residual=0.0, residual_deviation=0.1)
    found = levels(water.grid, np.array([-500.0, 0.0, 9_000.0]), np.full(3, 1234.0))[0]
    np.testing.assert_array_equal(found, water.level(np.array([-500.0, 0.0, 9_000.0]), 1234.0))
    assert found[0] == found[1] == found[2]


def test_places_and_times_broadcast() -> None:
    assert isinstance(WATER.level(6_000.0, 60.0), float)
    assert WATER.level(np.zeros((4, 1)), np.zeros(5)).shape == (4, 5)


def test_beyond_the_end_stations_is_said() -> None:
    np.testing.assert_array_equal(
        WATER.beyond_stations(np.array([0.0, 5_000.0, 9_000.0, 20_000.0, 20_001.0])), [True, False, False, False, True]
    )
    assert WATER.level(0.0, 600.0) == WATER.level(5_000.0, 600.0)


def test_deviations_of_prediction_and_residual_add_as_squares() -> None:
    """Defaults of sheet water.md 7 (memory): 0.05 m at a gauge; with a half cosine 0.075 m rms more (1.4, computed)."""
    assert WATER.deviation(5_000.0) == pytest.approx(np.hypot(0.05, 0.15))
    stations = [(0.0, tabled(*ROWS)), (1_000.0, replace(MOUTH, deviation=0.2))]
    water = water_level(stations, START, START + timedelta(hours=30), residual=0.0, residual_deviation=0.0)
    assert water.deviation(0.0) == pytest.approx(np.hypot(0.05, 0.075))
    assert water.deviation(1_000.0) == pytest.approx(0.2)
    assert 0.09 < water.deviation(500.0) < 0.2


def test_a_table_is_half_cosines_between_its_rows() -> None:
    """Mid-time between 4.1 and 0.6 m is their mean. By hand."""
    water = water_level(
        [(0.0, tabled(*ROWS))], START, START + timedelta(hours=30), residual=0.1, residual_deviation=0.1
    )
    assert water.level(0.0, 3.0 * HOUR) == pytest.approx(4.2, abs=1e-4)
    assert water.level(0.0, 6.25 * HOUR) == pytest.approx(2.45, abs=1e-6)
    assert water.level(0.0, 9.5 * HOUR) == pytest.approx(0.7, abs=1e-4)


def test_a_residual_in_time_passes_its_rows_and_never_beyond_them() -> None:
    first = START.timestamp()
    rows = [(first - HOUR, 0.0), (first + 10 * HOUR, 0.5), (first + 20 * HOUR, 0.5), (first + SPAN, -0.3)]
    water = water_level([(0.0, MOUTH)], START, END, residual=rows, residual_deviation=0.1)
    calm = water_level([(0.0, MOUTH)], START, END, residual=0.0, residual_deviation=0.1)
    elapsed = np.linspace(0.0, SPAN, 3001)
    residual = water.level(0.0, elapsed) - calm.level(0.0, elapsed)
    assert residual.max() <= 0.5 + one_micrometre
    assert residual.min() >= -0.3 - one_micrometre
    for hours, expected in ((10.0, 0.5), (15.0, 0.5), (72.0, -0.3)):
        assert np.interp(hours * HOUR, elapsed, residual) == pytest.approx(expected, abs=1e-5)


def test_elapsed_counts_from_the_start() -> None:
    assert WATER.elapsed(START + timedelta(minutes=90)) == 5400.0
    with pytest.raises(CannotCompute, match="has no zone"):
        WATER.elapsed(datetime(2026, 8, 15))


def test_turning_points_of_constants_and_of_a_table() -> None:
    """Boston's first high water of 15 August 2026 is 05:28, 3.368 m: NOAA CO-OPS, seen."""
    found = level.turning_points(MOUTH, START, END)
    assert found.time[0] == pytest.approx((START + timedelta(hours=5, minutes=28)).timestamp(), abs=MINUTE)
    assert found.level[0] == pytest.approx(3.368, abs=0.005)
    assert found.high[0]
    rows = level.turning_points(tabled(*ROWS), START, END)
    assert list(rows.level) == [4.1, 0.6, 4.4, 0.2, 4.2, 0.5]
    assert list(rows.high) == [True, False, True, False, True, False]


TABLE_REFUSALS: list[tuple[tuple[tuple[float, float], ...], str]] = [
    (((0.0, 1.0),), "has 1 row; expected at least one high and one low water"),
    (((0.0, 1.0), (6.0, float("nan"))), "has a row without time or height"),
    (((0.0, 1.0), (0.0, 1.0), (6.0, 4.0)), "has two rows at 2026-08-15 00:00 UTC; expected one"),
    (((0.0, 1.0), (6.0, 4.0), (5.0, 1.0)), "has 2026-08-15 05:00 UTC after 2026-08-15 06:00 UTC; expected rows in"),
    (((0.0, 1.0), (18.6, 4.0)), "has nothing for 18.6 h after 2026-08-15 00:00 UTC; are rows missing"),
    (((0.0, 1.0), (6.0, 4.0), (12.0, 5.0)), "has 1.00, 4.00, 5.00 m from 2026-08-15 00:00 UTC; expected high and low"),
    (((0.0, 1.0), (6.0, 1.0)), "has the same height twice"),
    (
        ROWS,
        "runs from 2026-08-14 21:00 UTC to 2026-08-16 10:30 UTC; expected high and low waters from 2026-08-15 00:00",
    ),
]


@pytest.mark.parametrize(("rows", "sentence"), TABLE_REFUSALS)
def test_tables_that_cannot_be_are_refused(rows: tuple[tuple[float, float], ...], sentence: str) -> None:
    with pytest.raises(CannotCompute, match=r"the table of tide station 'quay'") as caught:
        water_level([(0.0, tabled(*rows))], START, END, residual=0.0, residual_deviation=0.1)
    assert sentence in str(caught.value)


FIRST = START.timestamp()
REFUSALS: list[tuple[Callable[[], object], str]] = [
    (lambda: water_level([], START, END, 0.0, 0.1), "there is no tide station; the water level is never assumed"),
    (lambda: water_level([(0.0, MOUTH)], END, START, 0.0, 0.1), "ends before it begins"),
    (
        lambda: water_level([(0.0, MOUTH)], datetime(2026, 1, 1), END, 0.0, 0.1),
        "the span of the water level has no zone",
    ),
    (
        lambda: water_level([(0.0, MOUTH), (0.0, TOWN)], START, END, 0.0, 0.1),
        "'mouth' and 'town' lie at the same place",
    ),
    (lambda: water_level([(0.0, MOUTH)], START, END, float("nan"), 0.1), "a residual cannot be nan"),
    (lambda: water_level([(0.0, MOUTH)], START, END, [(FIRST, 0.1)], 0.1), "needs at least two rows"),
    (
        lambda: water_level([(0.0, MOUTH)], START, END, [(FIRST, 0.1), (FIRST + DAY, 0.2)], 0.1),
        "the residual runs from 2026-08-15 00:00 UTC to 2026-08-16 00:00 UTC; expected it from 2026-08-15 00:00 UTC to",
    ),
    (lambda: water_level([(0.0, MOUTH)], START, END, 0.0, 0.1, "monthly"), "'mouth': nodal scheme 'monthly'"),
    (
        lambda: water_level([(0.0, replace(MOUTH, constituents=(("M2X", 1.0, 0.0),)))], START, END, 0.0, 0.1),
        "tide station 'mouth': tidal constituent 'M2X' is not known; did you mean",
    ),
    (
        lambda: water_level([(0.0, replace(MOUTH, constituents=(("M2", 1.0, 0.0),) * 2))], START, END, 0.0, 0.1),
        "'mouth' has a constituent twice",
    ),
    (lambda: WATER.level(0.0, -1.0), "known from 2026-08-15 00:00 UTC to 2026-08-18 00:00 UTC only"),
    (lambda: WATER.rate(0.0, SPAN + 1.0), "known from 2026-08-15 00:00 UTC to 2026-08-18 00:00 UTC only"),
]


@pytest.mark.parametrize(("call", "sentence"), REFUSALS, ids=[sentence for _, sentence in REFUSALS])
def test_refusals(call: Callable[[], object], sentence: str) -> None:
    with pytest.raises(CannotCompute) as caught:
        call()
    assert sentence in str(caught.value)

"""The tide at a station from everything it may be known from."""

import tomllib
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from leadsman.environment.prediction import predicted, turning_points
from leadsman.errors import CannotCompute, Impossible
from leadsman.geometry import Position
from leadsman.physics import tide
from leadsman.station import Differences, Offsets, PortCurve, Secondary, TideStation
from leadsman.units import DEGREE, HOUR, MINUTE

AUTHORITY = Path(__file__).parents[2] / "authorities" / "noaa_boston"
BOSTON = tomllib.loads((AUTHORITY / "station.toml").read_text(encoding="utf-8"))
NOWHERE = Position(0.0, 0.0)
START = datetime(2026, 8, 15, tzinfo=UTC)
FIRST = START.timestamp()
one_millimetre = 1e-3

HARMONIC = TideStation(
    name="Boston",
    position=NOWHERE,
    mean_level=BOSTON["mean_level_m"],
    constituents=tuple((key, a, g * DEGREE) for key, (a, g) in BOSTON["constituents"].items()),
)


def times(hours: float, step: float = 6.0 * MINUTE) -> np.ndarray:
    return FIRST + np.arange(0.0, hours * HOUR + 1.0, step)


def table(*rows: tuple[float, float]) -> TideStation:
    """High and low waters at hours from the start."""
    return TideStation(name="port", position=NOWHERE, table=tuple((FIRST + hours * HOUR, h) for hours, h in rows))


PORT = table((0.0, 1.0), (6.0, 5.0), (12.0, 1.0), (19.0, 4.0), (25.0, 1.5))


def curve(shape: Callable[[float], float], *, ends: tuple[int, int] = (-6, 6), neap: float = 1.0) -> PortCurve:
    hours = np.arange(ends[0], ends[1] + 0.01, 0.25).tolist()
    shares = [shape(hour / abs(ends[0] if hour < 0 else ends[1])) for hour in hours]
    rows = tuple((hour * HOUR, share, share**neap) for hour, share in zip(hours, shares, strict=True))
    return PortCurve(rows=rows, spring_range=4.0, neap_range=2.0)


def half_cosine(share: float) -> float:
    """1 at high water, 0 at low water."""
    return round(0.5 * (1.0 + np.cos(np.pi * share)), 12)


def test_a_curve_that_is_half_a_cosine_gives_half_a_cosine() -> None:
    """By construction; between its rows the curve is straight, which errs by (pi/24)^2 / 16 of the range at most."""
    wanted = times(25.0)
    plain, _ = predicted(PORT, wanted)
    drawn, _ = predicted(replace(PORT, curve=curve(half_cosine)), wanted)
    assert np.max(np.abs(drawn - plain)) < 4.0 * (np.pi / 24.0) ** 2 / 16.0


def test_a_curve_by_springs_and_neaps() -> None:
    """By hand: 3 h before high water the spring curve stands at 0.5, the neap curve at 0.5 squared."""
    port = replace(PORT, curve=curve(half_cosine, neap=2.0))
    level, _ = predicted(port, FIRST + np.array([3.0, 3.1]) * HOUR)
    assert level[0] == pytest.approx(1.0 + 4.0 * 0.5)  # range 4.0: springs
    level, _ = predicted(port, FIRST + np.array([22.0, 22.1]) * HOUR)
    assert level[0] == pytest.approx(
        1.5 + 2.5 * (0.25 * 0.5 + 0.75 * 0.25)
    )  # range 2.5: a quarter of the way to springs


def test_a_curve_meets_every_turning_point_and_never_jumps() -> None:
    port = replace(PORT, curve=curve(half_cosine, ends=(-5, 7)))
    level, rate = predicted(port, times(25.0, step=MINUTE))
    at = {round(hours * 60): height for hours, height in ((0, 1.0), (6, 5.0), (12, 1.0), (19, 4.0), (25, 1.5))}
    for minute, height in at.items():
        assert level[minute] == pytest.approx(height, abs=one_millimetre)
    assert np.max(np.abs(np.diff(level))) < 0.05
    assert np.max(np.abs(rate)) * MINUTE < 0.05


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (((-6, 0.2, 0.0), (0, 1, 1), (6, 0, 0)), "does not end at low water"),
        (((-6, 0, 0), (0, 1, 0.9), (6, 0, 0)), "expected a row at high water"),
        (((-6, 0, 0), (1, 1, 1), (6, 0, 0)), "expected a row at high water"),
        (((0, 1, 1), (3, 0.5, 0.5), (6, 0, 0)), "from the low water before to that after"),
        (((-6, 0, 0), (-7, 1, 1), (6, 0, 0)), "in order of time"),
    ],
)
def test_curves_that_cannot_be(rows: tuple[tuple[float, float, float], ...], sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        PortCurve(rows=tuple((hour * HOUR, *shares) for hour, *shares in rows), spring_range=4.0, neap_range=2.0)
    assert sentence in str(caught.value)


def test_a_secondary_port_by_differences() -> None:
    """Sheet water.md rows 16 and 17 [data seen in a public worked exercise, result derived]: 06:38, 4.2 m: 07:02, 5.3 m."""
    day = datetime(2026, 8, 15, tzinfo=UTC)
    standard = TideStation(
        name="Standard",
        position=NOWHERE,
        table=tuple(
            ((day + timedelta(hours=h, minutes=m)).timestamp(), height)
            for h, m, height in ((-6, 20, 0.9), (0, 25, 0.8), (6, 38, 4.2), (12, 50, 0.7), (19, 0, 4.1))
        )[1:],
    )
    high = Differences(
        clock=(0.0, 6.0 * HOUR), time=(35.0 * MINUTE, 23.0 * MINUTE), level=(4.2, 3.4), height=(1.1, 0.8)
    )
    low = Differences(clock=(0.0, 6.0 * HOUR), time=(0.0, 0.0), level=(0.7, 1.5), height=(0.0, 0.0))
    port = TideStation(
        name="Secondary", position=NOWHERE, secondary=Secondary(reference="Standard", high=high, low=low)
    )
    found = turning_points(port, day, day + timedelta(hours=12), others={"Standard": standard})
    assert found.time[1] == pytest.approx((day + timedelta(hours=7, minutes=2)).timestamp(), abs=30.0)
    assert found.level[1] == pytest.approx(5.3, abs=0.01)
    level, _ = predicted(port, day.timestamp() + np.array([7.0, 7.1]) * HOUR, others={"Standard": standard})
    assert level[0] == pytest.approx(5.3, abs=0.01)


def test_a_subordinate_station_by_offsets() -> None:
    """By hand: the high water of 5.0 m at 6 h becomes 5.0 x 0.9 + 0.1 m at 6 h 30; low waters stay."""
    offsets = Secondary(
        reference="port", high=Offsets(time=30.0 * MINUTE, ratio=0.9, added=0.1), low=Offsets(time=10.0 * MINUTE)
    )
    station = TideStation(name="creek", position=NOWHERE, secondary=offsets)
    found = turning_points(station, START, START + timedelta(hours=13), others={"port": PORT})
    assert (found.time - FIRST) / MINUTE == pytest.approx([10.0, 390.0, 730.0])
    assert found.level == pytest.approx([1.0, 4.6, 1.0])
    level, _ = predicted(station, times(20.0)[5:], others={"port": PORT})
    assert np.max(level) == pytest.approx(4.6, abs=one_millimetre)


def test_differences_of_a_harmonic_port() -> None:
    none = Offsets(time=0.0)
    station = TideStation(name="beside", position=NOWHERE, secondary=Secondary(reference="Boston", high=none, low=none))
    own = turning_points(HARMONIC, START, START + timedelta(days=2))
    found = turning_points(station, START, START + timedelta(days=2), others={"Boston": HARMONIC})
    assert found.time == pytest.approx(own.time, abs=1.0)
    assert np.all(found.high == own.high)


def sampled(step: float, hours: float = 48.0, without: slice | None = None) -> TideStation:
    """Boston's harmonic tide as a series."""
    when = times(hours, step)
    level = tide.level(
        tide.harmonics({k: (a, g) for k, a, g in HARMONIC.constituents}, HARMONIC.mean_level or 0.0, when[0], when[-1]),
        when,
    )
    rows = list(zip(when.tolist(), level.tolist(), strict=True))
    if without is not None:
        del rows[without]
    return TideStation(name="series", position=NOWHERE, series=tuple(rows))


def test_a_series_is_the_tide_it_was_taken_from() -> None:
    """Against the harmonic sum: a cubic over ten minutes errs by under (w h)^4/384 or, where it is kept monotone, mm."""
    wanted = times(47.0)
    direct, direct_rate = predicted(HARMONIC, wanted)
    level, rate = predicted(sampled(10.0 * MINUTE), wanted)
    assert np.max(np.abs(level - direct)) < 2.0 * one_millimetre
    assert np.max(np.abs(rate - direct_rate)) * HOUR < 0.05


def test_turning_points_of_a_series() -> None:
    own = turning_points(HARMONIC, START + timedelta(hours=2), START + timedelta(hours=46))
    found = turning_points(sampled(6.0 * MINUTE), START + timedelta(hours=2), START + timedelta(hours=46))
    assert found.time == pytest.approx(own.time, abs=6.0 * MINUTE)
    assert found.level == pytest.approx(own.level, abs=5.0 * one_millimetre)
    assert np.all(found.high == own.high)


@pytest.mark.parametrize(
    ("station", "hours", "sentence"),
    [
        (sampled(10.0 * MINUTE, without=slice(60, 72)), 40.0, "has nothing for 2.2 h after 2026-08-15 09:50 UTC"),
        (sampled(10.0 * MINUTE, hours=20.0), 40.0, "runs from 2026-08-15 00:00 UTC to 2026-08-15 20:00 UTC"),
        (PORT, 40.0, "the table of tide station 'port' runs from 2026-08-15 00:00 UTC to 2026-08-16 01:00 UTC"),
        (
            TideStation(
                name="x", position=NOWHERE,
                secondary=Secondary(reference="port", high=Offsets(time=0.0), low=Offsets(time=8.0 * HOUR)),
            ),
            10.0, "the differences of tide station 'x' has",
        ),
        (
            TideStation(
                name="x", position=NOWHERE,
                secondary=Secondary(reference="nowhere", high=Offsets(time=0.0), low=Offsets(time=0.0)),
            ),
            10.0, "tide station 'x' needs the tide station 'nowhere'",
        ),
    ],
)  # fmt: skip
def test_nothing_missing_is_assumed(station: TideStation, hours: float, sentence: str) -> None:
    with pytest.raises(CannotCompute) as caught:
        predicted(station, times(hours), others={"port": PORT})
    assert sentence in str(caught.value)


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (
            lambda: Differences(clock=(0.0, 12.0 * HOUR), time=(0.0, 0.0), level=(4.0, 3.0), height=(0.0, 0.0)),
            "same half-day",
        ),
        (lambda: Differences(clock=(0.0, HOUR), time=(0.0, 0.0), level=(4.0, 4.0), height=(0.0, 0.0)), "are the same"),
        (
            lambda: Differences(clock=(0.0, HOUR), time=(0.0, 13 * HOUR), level=(4.0, 3.0), height=(0.0, 0.0)),
            "at most 12 hours",
        ),
        (
            lambda: replace(HARMONIC, curve=curve(half_cosine)),
            "has no high and low waters that a curve could run between",
        ),
        (lambda: replace(HARMONIC, series=((0.0, 0.0),)), "needs one of: constituents"),
        (lambda: replace(HARMONIC, deviation=-1.0), "is no deviation of a level"),
    ],
)
def test_stations_that_cannot_be(make: Callable[[], object], sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        make()
    assert sentence in str(caught.value)

"""The stream along the track: rows at their hours, springs and neaps, nothing stretched over what is missing."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.compiled import kernel
from leadsman.environment import stream
from leadsman.environment.level import turning_points
from leadsman.environment.stream import HarmonicStream, no_stream, stream_at, tidal_stream
from leadsman.errors import CannotCompute
from leadsman.geometry import Position
from leadsman.physics import tide
from leadsman.station import StreamStation, TideStation
from leadsman.units import DAY, DEGREE, HOUR, KNOT

NOWHERE = Position(0.0, 0.0)
START = datetime(2031, 5, 4, tzinfo=UTC)
END = START + timedelta(days=2)
SPAN = 2.0 * DAY
HIGH_HOURS = np.array([-9.0, 3.4, 15.8, 28.2, 40.6, 53.0, 65.4])  # invented high waters, hours from the start


def table(high: float, low: float) -> TideStation:
    """An invented port whose high and low waters are always the same, so that every range is high less low."""
    rows = sorted([(hours, high) for hours in HIGH_HOURS] + [(hours + 6.2, low) for hours in HIGH_HOURS])
    return TideStation(
        name="port", position=NOWHERE, table=tuple((START.timestamp() + hours * HOUR, level) for hours, level in rows)
    )


def rows(hours: range) -> tuple[tuple[float, float, float, float], ...]:
    """Floods towards 040 before high water, ebbs towards 220 after, strongest three hours away."""
    found = []
    for hour in hours:
        strength = 1.0 - abs(abs(hour) - 3.0) / 3.0
        towards = 40.0 if hour < 0 else 220.0
        found.append((hour * HOUR, towards * DEGREE, 3.0 * strength * KNOT, 1.0 * strength * KNOT))
    return tuple(found)


BAR = StreamStation(
    name="bar", position=NOWHERE, reference="port", spring_range=5.0, neap_range=2.0, rows=rows(range(-6, 7))
)
RIVER = HarmonicStream(name="river", mean_north=-0.4, mean_east=0.3)


def along(water: stream.Stream, elapsed: float) -> float:
    """Towards 040, knots."""
    north, east = water.components(0.0, elapsed)
    return (north * np.cos(40.0 * DEGREE) + east * np.sin(40.0 * DEGREE)) / KNOT


CASES = [  # high, low, hours from the high water at 15.8 h, knots towards 040, origin
    (5.5, 0.5, -3.0, 3.0, "by hand: springs"),
    (3.5, 1.5, -3.0, 1.0, "by hand: neaps"),
    (4.5, 1.0, -3.0, 2.0, "by hand: half-way between"),
    (4.5, 1.0, -2.5, 5.0 / 3.0, "by hand: half-way between rows of 2 and 4/3 kn"),
    (5.5, 0.5, 3.0, -3.0, "by hand: the ebb"),
    (5.5, 0.5, 0.0, 0.0, "by hand: slack at high water"),
    (5.5, 0.5, 6.2, 0.0, "by hand: slack between the last row and the first of the next high water"),
    (6.5, 0.5, -3.0, 11.0 / 3.0, "by hand: beyond springs, extrapolated"),
]


@pytest.mark.parametrize(("high", "low", "hours", "expected", "origin"), CASES)
def test_rows_stand_at_their_hours(high: float, low: float, hours: float, expected: float, origin: str) -> None:
    water = tidal_stream([(0.0, BAR, table(high, low))], START, END)
    assert along(water, (15.8 + hours) * HOUR) == pytest.approx(expected, abs=0.06), origin  # corners, cut at 6 minutes


def test_components_are_interpolated_not_angles() -> None:
    """Half-way between 1 kn towards 350 and 1 kn towards 010 it runs 0.985 kn towards 000, never towards 180."""
    turning = replace(
        BAR, rows=((-6.0 * HOUR, 350.0 * DEGREE, 1.0, 0.9), (-5.0 * HOUR, 10.0 * DEGREE, 1.0, 0.9), *BAR.rows[2:])
    )
    north, east = tidal_stream([(0.0, turning, table(5.5, 0.5))], START, END).components(0.0, (15.8 - 5.5) * HOUR)
    assert north == pytest.approx(np.cos(10.0 * DEGREE), abs=1e-3)
    assert east == pytest.approx(0.0, abs=0.02)


def test_a_range_beyond_springs_is_said() -> None:
    assert tidal_stream([(0.0, BAR, table(5.5, 0.5))], START, END).extrapolated == ()
    ((name, breach),) = tidal_stream([(0.0, BAR, table(6.5, 0.5))], START, END).extrapolated
    assert name == "bar"
    assert str(breach) == "tidal range 6 is outside 2 to 5"


def test_tables_that_overlap_meet_in_the_middle() -> None:
    """Rows of seven hours and high waters 12.4 h apart: in the middle both are meant, and their mean is taken."""
    wide = replace(BAR, rows=tuple((hour * HOUR, 40.0 * DEGREE, hour + 10.0, hour + 9.0) for hour in range(-7, 8)))
    water = tidal_stream([(0.0, wide, table(5.5, 0.5))], START, END)
    assert along(water, (15.8 + 6.2) * HOUR) * KNOT == pytest.approx(10.0, abs=0.15)  # mean of 16.2 and 3.8, by hand


def test_harmonic_reference_gives_the_hours() -> None:
    """The strongest flood comes three hours before each high water of the tide itself."""
    port = TideStation(name="port", position=NOWHERE, mean_level=3.0, constituents=(("M2", 2.0, 1.0), ("S2", 0.6, 1.5)))
    water = tidal_stream([(0.0, BAR, port)], START, END)
    points = turning_points(port, START, END)
    for time in points.time[points.high]:
        elapsed = time - START.timestamp() - 3.0 * HOUR
        if elapsed > HOUR:
            assert along(water, elapsed) > max(along(water, elapsed - HOUR / 2.0), along(water, elapsed + HOUR / 2.0))


CONSTANTS = (("M2", 0.8, 1.0), ("S2", 0.2, 2.0), ("M4", 0.05, 0.3))
RACE = HarmonicStream(name="race", mean_north=0.1, mean_east=0.0, north=CONSTANTS, east=(("K1", 0.1, 0.0),))


@given(elapsed=st.floats(0.0, SPAN))
def test_harmonic_stream_is_the_harmonic_sum(elapsed: float) -> None:
    """Straight lines between samples of six minutes: (w step)^2 / 8 of each amplitude, 2e-3 of M4's, 3e-4 of M2's."""
    water = tidal_stream([(0.0, RACE, None)], START, END)
    time = START.timestamp() + elapsed
    prepared = tide.harmonics({name: (a, g) for name, a, g in CONSTANTS}, 0.1, time, time)
    assert water.components(0.0, elapsed)[0] == pytest.approx(tide.level(prepared, time), abs=6e-4)


WATER = tidal_stream([(10_000.0, RIVER, None), (0.0, BAR, table(5.5, 0.5))], START, END)


def test_between_stations_the_components_lie_on_a_straight_line() -> None:
    here, there = WATER.components(0.0, 5000.0), WATER.components(10_000.0, 5000.0)
    assert there == pytest.approx((-0.4, 0.3))
    assert WATER.components(2_500.0, 5000.0) == pytest.approx(0.75 * np.array(here) + 0.25 * np.array(there))
    assert WATER.components(99_000.0, 5000.0) == there
    np.testing.assert_array_equal(WATER.beyond_stations(np.array([-1.0, 0.0, 10_000.0, 10_001.0])), [1, 0, 0, 1])


@given(distance=st.floats(-1e3, 2e4), elapsed=st.floats(0.0, SPAN - 60.0))
def test_bounds_hold(distance: float, elapsed: float) -> None:
    now, then = np.array(WATER.components(distance, elapsed)), np.array(WATER.components(distance, elapsed + 60.0))
    assert np.hypot(*now) <= WATER.greatest_rate * (1.0 + 1e-12)
    assert np.hypot(*(then - now)) <= 60.0 * WATER.greatest_change * (1.0 + 1e-9) + 1e-12


@kernel
def streams(grid: stream.StreamGrid, distance: np.ndarray, elapsed: np.ndarray) -> np.ndarray:
    found = np.empty((2, len(elapsed)))
    for k in range(len(elapsed)):
        found[0, k], found[1, k] = stream_at(grid, distance[k], elapsed[k])
    return found


def test_a_kernel_reads_the_same_stream() -> None:
    drawn = np.random.default_rng(1)
    distance, elapsed = drawn.uniform(-500.0, 12_000.0, 300), drawn.uniform(0.0, SPAN, 300)
    np.testing.assert_allclose(streams(WATER.grid, distance, elapsed), WATER.components(distance, elapsed), atol=1e-14)
    assert np.all(np.isnan(streams(WATER.grid, np.zeros(2), np.array([-1.0, SPAN + 1.0]))))


def test_no_stream_is_still_water() -> None:
    water = no_stream(START, END)
    assert water.components(5.0, 5.0) == (0.0, 0.0)
    assert water.greatest_rate == water.greatest_change == 0.0
    assert water.names == ("still water",)


SHORT = replace(BAR, rows=rows(range(-3, 4)))
EARLY = replace(table(5.5, 0.5), table=table(5.5, 0.5).table[:4])
DIURNAL = TideStation(name="port", position=NOWHERE, mean_level=1.0, constituents=(("K1", 0.5, 0.0),))
SLOW = TideStation(name="port", position=NOWHERE, mean_level=1.0, constituents=(("SA", 0.5, 0.0),))
REFUSALS: list[tuple[Callable[[], object], str]] = [
    (lambda: tidal_stream([], START, END), "there is no stream station; the water is never assumed to stand still"),
    (lambda: tidal_stream([(0.0, RIVER, None)], END, START), "ends before it begins"),
    (lambda: tidal_stream([(0.0, RIVER, None)], datetime(2031, 5, 4), END), "the span of the stream has no zone"),
    (
        lambda: tidal_stream([(0.0, RIVER, None), (0.0, RACE, None)], START, END),
        "'river' and 'race' lie at the same place",
    ),
    (lambda: tidal_stream([(0.0, BAR, None)], START, END), "stream station 'bar' needs the tide station 'port'"),
    (
        lambda: tidal_stream([(0.0, SHORT, table(5.5, 0.5))], START, END),
        "'bar' has no row for 6.4 h after 2031-05-03 18:00",
    ),
    (lambda: tidal_stream([(0.0, BAR, EARLY)], START, END), "high waters of 'port' do not cover the time wanted"),
    (lambda: tidal_stream([(0.0, BAR, DIURNAL)], START, END), "'bar' has no row for 11.9 h after"),
    (lambda: tidal_stream([(0.0, BAR, SLOW)], START, END), "'port' has no high water about the time wanted"),
    (
        lambda: tidal_stream([(0.0, replace(RACE, north=(("MX", 1.0, 0.0),)), None)], START, END),
        "stream station 'race': tidal constituent 'MX' is not known",
    ),
    (lambda: WATER.components(0.0, SPAN + 1.0), "known from 2031-05-04 00:00 to 2031-05-06 00:00 UTC only"),
]


@pytest.mark.parametrize(("call", "sentence"), REFUSALS, ids=[sentence for _, sentence in REFUSALS])
def test_refusals(call: Callable[[], object], sentence: str) -> None:
    with pytest.raises(CannotCompute) as caught:
        call()
    assert sentence in str(caught.value)


def test_constants_along_an_axis() -> None:
    """By hand: the stream towards the axis is the harmonic sum of its constants and the steady part."""
    constants = (("M2", 1.1, 0.4), ("K1", 0.2, 2.0))
    station = StreamStation(
        name="narrows", position=NOWHERE, axis=0.7, mean=0.25, constituents=constants, deviation=0.1
    )
    found = tidal_stream([(0.0, station, None)], START, END)
    elapsed = np.linspace(0.0, SPAN, 500)[1:-1]
    north, east = found.components(0.0, elapsed)
    time = START.timestamp() + elapsed
    wanted = tide.level(tide.harmonics({n: (a, g) for n, a, g in constants}, 0.25, time[0], time[-1]), time)
    assert north * np.cos(0.7) + east * np.sin(0.7) == pytest.approx(wanted, abs=1e-3)
    assert east * np.cos(0.7) - north * np.sin(0.7) == pytest.approx(0.0 * elapsed, abs=1e-9)
    assert found.deviation(0.0) == 0.1


def series(*rows: tuple[float, float, float]) -> StreamStation:
    """Rows of hours from the start, knots, degrees towards."""
    first = START.timestamp()
    return StreamStation(
        name="buoy", position=NOWHERE, series=tuple((first + h * HOUR, r * KNOT, d * DEGREE) for h, r, d in rows)
    )


def test_a_series_lies_on_straight_lines_between_its_rows() -> None:
    """By hand: half-way from 2 kn northward to 2 kn eastward it is 1 kn each way; never turned through the angle."""
    found = tidal_stream([(0.0, series(*((h, 2.0, 0.0 if h < 10 else 90.0) for h in range(50))), None)], START, END)
    north, east = found.components(0.0, np.array([9.0, 9.5, 10.0]) * HOUR)
    assert north / KNOT == pytest.approx([2.0, 1.0, 0.0])
    assert east / KNOT == pytest.approx([0.0, 1.0, 2.0])
    assert found.deviation(123.0) == pytest.approx(0.25722)  # the default of uncertainty.toml, 0.5 kn


@pytest.mark.parametrize(
    ("station", "sentence"),
    [
        (series(*((h, 1.0, 0.0) for h in range(40))), "the series of stream station 'buoy' runs from"),
        (
            series(*((h, 1.0, 0.0) for h in range(50) if h not in (7, 8))),
            "has nothing for 3.0 h after 2031-05-04 06:00",
        ),
    ],
)
def test_a_series_that_does_not_reach(station: StreamStation, sentence: str) -> None:
    with pytest.raises(CannotCompute, match=sentence):
        tidal_stream([(0.0, station, None)], START, END)

"""The tide against NOAA's published predictions, against UTide, and against itself."""

import csv
import tomllib
import warnings
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.physics import tide, tide_astronomy
from leadsman.physics.tide_curve import through_turning_points
from leadsman.units import DAY, DEGREE, HOUR, MINUTE

AUTHORITY = Path(__file__).parents[2] / "authorities" / "noaa_boston"
STATION = tomllib.loads((AUTHORITY / "station.toml").read_text(encoding="utf-8"))
BOSTON = {name: (amplitude, lag * DEGREE) for name, (amplitude, lag) in STATION["constituents"].items()}
MEAN_LEVEL = STATION["mean_level_m"]
EIGHT = ("M2", "S2", "N2", "K2", "K1", "O1", "P1", "Q1")
half_a_centimetre = 0.005
one_centimetre = 0.01
one_micrometre = 1e-6


def utc(text: str) -> float:
    return datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp()


def published(file: str) -> list[dict[str, str]]:
    with open(AUTHORITY / file, encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


@pytest.mark.parametrize("row", published("hourly.csv"), ids=lambda row: row["time"])
def test_boston_heights_are_those_noaa_publishes(row: dict[str, str]) -> None:
    """NOAA CO-OPS predictions, station 8443970, seen; sheet water.md 1.1.6 and check rows 1 to 5."""
    time = utc(row["time"].rstrip("Z"))
    found = tide.level(tide.harmonics(BOSTON, MEAN_LEVEL, time, time), time)
    assert found == pytest.approx(float(row["level_m"]), abs=half_a_centimetre)


def test_boston_turning_points_are_those_noaa_publishes() -> None:
    """NOAA CO-OPS predictions, station 8443970, seen; sheet water.md 1.1.6 and check rows 6 to 8."""
    start, end = utc("2026-08-15T00:00"), utc("2026-08-18T14:10")
    found = tide.turning_points(tide.harmonics(BOSTON, MEAN_LEVEL, start, end), start, end)
    rows = published("turning_points.csv")
    assert list(found.high) == [row["kind"] == "H" for row in rows]
    np.testing.assert_allclose(found.time, [utc(row["time"].rstrip("Z")) for row in rows], atol=MINUTE, rtol=0.0)
    np.testing.assert_allclose(found.level, [float(row["level_m"]) for row in rows], atol=half_a_centimetre)


WINDOWS = [  # from, to: level at or above 2.5 m; sheet water.md 9 row 9, computed
    ("2026-08-15T03:22:42", "2026-08-15T07:39:18"),
    ("2026-08-15T16:04:18", "2026-08-15T19:57:06"),
]


def test_windows_above_a_level() -> None:
    start = utc("2026-08-15T00:00")
    height, _ = tide.grid(tide.harmonics(BOSTON, MEAN_LEVEL, start, start + DAY), start, 1.0, int(DAY))
    crossings = start + np.flatnonzero(np.diff(height >= 2.5))
    expected = [utc(moment) for window in WINDOWS for moment in window]
    np.testing.assert_allclose(crossings, expected, atol=MINUTE / 2.0, rtol=0.0)


def test_half_cosines_stray_from_the_harmonic_curve_as_far_as_the_sheet_says() -> None:
    """Boston, week of 15 August 2026: rms 5.6 cm, at most 16.7 cm. Sheet water.md 1.4, computed.

    The sheet does not say between which moments, nor whether its turning points were rounded to minutes, which alone
    is worth some millimetres; found here between the 27 turning points of the week: 5.5 and 16.5 cm.
    """
    start, week = utc("2026-08-15T00:00"), 7.0 * DAY
    prepared = tide.harmonics(BOSTON, MEAN_LEVEL, start, start + week)
    points = tide.turning_points(prepared, start, start + week)
    time = np.arange(points.time[0], points.time[-1], 60.0)
    error = through_turning_points(time, points.time, points.level)[0] - tide.level(prepared, time)
    assert len(points.time) == 27  # sheet water.md 1.1.5
    assert np.sqrt(np.mean(error**2)) == pytest.approx(0.056, abs=0.003)
    assert np.max(np.abs(error)) == pytest.approx(0.167, abs=0.003)


EIGHT_CONSTITUENTS = [  # time, UTide, yearly scheme: metres about mean level; sheet water.md 9 row 10, computed
    ("2026-08-15T00:00", -1.6221, -1.6197),
    ("2026-08-15T06:00", 1.8178, 1.8181),
    ("2026-08-15T12:00", -1.7997, -1.8004),
]


@pytest.mark.parametrize(("time", "by_utide", "yearly"), EIGHT_CONSTITUENTS)
def test_eight_main_constituents(time: str, by_utide: float, yearly: float) -> None:
    at = utc(time)
    eight = {name: BOSTON[name] for name in EIGHT}
    assert tide.level(tide.harmonics(eight, 0.0, at, at), at) == pytest.approx(yearly, abs=1e-4)
    assert tide.level(tide.harmonics(eight, 0.0, at, at, "daily"), at) == pytest.approx(by_utide, abs=one_centimetre)


@pytest.mark.parametrize("year", [2026, 2031, 2036])
@pytest.mark.parametrize("scheme", tide.SCHEMES)
def test_utide_agrees_to_a_centimetre(year: int, scheme: str) -> None:
    """UTide has the moon's node from Doodson's satellites, not from closed forms: another way to the same tide."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import utide
        from utide._ut_constants import ut_constants
        from utide.utilities import Bunch
    names = [str(name).strip() for name in ut_constants.const.name]
    index = np.array([names.index(name) for name in EIGHT])
    options = Bunch(
        twodim=False, nodsatlint=False, nodsatnone=False, gwchlint=False, gwchnone=False, nodiagn=True, notrend=True,
        prefilt=[],
    )  # fmt: skip
    start = utc(f"{year}-08-15T00:00")
    time = start + HOUR * np.arange(168)
    middle = datetime.fromtimestamp(start + 84 * HOUR, UTC).replace(tzinfo=None)
    reference = middle.toordinal() + middle.hour / 24.0
    latitude = 42.35  # Boston
    auxiliary = Bunch(
        reftime=reference, frq=ut_constants.const.freq[index], lind=index, lat=latitude, opt=options
    )  # fmt: skip
    coefficients = Bunch(
        name=np.array(EIGHT),
        A=np.array([BOSTON[name][0] for name in EIGHT]),
        g=np.array([BOSTON[name][1] for name in EIGHT]) / DEGREE,
        A_ci=np.zeros(len(EIGHT)),
        mean=0.0,
        aux=auxiliary,
    )
    moments = np.array([datetime.fromtimestamp(at, UTC).replace(tzinfo=None) for at in time])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        expected = utide.reconstruct(moments, coefficients, verbose=False).h
    eight = {name: BOSTON[name] for name in EIGHT}
    found = tide.level(tide.harmonics(eight, 0.0, time[0], time[-1], scheme), time)
    np.testing.assert_allclose(found, expected, atol=one_centimetre, rtol=0.0)


START, END = utc("2024-12-25T00:00"), utc("2028-01-05T00:00")
PREPARED = {scheme: tide.harmonics(BOSTON, MEAN_LEVEL, START, END, scheme) for scheme in tide.SCHEMES}
times = st.floats(START, END)


@given(start=times, step=st.floats(1.0, 7200.0), count=st.integers(1, 400), scheme=st.sampled_from(tide.SCHEMES))
@settings(max_examples=50, deadline=None)
def test_the_fast_grid_is_the_sum_itself(start: float, step: float, count: int, scheme: str) -> None:
    count = min(count, int((END - start) / step) + 1)
    level, rate = tide.grid(PREPARED[scheme], start, step, count)
    time = start + step * np.arange(count)
    np.testing.assert_allclose(level, tide.level(PREPARED[scheme], time), atol=1e-9, rtol=0.0)
    np.testing.assert_allclose(rate, tide.rate(PREPARED[scheme], time), atol=1e-12, rtol=0.0)


@given(time=times)
def test_the_rate_is_the_derivative_and_keeps_its_bound(time: float) -> None:
    prepared, half = PREPARED["yearly"], 0.5
    piece = np.searchsorted(prepared.edges, [time - half, time + half])
    if piece[0] == piece[1]:
        difference = tide.level(prepared, time + half) - tide.level(prepared, time - half)
        assert tide.rate(prepared, time) == pytest.approx(difference, abs=1e-8)
    assert abs(tide.rate(prepared, time)) <= tide.greatest_rate(prepared)


@given(time=times)
def test_daily_corrections_are_as_good_as_instantaneous_ones(time: float) -> None:
    f, u = tide_astronomy.nodal_corrections(BOSTON, time)
    angle = tide_astronomy.equilibrium_arguments(BOSTON, time) + u - [lag for _, lag in BOSTON.values()]
    instantaneous = MEAN_LEVEL + np.sum(f * [amplitude for amplitude, _ in BOSTON.values()] * np.cos(angle))
    assert tide.level(PREPARED["daily"], time) == pytest.approx(instantaneous, abs=0.001)


@pytest.mark.parametrize("scheme", tide.SCHEMES)
def test_high_and_low_waters_alternate_also_at_new_year(scheme: str) -> None:
    constants = {"M2": (0.3, 1.0), "K1": (0.4, 2.0), "O1": (0.5, 3.0), "L2": (0.1, 0.5)}
    start, end = utc("2000-06-01T00:00"), utc("2030-06-01T00:00")
    prepared = tide.harmonics(constants, 0.0, start, end, scheme)
    found = tide.turning_points(prepared, start, end)
    assert np.all(np.diff(found.time) > 0.0)
    assert np.all(found.high[1:] != found.high[:-1])
    assert np.all(found.level[found.high].mean() > found.level[~found.high].mean())


@pytest.mark.parametrize("constituent", ["M2", "S2", "K1"])
@pytest.mark.parametrize("offset", np.linspace(-1.0, 1.0, 9))
def test_a_step_of_the_corrections_feigns_no_tide(constituent: str, offset: float) -> None:
    """A high water placed at New Year itself, with the node's step through it, is one high water."""
    new_year = utc("2027-01-01T00:00")
    speed = tide_astronomy.constituent(constituent).speed
    argument = tide_astronomy.equilibrium_arguments([constituent], new_year)[0]
    constants = {constituent: (1.0, argument + speed * offset * HOUR)}
    start, end = new_year - 2.0 * DAY, new_year + 2.0 * DAY
    found = tide.turning_points(tide.harmonics(constants, 0.0, start, end), start, end)
    assert np.all(found.high[1:] != found.high[:-1])
    np.testing.assert_allclose(np.diff(found.time), np.pi / speed, atol=0.6 * HOUR)


def test_turning_points_are_where_the_rate_is_nought() -> None:
    start, end = utc("2026-03-01T00:00"), utc("2026-03-31T00:00")
    found = tide.turning_points(PREPARED["yearly"], start, end)
    np.testing.assert_allclose(tide.rate(PREPARED["yearly"], found.time), 0.0, atol=1e-10)
    assert len(found.time) == pytest.approx(30 * DAY / (12.4206 * HOUR / 2.0), abs=1.0)  # half the period of M2


def test_zone_phase_lag_becomes_greenwich_phase_lag() -> None:
    """Boston M2: local 324.2 in the zone 5 h west is 109.1. NOAA data, seen; sheet water.md 1.1."""
    speed = tide_astronomy.constituent("M2").speed
    found = tide.greenwich_phase_lag(324.2 * DEGREE, speed, 5.0 * HOUR) / DEGREE
    assert found == pytest.approx(109.1, abs=0.05)


def test_numbers_give_numbers_and_arrays_keep_their_shape() -> None:
    time = START + np.arange(6.0).reshape(2, 3)
    assert isinstance(tide.level(PREPARED["yearly"], START), float)
    assert tide.level(PREPARED["yearly"], time).shape == (2, 3)
    assert tide.rate(PREPARED["yearly"], time).shape == (2, 3)


def test_refusals() -> None:
    with pytest.raises(ValueError, match="needs at least one harmonic constituent"):
        tide.harmonics({}, 0.0, START, END)
    with pytest.raises(ValueError, match="amplitude or phase lag is missing or no number"):
        tide.harmonics({"M2": (float("nan"), 0.0)}, 0.0, START, END)
    with pytest.raises(ValueError, match="to an end before its start"):
        tide.harmonics(BOSTON, 0.0, END, START)
    with pytest.raises(ValueError, match="scheme 'monthly' is not known; known are yearly, daily"):
        tide.harmonics(BOSTON, 0.0, START, END, "monthly")
    for time in (START - 400.0 * DAY, END + 400.0 * DAY, float("nan")):
        with pytest.raises(ValueError, match="prepared from 2024-01-01 to 2029-01-01 only"):
            tide.level(PREPARED["yearly"], time)

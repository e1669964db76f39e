"""The sun against astral, another program from the same kind of algorithm, and against what must hold anywhere."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from astral import Observer
from astral.sun import dawn, dusk, elevation, sunrise, sunset
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import sun
from leadsman.units import DAY, DEGREE, HOUR, MINUTE

one_hundredth_of_a_degree = 0.01
moments = st.floats(datetime(2000, 1, 1, tzinfo=UTC).timestamp(), datetime(2060, 1, 1, tzinfo=UTC).timestamp())
longitudes = st.floats(-180.0, 180.0)


@given(time=moments, latitude=st.floats(-85.0, 85.0), longitude=longitudes)
def test_altitude_is_that_of_astral(time: float, latitude: float, longitude: float) -> None:
    place, moment = Observer(latitude, longitude, 0.0), datetime.fromtimestamp(time, UTC)
    found = sun.altitude(moment.timestamp(), latitude * DEGREE, longitude * DEGREE) / DEGREE
    assert found == pytest.approx(elevation(place, moment, with_refraction=False), abs=one_hundredth_of_a_degree)


@pytest.mark.parametrize("latitude", [-45.0, -31.5, 0.0, 20.0, 51.0])
@pytest.mark.parametrize("day", range(1, 366, 40))
def test_rise_set_and_twilight_are_those_of_astral(latitude: float, day: int) -> None:
    """Astral rounds once where we go on until the sun is there: up to 37 s between them at these latitudes."""
    place = Observer(latitude, -17.5, 0.0)
    noon = datetime(2031, 1, 1, 12, tzinfo=UTC) + timedelta(days=day - 1)
    twilight = {sun.CIVIL_TWILIGHT: 6.0, sun.NAUTICAL_TWILIGHT: 12.0}
    for height in (sun.RISE_AND_SET, sun.CIVIL_TWILIGHT, sun.NAUTICAL_TWILIGHT):
        if height == sun.RISE_AND_SET:
            expected = sunrise(place, noon.date()), sunset(place, noon.date())
        else:
            expected = dawn(place, noon.date(), twilight[height]), dusk(place, noon.date(), twilight[height])
        found = sun.crossings(noon.timestamp(), latitude * DEGREE, -17.5 * DEGREE, height)
        assert found == pytest.approx([moment.timestamp() for moment in expected], abs=40.0)


@given(time=moments, latitude=st.floats(-60.0, 60.0), longitude=longitudes)
def test_the_sun_is_there_when_it_is_said_to_cross(time: float, latitude: float, longitude: float) -> None:
    place = latitude * DEGREE, longitude * DEGREE
    rise, set_ = sun.crossings(time, *place)
    noon = sun.culmination(time, place[1])
    for moment in (rise, set_):
        assert sun.altitude(moment, *place) == pytest.approx(sun.RISE_AND_SET, abs=1e-3 * DEGREE)
    assert rise < noon < set_
    assert abs(noon - time) <= DAY / 2.0 + MINUTE
    assert sun.altitude(rise + 30.0, *place) > sun.altitude(rise - 30.0, *place)


def test_equinox_and_solstice() -> None:
    """March equinox 2026-03-20 14:46 UTC, June solstice 2026-06-21 08:24 UTC: almanac, from memory."""
    equinox = datetime(2026, 3, 20, 14, 46, tzinfo=UTC).timestamp()
    solstice = datetime(2026, 6, 21, 8, 24, tzinfo=UTC).timestamp()
    assert sun.declination_and_equation(equinox)[0] / DEGREE == pytest.approx(0.0, abs=one_hundredth_of_a_degree)
    assert sun.declination_and_equation(solstice)[0] / DEGREE == pytest.approx(23.44, abs=one_hundredth_of_a_degree)


def test_equation_of_time() -> None:
    """Mid-February the sun is 14.2 min behind the clock, early November 16.4 min before it: almanac, from memory."""
    late = sun.declination_and_equation(datetime(2026, 2, 11, 12, tzinfo=UTC).timestamp())[1]
    early = sun.declination_and_equation(datetime(2026, 11, 3, 12, tzinfo=UTC).timestamp())[1]
    assert late / MINUTE == pytest.approx(-14.2, abs=0.1)
    assert early / MINUTE == pytest.approx(16.4, abs=0.1)


def test_days_without_rise_have_no_answer() -> None:
    place = 75.0 * DEGREE, 20.0 * DEGREE
    midsummer, midwinter = (datetime(2031, month, 21, 12, tzinfo=UTC).timestamp() for month in (6, 12))
    assert np.all(np.isnan(sun.crossings(midsummer, *place)))
    assert np.all(np.isnan(sun.crossings(midwinter, *place)))
    assert sun.altitude(midsummer - 12.0 * HOUR, *place) > 0.0
    assert sun.altitude(midwinter, *place) < 0.0


def test_arrays_keep_their_shape() -> None:
    time = datetime(2031, 5, 4, tzinfo=UTC).timestamp() + DAY * np.arange(6.0).reshape(2, 3)
    rise, set_ = sun.crossings(time, -31.5 * DEGREE, -17.5 * DEGREE)
    assert rise.shape == set_.shape == (2, 3)
    assert isinstance(sun.crossings(time[0, 0], 0.5, 0.0)[0], float)

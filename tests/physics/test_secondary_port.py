"""Differences of a secondary port: a public worked exercise, and what must hold of any table."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import secondary_port
from leadsman.units import HOUR, MINUTE

# Time differences +35 min at 00 and 12, +23 min at 06 and 18; MHWS 4.2 m +1.1, MHWN 3.4 m +0.8.
# A public worked exercise, seen; sheet water.md 9 rows 16 and 17.
HIGH_WATER = secondary_port.Differences(
    clock=(0.0, 6.0 * HOUR), time=(35.0 * MINUTE, 23.0 * MINUTE), level=(4.2, 3.4), height=(1.1, 0.8)
)

TIME_DIFFERENCES = [  # clock hours, minutes, origin
    (3.0, 29.0, "sheet water.md 9 row 16, seen"),
    (6.0 + 38.0 / 60.0, 24.3, "sheet water.md 9 row 17, data seen, result derived"),
    (0.0, 35.0, "as printed"),
    (12.0, 35.0, "as printed"),
    (18.0, 23.0, "as printed"),
    (21.0, 29.0, "half-way between 18 and 24, derived"),
]


@pytest.mark.parametrize(("clock", "expected", "origin"), TIME_DIFFERENCES)
def test_time_difference(clock: float, expected: float, origin: str) -> None:
    found = secondary_port.time_difference(clock * HOUR, HIGH_WATER) / MINUTE
    assert found == pytest.approx(expected, abs=0.05), origin


def test_high_water_of_the_secondary_port() -> None:
    """HW 06:38 GMT 4.2 m becomes 07:02, 5.3 m: sheet water.md 9 row 17, data seen, result derived."""
    standard = datetime(2026, 3, 1, 6, 38, tzinfo=UTC)
    time, level = secondary_port.by_differences(standard.timestamp(), 4.2, HIGH_WATER)
    assert time == pytest.approx(datetime(2026, 3, 1, 7, 2, tzinfo=UTC).timestamp(), abs=0.5 * MINUTE)
    assert level == pytest.approx(5.3, abs=0.01)


def test_the_zone_of_the_tables_counts() -> None:
    """06:38 in a zone five hours west is 11:38 UTC: the same clock of the tables, the same difference."""
    time = datetime(2026, 3, 1, 11, 38, tzinfo=UTC).timestamp()
    later, _ = secondary_port.by_differences(time, 4.2, HIGH_WATER, zone=5.0 * HOUR)
    assert (later - time) / MINUTE == pytest.approx(24.27, abs=0.01)


def test_season_is_taken_off_and_put_on() -> None:
    """Without season 4.2 m at the standard port: 5.3 m; with the secondary's own 0.2 m on top: 5.5 m. By hand."""
    _, level = secondary_port.by_differences(0.0, 4.3, HIGH_WATER, standard_season=0.1, secondary_season=0.2)
    assert level == pytest.approx(5.5)


@given(height=st.floats(-1.0, 10.0))
def test_height_difference_is_a_straight_line(height: float) -> None:
    """0.3 m of difference for 0.8 m of height, also beyond springs and neaps. By hand."""
    found = secondary_port.height_difference(height, HIGH_WATER)
    assert found == pytest.approx(0.8 + 0.375 * (height - 3.4), abs=1e-9)


@given(clock=st.floats(0.0, 24.0 * HOUR))
def test_time_difference_stays_between_the_two_printed_and_repeats_after_half_a_day(clock: float) -> None:
    found = secondary_port.time_difference(clock, HIGH_WATER)
    assert 23.0 * MINUTE <= found <= 35.0 * MINUTE
    assert secondary_port.time_difference(clock + 12.0 * HOUR, HIGH_WATER) == pytest.approx(found, abs=1e-6)


def test_american_offsets() -> None:
    """A ratio of 0.85 and 12 minutes later; or 0.3 m added. By hand."""
    assert secondary_port.by_offsets(1000.0, 2.0, 12.0 * MINUTE, ratio=0.85) == pytest.approx((1720.0, 1.7))
    assert secondary_port.by_offsets(1000.0, 2.0, 0.0, added=0.3) == pytest.approx((1000.0, 2.3))


def test_refusals() -> None:
    with pytest.raises(ValueError, match="must not be the same half-day time"):
        secondary_port.time_difference(0.0, HIGH_WATER._replace(clock=(0.0, 12.0 * HOUR)))
    with pytest.raises(ValueError, match=r"spring and neap levels .* must not be the same"):
        secondary_port.height_difference(4.0, HIGH_WATER._replace(level=(4.0, 4.0)))

"""Numbers as people read them, and rounding that never flatters."""

from datetime import UTC, datetime, timedelta

import pytest

from leadsman import format as text
from leadsman.figure import Figure, Origin
from leadsman.units import KNOT


def test_clearances_round_down_and_requirements_up() -> None:
    assert text.clearance(0.649) == "0.64 m"
    assert text.clearance(-0.001) == "−0.01 m"
    assert text.clearance(0.65) == "0.65 m"
    assert text.requirement(0.641) == "0.65 m"
    assert text.requirement(0.64) == "0.64 m"


def test_what_is_far_off_is_told_without_decimals() -> None:
    assert text.measured(12_963.9, "m") == "12963 m", "visibility to spare, never more than there is"
    assert text.measured(925.4, "m", at_most=True) == "926 m"
    assert text.measured(99.999, "m") == "99.99 m"


def test_a_true_minus_and_no_negative_nought() -> None:
    assert text.number(-0.004, 2) == "0.00"
    assert text.number(-1.5, 1) == "−1.5"


def test_seafarers_units() -> None:
    assert text.knots(8.6 * KNOT) == "8.6 kn"
    assert text.miles(1852.0 * 1.61) == "1.61 nm"
    assert text.tonnes(72_875_000.0) == "72\u202f875 t"
    assert text.course(0.7853981) == "045"
    assert text.course(6.2825) == "000"
    assert text.rate_of_turn(-0.00611) == "21 °/min to port"
    assert text.alteration(0.733) == "42° to starboard"


def test_windows_are_told_from_the_inside() -> None:
    opens = datetime(2031, 5, 6, 13, 52, 18, tzinfo=UTC)
    assert text.window(opens, opens + timedelta(minutes=30)) == ("Tue 6 May 13:53", "Tue 6 May 14:22", "29 min")
    assert text.window(opens, opens + timedelta(seconds=45.9)) == ("Tue 6 May 13:52:18", "Tue 6 May 13:53:03", "45 s")


def test_times() -> None:
    moment = datetime(2031, 5, 6, 23, 59, 40, tzinfo=UTC)
    assert text.clock(moment) == "00:00"
    assert text.day_clock(moment) == "Wed 7 May 00:00"
    assert text.clock_seconds(moment) == "23:59:40"
    assert text.iso(moment) == "2031-05-06T23:59:40Z"
    assert text.duration(timedelta(hours=3, minutes=7)) == "3 h 07 min"
    assert text.duration(timedelta(minutes=9)) == "9 min"
    assert text.stopwatch(245.0) == "4 min 05 s"
    assert text.stopwatch(59.2) == "1 min 00 s"
    assert text.stopwatch(59.0) == "59 s"


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (6.35, "m", "6.35 m"), (4.42, "m/s", "8.6 kn"), (7e6, "kg", "7\u202f000 t"), (1025.0, "kg/m³", "1025 kg/m³"),
        (0.8398, "-", "0.840"), (2.0e6, "W", "2000 kW"), (0.6109, "rad", "35.0°"), (12.0, "furlong", "12.00 furlong"),
    ],
)  # fmt: skip
def test_figures(value: float, unit: str, words: str) -> None:
    assert text.figure(Figure(name="x", value=value, unit=unit, origin=Origin.GIVEN)) == words

"""The same figures in another manner: converted by definition, rounded to the same side, and every answer all in one."""

import json
import re
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from leadsman import format as text
from leadsman.errors import Impossible
from leadsman.manner import Manner, clock, in_force, written_in, zone_of
from leadsman.units import FOOT, TONNE_FORCE

FEET = Manner(lengths="feet")
KILONEWTONS = Manner(forces="kilonewtons")

LENGTHS = [  # m, decimals, feet, origin
    (0.3048, 1, "1.0 ft", "[NISTSP811] appendix B.8: foot 3.048 E-01 m, exact [memory]"),
    (30.48, 0, "100 ft", "ten times ten feet, by the same row"),
    (1.8288, 2, "6.0 ft", "a fathom is six feet: standards.md 4.5"),
    (1852.0, 0, "6076 ft", "[NISTSP811] appendix B.8: nautical mile 1.852 E+03 m, exact; 6076.115 ft [memory]"),
]


@pytest.mark.parametrize(("value", "decimals", "words", "origin"), LENGTHS)
def test_lengths(value: float, decimals: int, words: str, origin: str) -> None:
    with written_in(FEET):
        assert text.metres(value, decimals) == words, origin


FORCES = [  # N, text, origin
    (9806.65, "10 kN", "[NISTSP811] appendix B.8: kilogram-force 9.806 65 E+00 N, exact; a tonne-force 9.80665 kN [memory]"),
    (65.0 * 9806.65, "637 kN", "65 times that: 637.43 kN"),
]


@pytest.mark.parametrize(("value", "words", "origin"), FORCES)
def test_forces(value: float, words: str, origin: str) -> None:
    with written_in(KILONEWTONS):
        assert text.pull(value) == words, origin
    assert text.pull(65.0 * TONNE_FORCE) == "65 t"


@pytest.mark.parametrize("value", [0.0, 0.004, 0.299, 0.3, 0.3048, 1.357, 10.333, 99.99, -0.001, -0.299, -1.5])
@pytest.mark.parametrize("decimals", [0, 1, 2])
def test_rounding_never_flatters(value: float, decimals: int) -> None:
    with written_in(FEET):
        there, asked = (
            float(words.split(" ")[0].replace(text.MINUS, "-"))
            for words in (text.clearance(value, decimals), text.requirement(value, decimals))
        )
    slack = 1e-6  # of the last decimal: what binary numbers miss by
    assert there * FOOT <= value + slack
    assert asked * FOOT >= value - slack


def test_a_pull_that_must_be_ordered_is_rounded_up() -> None:
    with written_in(KILONEWTONS):
        assert text.pull_needed(100_001.0) == "101 kN"
        assert text.pull_needed(100_000.0) == "100 kN"
        assert text.pull_needed(12_340.0, 1) == "12.4 kN"


def test_times_by_another_clock() -> None:
    moment = datetime(2031, 5, 6, 22, 45, 10, tzinfo=UTC)
    with written_in(Manner(zone=timedelta(hours=5, minutes=30))):
        assert clock() == "UTC+05:30"
        assert (text.clock(moment), text.clock_seconds(moment)) == ("04:15", "04:15:10")
        assert text.day_clock(moment) == "Wed 7 May 04:15"
        assert text.date(moment) == "Wed 7 May 2031"
        assert text.iso(moment) == "2031-05-06T22:45:10Z", "what machines read stays UTC"
        opens, closes, _ = text.window(moment, moment + timedelta(seconds=40))
        assert (opens, closes) == ("Wed 7 May 04:15:10", "Wed 7 May 04:15:50")
    assert clock() == "UTC"


def test_a_manner_is_in_force_only_while_it_is() -> None:
    with written_in(FEET):
        assert text.metres(1.0) == "3.3 ft"
        with written_in(None):
            assert in_force() is None
        assert in_force() == FEET
    assert text.metres(1.0) == "1.00 m"


def test_what_was_written_in_no_manner_is_settled_in_any() -> None:
    moment = datetime(2031, 5, 6, 13, 52, tzinfo=UTC)
    with written_in(None):
        said = (
            f"{text.clearance(1.357)} there, {text.requirement(1.041)} asked at {text.day_clock(moment)}; "
            f"{text.pull(9806.65 * 65)}, {text.metres_between(120.0, 140.0, 0)}, {text.landing_speed(0.128)}"
        )
        kept = json.dumps({"why": said}, ensure_ascii=False)
    assert json.loads(text.settled(kept))["why"] == (
        "1.35 m there, 1.05 m asked at Tue 6 May 13:52; 65 t, 120 to 140 m, 0.12 m/s"
    )
    with written_in(Manner(lengths="feet", forces="kilonewtons", zone=timedelta(hours=-3))):
        assert json.loads(text.settled(kept))["why"] == (
            "4.4 ft there, 3.5 ft asked at Tue 6 May 10:52; 637 kN, 394 to 459 ft, 0.41 ft/s"
        )
    assert text.settled("a name of a ship |1.0") == "a name of a ship |1.0"


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"lengths": "yards"}, "lengths: 'yards' is not known; expected one of metres, feet"),
        ({"forces": "pounds"}, "forces: 'pounds' is not known; expected one of tonnes, kilonewtons"),
        ({"zone": timedelta(hours=15)}, "zone: +15:00 is no zone; expected UTC, or a difference"),
        ({"zone": timedelta(minutes=7)}, "zone: +00:07 is no zone"),
    ],
)
def test_what_is_no_manner_is_told(given: dict[str, Any], said: str) -> None:
    with pytest.raises(Impossible, match=re.escape(said)):
        Manner(**given)


def test_zones_as_people_write_them() -> None:
    assert zone_of("UTC") == zone_of("Z") == zone_of("+00:00") == timedelta(0)
    assert zone_of("-03:30") == -timedelta(hours=3, minutes=30)
    with pytest.raises(Impossible, match="'Paris time' is no zone; expected UTC, or a difference"):
        zone_of("Paris time")

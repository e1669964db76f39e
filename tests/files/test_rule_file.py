"""Rules as a mariner writes them: every kind is read, every fault is a sentence at its line."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from leadsman.errors import Impossible, InputErrors
from leadsman.files.call_files import read_call
from leadsman.rule import (
    Closed,
    Daylight,
    GreatestSpeed,
    GreatestStream,
    GreatestWaves,
    GreatestWind,
    LeastVisibility,
    Light,
    Movement,
    Opening,
    Rule,
    Ships,
    TimeBetweenShips,
    TugsFast,
)
from leadsman.units import HOUR, KNOT, MINUTE, TONNE_FORCE

HEAD = '\n[[rule]]\nname = "A rule"\nsource = "harbour office"\n'

READ = [
    ('daylight = { light = "civil_twilight", before_light_ends_min = 30 }',
     Daylight(light=Light.CIVIL_TWILIGHT, before_light_ends=1800.0)),
    ("speed = { greatest_over_ground_kn = 8 }", GreatestSpeed(speed=8.0 * KNOT)),
    ("stream = { greatest_kn = 1.5 }", GreatestStream(rate=1.5 * KNOT)),
    ("visibility = { least_nm = 0.5 }", LeastVisibility(visibility=926.0)),
    ("wind = { greatest_mean_kn = 25, greatest_gust_kn = 35 }", GreatestWind(mean=25.0 * KNOT, gust=35.0 * KNOT)),
    ("waves = { greatest_height_m = 2.5 }", GreatestWaves(height=2.5)),
    ("at = \"Lych Bridge\"\ntime_between_ships = { least_min = 30 }", TimeBetweenShips(least=1800.0)),
    ("closed = { begin = 2031-05-06T10:00:00Z, end = 2031-05-06T13:00:00+02:00 }",
     Closed(begin=datetime(2031, 5, 6, 10, tzinfo=UTC), end=datetime(2031, 5, 6, 11, tzinfo=UTC))),
    ('opening = { daily_utc = ["06:00-08:30"], reference = "Ambry Bar", before_high_water_min = 90 }',
     Opening(daily=((6.0 * HOUR, 8.5 * HOUR),), reference="Ambry Bar", before_high_water=90.0 * MINUTE)),
    ("tugs = { number = 2, pull_t = 90 }", TugsFast(number=2, pull=90.0 * TONNE_FORCE)),
]  # fmt: skip


def added(folder: Path, file: str, text: str) -> None:
    with (folder / file).open("a") as written:
        written.write(text)


@pytest.mark.parametrize("file", ["call.toml", "waterway/waterway.toml"])
@pytest.mark.parametrize(("text", "expected"), READ, ids=[type(row[1]).__name__ for row in READ])
def test_every_kind_is_read_from_both_files(folder: Path, file: str, text: str, expected: object) -> None:
    added(folder, file, HEAD + text + "\n")
    call = read_call(folder)
    (rule,) = call.rules if file == "call.toml" else call.waterway.rules
    assert rule.asks == expected
    assert rule.source == "harbour office"


def test_where_and_for_whom(folder: Path) -> None:
    added(
        folder,
        "call.toml",
        HEAD + 'at = "Tannery Quay"\nlasting_min = 20\ndirection = "inward"\nships = { length_over_m = 90 }\n'
        "stream = { greatest_kn = 1 }\n\n"
        '[[movement]]\nname = "Teal Drift"\nat = "Lych Bridge"\ntime = 2031-05-06T17:30:00+02:00\n',
    )
    call = read_call(folder)
    (rule,) = call.rules
    assert (rule.at, rule.lasting, rule.direction, rule.ships) == (
        "Tannery Quay",
        1200.0,
        "inward",
        Ships(length_over=90.0),
    )
    assert call.movements == (Movement(name="Teal Drift", at="Lych Bridge", time=datetime(2031, 5, 6, 15, 30, tzinfo=UTC)),)


SPOILT = [
    (HEAD, "name: 'A rule' asks none; expected exactly one of daylight, speed, stream, visibility, wind, waves, "
     "time_between_ships, closed, opening, tugs"),
    (HEAD + "waves = { greatest_height_m = 2 }\ntugs = { number = 1 }\n", "name: 'A rule' asks waves and tugs; expected exactly one"),
    (HEAD + "tugs = { }\n", "tugs: asks for neither a number nor a pull; expected at least one"),
    (HEAD + "wind = { }\n", "wind: gives neither a mean nor a gust; expected at least one"),
    (HEAD + "speed = { greatest_over_ground_kn = 80 }\n", "80 is outside what is possible; expected knots over the ground, 0.5 to 40"),
    (HEAD + 'opening = { daily_utc = ["6-8"] }\n', "opening: '6-8' is no time of the day; expected such as 06:00-08:30, UTC"),
    (HEAD + 'opening = { daily_utc = ["25:00-26:00"] }\n', "opening: has a daily time that is none; expected two different times"),
    (HEAD + "opening = { }\n", "opening: has neither daily times nor a reference for high water"),
    (HEAD + 'opening = { reference = "Ambry Bar" }\n', "opening: has no time before or after high water"),
    (HEAD + 'opening = { reference = "Boston", after_high_water_min = 60 }\n',
     "rule 'A rule': 'Boston' is no tide station here; expected one of Ambry Bar, Lych Bridge, Tannery Quay"),
    (HEAD + 'at = "Lych Brigde"\nstream = { greatest_kn = 1 }\n', "rule 'A rule': 'Lych Brigde' is no waypoint, gate, basin or berth here"),
    (HEAD + 'reaches = ["Nowhere"]\nstream = { greatest_kn = 1 }\n', "rule 'A rule': 'Nowhere' is no reach here; expected one of Roads"),
    (HEAD + 'at = "Lych Bridge"\nreaches = ["Bar"]\nstream = { greatest_kn = 1 }\n', "at: stands beside reaches; expected a place or reaches"),
    (HEAD + "lasting_min = 5\nstream = { greatest_kn = 1 }\n", "lasting_min: needs a place: `at` says where she stays"),
    (HEAD + "time_between_ships = { least_min = 30 }\n", "at: is missing; time between ships is counted at a place"),
    (HEAD + "closed = { begin = 2031-05-06T10:00:00Z, end = 2031-05-06T09:00:00Z }\n", "closed: ends before it begins"),
    ('\n[[rule]]\nname = " "\nsource = "x"\ntugs = { number = 1 }\n', "name: is empty; expected what people call the rule"),
    ('\n[[rule]]\nname = "x"\nsource = ""\ntugs = { number = 1 }\n', "source: is empty; a rule says whose it is"),
    ('\n[[movement]]\nname = "Teal Drift"\nat = "Nowhere"\ntime = 2031-05-06T15:30:00Z\n',
     "movement 'Teal Drift': 'Nowhere' is no waypoint, gate, basin or berth here"),
    ('\n[[tug]]\nname = "T"\nbollard_pull_t = 30\navailable_from = 2031-05-06T10:00:00Z\navailable_until = 2031-05-06T09:00:00Z\n',
     "available_until: expected a time after available_from"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sentence"), SPOILT, ids=[row[1][:40] for row in SPOILT])
def test_a_fault_is_a_sentence_at_its_line(folder: Path, text: str, sentence: str) -> None:
    before = len((folder / "call.toml").read_text().splitlines())
    added(folder, "call.toml", text)
    with pytest.raises(InputErrors) as caught:
        read_call(folder)
    told = [error for error in caught.value.errors if sentence in str(error)]
    assert told, [str(error) for error in caught.value.errors]
    assert all(error.line is not None and error.line > before for error in told)


def test_two_rules_of_one_name_are_refused(folder: Path) -> None:
    added(folder, "call.toml", HEAD + "tugs = { number = 1 }\n")
    added(folder, "waterway/waterway.toml", HEAD + "tugs = { number = 1 }\n")
    with pytest.raises(InputErrors, match="the name stands twice; expected names that tell one rule from another"):
        read_call(folder)


def test_things_refuse_what_a_file_cannot_say() -> None:
    naive = datetime(2031, 5, 6, 10)  # that it has no zone is the point
    with pytest.raises(Impossible, match="has no zone"):
        Movement(name="x", at="y", time=naive)
    with pytest.raises(Impossible, match="time without zone"):
        Closed(begin=naive, end=naive)
    with pytest.raises(Impossible, match="'up' is no direction"):
        Rule(name="x", source="y", asks=TugsFast(number=1), direction="up")
    with pytest.raises(Impossible, match="is no stay"):
        Rule(name="x", source="y", asks=TugsFast(number=1), at="z", lasting=1e9)

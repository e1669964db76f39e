"""`[own_figures]`: every estimate has its key in seafarers' units, and every fault its sentence."""

import tomllib
from pathlib import Path

import pytest

from leadsman.assessment.estimates import ESTIMATES, FROM_MARKS
from leadsman.errors import InputErrors
from leadsman.files.call_files import read_ship
from leadsman.files.own_figures_file import keep_own_figures, keys, loading_by_words, own_figures_of_words
from leadsman.ship import OwnFigure

CARD = (Path(__file__).parents[2] / "examples/2-bar-bulk-carrier/ship.toml").read_text()
SI = {  # of the file's unit, by hand: what one of it is in SI, and the SI unit the estimate has
    "": (1.0, "-"),
    "m": (1.0, "m"),
    "m²": (1.0, "m²"),
    "s": (1.0, "s"),
    "t": (1000.0, "kg"),
    "t m²": (1000.0, "kg m²"),
    "t/cm": (100_000.0, "kg/m"),
    "t m/cm": (100_000.0, "kg m/m"),
    "kN": (1000.0, "N"),
}


def card(folder: Path, more: str) -> Path:
    file = folder / "ship.toml"
    file.write_text(f"{CARD}\n{more}")
    return file


def test_every_estimate_has_a_key_and_what_is_read_off_the_marks_has_none() -> None:
    assert {name for name, _, _ in keys().values()} == set(ESTIMATES) - FROM_MARKS


@pytest.mark.parametrize("key", sorted(keys()))
def test_each_key_has_the_unit_of_its_estimate(key: str) -> None:
    name, size, unit = keys()[key]
    assert (size, ESTIMATES[name].unit) == SI[unit]


def test_figures_and_sources_are_read(tmp_path: Path) -> None:
    more = '[own_figures]\ndisplacement_t = 44200\nbow_thrust_kN = 90\nsources.displacement_t = "draught survey"\n'
    _, loading = read_ship(card(tmp_path, more))
    assert loading.own_figures == {
        "displacement": OwnFigure(value=44.2e6, source="draught survey"),
        "bow_thrust": OwnFigure(value=90.0e3),
    }


FAULTS = [
    ("displacement_t = 44_200_000", "displacement_t: 44200000 is outside what is possible; expected tonnes"),
    ("displacement = 44200", "displacement: is not known here; did you mean 'displacement_t'?"),
    ("draught_aft_m = 9.9", "draught_aft_m: is not known here"),
    ('wake_fraction = "0.3"', "wake_fraction: got '0.3'; expected straight ahead"),
    ('sources.cable_m = "chief mate"', "cable_m: names a figure that does not stand under [own_figures]"),
    ("length_between_perpendiculars_m = 200.0", "the own figure, 200 m, is longer than length overall"),
]


@pytest.mark.parametrize(("line", "words"), FAULTS)
def test_faults_are_told_with_their_line(tmp_path: Path, line: str, words: str) -> None:
    with pytest.raises(InputErrors) as told:
        read_ship(card(tmp_path, f"[own_figures]\n{line}\n"))
    assert words in str(told.value)
    assert "ship.toml:" in str(told.value)


def test_words_of_the_command_line() -> None:
    found = own_figures_of_words(["displacement_t=44200 draught survey", "wake_fraction = 0.31"])
    assert found == {
        "displacement": OwnFigure(value=44.2e6, source="draught survey"),
        "wake_fraction": OwnFigure(value=0.31),
    }


WORDS = [
    (["displacement_t"], "--own: displacement_t: 'displacement_t' has no value; expected such as"),
    (["displacement_t=much"], "--own: displacement_t: 'much' is no number"),
    (["displacement_t=nan"], "displacement_t: nan is not a number"),
    (["=3"], "is not known here"),
    (["wake_fraction=9"], "--own: wake_fraction: 9.0 is outside what is possible"),
    (["sources=3"], "--own: sources: got 3.0; expected key = text"),
    (["metacentre_m=3 guess"], "is not known here"),
]


@pytest.mark.parametrize(("words", "sentence"), WORDS)
def test_words_that_are_no_figures_are_told(words: list[str], sentence: str) -> None:
    with pytest.raises(InputErrors) as told:
        own_figures_of_words(words)
    assert sentence in str(told.value)


def test_the_card_of_the_tests_has_none() -> None:
    assert "own_figures" not in tomllib.loads(CARD)


def test_what_no_ship_can_be_is_refused_on_the_command_line_too(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="the own figure, 200 m, is longer than length overall"):
        loading_by_words(*read_ship(card(tmp_path, "")), ["length_between_perpendiculars_m=200"])


def test_own_figures_are_kept_and_the_rest_of_the_file_stays(tmp_path: Path) -> None:
    file = card(tmp_path, "")
    before = file.read_text()
    keep_own_figures(file, ["displacement_t=44200 draught survey", "rudder_slope=2.4"])
    assert file.read_text().startswith(before.rstrip())
    assert read_ship(file)[1].own_figures == {
        "displacement": OwnFigure(value=44.2e6, source="draught survey"),
        "rudder_slope": OwnFigure(value=2.4),
    }
    keep_own_figures(file, ["displacement_t=44300"])
    assert read_ship(file)[1].own_figures == {
        "displacement": OwnFigure(value=44.3e6),
        "rudder_slope": OwnFigure(value=2.4),
    }
    assert [path.name for path in tmp_path.iterdir()] == ["ship.toml"]


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="cannot be written"):
        keep_own_figures(tmp_path / "none" / "ship.toml", ["rudder_slope=2.4"])

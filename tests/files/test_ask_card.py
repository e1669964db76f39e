"""Asking a card on the terminal: what is typed becomes a ship.toml that reads back; slips are told and asked again."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from leadsman.equipment import State
from leadsman.errors import InputErrors
from leadsman.files.ask_card import Answers, ask_card, card_toml, label_of, write_card_file
from leadsman.files.call_files import read_ship
from leadsman.units import FOOT, INCH, KNOT, RPM

TYPED = {  # the question's words up to its colon, and what is answered; the rest is left empty
    "Name (needed)": ["Petrel Sound"],
    "Kind (needed)": ["coastr", "?", "coaster", "geared_diesel"],  # of the ship, then of the engine
    "Length overall, m (needed)": ["88,0"],
    "Length between perpendiculars, m": ["82.5"],
    "Beam, m (needed)": ["wide", "12.6"],
    "Condition (needed)": ["", "loaded"],
    "Draught forward, m (needed)": ["17 ft 5 in"],
    "Draught aft, m (needed)": ["5.40"],
    "Displacement, t": ["4700"],
    "Bulbous bow": ["y"],
    "Kind": ["fishtail"],
    "Hand": ["left"],
    "Maximum angle, °": ["0.6", "65"],
    "Critical revolutions, rpm": ["80 to 92"],
    "Power, kW": ["1500"],
    "Revolutions, rpm": ["190", "150", "", "120", "90"],
    "Speed loaded, kn": ["11.5", "9.2", "7.4", "5.6"],
    "Position (needed)": ["bow"],
    "Power, kW (needed)": ["250"],
    "How many propellers?": ["one", "1"],
    "How many rudders?": ["1"],
    "How many thrusters?": ["1"],
    "whistle": ["?", "y"],
    "speed log": ["d"],
    "": ["Port pump slow", ""],
    "Remarks": ["Answers best below 6 kn."],
}


class Person:
    """Answers by the words of the question, in turn; keeps what was said to her."""

    def __init__(self, answers: Mapping[str, list[str]]) -> None:
        self.answers = {words: list(typed) for words, typed in answers.items()}
        self.told: list[str] = []

    def ask(self, question: str) -> str:
        waiting = self.answers.get(question.strip().removesuffix(":"), [])
        return waiting.pop(0) if waiting else ""

    def tell(self, words: str) -> None:
        self.told.append(words)


def typed(changes: Mapping[str, list[str]] | None = None) -> tuple[Answers, Person]:
    person = Person(TYPED | dict(changes or {}))
    return ask_card(person.ask, person.tell), person


def test_what_was_typed_reads_back_as_a_ship(tmp_path: Path) -> None:
    answers, _ = typed()
    file = tmp_path / "ship.toml"
    write_card_file(file, answers)
    ship, loading = read_ship(file)
    assert (ship.name, ship.length_overall, ship.beam) == ("Petrel Sound", 88.0, 12.6)
    assert loading.draught_forward == pytest.approx(17.0 * FOOT + 5.0 * INCH, abs=0.001)
    assert loading.draught_forward_imperial == pytest.approx(17.0 * FOOT + 5.0 * INCH)
    assert loading.draught_aft == 5.40
    assert loading.draught_aft_imperial is None
    assert ship.bulbous_bow is True
    assert ship.propellers[0].right_handed is False
    assert ship.rudders[0].kind == "fishtail"
    assert ship.engine.critical_revolutions == (pytest.approx(80.0 * RPM), pytest.approx(92.0 * RPM))
    full = ship.engine.order("full_ahead")
    assert full is not None
    assert (full.revolutions, full.speed_loaded) == (pytest.approx(150.0 * RPM), pytest.approx(9.2 * KNOT))
    assert ship.engine.order("half_ahead") is None, "left out"
    assert ship.thrusters[0].power == 250.0e3
    assert ship.equipment == {"whistle": State.READY, "speed_log": State.DEFECTIVE}
    assert ship.defects == ("Port pump slow",)
    assert ship.remarks == "Answers best below 6 kn."


SAID = [
    "  'coastr' does not fit; expected coaster, general_cargo, bulk_carrier",
    "  the kind of ship",
    "  'wide' does not fit; expected metres, 1.5 to 90",
    "  Condition is needed; expected loaded or ballast",
    "  '0.6' does not fit; expected degrees, 10 to 110",
    "'one' is no count; expected 0 to 12",
    "  expected y, r, d or enter",
]


@pytest.mark.parametrize("sentence", SAID)
def test_each_slip_is_told_and_asked_again(sentence: str) -> None:
    _, person = typed()
    assert any(words.startswith(sentence) for words in person.told), person.told


def test_a_card_without_orders_is_asked_again() -> None:
    empty = [""] * 9
    _, person = typed({"Revolutions, rpm": [*empty, "190"], "Speed loaded, kn": ["11"]})
    assert any("one order at least is needed" in words for words in person.told)


def test_leaving_writes_nothing(tmp_path: Path) -> None:
    def leave(question: str) -> str:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        ask_card(leave, lambda words: None)
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_never_overwritten(tmp_path: Path) -> None:
    file = tmp_path / "ship.toml"
    file.write_text("kept")
    with pytest.raises(InputErrors, match="exists already; expected a file that does not"):
        write_card_file(file, {"name": "x"})
    assert file.read_text() == "kept"
    with pytest.raises(InputErrors, match="lies in a folder that does not exist"):
        write_card_file(tmp_path / "none" / "ship.toml", {"name": "x"})


def test_plain_keys_stand_before_tables() -> None:
    written = card_toml({"loading": {"condition": "loaded"}, "name": "A", "engine": {"order": [{"order": "stop"}]}})
    assert written.index('name = "A"') < written.index("[loading]") < written.index("[[engine.order]]")


def test_labels_carry_the_unit() -> None:
    assert label_of("length_overall_m") == "Length overall, m"
    assert label_of("water_density_kg_m3") == "Water density, kg/m³"
    assert label_of("combination_ladder") == "Combination ladder"
    assert label_of("turning_rate_deg_min") == "Turning rate, °/min"

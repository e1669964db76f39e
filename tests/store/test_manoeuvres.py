"""Manoeuvres kept on disk: sailed once for a card, given back to the digit, and never for another card."""

from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.posted_result import Posted, PostedSquat
from leadsman.files.call_files import read_ship
from leadsman.ship import Loading, Ship
from leadsman.store import manoeuvres

EXAMPLES = Path(__file__).parents[2] / "examples"
SAILED = Posted(
    length=90.0,
    waters=(),
    recovery=None,
    clearances=(0.1, 0.2),
    squats=(PostedSquat(order="half_ahead", speed=4.4, squats=(float("inf"), 0.1 + 0.2), outside=(True, False)),),
    heels=((0.1, 0.7),),
    assumed=("invented",),
    draws=40,
)


@pytest.fixture
def card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Ship, Loading]:
    monkeypatch.setenv("LEADSMAN_CACHE", str(tmp_path))
    return read_ship(EXAMPLES / "1-river-coaster")


def never(ship: Ship, loading: Loading) -> Posted:
    raise AssertionError("sailed again")


def test_what_was_sailed_is_given_back_to_the_digit(card: tuple[Ship, Loading]) -> None:
    assert manoeuvres.kept(*card, lambda ship, loading: SAILED) == SAILED
    assert manoeuvres.kept(*card, never) == SAILED


def test_another_loading_is_sailed_anew(card: tuple[Ship, Loading]) -> None:
    manoeuvres.kept(*card, lambda ship, loading: SAILED)
    deeper = replace(card[1], draught_aft=card[1].draught_aft + 0.01)
    other = replace(SAILED, draws=1)
    assert manoeuvres.kept(card[0], deeper, lambda ship, loading: other) == other


def test_a_damaged_file_is_sailed_anew(card: tuple[Ship, Loading], tmp_path: Path) -> None:
    manoeuvres.kept(*card, lambda ship, loading: SAILED)
    (file,) = (tmp_path / "manoeuvres").glob("*.json")
    file.write_text('{"length": "many"')
    assert manoeuvres.kept(*card, lambda ship, loading: SAILED) == SAILED


def test_a_disk_that_cannot_be_written_keeps_nothing(
    card: tuple[Ship, Loading], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "manoeuvres").write_text("a file where the folder should be")
    assert manoeuvres.kept(*card, lambda ship, loading: SAILED) == SAILED

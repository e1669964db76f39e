"""The error-injection benchmark of the card: its goals are held, and its cards and slips are as many as promised."""

import sys
from pathlib import Path
from types import ModuleType

import pytest

from leadsman.figure import Grade

STUDIES = Path(__file__).parents[2] / "studies"


@pytest.fixture(scope="module")
def study() -> ModuleType:
    sys.path.insert(0, str(STUDIES))
    try:
        import card_slips
    finally:
        sys.path.remove(str(STUDIES))
    module: ModuleType = card_slips
    return module


def test_slips_are_caught_and_clean_cards_left_alone(study: ModuleType) -> None:
    clean, outcomes = study.run(7)  # a seed the note does not use
    assert len({card.design for card in clean}) >= 30
    assert len({outcome.slip for outcome in outcomes}) >= 20
    caught, tried = study.caught(outcomes)
    assert caught / tried >= 0.95, "goal of the project"
    false = sum(card.count(Grade.STOP) > 0 for card in clean)
    assert false / len(clean) < 0.03, "goal of the project"


def test_every_slip_applies_somewhere_and_every_type_is_there(study: ModuleType) -> None:
    _, outcomes = study.run(7)
    assert {outcome.slip for outcome in outcomes} == {slip.name for slip in study.SLIPS}
    assert len({outcome.kind for outcome in outcomes}) == 11


def test_the_note_tells_every_slip(study: ModuleType) -> None:
    clean, outcomes = study.run(7)
    page = study.page(clean, outcomes, [])
    for slip in study.SLIPS:
        assert f"| {slip.about} |" in page

"""Where she lies along a quay: plain geometry, worked out by hand beside each case."""

from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.berthed import Lies, lies, lying_findings, words
from leadsman.conning.plan import alongside, quay
from leadsman.figure import Grade
from leadsman.files.call_files import read_ship
from leadsman.ship import Loading, Ship

SHIP = Path(__file__).parents[2] / "examples/1-river-coaster/ship.toml"


@pytest.fixture(scope="module")
def aboard() -> tuple[Ship, Loading]:
    ship, loading = read_ship(SHIP)
    return replace(ship, length_overall=100.0, parallel_body_loaded=60.0), replace(loading, condition="loaded")


# A quay of 140 m that runs north; the water to the east or the west of it. Starboard side to with the water west she
# heads north; port side to with it west, south: her own side, looked at from the quay.
@pytest.mark.parametrize(
    ("water_east", "side_to", "ahead"),
    [(-100.0, "starboard", 25.0), (-100.0, "port", -25.0), (100.0, "port", 25.0), (100.0, "starboard", -25.0)],
)
def test_ahead_is_the_way_she_heads(
    aboard: tuple[Ship, Loading], water_east: float, side_to: str, ahead: float
) -> None:
    face = quay((0.0, 140.0), (0.0, 0.0), (70.0, water_east))
    found = lies(face, side_to, *aboard, 95.0)  # 25 m north of the middle
    assert found.ahead == pytest.approx(ahead)
    heading = alongside(face, side_to, 10.0).heading
    assert (abs(heading) < 1e-9 or abs(heading - 6.283185307) < 1e-6) == (ahead > 0.0)
    assert found.bow_beyond == pytest.approx(ahead + 50.0 - 70.0)
    assert found.stern_beyond == pytest.approx(-ahead + 50.0 - 70.0)
    assert found.body_beyond == pytest.approx(25.0 + 30.0 - 70.0)
    assert found.body_known


def lying(ahead: float, body: float = 60.0, known: bool = True) -> Lies:
    """A ship of 100 m at a quay of 140 m."""
    return Lies(
        ahead=ahead,
        bow_beyond=ahead - 20.0,
        stern_beyond=-ahead - 20.0,
        body_beyond=abs(ahead) + 0.5 * body - 70.0,
        body_known=known,
    )


@pytest.mark.parametrize(
    ("found", "grade", "sentence"),
    [
        (lying(9.0), None, ""),
        (lying(-11.0), Grade.NOTE, "11 m astern of the middle of the quay: to be shifted"),
        (lying(30.0), Grade.NOTE, "30 m ahead of the middle of the quay, her bow 10 m past its end"),
        (lying(-45.0), Grade.CAUTION, "her parallel body lies 5 m past the quay's end"),
        (lying(45.0, known=False), Grade.CAUTION, "taken as six tenths of her length"),
    ],
)
def test_what_is_told_of_it(found: Lies, grade: Grade | None, sentence: str) -> None:
    told = list(lying_findings(found, "The Quay", 100.0))
    assert [one.grade for one in told] == ([] if grade is None else [grade])
    assert all(sentence in one.sentence for one in told)


def test_words() -> None:
    assert words(lying(0.2)) == "at the middle of the quay"
    assert words(lying(-12.4)) == "12 m astern of the middle of the quay"


def test_without_a_parallel_body_on_the_card_six_tenths_of_her_length_is_taken(aboard: tuple[Ship, Loading]) -> None:
    ship, loading = aboard
    face = quay((0.0, 140.0), (0.0, 0.0), (70.0, -100.0))
    found = lies(face, "starboard", replace(ship, parallel_body_loaded=None), loading, 70.0)
    assert not found.body_known
    assert found.body_beyond == pytest.approx(30.0 - 70.0)

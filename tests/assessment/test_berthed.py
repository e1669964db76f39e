"""Where she lies along a quay: plain geometry, worked out by hand beside each case."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from tests.builders.open_water import made

from leadsman.assessment.berthed import Lies, lies, lying_findings, words
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.rehearse_slow import face_of
from leadsman.conning.plan import alongside, quay
from leadsman.errors import Impossible
from leadsman.figure import Grade
from leadsman.files.call_files import read_call, read_ship
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


# By hand: bridge 80 m abaft the bow of a ship of 100 m is 30 m abaft midships; heading north its mark at 40 m puts
# midships at 70 m, heading south at 10 m.
@pytest.mark.parametrize(("side_to", "place"), [("starboard", 70.0), ("port", 10.0)])
def test_her_bridge_comes_to_the_mark(aboard: tuple[Ship, Loading], side_to: str, place: float) -> None:
    call = read_call(SHIP.parent)
    berth = next(one for one in call.waterway.berths if one.name == call.berth)
    marked = replace(berth, bridge_mark=40.0, side_to=side_to)
    ship = replace(aboard[0], bridge_to_bow=80.0, bridge_to_stern=20.0)
    prepared = prepare(replace(call, waterway=replace(call.waterway, berths=(marked,))))
    prepared = replace(prepared, call=replace(prepared.call, ship=ship))
    face = face_of(prepared, made("1-river-coaster").case.waters)
    assert face.along_north > 0.9
    assert face.place == pytest.approx(place)
    pose = alongside(face, side_to, 10.0)
    along = (pose.north - face.north) * face.along_north + (pose.east - face.east) * face.along_east
    assert along == pytest.approx(place)
    found = lies(face, side_to, ship, aboard[1], place + 5.0, 40.0)
    assert words(found) == f"5 m {'ahead' if side_to == 'starboard' else 'astern'} of the mark for her bridge"
    without = lies(face, side_to, replace(ship, bridge_to_bow=None), aboard[1], place, 40.0)
    assert any("does not tell where her bridge is" in one.sentence for one in lying_findings(without, "Quay", 100.0))


def test_a_mark_is_read_and_she_is_rehearsed_to_it(tmp_path: Path) -> None:
    there = tmp_path / "call"
    shutil.copytree(SHIP.parent, there, ignore=shutil.ignore_patterns(".*"))
    water = there / "waterway" / "waterway.toml"
    water.write_text(water.read_text("utf-8").replace("depth_m = 1.6", "depth_m = 1.6\nbridge_mark_m = 100.0"), "utf-8")
    call = read_call(there)
    (berth,) = (one for one in call.waterway.berths if one.name == call.berth)
    assert berth.bridge_mark == 100.0
    run = rehearse_call(call).planned
    assert run.success, run.why
    assert run.landing is not None
    bridge = run.landing.place + (call.ship.bridge_to_bow or 0.0) - 0.5 * call.ship.length_overall
    assert bridge == pytest.approx(100.0, abs=0.25 * call.ship.length_overall), "heading south: abaft is north"
    assert "the mark for her bridge" in run.why


def test_a_mark_off_the_quay_is_refused() -> None:
    berth = read_call(SHIP.parent).waterway.berths[0]
    assert berth.length == pytest.approx(140.0, abs=1.0), "by hand: 0.00122 degrees north, 0.00038 east"
    with pytest.raises(Impossible, match=r"200 m is not on a face of 140 m; expected metres from begin"):
        replace(berth, bridge_mark=200.0)


def test_words() -> None:
    assert words(lying(0.2)) == "at the middle of the quay"
    assert words(lying(-12.4)) == "12 m astern of the middle of the quay"


def test_without_a_parallel_body_on_the_card_six_tenths_of_her_length_is_taken(aboard: tuple[Ship, Loading]) -> None:
    ship, loading = aboard
    face = quay((0.0, 140.0), (0.0, 0.0), (70.0, -100.0))
    found = lies(face, "starboard", replace(ship, parallel_body_loaded=None), loading, 70.0)
    assert not found.body_known
    assert found.body_beyond == pytest.approx(30.0 - 70.0)

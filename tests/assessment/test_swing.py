"""The anchor a call is swung on: what is told of it, what forbids it, and the rehearsal that lets it go."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.rehearse_anchor import swing_told
from leadsman.assessment.rehearse_result import Rehearsal
from leadsman.assessment.swing import counted, judged, short_stay, swing_findings, swing_on_anchor
from leadsman.errors import CannotCompute, Impossible, InputErrors
from leadsman.figure import Finding, Grade
from leadsman.files.call_files import read_call
from leadsman.physics import anchor as rules
from leadsman.portcall import PortCall, Swing

EXAMPLE = Path(__file__).parents[2] / "examples" / "1-river-coaster"
PORT = Swing(anchor="port", bottom="soft mud")
GOOD = """
[swing]
anchor = "port"
bottom = "soft mud"
shackles = 1
"""


def swung(swing: Swing | None = PORT, no_anchor: str = "") -> PortCall:
    call = read_call(EXAMPLE)
    basins = tuple(replace(basin, no_anchor=no_anchor) for basin in call.waterway.basins)
    return replace(call, swing=swing, waterway=replace(call.waterway, basins=basins))


def found(call: PortCall) -> tuple[Finding, ...]:
    return swing_findings(prepare(call), call.start)


def sentences(call: PortCall, grade: Grade) -> str:
    return " ".join(one.sentence for one in found(call) if one.grade is grade)


def test_cable_and_drag_are_those_of_the_rules() -> None:
    call = swung()
    swing = swing_on_anchor(prepare(call), call.start)
    assert 1.0 <= swing.depths <= 1.5, "1 to 1.5 depths (standards sheet 9) [common practice]"
    assert swing.shackles == 0.5
    height = swing.water_depth + swing.anchor.hawse
    dredged = rules.dragging_force(swing.anchor.mass, height, swing.anchor.weight, 1.0)
    assert swing.holds == pytest.approx(float(dredged)), "[TradeForces]: weight of the anchor and of twice the chain"


@pytest.mark.parametrize(
    ("depth", "expected"),  # m of water, shackles of 27.5 m; by hand: the most halves within 1.5 depths, else the first
    [(9.5, 0.5), (5.0, 0.5), (12.0, 0.5), (19.0, 1.0), (20.0, 1.0), (28.0, 1.5)],
)
def test_short_stay_is_told_in_half_shackles(depth: float, expected: float) -> None:
    assert short_stay(depth / 27.5) == expected


def test_it_is_told_only_where_the_call_asks_for_it() -> None:
    assert found(swung(None)) == ()
    told = [one for one in assess(swung()).findings if one.subject == "swing"]
    assert any("swung to port on the port anchor, half a shackle in the water" in one.sentence for one in told)
    assert any("she comes down with it while she swings" in one.sentence for one in told)
    assert all(one.grade is not Grade.STOP for one in told)


def test_a_swing_reckoned_without_wind_says_so_and_a_gusty_forecast_presses_more() -> None:
    call = swung()
    windless = replace(call, forecast=replace(call.forecast, wind_speed=None, wind_from=None, gust_speed=None))
    assert "No wind is given" in sentences(windless, Grade.CAUTION)
    assert "No wind is given" not in sentences(call, Grade.CAUTION)
    wind = call.forecast.wind_speed
    assert wind is not None
    steady, gusty = (
        swing_on_anchor(prepare(replace(call, forecast=replace(call.forecast, gust_speed=share * wind))), call.start)
        for share in (1.0, 2.0)
    )
    assert gusty.presses > steady.presses, "a forecast gustier than usual"


def test_what_forbids_an_anchor_is_a_stop_and_is_not_rehearsed() -> None:
    cabled = swung(no_anchor="a power cable crosses the pool")
    assert "no anchor is let go there: a power cable crosses the pool" in sentences(cabled, Grade.STOP)
    with pytest.raises(CannotCompute, match="a power cable crosses the pool; she is not swung on an anchor there"):
        rehearse_call(cabled)
    rock = swung(replace(PORT, bottom="rock"))
    assert "in the water on rock holds nothing" in sentences(rock, Grade.STOP)
    with pytest.raises(CannotCompute, match="on rock holds nothing"):
        rehearse_call(rock)
    assert "bottom 'porridge' is not known" in sentences(swung(replace(PORT, bottom="porridge")), Grade.STOP)


def test_too_much_cable_and_a_bed_too_near_are_cautions() -> None:
    assert "3 shackles in the water are 8.7 depths" in sentences(swung(replace(PORT, shackles=3.0)), Grade.CAUTION)
    call = swung()
    swing = swing_on_anchor(prepare(call), call.start)
    near = replace(swing, clearance=0.5)
    told = [sentence for grade, sentence, *_ in judged(near) if grade is Grade.CAUTION]
    assert any("0.50 m is between her keel and the bed, and the anchor stands up to 1.9 m" in one for one in told)
    far = replace(swing, clearance=2.0)
    assert not any("between her keel" in sentence for _, sentence, *_ in judged(far))
    charted = replace(swing, charted="rock")
    assert any("the chart says rock" in sentence for _, sentence, *_ in judged(charted))
    too_short = replace(swing, holds=0.0)
    assert any("shorter than the way to the bed" in sentence for _, sentence, *_ in judged(too_short))
    assert [counted(each) for each in (0.5, 1.0, 1.5)] == ["half a shackle", "1 shackle", "1.5 shackles"]


def test_without_anchor_basin_or_turn_it_says_so() -> None:
    call = swung()
    bare = replace(call.ship.anchors, anchor_mass=None, equipment_number=None)
    assert "tells no anchor that can be used" in sentences(
        replace(call, ship=replace(call.ship, anchors=bare)), Grade.STOP
    )
    small = tuple(replace(basin, diameter=80.0) for basin in call.waterway.basins)
    narrow = replace(call, waterway=replace(call.waterway, basins=small))
    assert "no basin is as wide as Sedgewren is long" in sentences(narrow, Grade.STOP)
    straight = tuple(replace(berth, side_to="starboard") for berth in call.waterway.berths)
    ahead = replace(call, waterway=replace(call.waterway, berths=straight))
    assert "the port anchor asked for stays home" in sentences(ahead, Grade.CAUTION)
    with pytest.raises(CannotCompute, match=r"expected a table \[swing\]"):
        swing_on_anchor(prepare(swung(None)), call.start)
    with pytest.raises(Impossible, match=r"has no basin to swing in; expected a table \[\[basin\]\]"):
        replace(call, waterway=replace(call.waterway, basins=()))


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"anchor": "stern"}, "'stern' is no bower"),
        ({"bottom": ""}, "is empty; expected the bottom as charted"),
        ({"shackles": 9.0}, "9 is no cable to swing on; expected shackles in the water, 0.5 to 4"),
    ],
)
def test_impossible_swings_are_refused(wrong: dict[str, object], why: str) -> None:
    with pytest.raises(Impossible, match=why):
        replace(PORT, **wrong)  # type: ignore[arg-type]


def folder(tmp_path: Path, words: str, basin: str = "") -> Path:
    there = tmp_path / "call"
    shutil.copytree(EXAMPLE, there, ignore=shutil.ignore_patterns(".*"))
    with (there / "call.toml").open("a", encoding="utf-8") as file:
        file.write(words)
    water = there / "waterway" / "waterway.toml"
    water.write_text(water.read_text("utf-8").replace("diameter_m = 200", f"diameter_m = 200\n{basin}"), "utf-8")
    return there


def test_a_swing_is_read_and_a_faulty_one_refused_with_its_line(tmp_path: Path) -> None:
    call = read_call(folder(tmp_path, GOOD, 'no_anchor = "a water main"'))
    assert call.swing == Swing(anchor="port", bottom="soft mud", shackles=1.0)
    assert call.waterway.basins[0].no_anchor == "a water main"
    with pytest.raises(InputErrors, match=r"call.toml:\d+: bottom: is missing; expected of the basin"):
        read_call(folder(tmp_path / "wrong", GOOD.replace('bottom = "soft mud"', "")))


@pytest.fixture(scope="module")
def rehearsed() -> Rehearsal:
    return rehearse_call(swung())


def test_she_swings_on_the_anchor_and_goes_on_to_the_berth(rehearsed: Rehearsal) -> None:
    run = rehearsed.planned
    assert run.success, run.why
    told = [one.words for one in run.orders if one.kind == "anchor"]
    assert told == ["Let go port anchor, half a shackle", "Hold on port cable", "Heave up port anchor"]
    assert run.swung is not None
    assert run.swung.home is not None


def test_what_the_anchor_did_is_told(rehearsed: Rehearsal) -> None:
    (note,) = (one for one in rehearsed.findings if one.subject == "swing")
    assert note.grade is Grade.NOTE
    assert note.sentence.startswith("The port anchor was let go at ")
    assert "over the ground; it pulled with up to 4 t and was dredged" in note.sentence, "by statics 41 kN"
    assert "clear of the water after" in note.sentence
    assert "slower to the basin" not in note.sentence
    swing = rehearsed.planned.swung
    assert swing is not None
    (fast,) = swing_told(replace(rehearsed.planned, swung=replace(swing, speed=1.5, home=None)))
    assert fast.grade is Grade.CAUTION
    assert "2.9 kn over the ground, more than 2.0 kn: slower to the basin" in fast.sentence
    assert swing_told(replace(rehearsed.planned, swung=None)) == ()

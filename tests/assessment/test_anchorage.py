"""Anchoring on the way: how she lies, how much cable, what stands against it, and the rehearsal that ends brought up."""

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from leadsman.assessment.anchorage import anchorage, anchoring_findings, contradicted, depth_over, judged
from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.rehearse_anchor import came_home
from leadsman.assessment.rehearse_prepare import ready
from leadsman.assessment.rehearse_result import Rehearsal
from leadsman.documents.rehearsal_data import print_rehearsal, rehearsal_data
from leadsman.errors import CannotCompute, Impossible
from leadsman.figure import Finding, Grade
from leadsman.files.call_files import read_call
from leadsman.physics import anchor as rules
from leadsman.portcall import Anchoring, PortCall
from leadsman.simulation.lying import lies_to
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import even_depth
from leadsman.units import KNOT

EXAMPLE = Path(__file__).parents[2] / "examples" / "5-podded-cruise"
ROADS = Anchoring(at="Mirrow Roads Anchorage", anchor="starboard", bottom="soft mud")
DEPTH = 20.0  # m


def roadstead(anchoring: Anchoring = ROADS, wind: float = 14.0 * KNOT, wind_from: float = 3.75) -> PortCall:
    call = read_call(EXAMPLE)
    forecast = replace(call.forecast, wind_speed=wind, wind_from=wind_from, gust_speed=None)
    return replace(call, anchoring=anchoring, forecast=forecast)


def found(call: PortCall) -> tuple[Finding, ...]:
    return anchoring_findings(prepare(call), call.start)


def stops(call: PortCall) -> str:
    return " ".join(one.sentence for one in found(call) if one.grade is Grade.STOP)


def test_a_wind_and_a_stream_nobody_gave_are_told_and_not_taken_for_a_calm_in_silence() -> None:
    call = roadstead()
    assert not any("is given" in one.sentence for one in found(call))
    windless = replace(call, forecast=replace(call.forecast, wind_speed=None, wind_from=None))
    (told,) = (one for one in found(windless) if "is given" in one.sentence)
    assert told.grade is Grade.CAUTION
    assert told.sentence.startswith("No wind is given")
    bare = replace(windless, waterway=replace(windless.waterway, stream_stations=()))
    assert any(one.sentence.startswith("No wind and no stream is given") for one in found(bare))


@pytest.fixture(scope="module")
def setting() -> tuple[Setting, float]:
    call = roadstead()
    made = ready(prepare(call), call.start)
    bare = made.setting.fleet._replace(ships=made.setting.fleet.ships.copy())
    bare.ships["anchor_count"] = 0
    return replace(made.setting, fleet=bare), made.parameters.anchors[0].position


@pytest.mark.parametrize("towards", [0.0, 1.1, 4.0])
def test_in_a_stream_alone_she_lies_head_to_it(setting: tuple[Setting, float], towards: float) -> None:
    around = even_depth(DEPTH)._replace(stream_north=0.8 * math.cos(towards), stream_east=0.8 * math.sin(towards))
    lying = lies_to(setting[0], around, setting[1])
    assert lying is not None
    off = (lying.heading - towards - math.pi + math.pi) % (2.0 * math.pi) - math.pi
    assert math.degrees(off) == pytest.approx(0.0, abs=1.0), "by symmetry of the hull"


def test_wind_against_stream_moves_her_from_one_to_the_other(setting: tuple[Setting, float]) -> None:
    """Stream to the south, wind from the south-east: head to the stream in a light air, towards the wind in a blow."""
    headings = []
    for wind in (0.0, 8.0, 25.0):
        around = even_depth(DEPTH)._replace(stream_north=-0.3, wind_speed=wind, wind_from=math.radians(135.0))
        lying = lies_to(setting[0], around, setting[1])
        assert lying is not None
        headings.append(math.degrees(lying.heading) % 360.0)
    first = headings[0] if headings[0] < 180.0 else headings[0] - 360.0
    assert first == pytest.approx(0.0, abs=1.0)
    assert first < headings[1] < headings[2] < 136.0


def test_mirrored_wind_mirrors_how_she_lies(setting: tuple[Setting, float]) -> None:
    def heading(side: float) -> float:
        around = even_depth(DEPTH)._replace(stream_north=-0.5, wind_speed=12.0, wind_from=side * math.radians(70.0))
        lying = lies_to(setting[0], around, setting[1])
        assert lying is not None
        return lying.heading

    assert math.cos(heading(1.0) + heading(-1.0)) == pytest.approx(1.0, abs=1e-4)


def test_in_a_calm_she_lies_anyhow(setting: tuple[Setting, float]) -> None:
    assert lies_to(setting[0], even_depth(DEPTH), setting[1]) is None


def test_cable_circle_and_ratio_are_those_of_the_formulas() -> None:
    call = roadstead()
    place = anchorage(prepare(call), call.start)
    rule = (3.0 * place.water_depth + 90.0) / 27.5
    assert place.shackles == math.ceil(2.0 * rule) / 2.0, "Japanese rule, fair weather (common practice): 3 d + 90 m"
    height = place.water_depth + place.anchor.hawse
    hanging = rules.catenary(height, place.pull, place.anchor.weight)
    assert place.needed == pytest.approx(float(hanging.length) + 27.5), "catenary, and a shackle on the bed"
    on_bed = math.sqrt(place.cable**2 - height**2)
    assert place.radius == pytest.approx(on_bed + place.anchor.position + 0.5 * call.ship.length_overall), "by hand"
    assert place.holding_ratio == pytest.approx(place.anchor.holding / place.pull)
    rough = roadstead(wind=35.0 * KNOT)
    assert anchorage(prepare(rough), rough.start).shackles * 27.5 >= 4.0 * place.water_depth + 145.0, (
        "rough weather rule"
    )


def test_a_good_anchoring_is_a_note_and_stands_in_the_assessment() -> None:
    call = roadstead()
    assert [one.grade for one in found(call)] == [Grade.NOTE]
    told = [one for one in assess(call).findings if one.subject == "anchoring"]
    assert len(told) == 1
    assert "5.5 shackles in the water" in told[0].sentence
    assert not anchoring_findings(prepare(replace(call, anchoring=None)), call.start)


def test_what_stands_against_an_anchoring_is_told() -> None:
    assert "out of her circle of 450 m" in stops(roadstead(replace(ROADS, shackles=8.0)))
    assert "rock is reckoned to hold 0 t" in stops(roadstead(replace(ROADS, bottom="rock")))
    assert "2 shackles lift the anchor's shank" in stops(roadstead(replace(ROADS, shackles=2.0), wind=40.0 * KNOT))
    assert "of cable are wanted where" in stops(roadstead(replace(ROADS, shackles=16.0)))
    call = roadstead()
    deeper = replace(call, margins=replace(call.margins, underkeel=15.0))
    assert "is left under her keel at the lowest water" in stops(deeper)
    few = [one for one in found(roadstead(replace(ROADS, shackles=4.0))) if one.grade is Grade.CAUTION]
    assert "fewer than is usual for depth and weather, 5.5" in few[0].sentence


@pytest.mark.parametrize(
    ("said", "charted", "expected"),
    [
        ("firm sand", "sand", False),
        ("firm sand", "Mud", True),
        ("soft mud", "mud and sand", False),
        ("rock", "", False),
        ("dense clay", "gravel", True),
    ],
)
def test_a_bottom_the_chart_does_not_have_is_told(said: str, charted: str, expected: bool) -> None:
    assert contradicted(said, charted) is expected
    call = roadstead()
    place = replace(anchorage(prepare(call), call.start), bottom=said, charted=charted)
    assert any("the chart says" in sentence for _, sentence, *_ in judged(place, 27.5)) is expected


def test_a_bed_not_known_over_the_circle_is_told() -> None:
    call = roadstead()
    prepared = prepare(call)
    place = anchorage(prepared, call.start)
    assert math.isfinite(depth_over(prepared, place.north, place.east, 50.0))
    assert depth_over(prepared, place.north, place.east, 50_000.0) == -math.inf, "no survey reaches so far"
    unknown = replace(place, clearance=-math.inf)
    told = [sentence for grade, sentence, *_ in judged(unknown, 27.5) if grade is Grade.STOP]
    assert told == ["the bed is not known over all of her swinging circle"]


def test_what_cannot_be_anchored_says_why() -> None:
    call = roadstead()
    with pytest.raises(CannotCompute, match=r"names no anchorage; expected a table \[anchoring\]"):
        anchorage(prepare(replace(call, anchoring=None)), call.start)
    assert "bottom 'porridge' is not known" in stops(roadstead(replace(ROADS, bottom="porridge")))
    bare = replace(call.ship.anchors, anchor_mass=None, equipment_number=None)
    assert "tells no anchor that can be used" in stops(replace(call, ship=replace(call.ship, anchors=bare)))


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"anchor": "bow"}, "'bow' is no bower"),
        ({"bottom": " "}, "is empty; expected the bottom as charted"),
        ({"shackles": 40.0}, "40 is no length of cable"),
    ],
)
def test_impossible_anchorings_are_refused(wrong: dict[str, object], why: str) -> None:
    with pytest.raises(Impossible, match=why):
        replace(ROADS, **wrong)  # type: ignore[arg-type]


def test_a_place_the_waterway_has_not_is_refused() -> None:
    with pytest.raises(Impossible, match=r"'Nowhere' is no basin or waiting place .*Mirrow Roads Anchorage"):
        roadstead(replace(ROADS, at="Nowhere"))


@pytest.fixture(scope="module")
def rehearsed() -> Rehearsal:
    return rehearse_call(roadstead(), runs=6, seed=2, anchoring=True)


def test_she_is_brought_up_where_she_was_to_be(rehearsed: Rehearsal) -> None:
    run = rehearsed.planned
    lying = run.brought_up
    assert run.success, run.why
    assert lying is not None
    assert "5.5 shackles in the water" in run.why
    assert lying.off < 60.0
    assert lying.speed <= 0.25, "half a knot over the ground: common practice, no source"
    place = anchorage(prepare(roadstead()), roadstead().start)
    assert lying.cable == pytest.approx(place.cable, abs=0.6)
    last = dict(zip(run.columns, run.track[-1], strict=True))
    assert math.cos(last["heading"] - place.heading) > math.cos(math.radians(20.0)), "as statics say she lies"


def test_the_cable_is_given_shackle_by_shackle(rehearsed: Rehearsal) -> None:
    told = [one.words for one in rehearsed.planned.orders if one.kind == "anchor"]
    assert told[0] == "Let go starboard anchor, 2 shackles"
    assert told[1:] == [
        *(f"Pay out starboard cable to {count} shackles in the water" for count in (3, 4, 5)),
        "Pay out starboard cable to 5.5 shackles in the water",
    ]
    times = [one.time for one in rehearsed.planned.orders if one.kind == "anchor"]
    assert all(later - earlier > 20.0 for earlier, later in pairwise(times)), "laid out, not piled up"


def test_many_runs_anchor_and_the_data_tells_it(rehearsed: Rehearsal, capsys: pytest.CaptureFixture[str]) -> None:
    assert rehearsed.ensemble is not None
    assert rehearsed.ensemble.reasons == {"brought up": 6}
    assert rehearsed.berth == "Mirrow Roads Anchorage"
    told = rehearsal_data(rehearsed, track=False)["planned"]["brought_up"]
    assert told["circle"] == 450.0
    assert told["radius"] < 450.0
    print_rehearsal(rehearsed)
    assert "She swings in 405 m of 450 m" in capsys.readouterr().out


def test_an_anchor_that_came_home_is_a_caution(rehearsed: Rehearsal) -> None:
    lying = rehearsed.planned.brought_up
    assert lying is not None
    assert came_home(rehearsed.planned) == ()
    dragged = replace(rehearsed.planned, brought_up=replace(lying, dragged=80.0))
    assert "came home 80 m" in came_home(dragged)[0].sentence


def test_the_bottom_of_the_roads_counts_nowhere_else() -> None:
    prepared = prepare(roadstead(replace(ROADS, bottom="dense clay")))
    start = prepared.call.start
    there, elsewhere = (ready(prepared, start, anchoring=to_it).parameters.anchors[0] for to_it in (True, False))
    assert there.holding > elsewhere.holding
    soft = ready(prepare(roadstead(replace(ROADS, bottom="soft mud"))), start, anchoring=True)
    assert elsewhere.holding == soft.parameters.anchors[0].holding, "the least that holds, on the way to the berth"


def test_without_an_anchoring_there_is_no_rehearsal_to_it() -> None:
    call = replace(roadstead(), anchoring=None)
    with pytest.raises(CannotCompute, match="names no anchorage"):
        rehearse_call(call, anchoring=True)

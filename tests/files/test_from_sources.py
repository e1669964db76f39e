"""From a chart cell, a tide table and a card to a call that can be assessed; what no file says is asked, never assumed."""

import math
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))

import small_port
from small_port import ANSWERS, at

from leadsman.assessment.assess import assess
from leadsman.errors import InputErrors
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.files.formats import rtz_writing
from leadsman.files.formats.route_files import reversed_route
from leadsman.files.from_sources import CallDraft, Sources, call_from_sources
from leadsman.files.new_call import write_folder
from leadsman.geometry import Position
from leadsman.portcall import Direction, PortCall


@pytest.fixture
def sources(tmp_path: Path) -> Sources:
    return Sources(**small_port.write_sources(tmp_path))


def read_back(made: CallDraft, folder: Path) -> PortCall:
    assert made.open == ()
    write_folder(folder / "call", made.files)
    return read_call(folder / "call")


def test_a_call_from_a_cell_a_table_and_a_card_is_assessed(sources: Sources, tmp_path: Path) -> None:
    call = read_back(call_from_sources(sources, ANSWERS), tmp_path)
    assert (call.berth, call.direction) == ("Grain Quay", Direction.INWARD)
    assert [gate.name for gate in call.waterway.gates] == ["Harbour Bridge"]
    answer = assess(call)
    assert answer.windows
    # by hand: 8.0 m charted at 10:00 on the 5th, 45 minutes after low water by the table of `small_port`
    assert float(answer.account.depth[0]) == 8.0
    assert answer.verdict.go


def test_nothing_is_written_while_a_question_is_open(sources: Sources) -> None:
    made = call_from_sources(sources, {})
    assert made.files == {}
    asked = {question.key for question in made.open}
    assert asked == {*ANSWERS}
    assert next(question for question in made.open if question.key == "berth").choices == ("Grain Quay", "West Dolphin")


@pytest.mark.parametrize("key", sorted(ANSWERS))
def test_every_answer_is_needed(sources: Sources, key: str) -> None:
    made = call_from_sources(sources, {name: value for name, value in ANSWERS.items() if name != key})
    assert made.files == {}
    assert key in {question.key for question in made.open}


def test_what_may_be_said_too_is_offered_and_reaches_the_files(sources: Sources, tmp_path: Path) -> None:
    more = {
        "speed_kn": "Half ahead",
        "siltation_m": "0.25",
        "wind_speed_kn": "18",
        "wind_from_deg": "225",
        "alongside_m": "0.5",
        "tugs": "Old Hazel 50; Rowan 45.5 azimuth stern drive",
        "wave_percent": "40",
    }
    made = call_from_sources(sources, ANSWERS | more)
    offered = {question.key: question for question in made.offered}
    assert {*more} - {"speed_kn", "siltation_m"} <= {*offered}
    assert all(question.optional for question in made.offered)
    call = read_back(made, tmp_path)
    assert {plan.order for plan in call.plans} == {"half_ahead"}
    assert [(tug.name, tug.kind) for tug in call.tugs] == [("Old Hazel", ""), ("Rowan", "azimuth stern drive")]
    assert [tug.bollard_pull / 9806.65 for tug in call.tugs] == pytest.approx([50.0, 45.5]), "t to kN: g, CGPM 1901"
    assert call.forecast.wind_speed == pytest.approx(18 * 1852 / 3600)
    assert {area.siltation for area in call.waterway.areas if area.depth is not None} == {0.25}
    assert {reach.wave_share for reach in call.waterway.reaches} == {0.4}


@pytest.mark.parametrize("tugs", ["Hazel", "50", "Hazel 0", "Hazel 500", "Hazel 50; ; Rowan"])
def test_tugs_that_are_none_are_told(sources: Sources, tugs: str) -> None:
    with pytest.raises(InputErrors, match="expected a name and 1 to 300 tonnes, such as Hazel 50"):
        call_from_sources(sources, ANSWERS | {"tugs": tugs})


STREAM = "-1 010 1.5 0.7; 0 015 0.6 0.3; 2 190 1.2 0.5"


def test_a_stream_typed_by_hours_stands_in_the_middle_of_its_reach(sources: Sources, tmp_path: Path) -> None:
    """Its ranges are asked once it is given; what is not given stays unknown."""
    (reach, *_) = next(one for one in call_from_sources(sources, ANSWERS).offered if one.key == "stream").places
    said = ANSWERS | {f"stream@{reach}": STREAM, "stream_source": "atlas, invented"}
    assert {one.key for one in call_from_sources(sources, said).open} == {"spring_range_m", "neap_range_m"}
    call = read_back(call_from_sources(sources, said | {"spring_range_m": "5", "neap_range_m": "2.5"}), tmp_path)
    (station,) = call.waterway.stream_stations
    assert (station.reference, station.source) == (call.waterway.tide_stations[0].name, "atlas, invented")
    assert (station.spring_range, station.neap_range) == (5.0, 2.5)
    before, after = (point.position for point in call.waterway.waypoints[:2])
    assert station.position.latitude == pytest.approx((before.latitude + after.latitude) / 2, abs=1e-7)
    assert station.position.longitude == pytest.approx((before.longitude + after.longitude) / 2, abs=1e-7)
    knot, degree = 1852 / 3600, math.pi / 180
    typed = [(-1, 10, 1.5, 0.7), (0, 15, 0.6, 0.3), (2, 190, 1.2, 0.5)]
    expected = [(3600.0 * hour, degree * towards, knot * spring, knot * neap) for hour, towards, spring, neap in typed]
    assert [*station.rows] == [pytest.approx(row) for row in expected]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("0 015 0.6 0.3", "expected at least two hours, in order, each once"),
        ("1 015 0.6 0.3; 0 015 0.6 0.3", "expected at least two hours, in order, each once"),
        ("0 015 0.6 0.3; 0 015 0.6 0.3", "expected at least two hours, in order, each once"),
        ("0 015 0.6 ?; 1 015 0.6 0.3", "neap_kn: expected a number, 0 to 15"),
        ("0 015 0.6; 1 015 0.6 0.3", "expected four figures"),
        ("0 415 0.6 0.3; 1 015 0.6 0.3", "towards_deg: expected a number, 0 to 360"),
        ("-13 015 0.6 0.3; 1 015 0.6 0.3", "hour: expected a number, -12.5 to 12.5"),
        ("0 015 -0.6 0.3; 1 015 0.6 0.3", "spring_kn: expected a number, 0 to 15"),
        ("0 015 nan 0.3; 1 015 0.6 0.3", "spring_kn: expected a number, 0 to 15"),
    ],
)
def test_a_stream_that_is_none_is_told(sources: Sources, said: str, told: str) -> None:
    with pytest.raises(InputErrors, match=re.escape(told)):
        call_from_sources(sources, ANSWERS | {"stream": said, "spring_range_m": "5", "neap_range_m": "2.5"})


def test_the_recommended_track_is_proposed(sources: Sources, tmp_path: Path) -> None:
    """Two tracks of the cell, one drawn seaward, join into one; by hand: the corner at 2800 m alters by about 3 degrees."""
    made = call_from_sources(replace(sources, route=None), ANSWERS | {"bend_radius_m": "900"})
    call = read_back(made, tmp_path)
    places = [(point.position.latitude, point.position.longitude) for point in call.waterway.waypoints]
    assert places == [pytest.approx(at(*place)) for place in ((0, 500), (2800, 507), (3600, 550))]
    assert any("recommended track of the chart: confirm every waypoint" in one.sentence for one in made.findings)
    assert "bend_radius_m" in {
        question.key for question in call_from_sources(replace(sources, route=None), ANSWERS).open
    }


def test_without_any_track_a_file_is_asked_for(tmp_path: Path) -> None:
    paths = small_port.write_sources(tmp_path, recommended_track=False)
    (question,) = call_from_sources(Sources(**{**paths, "route": None}), ANSWERS).open
    assert question.needs_file
    assert question.sentence == (
        "cell XX5HARBR has no recommended track (RECTRC) to propose: give the track as a file of RTZ, GPX, GeoJSON or "
        "GeoPackage"
    )


def test_a_route_away_from_the_berth_is_an_outward_call(sources: Sources, tmp_path: Path) -> None:
    outward = reversed_route(small_port.route())
    rtz_writing.write(outward, tmp_path / "outward.rtz")
    call = read_back(call_from_sources(replace(sources, route=tmp_path / "outward.rtz"), ANSWERS), tmp_path)
    assert call.direction is Direction.OUTWARD
    assert call.waterway.waypoints[0].position.latitude == pytest.approx(at(0, 500)[0])
    assert assess(call).account.course[0] == pytest.approx(3.14, abs=0.1)


def test_a_berth_that_is_not_charted(sources: Sources, tmp_path: Path) -> None:
    own = ANSWERS | {"berth": "New Jetty"}
    assert {question.key for question in call_from_sources(sources, own).open} >= {"berth_begin", "berth_end"}
    begin, end = (f"{latitude:.6f}, {longitude:.6f}" for latitude, longitude in (at(3300, 595), at(3450, 595)))
    placed = own | {"berth_begin": begin, "berth_end": end}
    assert {question.key for question in call_from_sources(sources, placed).open} == {"berth_depth_m"}
    call = read_back(call_from_sources(sources, placed | {"berth_depth_m": "7.5"}), tmp_path)
    (berth,) = call.waterway.berths
    assert (berth.name, berth.depth, berth.side_to) == ("New Jetty", 7.5, "starboard")


def test_a_bridge_without_height_cannot_be_passed_unasked(sources: Sources, tmp_path: Path) -> None:
    cell = small_port.harbour()
    cell.line("BRIDGE", [at(1500, 300), at(1500, 700)], CATBRG="1", OBJNAM="Silent Bridge")
    cell.line("GATCON", [at(3300, 400), at(3300, 600)], HORCLR=50, OBJNAM="Sea Lock")
    cell.line("CBLOHD", [at(2500, 300), at(2500, 700)], VERCLR=60.0, OBJNAM="Power Cable")
    chart = replace(sources, chart=cell.write(tmp_path / "XX5HARBR.000"))
    asked = {question.asked_of for question in call_from_sources(chart, ANSWERS).open}
    assert asked == {
        "clearance_m of Silent Bridge", "clearance_datum of Silent Bridge", "sill_depth_m of Sea Lock, sill", "electrical_distance_m of Power Cable",
    }  # fmt: skip
    said = {
        "clearance_m": "31", "clearance_datum": "MHWS", "MHWS_above_chart_datum_m": "4.4", "sill_depth_m": "7",
        "electrical_distance_m@Power Cable": "5",
    }  # fmt: skip
    call = read_back(call_from_sources(chart, ANSWERS | said), tmp_path)
    gates = {gate.name: gate for gate in call.waterway.gates}
    assert gates["Power Cable"].electrical_distance == 5.0
    assert gates["Sea Lock, sill"].depth == 7.0
    assert gates["Silent Bridge"].clearance == 31.0
    assert call.waterway.datums["MHWS"] == 4.4


def test_what_a_person_should_look_at_is_told(sources: Sources) -> None:
    made = call_from_sources(sources, ANSWERS)
    cautions = [one.sentence for one in made.findings if one.grade is Grade.CAUTION]
    assert len(cautions) == 1
    assert "mooring buoys are charted here (1 in all)" in cautions[0]
    notes = [one.sentence for one in made.findings if one.grade is Grade.NOTE]
    assert notes == ["Bridge over the Backwater stands more than 250 m off the route; left out."]
    assert b"not confirmed by a person: 1 things to look at" in made.files["waterway/waterway.toml"]


def test_a_track_that_ends_far_off_is_told(sources: Sources, tmp_path: Path) -> None:
    short = replace(small_port.route(), waypoints=small_port.route().waypoints[:2])
    moved = replace(short.waypoints[1], position=Position(*at(2000, 505)))
    rtz_writing.write(replace(short, waypoints=(short.waypoints[0], moved)), tmp_path / "short.rtz")
    made = call_from_sources(replace(sources, route=tmp_path / "short.rtz"), ANSWERS)
    assert any("The track ends 0.9 nm from Grain Quay" in one.sentence for one in made.findings)


@pytest.mark.parametrize(
    ("answer", "sentence"),
    [
        (
            {"start": "2031-05-08T10:00Z"},
            "answers: start: 2031-05-08T10:00:00Z is not covered: the tide table runs from",
        ),
        ({"start": "2031-05-03T10:00Z"}, "answers: start: 2031-05-03T10:00:00Z is not covered"),
        ({"speed": "6"}, "answers: speed: answers nothing that is asked here; did you mean 'speed_kn'?"),
        ({"side_to": "left"}, "answers: side_to: 'left'; expected one of port, starboard"),
        ({"tide_datum": "MLLW"}, "the file says 'LAT', but 'MLLW' was given"),
    ],
)
def test_bad_answers(sources: Sources, answer: dict[str, str], sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        call_from_sources(sources, ANSWERS | answer)
    assert sentence in str(caught.value)


def test_a_table_above_another_datum_is_brought_to_chart_datum(sources: Sources, tmp_path: Path) -> None:
    sources.tide.write_text(small_port.tide_table(datum="MLLW"))
    assert {q.key for q in call_from_sources(sources, ANSWERS).open} == {"MLLW_above_chart_datum_m"}
    call = read_back(call_from_sources(sources, ANSWERS | {"MLLW_above_chart_datum_m": "0.25"}), tmp_path)
    assert call.waterway.tide_stations[0].table[0][1] == pytest.approx(4.75)  # 4.5 + 0.25, by hand


def test_order_and_weather_are_taken(sources: Sources, tmp_path: Path) -> None:
    said = {name: value for name, value in ANSWERS.items() if name != "speed_kn"}
    said |= {"order": "slow_ahead", "wind_speed_kn": "15", "wind_from_deg": "240", "width_m": "10", "channel": "canal"}
    said |= {"bottom_width_m": "150", "side_slope": "5", "name": "A call"}
    call = read_back(call_from_sources(sources, said), tmp_path)
    assert [plan.order for plan in call.plans] == ["slow_ahead", "slow_ahead"]
    assert call.forecast.wind_speed == pytest.approx(15 * 1852 / 3600)
    assert (call.margins.width, call.name, call.waterway.reaches[0].bottom_width) == (10.0, "A call", 150.0)

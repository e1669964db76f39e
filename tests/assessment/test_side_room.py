"""Room to the sides and ahead on whole calls: the guideline by hand, faults seeded in width, bend, basin and speed."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.result import Assessment
from leadsman.assessment.swept import edges, swept_path_of
from leadsman.equipment import Engine, EngineKind, EngineOrder, State
from leadsman.figure import Finding, Grade
from leadsman.physics import swept_path
from leadsman.portcall import PortCall, ReachPlan, Tug
from leadsman.poster import Stop
from leadsman.units import DEGREE, KNOT
from leadsman.waterway import Basin, Fairway, Reach


@pytest.fixture(scope="module")
def answer(first_call: PortCall, first_prepared: Prepared) -> Assessment:
    return assess(first_call, first_prepared)


def about(answer: Assessment, subject: str, place: str = "") -> list[Finding]:
    return [finding for finding in answer.findings if finding.subject == subject and place in ("", finding.place)]


def with_reach(call: PortCall, name: str, change: Callable[[Reach], Reach]) -> PortCall:
    reaches = tuple(change(reach) if reach.name == name else reach for reach in call.waterway.reaches)
    return replace(call, waterway=replace(call.waterway, reaches=reaches))


def test_the_concept_width_of_a_reach_by_hand(first_call: PortCall) -> None:
    """Lych Reach, 14.4 m beam, moderate, 6.4 kn, sheltered, good aids, soft bed: rows of PIANC 121 (water.md 4.1).

    Slow column: basic lane 1.5 [seen]; wind of the forecast across; stream across and along as met; aids 0.2, banks
    sloping 0.3 each [memory]. Only what is below is looked up by hand; wind and stream classes follow the answer's own
    components.
    """
    call = with_reach(
        first_call,
        "Lych Reach",
        lambda reach: replace(
            reach, fairway=Fairway(sheltered=True, aids="good", bank_port="sloping", bank_starboard="sloping")
        ),
    )
    one = next(item for item in assess(call).widths if item.reach == "Lych Reach")
    rows = {row.name: row.beams for row in one.rows}
    assert rows["basic lane"] == 1.5
    assert rows["aids to navigation"] == 0.2
    assert rows["bank to port"] == rows["bank to starboard"] == 0.3
    assert rows["waves"] == 0.0  # sheltered
    knots = one.cross_stream / KNOT
    assert rows["cross current"] == (0.0 if knots <= 0.2 else 0.3 if knots <= 0.5 else 0.8)
    assert one.cross_wind is not None
    assert rows["cross wind"] == (0.3 if one.cross_wind < 15.0 * KNOT else 0.6)
    assert one.needed == pytest.approx(14.4 * sum(rows.values()))
    assert one.margin == pytest.approx(one.available - one.needed)
    assert one.assumed == ()


def test_what_nobody_says_is_taken_on_the_careful_side_and_told(first_call: PortCall) -> None:
    said = Fairway(sheltered=True, aids="excellent", bank_port="gentle", bank_starboard="gentle")
    calm = replace(first_call.forecast, wave_height=None, wave_period=None, wave_from=None)
    call = replace(first_call, forecast=calm)
    known = with_reach(call, "Bar", lambda reach: replace(reach, fairway=said))
    silent = with_reach(call, "Bar", lambda reach: replace(reach, fairway=Fairway()))
    one, other = (next(w for w in assess(call).widths if w.reach == "Bar") for call in (known, silent))
    assert other.needed > one.needed
    assert "moderate aids to navigation" in other.assumed
    assert "open water, an outer channel" in other.assumed
    assert any("waves" in words for words in other.assumed)


def test_no_forecast_wind_is_not_calm(first_call: PortCall, answer: Assessment) -> None:
    forecast = replace(first_call.forecast, wind_speed=None, wind_from=None, gust_speed=None)
    silent = assess(replace(first_call, forecast=forecast))
    for one, other in zip(answer.widths, silent.widths, strict=True):
        assert other.needed > one.needed
        assert other.cross_wind is None
    assert "no wind is forecast" in about(silent, "width")[0].sentence
    assert about(silent, "width")[0].grade is Grade.CAUTION


def test_a_silted_up_channel_lacks_width_and_says_which_rows_weigh(first_call: PortCall) -> None:
    narrow = with_reach(first_call, "Lych Reach", lambda reach: replace(reach, width_port=18.0, width_starboard=18.0))
    found = assess(narrow)
    (lacking,) = about(found, "concept_width", "Lych Reach")
    assert lacking.grade is Grade.NOTE
    assert "basic lane 1.5" in lacking.sentence
    (stop,) = [finding for finding in about(found, "width", "Lych Reach") if finding.grade is Grade.STOP]
    assert "from what she sweeps to the edge" in stop.sentence
    assert not found.verdict.go


def test_two_way_asks_more_than_twice_the_lane(first_call: PortCall, answer: Assessment) -> None:
    two = with_reach(
        first_call, "Lych Reach", lambda reach: replace(reach, fairway=replace(reach.fairway, two_way=True))
    )
    one, other = (next(w for w in found.widths if w.reach == "Lych Reach") for found in (answer, assess(two)))
    lanes = sum(row.beams for row in one.rows if not row.name.startswith("bank"))
    banks = sum(row.beams for row in one.rows if row.name.startswith("bank"))
    assert other.needed == pytest.approx(14.4 * (2.0 * lanes + banks + 1.0))  # slow, inner, passing 1.0 [memory]


def test_room_is_what_her_swept_path_leaves(first_prepared: Prepared, answer: Assessment) -> None:
    """By water.md 4.3, derived: half of B cos + L sin on straights; more, and more outside, in a bend."""
    found, passage = answer.account, first_prepared.passage
    path = swept_path_of(passage)
    swept = path.swept(found.stream_across, found.depth + found.water_level)
    port, starboard = edges(passage)
    np.testing.assert_allclose(port - found.room_port, swept.port)
    np.testing.assert_allclose(starboard - found.room_starboard, swept.starboard)
    straight = np.ones(len(found.distance), dtype=bool)
    for bend in passage.track.bends:
        inside = (found.distance >= bend.begin) & (found.distance <= bend.end)
        straight &= ~inside
        turning_port = bend.deflection < 0.0
        outer, inner = (swept.starboard, swept.port) if turning_port else (swept.port, swept.starboard)
        assert np.all(outer[inside] > inner[inside] - 1e-9)
    half = 0.5 * (14.4 * np.cos(swept.offset) + 95.0 * np.abs(np.sin(swept.offset)))
    np.testing.assert_allclose(swept.port[straight], half[straight])
    assert np.all(swept.width >= 14.4)


def test_more_wind_sweeps_more(first_call: PortCall, answer: Assessment) -> None:
    stormy = replace(first_call.forecast, wind_speed=20.0, gust_speed=27.0)
    blown = assess(replace(first_call, forecast=stormy))
    assert sum(one.swept for one in blown.widths) > sum(one.swept for one in answer.widths)
    assert np.min(blown.account.room_port) < np.min(answer.account.room_port)


def test_a_bend_is_told_with_her_own_delay(answer: Assessment) -> None:
    """Wheel-over lies before the tangent point, by less than three of her lengths; 0.5 to 1.5 is usual (no source)."""
    assert [one.waypoint for one in answer.bends] == ["Bar Buoy", "Heron Point", "Mill Elbow", "Osier Beacon"]
    for one in answer.bends:
        assert one.wheel_over is not None
        tangent = one.radius * math.tan(0.5 * abs(one.deflection))
        assert tangent < one.wheel_over < tangent + 3.0 * 95.0
        assert one.lengths == pytest.approx(one.radius / 95.0)
        assert one.needed > 14.4 * 1.5 + 0.4 * 14.4
    elbow = next(one for one in answer.bends if one.waypoint == "Mill Elbow")
    assert elbow.straight_after is None  # the next bend turns the same way
    assert next(one for one in answer.bends if one.waypoint == "Heron Point").straight_after is not None


def sharper(call: PortCall, radius: float) -> PortCall:
    points = tuple(
        replace(point, bend_radius=radius) if point.name == "Heron Point" else point for point in call.waterway.waypoints
    )
    return replace(call, waterway=replace(call.waterway, waypoints=points))


@pytest.mark.parametrize("tugs", [False, True])
def test_a_bend_tighter_than_she_turns_stops_her_without_tugs(first_call: PortCall, tugs: bool) -> None:
    call = replace(sharper(first_call, 45.0), tugs=(Tug(name="Coot", bollard_pull=2.0e5),) if tugs else ())
    found = assess(call)
    turned = [finding for finding in about(found, "bend", "Heron Point") if "hard over" in finding.sentence]
    assert [finding.grade for finding in turned] == [Grade.CAUTION if tugs else Grade.STOP]
    assert found.verdict.go is tugs
    assert any("guidelines ask 5" in finding.sentence for finding in about(found, "bend", "Heron Point"))


def test_a_basin_too_small_is_told(first_call: PortCall) -> None:
    """1.2 lengths in slack water, 1.5 in more: EM 1110-2-1613, water.md 4.5 [memory]; she is 95 m."""
    pool = first_call.waterway.basins[0]
    grades = {}
    for diameter in (100.0, 150.0, 400.0):
        basin = Basin(name=pool.name, centre=pool.centre, diameter=diameter)
        found = assess(replace(first_call, waterway=replace(first_call.waterway, basins=(basin,))))
        grades[diameter] = [finding.grade for finding in about(found, "basin")]
        (room,) = found.basins
        assert room.lengths == pytest.approx(diameter / 95.0)
        assert room.rules[0][:2] == ("pianc_unaided", pytest.approx(3.0 * 95.0))
        assert room.drift == pytest.approx(room.stream * 1500.0)
    assert grades == {100.0: [Grade.CAUTION], 150.0: [Grade.NOTE], 400.0: []}


def test_where_to_begin_to_slow(answer: Assessment) -> None:
    assert [one.reach for one in answer.way_off] == ["Roads", "Lych Reach", "Mill Reach", "Tannery Reach"]
    length = answer.account.distance[-1]
    for one in answer.way_off:
        assert 0.0 < one.distance < one.room
        assert one.last_stop == pytest.approx(length - one.crash_stop, abs=1.0)
        assert one.crash_stop < length
    last = answer.way_off[-1]
    assert last.begin == pytest.approx(length - last.distance, abs=0.01)
    assert last.wanted == 0.0


def test_a_plan_that_cannot_lose_its_way_in_time_is_cautioned(first_call: PortCall, answer: Assessment) -> None:
    plans = tuple(
        replace(plan, order=None, speed=8.0 * KNOT)
        if plan.reach == "Mill Reach"
        else ReachPlan(reach=plan.reach, speed=0.6 * KNOT)
        if plan.reach == "Tannery Reach"
        else plan
        for plan in first_call.plans
    )
    (told,) = about(assess(replace(first_call, plans=plans)), "stopping")
    assert (told.grade, told.place) == (Grade.CAUTION, "Mill Reach")
    assert about(answer, "stopping") == []


def test_her_own_poster_counts_where_it_is_longer(first_call: PortCall, answer: Assessment) -> None:
    order = next(plan.order for plan in first_call.plans if plan.reach == "Roads")
    assert order is not None
    stop = Stop(order=order, condition=first_call.loading.condition, track_reach=2_000.0)
    ship = replace(first_call.ship, poster=replace(first_call.ship.poster, stops=(stop,)))
    one = assess(replace(first_call, ship=ship)).way_off[0]
    assert one.source == "poster"
    assert one.crash_stop > 2_000.0 > answer.way_off[0].crash_stop


def test_without_a_model_geometry_remains_and_it_is_said(first_call: PortCall) -> None:
    engine = Engine(
        kind=EngineKind.GEARED_DIESEL,
        state=State.DEFECTIVE,
        orders=tuple(EngineOrder(order=line.order, speed_loaded=line.speed_loaded) for line in first_call.ship.engine.orders),
    )
    found = assess(replace(first_call, ship=replace(first_call.ship, engine=engine)))
    assert found.way_off == ()
    assert all(one.rudder is None and one.wheel_over is None and one.held is None for one in found.bends)
    assert all(one.held is None for one in found.widths)
    assert "no manoeuvring model" in about(found, "width")[0].sentence


def test_sides_of_a_turn() -> None:
    """By hand: no drift, radius 300 m, 100 x 20 m: outside √(50² + 310²) - 300 = 14.006, inside 300 - 290 = 10."""
    outer, inner = swept_path.sides_in_turn(100.0, 20.0, 0.0, 300.0)
    assert outer == pytest.approx(14.006, abs=1e-3)
    assert inner == pytest.approx(10.0)
    assert swept_path.width_in_turn(100.0, 20.0, 5.0 * DEGREE, 300.0) == pytest.approx(
        sum(swept_path.sides_in_turn(100.0, 20.0, 5.0 * DEGREE, 300.0))
    )


def test_another_start_is_quick_because_the_answers_are_kept(first_prepared: Prepared) -> None:
    path = swept_path_of(first_prepared.passage)
    assert path is swept_path_of(first_prepared.passage)
    assert path.handling(9.1) is path.handling(9.3)
    assert prepare(first_prepared.call) is not first_prepared

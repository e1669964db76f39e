"""Holding in the assessment: what defects, margins, tugs and weather do to the answer of example 3 and of the coaster."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.account import account
from leadsman.assessment.assess import assess
from leadsman.assessment.holding.answer import planning
from leadsman.assessment.holding.assess import holding, plans
from leadsman.assessment.holding.case import IN_HAND, Place, Situation
from leadsman.assessment.holding.hold import hold, reserve
from leadsman.assessment.holding.means import ways
from leadsman.assessment.holding.ordered_tugs import tug_at
from leadsman.assessment.holding.result import HeldAt, HoldingAnswer
from leadsman.assessment.holding.rose import swing, turned, wind_limit
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.equipment import State
from leadsman.figure import Finding, Grade
from leadsman.files.call_files import read_call
from leadsman.physics import balance
from leadsman.portcall import PortCall
from leadsman.units import KNOT, TONNE_FORCE

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def basin_call() -> PortCall:
    return read_call(EXAMPLES / "3-container-basin")


@pytest.fixture(scope="module")
def basin_prepared(basin_call: PortCall) -> Prepared:
    return prepare(basin_call)


def answer_of(call: PortCall, prepared: Prepared | None = None) -> HoldingAnswer:
    ready = prepared or prepare(call)
    found = holding(ready, account(ready, call.start), call.start)
    assert isinstance(found, HoldingAnswer)
    return found


@pytest.fixture(scope="module")
def whole(basin_call: PortCall, basin_prepared: Prepared) -> HoldingAnswer:
    return answer_of(basin_call, basin_prepared)


def with_forecast(call: PortCall, **changes: float | None) -> PortCall:
    return replace(call, forecast=replace(call.forecast, **changes))


def limits_of(answer: HoldingAnswer, key: str, tugs: str) -> np.ndarray:
    return np.array(answer.roses[key].limits[tugs])


class TestDefects:
    def test_a_defective_thruster_shrinks_the_rose_and_raises_finding_and_tugs(
        self, basin_call: PortCall, whole: HoldingAnswer
    ) -> None:
        ship = basin_call.ship
        broken = replace(ship, thrusters=tuple(replace(one, state=State.DEFECTIVE) for one in ship.thrusters))
        after = answer_of(replace(basin_call, ship=broken))
        for key in ("basin 1", "berth"):  # the tugs are put elsewhere then, so single directions may gain
            for tugs in ("1 tug", "2 tugs", "3 tugs"):
                assert np.mean(limits_of(after, key, tugs)) < np.mean(limits_of(whole, key, tugs))
        lost = np.min(limits_of(whole, "berth", "3 tugs")) - np.min(limits_of(after, "berth", "3 tugs"))
        assert lost > 0.5 * KNOT, "visibly: a knot of wind or so, with three tugs of 195 t against 28 t of thruster"
        before_pull, after_pull = (one.at("berth").needed.total_by_statics for one in (whole, after))
        assert after_pull > before_pull + 15.0 * TONNE_FORCE, "2500 kW of thruster are two or three tens of tonnes"
        said = [finding.sentence for finding in after.findings]
        assert "Bow thruster defective: 0 % is reckoned with." in said
        assert after.at("berth").balance.reserve < whole.at("berth").balance.reserve
        assert sum(f.grade is not Grade.NOTE for f in after.findings) > sum(
            f.grade is not Grade.NOTE for f in whole.findings
        )

    def test_a_defective_engine_leaves_no_thrust(self, basin_call: PortCall) -> None:
        dead = replace(basin_call.ship, engine=replace(basin_call.ship.engine, state=State.DEFECTIVE))
        answer = answer_of(replace(basin_call, ship=dead))
        engine = next(order for order in answer.at("berth").balance.orders if order.name == "engine")
        assert math.hypot(engine.force.surge, engine.force.sway) == 0.0


class TestBalance:
    def test_every_balance_closes_to_a_newton(self, whole: HoldingAnswer) -> None:
        for place in whole.places:
            if place.balance.held:
                left = place.balance.left_over
                assert math.hypot(left.surge, left.sway) < 1.0, place.key
                assert abs(left.yaw) < whole.length_overall, place.key

    def test_reserve_is_that_of_the_linear_program(self, basin_prepared: Prepared, basin_call: PortCall) -> None:
        found = account(basin_prepared, basin_call.start)
        for plan in plans(basin_prepared, found, basin_call.start):
            case = plan.case
            flat = np.array([1.0 if case.surge_counts else 0.0, 1.0, 1.0])
            stream = case.current_loads(case.current_speed, case.current_from)
            least = min(
                max(
                    balance.most_held(
                        way.reaches,
                        (case.wind_loads(case.wind_speed, case.wind_from, windage) + stream) * flat,
                        np.zeros(3),
                        case.lever,
                    )
                    for way in ways(case)
                )
                for windage in case.windages
            )
            assert hold(case).reserve == pytest.approx(least - 1.0, abs=1e-5)
            assert reserve(case) == pytest.approx(least - 1.0, abs=1e-5)

    def test_just_under_the_limit_she_is_held_and_just_over_not(
        self, basin_prepared: Prepared, basin_call: PortCall
    ) -> None:
        found = account(basin_prepared, basin_call.start)
        for plan in plans(basin_prepared, found, basin_call.start):
            limit = wind_limit(plan.case)
            assert reserve(replace(plan.case, wind_speed=0.995 * limit)) >= 0.0, plan.asked.key
            assert reserve(replace(plan.case, wind_speed=1.005 * limit)) < 0.0, plan.asked.key

    def test_the_hardest_heading_of_a_swing_is_harder_than_all_others(
        self, basin_prepared: Prepared, basin_call: PortCall
    ) -> None:
        found = account(basin_prepared, basin_call.start)
        plan = next(one for one in plans(basin_prepared, found, basin_call.start) if one.asked.key == "basin 1")
        assert plan.case.situation is Situation.SWINGING
        here = reserve(plan.case)
        for turn in np.radians(np.arange(0.0, 360.0, 30.0)):
            assert reserve(turned(plan.case, float(turn))) >= here - 1e-9
        around = swing(plan.case)
        assert around.reserve[0] == pytest.approx(here, abs=1e-9)

    def test_the_extra_tug_holds_her_on_every_heading(self, basin_call: PortCall, whole: HoldingAnswer) -> None:
        extra = whole.at("basin 1").extra
        assert extra is not None
        ready = prepare(basin_call)
        plan = next(
            one
            for one in plans(ready, account(ready, basin_call.start), basin_call.start)
            if one.asked.key == "basin 1"
        )
        place = Place(extra.place)
        more = tug_at("more", extra.kind, extra.bollard_pull + 100.0, place, plan.positions[place])
        assert np.all(swing(plan.case.with_tugs((*plan.case.tugs, more))).reserve >= -1e-6)


class TestWeatherAndMargins:
    def test_no_wind_in_the_forecast_is_told_and_never_calm(self, basin_call: PortCall) -> None:
        blank = with_forecast(basin_call, wind_speed=None, wind_from=None, gust_speed=None)
        found = assess(blank)
        assert found.holding is None
        said = [f for f in found.findings if f.subject == "holding"]
        assert [f.grade for f in said] == [Grade.CAUTION]
        assert "is not answered: the forecast gives no wind" in said[0].sentence

    def test_a_gale_is_a_stop_with_what_would_do(self, basin_call: PortCall) -> None:
        found = assess(with_forecast(basin_call, wind_speed=35.0 * KNOT, gust_speed=50.0 * KNOT))
        stops = [f for f in found.findings if f.subject == "holding" and f.grade is Grade.STOP]
        assert {f.place for f in stops} == {"Varrow Basin", "Varrow Terminal 2"}
        assert not found.verdict.go
        assert {one.kind for one in found.remedies} >= {"tug", "wind"}

    def test_a_gustier_forecast_leaves_less(self, basin_call: PortCall, whole: HoldingAnswer) -> None:
        gusty = answer_of(with_forecast(basin_call, gust_speed=40.0 * KNOT))
        assert gusty.at("berth").gust > whole.at("berth").gust
        assert gusty.at("berth").wind_limit < whole.at("berth").wind_limit

    def test_what_the_port_wants_in_hand_is_kept_or_told(self, basin_call: PortCall) -> None:
        none = replace(basin_call, margins=replace(basin_call.margins, tug_in_hand=0.0, thruster_in_hand=0.0))
        none = replace(none, margins=replace(none.margins, rudder_in_hand=0.0))
        much = replace(basin_call, margins=replace(basin_call.margins, tug_in_hand=0.5))
        assert answer_of(none).at("berth").balance.in_hand
        told = answer_of(much)
        assert not told.at("berth").balance.in_hand
        said = [f for f in told.findings if f.place == "Varrow Terminal 2" and f.subject == "holding"]
        assert [f.grade for f in said] == [Grade.CAUTION]
        assert "less in hand than required" in said[0].sentence

    def test_planning_is_that_of_engine_and_situation(self, basin_call: PortCall, basin_prepared: Prepared) -> None:
        found = account(basin_prepared, basin_call.start)
        by_key = {one.asked.key: one for one in plans(basin_prepared, found, basin_call.start)}
        reach, berth = (
            planning(basin_call.ship, basin_call.margins, by_key[key].asked) for key in ("reach 1", "berth")
        )
        assert not berth.kicks_in_turn, "a reversing diesel is started again for every kick"
        assert (berth.demand, reach.demand) == (1.0, 1.25), "forces sheet 4.2 [common practice]"
        assert berth.tug_in_hand == IN_HAND
        assert by_key["reach 1"].case.gust == pytest.approx(1.0)
        assert by_key["berth"].case.gust == pytest.approx(1.260, abs=0.01), "forces sheet check 15 [computed]"

    def test_tugs_serve_in_reaches_only_where_they_are_fast(self, whole: HoldingAnswer, basin_call: PortCall) -> None:
        by_place = {place.place: len(place.tugs) for place in whole.places if place.situation == "under_way"}
        assert by_place == {"Sea Approach": 0, "Long Cut": 0, "Short Cut": 0, "Bridge Reach": 3, "Terminal Reach": 3}
        unsaid = replace(basin_call, tugs=tuple(replace(tug, fast_from="") for tug in basin_call.tugs))
        assert all(not place.tugs for place in answer_of(unsaid).places if place.situation == "under_way")


class TestPlaces:
    def test_port_side_to_the_quay_lies_to_port(self, whole: HoldingAnswer, basin_call: PortCall) -> None:
        berth = whole.at("berth")
        assert berth.quay_side == -1
        quay = basin_call.waterway.berths[0]
        plane = basin_call.waterway.plane
        x, y = plane.to_plane([quay.begin.latitude, quay.end.latitude], [quay.begin.longitude, quay.end.longitude])
        face = math.atan2(y[1] - y[0], x[1] - x[0])
        assert abs(math.sin(berth.heading - face)) < 1e-6, "along the face"
        out = basin_call.waterway.track.courses[-1] + math.pi
        assert math.cos(berth.heading - out) > 0.8, "README: port side to, heading out"

    def test_along_a_wall_no_stream_is_athwart(self, whole: HoldingAnswer, basin_call: PortCall) -> None:
        berth = whole.at("berth")
        assert abs(math.sin(berth.stream_towards - berth.heading)) < 1e-9
        open_berth = replace(basin_call.waterway.berths[0], face="open")
        piles = answer_of(replace(basin_call, waterway=replace(basin_call.waterway, berths=(open_berth,))))
        assert piles.at("berth").balance.stream.sway != 0.0

    def test_the_port_fenders_judge_the_landing(self, whole: HoldingAnswer, basin_call: PortCall) -> None:
        land = whole.landing
        assert land is not None
        assert land.energy < (land.allowed_energy or 0.0)
        weak = replace(basin_call.waterway.berths[0], fender_energy=300e3)
        found = answer_of(replace(basin_call, waterway=replace(basin_call.waterway, berths=(weak,))))
        assert any("fenders" in f.sentence and f.grade is Grade.CAUTION for f in found.findings)
        assert found.landing is not None
        assert (found.landing.greatest_speed or 0.0) < land.speed

    def test_a_ship_aground_at_her_berth_is_not_asked_there(self, first_call: PortCall) -> None:
        dry = replace(first_call.waterway.berths[0], depth=-8.0)
        found = answer_of(replace(first_call, waterway=replace(first_call.waterway, berths=(dry,))))
        assert all(place.key != "berth" for place in found.places)
        assert found.landing is None

    def test_off_the_berth_the_ship_to_port_mirrors_the_ship_to_starboard(self, basin_prepared: Prepared) -> None:
        call = basin_prepared.call
        found = account(basin_prepared, call.start)
        case = next(one for one in plans(basin_prepared, found, call.start) if one.asked.key == "berth").case
        screws = tuple(replace(one, throw=0.0) for one in case.screws)
        quay = case.quay
        assert quay is not None
        bare = replace(case, tugs=case.tugs[:2], screws=screws)
        mirrored = replace(
            bare, wind_from=-bare.wind_from, current_from=-bare.current_from, quay=replace(quay, side=-quay.side)
        )
        assert reserve(mirrored) == pytest.approx(reserve(bare), abs=1e-9)


def test_places_are_in_the_order_sailed_and_in_time(whole: HoldingAnswer) -> None:
    times = [place.time for place in whole.places]
    assert times == sorted(times)
    assert len({place.key for place in whole.places}) == len(whole.places)


def test_kicks_are_told_where_the_running_order_does_not_hold() -> None:
    found = answer_of(read_call(EXAMPLES / "4-ferry-corner-berth"))
    kicked: list[HeldAt] = [place for place in found.places if place.kicks]
    assert kicked, "at three knots dead slow does not hold her head"
    assert all(place.balance.held for place in kicked)
    assert any("only with kicks of" in finding.sentence for finding in found.findings)


def test_a_balance_without_an_answer_is_told(
    basin_call: PortCall, basin_prepared: Prepared, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(_: object) -> None:
        raise ArithmeticError("the linear program of the balance did not end: for some reason")

    monkeypatch.setattr("leadsman.assessment.holding.assess.held_at", failing)
    found = holding(basin_prepared, account(basin_prepared, basin_call.start), basin_call.start)
    assert isinstance(found, Finding)
    assert found.grade is Grade.CAUTION
    assert "is not answered: the linear program of the balance did not end" in found.sentence


def test_neither_wind_nor_stream_is_held_by_nothing(basin_call: PortCall) -> None:
    still = replace(basin_call.waterway, stream_stations=())
    calm = answer_of(with_forecast(replace(basin_call, waterway=still), wind_speed=0.0, wind_from=0.0, gust_speed=0.0))
    assert all(place.balance.held and place.balance.reserve == 19.0 for place in calm.places if place.speed == 0.0)
    assert calm.anchoring is not None
    assert max(calm.anchoring.holding.values()) == 100.0

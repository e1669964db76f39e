"""Early and late, turning back, plans of speeds and pairs of changes: each told row holds when assessed on its own."""

from dataclasses import replace
from datetime import timedelta

import pytest
from tests.conftest import EXAMPLES

from leadsman.assessment.assess import assess
from leadsman.assessment.changed import IMPOSSIBLE, holds, left, with_speeds
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.remedies import remedies
from leadsman.assessment.result import Assessment
from leadsman.assessment.speed_plan import speed_plan
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall
from leadsman.units import KNOT


@pytest.fixture(scope="module")
def neap() -> PortCall:
    """Example 2 on a small tide: a little too little water on the bar, and on the flat after it."""
    call = read_call(EXAMPLES / "2-bar-bulk-carrier")
    return replace(call, start=call.start + timedelta(days=5, hours=5, minutes=20), search_end=call.search_begin + timedelta(days=2))


@pytest.fixture(scope="module")
def neap_prepared(neap: PortCall) -> Prepared:
    return prepare(neap)


@pytest.fixture(scope="module")
def answer(neap: PortCall, neap_prepared: Prepared) -> Assessment:
    return assess(neap, neap_prepared)


def test_what_is_left_of_an_unchanged_call_is_what_the_account_says(
    neap: PortCall, neap_prepared: Prepared, answer: Assessment
) -> None:
    found = left(neap_prepared, neap, neap.start)
    assert found.margin == pytest.approx(float(answer.account.margin.min()), abs=1e-9)
    assert answer.account.margin[found.station] == pytest.approx(found.margin, abs=1e-9)


def test_a_change_that_cannot_be_computed_holds_nowhere(neap: PortCall, neap_prepared: Prepared) -> None:
    plans = tuple(replace(plan, order="stop", speed=None) for plan in neap.plans)
    assert left(neap_prepared, replace(neap, plans=plans), neap.start).margin == IMPOSSIBLE
    assert not holds(neap_prepared, replace(neap, plans=plans), neap.start)


def test_other_speeds_are_found_where_one_reach_alone_would_not_do(neap: PortCall, answer: Assessment) -> None:
    kinds = {one.kind: one for one in answer.remedies}
    assert not kinds["slower"].works
    assert kinds["speeds"].works
    assert kinds["speeds"].sentence == "Run Bar Channel at 5.8 kn, Cockle Reach at 5.8 kn, the rest as planned."
    planned = with_speeds(neap, {"Bar Channel": 5.8 * KNOT, "Cockle Reach": 5.8 * KNOT})
    assert assess(planned).verdict.go


def test_no_speed_leaves_her_bounds(neap: PortCall) -> None:
    """She steers from 3.8 kn by her card: a shoal that only less would pass is told as without a plan."""
    areas = tuple(
        replace(area, depth=area.depth - 1.0) if area.name == "Pellisand Bar" else area for area in neap.waterway.areas
    )
    shoal = prepare(replace(neap, waterway=replace(neap.waterway, areas=areas)))
    assert not speed_plan(shoal, neap.start).works


def test_a_pair_spares_lightening(neap: PortCall) -> None:
    """Where no speeds do, a knot slower on the bar spares some of the lightening, and the pair holds when assessed."""
    areas = tuple(
        replace(area, depth=area.depth - 0.35) if area.name in ("Pellisand Bar", "Cockle Flat") else area
        for area in neap.waterway.areas
    )
    call = replace(neap, waterway=replace(neap.waterway, areas=areas))
    prepared = prepare(call)
    found = assess(call, prepared)
    kinds = {one.kind: one for one in remedies(prepared, found.verdict.binding, found.windows, call.start)}
    pair, alone = kinds["slower_and_less_draught"], kinds["less_draught"]
    assert not kinds["speeds"].works
    assert pair.works
    assert alone.works
    assert alone.change < pair.change < 0.0
    lighter = replace(
        call.loading,
        draught_forward=call.loading.draught_forward + pair.change,
        draught_aft=call.loading.draught_aft + pair.change,
        displacement=call.loading.displacement
        * (call.loading.mean_draught + pair.change)
        / call.loading.mean_draught,
    )
    slow = with_speeds(replace(call, loading=lighter), {"Bar Channel": 7.8 * KNOT})
    assert assess(slow).account.margin.min() >= -0.001


def test_early_and_late_are_the_answers_of_those_starts(neap: PortCall, neap_prepared: Prepared, answer: Assessment) -> None:
    assert [one.start - neap.start for one in answer.others] == [timedelta(minutes=15 * step) for step in range(-4, 5)]
    for one in answer.others[::4]:
        alone = assess(neap.starting(one.start), neap_prepared)
        assert one.holds == (alone.verdict.binding.margin >= 0.0)
        assert one.binding == alone.verdict.binding


def test_before_the_bar_she_can_turn_back(answer: Assessment) -> None:
    """The last place to turn lies before the bar; what is told ahead of it is the bar, and the time she passes it."""
    first, outer, *_ = answer.turn_backs
    assert first.place == ""
    assert first.time == answer.call.start
    assert outer.place == "Outer Approach"
    assert outer.ahead == "Pellisand Bar"
    assert outer.margin == pytest.approx(float(answer.account.margin.min()))
    assert answer.call.start < outer.time < outer.ahead_time


def test_a_basin_too_small_to_turn_in_is_no_way_back(neap: PortCall) -> None:
    """1.5 lengths with tugs (UFC 4-150-06, water.md 4.5, seen): 180 m of ship, 360 m of basin; 4 lengths without."""
    without = assess(replace(neap, tugs=()))
    assert [one.place for one in without.turn_backs] == ["", "Outer Approach"]

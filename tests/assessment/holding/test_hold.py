"""Is she held: the balance closes, a mirrored question has the mirrored answer, less means never hold more."""

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.holding.case import Place, Situation
from leadsman.assessment.holding.hold import hold
from leadsman.assessment.holding.means import Kind, ways
from leadsman.physics import wind_profile
from leadsman.units import DEGREE, KNOT, TONNE_FORCE

one_newton = 1.0
LEVER = 150.0


@pytest.mark.parametrize("from_deg", [0.0, 35.0, 90.0, 130.0, 180.0, -60.0, -110.0])
def test_balance_closes_to_a_newton(container, tug_sets, from_deg: float) -> None:
    case = container(
        tugs=tug_sets["three"], wind_from=from_deg * DEGREE, current_speed=0.3, current_from=-40.0 * DEGREE
    )
    found = hold(case)
    assert found.held
    made = np.sum([[order.surge, order.sway, order.yaw] for order in found.orders], axis=0)
    left = made + found.wind + found.current
    np.testing.assert_allclose(left[:2], 0.0, atol=one_newton)
    assert abs(left[2]) < one_newton * LEVER
    np.testing.assert_allclose(left, found.unbalanced, atol=1e-3)


def test_wind_abeam_is_the_worked_one(container) -> None:
    """Wind abeam of 25 kn on F1, no gust: Blendermann 775 kN and -1550 kNm to leeward (forces sheet 4.4, worked)."""
    case = container(wind_speed=25.0 * KNOT, planning=replace(container().planning, gust_seconds=600.0))
    blendermann = next(each for each in case.windages if each.method == "blendermann")
    load = case.wind_loads(case.wind_speed, case.wind_from, blendermann)
    assert load[1] / 1000.0 == pytest.approx(-775.0, rel=0.005), "from starboard: to port"
    assert load[2] / 1000.0 == pytest.approx(1550.0, rel=0.005), "leeward -1550: the stern goes to port"


def test_the_gust_is_counted(container) -> None:
    calm = container(planning=replace(container().planning, gust_seconds=600.0))
    ratio = container().wind_loads(10.0, 1.0)[1] / calm.wind_loads(10.0, 1.0)[1]
    assert ratio == pytest.approx(wind_profile.gust_factor(30.0, 600.0) ** 2)


def test_the_heaviest_method_is_the_answer(container, tug_sets) -> None:
    found = hold(container(tugs=tug_sets["two"]))
    assert set(found.by_method) == {"fujiwara", "blendermann"}
    assert found.reserve == min(found.by_method.values())


def test_a_bow_thruster_alone_does_not_hold_a_wind_abeam(container) -> None:
    found = hold(container())
    assert not found.held
    assert found.drift_speed > 0.2
    assert np.abs(found.unbalanced[1]) > 100e3
    used = {order.name: order.used for order in found.orders}
    assert used["bow thruster"] == pytest.approx(1.0, abs=1e-6)


def test_mirrored_question_mirrored_answer(container, tug_sets, mirrored, quay) -> None:
    for case in (
        container(tugs=tug_sets["three"], wind_from=70.0 * DEGREE, current_speed=0.4, current_from=20.0 * DEGREE),
        container(tugs=tug_sets["two"], situation=Situation.ALONGSIDE, quay=quay, wind_from=-80.0 * DEGREE),
    ):
        here, there = hold(case), hold(mirrored(case))
        assert here.reserve == pytest.approx(there.reserve, abs=1e-6)
        np.testing.assert_allclose(there.wind, here.wind * [1.0, -1.0, -1.0], atol=one_newton)


def test_defective_thruster_costs_reserve(container, tug_sets) -> None:
    for tugs in (tug_sets["two"], tug_sets["two"][1:]):
        ready = container(tugs=tugs)
        defective = replace(ready, thrusters=(replace(ready.thrusters[0], available=0.0),))
        assert hold(defective).reserve < hold(ready).reserve - 0.01
    assert hold(ready).reserve > -0.5
    assert not hold(defective).held, "without thruster one tug at the stern holds no wind abeam"


def test_reserve_is_how_much_more_is_held(container, tug_sets) -> None:
    case = container(tugs=tug_sets["two"])
    reserve = hold(case).reserve
    just = replace(case, wind_speed=case.wind_speed * math.sqrt(1.0 + reserve))
    assert hold(just).reserve == pytest.approx(0.0, abs=1e-6)
    assert not hold(replace(case, wind_speed=1.001 * just.wind_speed)).held


def test_a_quarter_is_kept_in_hand_where_it_can_be(container, tug_sets) -> None:
    case = container(tugs=tug_sets["three"], wind_speed=6.0)
    found = hold(case)
    assert found.reserve > 1.0 / 0.75
    assert all(order.used <= 0.75 + 1e-6 for order in found.orders)
    light = hold(container(tugs=tug_sets["three"], wind_speed=1.0, wind_from=0.0))
    assert sum(order.used for order in light.orders if order.kind is Kind.TUG) < 0.1, "tugs are asked last"


def test_fenders_bear_what_presses_her_on(container, quay) -> None:
    onto = hold(container(situation=Situation.ALONGSIDE, quay=quay, wind_from=-90.0 * DEGREE, wind_speed=15.0))
    assert onto.held
    assert sum(order.used for order in onto.orders if order.kind is Kind.FENDER) > 0.0
    off = hold(container(situation=Situation.ALONGSIDE, quay=quay, wind_from=90.0 * DEGREE, wind_speed=15.0))
    assert not off.held, "fenders do not pull"


def test_no_tug_between_ship_and_quay(container, tug, quay) -> None:
    inside = tug("Cedar", Place.STARBOARD_BOW)
    at_sea = container(tugs=(inside,))
    at_quay = replace(at_sea, situation=Situation.ALONGSIDE, quay=quay)
    reach = {
        case.situation: next(m for m in ways(case)[0].means if m.name == "Cedar").reach for case in (at_sea, at_quay)
    }
    assert np.max(np.abs(reach[Situation.BASIN])) > 0.0
    assert np.max(np.abs(reach[Situation.ALONGSIDE])) == 0.0


def test_a_closed_quay_takes_from_the_thrust_away_from_it(container, quay) -> None:
    reach = next(
        m for m in ways(container(situation=Situation.OFF_THE_BERTH, quay=quay))[0].means if m.kind is Kind.THRUSTER
    ).reach
    to_starboard, to_port = reach[:, 1]
    assert -to_port / to_starboard == pytest.approx(0.8), "forces sheet 3.2 [tool setting]"


def test_a_screw_is_never_ahead_and_astern_at_once(container) -> None:
    assert [way.engines for way in ways(container())] == ["engine ahead", "engine astern"]
    in_turn = container(planning=replace(container().planning, kicks_in_turn=True))
    assert [way.engines for way in ways(in_turn)] == ["engine kicks"]


def test_twin_screws_twist(ferry) -> None:
    """Port ahead and starboard astern turn her to starboard without headway; a wind on the stern is met by it."""
    assert len(ways(ferry)) == 4
    found = hold(replace(ferry, wind_from=90.0 * DEGREE, wind_speed=6.0))
    assert found.held
    assert "ahead" in found.engines
    assert "astern" in found.engines


def test_under_way_the_hull_crabs(container) -> None:
    def at_speed(speed_kn: float):
        screw = replace(container().screws[0], rudder_free=4.0e3 * speed_kn**2)
        return container(
            situation=Situation.UNDER_WAY, speed=speed_kn * KNOT, wind_speed=6.0, screws=(screw,), thrusters=()
        )

    found = hold(at_speed(9.0))
    assert found.held
    hull = next(order for order in found.orders if order.kind is Kind.HULL)
    assert hull.sway > 0.0, "wind from starboard: the hull lifts to starboard"
    assert found.unbalanced[0] == 0.0
    assert hold(at_speed(4.0)).reserve < found.reserve


def test_under_way_she_goes_with_the_water(container) -> None:
    case = container(situation=Situation.UNDER_WAY, speed=8.0 * KNOT, current_speed=1.0, current_from=90.0 * DEGREE)
    np.testing.assert_array_equal(hold(case).current, 0.0)


def test_a_surge_allowance_only_helps(container, tug_sets) -> None:
    case = container(tugs=tug_sets["two"])
    let = replace(case, planning=replace(case.planning, surge_allowance=100e3))
    assert hold(let).reserve >= hold(case).reserve - 1e-9


def test_calm_is_held_at_the_most_that_is_told(container, tug_sets) -> None:
    found = hold(container(tugs=tug_sets["two"], wind_speed=0.0))
    assert found.held
    assert found.reserve == pytest.approx(19.0)
    assert all(order.force < TONNE_FORCE * 1e-3 for order in found.orders)


def test_refusals(container) -> None:
    with pytest.raises(ValueError, match="situation alongside needs a quay"):
        container(situation=Situation.ALONGSIDE)
    with pytest.raises(ValueError, match="situation basin is a stopped ship; expected speed 0, got 2 m/s"):
        container(speed=2.0)
    with pytest.raises(ValueError, match="no windage is given; expected at least one method's"):
        container(windages=())


def test_limits_are_marked(container) -> None:
    assert container().breaches == ()
    (breach,) = container(current_speed=2.0).breaches
    assert str(breach) == "stream rate 2 is outside 0 to 1.5"
    wide = replace(container().planning, drift_angle=0.3)
    (breach,) = container(situation=Situation.UNDER_WAY, speed=3.0, planning=wide).breaches
    assert breach.quantity == "drift_angle"


def test_pods_push_all_round(ferry) -> None:
    """Two pods of 400 kN turned abeam and no thruster: 0.85 x 800 kN at -85 m; the yaw must come from elsewhere."""
    pods = tuple(replace(each, pod=True, ahead=400e3, rudder_position=None) for each in ferry.screws)
    (way,) = ways(replace(ferry, screws=pods))
    assert way.engines == ""
    reach = next(means.reach for means in way.means if means.kind is Kind.SCREW)
    assert np.max(reach[:, 1]) == pytest.approx(0.85 * 400e3), "manoeuvring sheet 9: 5 to 15 % lost [memory]"
    assert np.max(reach[:, 0]) == pytest.approx(400e3)
    podded = hold(replace(ferry, screws=pods, wind_speed=8.0, wind_from=90.0 * DEGREE))
    assert podded.held
    assert podded.reserve > hold(replace(ferry, wind_speed=8.0, wind_from=90.0 * DEGREE)).reserve
    under_way = replace(
        ferry,
        screws=tuple(replace(each, steady_ahead=100e3) for each in pods),
        situation=Situation.UNDER_WAY,
        speed=3.0,
        wind_speed=5.0,
    )
    sides = [means.reach[:, 1] for means in ways(under_way)[0].means if means.kind is Kind.SCREW]
    np.testing.assert_allclose(sides, [[85e3, -85e3]] * 2)

"""Tugs needed and where: statics against the hold they give, rules beside them."""

import itertools
from dataclasses import replace

import pytest

from leadsman.assessment.holding import tugs
from leadsman.assessment.holding.case import Place, Situation, tug_positions
from leadsman.assessment.holding.hold import hold
from leadsman.units import TONNE_FORCE


def test_what_statics_ask_just_holds(container, tug) -> None:
    places = (tug("forward", Place.FORWARD), tug("aft", Place.AFT))
    case = container(wind_speed=12.0)
    needed = tugs.tugs_needed(case, places)
    assert needed.by_statics is not None
    just = tuple(replace(each, bollard_pull=needed.by_statics[each.place] * 1.0001 + 1.0) for each in places)
    weaker = tuple(replace(each, bollard_pull=each.bollard_pull * 0.99) for each in just)
    assert hold(replace(case, tugs=just)).held
    assert not hold(replace(case, tugs=weaker)).held
    assert needed.total_by_statics == pytest.approx(sum(needed.by_statics.values()))


def test_rules_stand_beside(container, tug) -> None:
    case = container(wind_speed=12.0)
    needed = tugs.tugs_needed(case, (tug("forward", Place.FORWARD), tug("aft", Place.AFT)))
    side = max(abs(float(case.wind_loads(12.0, case.wind_from, each)[1])) for each in case.windages)
    assert needed.by_rules["windage"] == pytest.approx(1.25 * side / 0.8), "forces sheet 4.4 [memory]"
    expected = 95000.0 / 100000.0 * 60.0 + 40.0
    assert needed.by_rules["displacement"] / TONNE_FORCE == pytest.approx(expected), "forces sheet 4.4 [memory, weak]"
    assert needed.two_at_least


def test_a_defective_thruster_raises_them(container, tug) -> None:
    places = (tug("forward", Place.FORWARD), tug("aft", Place.AFT))
    ready = container(wind_speed=12.0)
    defective = replace(ready, thrusters=(replace(ready.thrusters[0], available=0.0),))
    first, second = (tugs.tugs_needed(case, places).total_by_statics for case in (ready, defective))
    assert second - first > 10.0 * TONNE_FORCE


def test_number(container, tug) -> None:
    places = (tug("forward", Place.FORWARD), tug("aft", Place.AFT))
    needed = tugs.tugs_needed(container(wind_speed=12.0), places)
    assert needed.number(60.0 * TONNE_FORCE) >= 2
    assert needed.number(20.0 * TONNE_FORCE) > needed.number(60.0 * TONNE_FORCE)
    calm = tugs.tugs_needed(container(wind_speed=0.0), places)
    assert calm.number(60.0 * TONNE_FORCE) == 0
    one_place = tugs.tugs_needed(container(wind_speed=12.0), (tug("forward", Place.FORWARD),))
    assert one_place.by_statics is None
    assert one_place.number(60.0 * TONNE_FORCE) is None
    assert one_place.total_by_statics is None


def test_which_tug_where(container, tug, positions) -> None:
    """Unlike tugs, wind abeam: every placing on the leads is tried by hand, none beats the one found."""
    offered = (tug("weak", Place.FORWARD, 30.0), tug("strong", Place.FORWARD, 70.0))
    leads = {place: positions[place] for place in (Place.FORWARD, Place.AFT)}
    case = container(wind_speed=12.0)
    placed = tugs.place_tugs(case, offered, leads)
    tried = []
    for first, second in ((Place.FORWARD, Place.AFT), (Place.AFT, Place.FORWARD)):
        there = tuple(
            replace(each, place=place, position=leads[place])
            for each, place in zip(offered, (first, second), strict=True)
        )
        tried.append(hold(replace(case, tugs=there)).reserve)
    assert placed.holding.reserve == pytest.approx(max(tried), abs=1e-4)
    strong = next(each for each in placed.tugs if each.name == "strong")
    assert strong.place is Place.AFT, "the bow has its thruster"


def test_no_tug_is_put_between_ship_and_quay(container, tug, positions, quay) -> None:
    offered = tuple(tug(name, Place.FORWARD, 60.0) for name in ("Alder", "Birch", "Cedar"))
    case = container(situation=Situation.ALONGSIDE, quay=quay, wind_speed=12.0)
    placed = tugs.place_tugs(case, offered, positions)
    assert placed.tugs
    assert all(each.place.side != quay.side for each in placed.tugs)
    assert placed.holding.held


def test_smallest_set(container, tug, positions) -> None:
    """What is found holds; no fewer tugs at any places do, tried one by one."""
    offered = tuple(tug(f"tug {tonnes:.0f}", Place.FORWARD, tonnes) for tonnes in (70.0, 35.0, 50.0))
    counts = []
    for wind_speed in (0.0, 8.0, 11.0):
        case = container(wind_speed=wind_speed)
        found = tugs.smallest_set(case, offered, positions)
        assert found is not None
        assert found.holding.held
        counts.append(len(found.tugs))
        for fewer in range(len(found.tugs)):
            for some in itertools.permutations(offered, fewer):
                for places in itertools.combinations(positions.items(), fewer):
                    there = tuple(
                        replace(each, place=place, position=position)
                        for each, (place, position) in zip(some, places, strict=True)
                    )
                    assert not hold(replace(case, tugs=there)).held
    assert counts[0] == 0
    assert counts == sorted(counts)
    assert counts[-1] >= 2
    assert tugs.smallest_set(container(wind_speed=40.0), offered, positions) is None


def test_nobody_offered(container, positions) -> None:
    placed = tugs.place_tugs(container(), (), positions)
    assert placed.tugs == ()
    assert not placed.holding.held


def test_usual_positions() -> None:
    found = tug_positions(200.0, (-45.0, 50.0))
    assert found[Place.FORWARD] == pytest.approx(96.0)
    assert found[Place.PORT_BOW] == found[Place.STARBOARD_BOW] == 50.0
    assert found[Place.AFT] < -90.0

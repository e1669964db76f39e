"""The limit roses against the linear program, symmetry, and what every handler knows of more and less."""

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.holding import rose
from leadsman.assessment.holding.case import Situation
from leadsman.assessment.holding.hold import hold
from leadsman.units import DEGREE, KNOT

hundredth_knot = 0.01 * KNOT


def test_rose_is_where_the_linear_program_just_holds(container, tug_sets) -> None:
    case = container(current_speed=0.2, current_from=10.0 * DEGREE)
    found = rose.wind_rose(case, {"two": tug_sets["two"]}, directions=12)
    for wind_from, limit in zip(found.directions, found.limits["two"], strict=True):
        asked = replace(case, tugs=tug_sets["two"], wind_from=float(wind_from))
        assert 0.0 < limit < rose.WIND_CEILING
        assert hold(replace(asked, wind_speed=float(limit) * 0.999)).held
        assert not hold(replace(asked, wind_speed=float(limit) * 1.001)).held


def test_under_way_too(container, tug_sets) -> None:
    case = container(situation=Situation.UNDER_WAY, speed=6.0 * KNOT)
    found = rose.wind_rose(case, {"two": tug_sets["two"]}, directions=8)
    for wind_from, limit in zip(found.directions, found.limits["two"], strict=True):
        if limit < rose.WIND_CEILING:
            asked = replace(case, tugs=tug_sets["two"], wind_from=float(wind_from))
            assert hold(replace(asked, wind_speed=float(limit) - hundredth_knot)).held
            assert not hold(replace(asked, wind_speed=float(limit) + hundredth_knot)).held


def test_current_too(container, tug_sets) -> None:
    case = container(wind_speed=5.0, wind_from=100.0 * DEGREE)
    found = rose.current_rose(case, {"three": tug_sets["three"]}, directions=8)
    for current_from, limit in zip(found.directions, found.limits["three"], strict=True):
        if limit < rose.CURRENT_CEILING:
            asked = replace(case, tugs=tug_sets["three"], current_from=float(current_from))
            assert hold(replace(asked, current_speed=float(limit) - 0.002)).held
            assert not hold(replace(asked, current_speed=float(limit) + 0.002)).held


def test_more_tugs_never_shrink_it(container, tug_sets) -> None:
    found = rose.wind_rose(container(), tug_sets)
    for fewer, more in (("none", "one"), ("one", "two"), ("two", "three")):
        assert np.all(found.limits[more] >= found.limits[fewer] - 1e-6)
    assert found.worst("three")[0] > 8.0 * KNOT
    assert found.worst("none")[0] == pytest.approx(0.0, abs=1e-6), "no engine balances a bow thruster"


def test_a_defective_thruster_shrinks_it(container, tug_sets) -> None:
    ready = container()
    defective = replace(ready, thrusters=(replace(ready.thrusters[0], available=0.0),))
    here, there = (rose.wind_rose(case, tug_sets) for case in (ready, defective))
    assert np.all(there.limits["two"] <= here.limits["two"] + 1e-6)
    assert np.max(here.limits["two"] - there.limits["two"]) > 1.0 * KNOT
    assert there.worst("two")[0] < here.worst("two")[0] - 0.2 * KNOT


def test_a_symmetric_ship_has_a_symmetric_rose(ferry) -> None:
    found = rose.wind_rose(ferry, {"none": ()})
    limits = found.limits["none"]
    np.testing.assert_allclose(limits[1:], limits[:0:-1], atol=hundredth_knot)
    assert np.min(limits) > 5.0 * KNOT


def test_a_mirrored_ship_has_the_mirrored_rose(container, tug_sets, mirrored, quay) -> None:
    case = container(
        situation=Situation.ALONGSIDE, quay=quay, tugs=tug_sets["three"], current_speed=0.3, current_from=0.4
    )
    here = rose.wind_rose(case, {"set": case.tugs}).limits["set"]
    other = mirrored(case)
    there = rose.wind_rose(other, {"set": other.tugs}).limits["set"]
    np.testing.assert_allclose(there, np.roll(here[::-1], 1), atol=hundredth_knot)


def test_alongside_an_onshore_wind_is_the_fenders_affair(container, tug_sets, quay) -> None:
    case = container(situation=Situation.ALONGSIDE, quay=quay)
    limits = rose.wind_rose(case, {"two": tug_sets["two"]}).limits["two"]
    offshore, onshore = limits[9], limits[27]
    assert onshore > 2.0 * offshore


def test_a_current_alone_too_strong_leaves_nothing(container) -> None:
    case = container(current_speed=1.5, current_from=90.0 * DEGREE)
    np.testing.assert_array_equal(rose.wind_rose(case, {"none": ()}).limits["none"], 0.0)


def test_ceiling_is_told_as_such(ferry) -> None:
    tiny = tuple(replace(each, lateral_area=1.0, transverse_area=1.0) for each in ferry.windages)
    found = rose.wind_rose(replace(ferry, windages=tiny), {"none": ()})
    assert np.all(found.limits["none"] == found.ceiling)


def test_no_current_rose_under_way(container) -> None:
    case = container(situation=Situation.UNDER_WAY, speed=3.0)
    with pytest.raises(ValueError, match="under_way she goes with the water"):
        rose.current_rose(case, {"none": ()})


def test_polar(container, ferry, tug_sets) -> None:
    found = rose.polar(container(tugs=tug_sets["two"]))
    assert found.force.shape == found.directions.shape
    assert np.min(found.force) > 300e3
    assert found.turn_to_starboard > 50e6
    alone = rose.polar(ferry)
    np.testing.assert_allclose(alone.force[1:], alone.force[:0:-1], rtol=1e-6)
    assert alone.turn_to_port == pytest.approx(alone.turn_to_starboard, rel=1e-6)
    ahead = alone.force[0]
    assert ahead == pytest.approx(2 * 500e3, rel=1e-6), "both engines ahead, rudders amidships"


def test_twin_screw_turn_by_hand(ferry) -> None:
    """Screws alone, no rudder, no thruster: the twist 300 kN ahead and astern on 6 m each side is 3600 kNm."""
    bare = replace(
        ferry, thrusters=(), screws=tuple(replace(each, rudder_position=None, rudder_side=0.0) for each in ferry.screws)
    )
    found = rose.polar(bare)
    assert found.turn_to_starboard == pytest.approx(300e3 * 12.0, rel=1e-6), "by hand"
    assert math.isclose(found.turn_to_port, found.turn_to_starboard, rel_tol=1e-6)

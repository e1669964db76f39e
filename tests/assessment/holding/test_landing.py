"""Landing, lines before tugs let go, lifting off."""

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.holding.case import Situation
from leadsman.assessment.holding.hold import hold
from leadsman.assessment.holding.landing import (
    Approach,
    land,
    lift_off,
    lines_until_fast,
    offshore_force,
    speed_onto_quay,
)
from leadsman.units import DEGREE

TANKER = Approach(
    displacement=100e6,
    length_between_perpendiculars=230.0,
    beam=42.0,
    draught=14.5,
    block_coefficient=0.82,
    underkeel_clearance=3.0,
    speed=0.12,
    angle=6.0 * DEGREE,
    contact=57.5,
    softness=1.0,
    configuration=1.0,
    allowed_energy=None,
    allowed_speed=None,
)


def test_energy_of_the_tanker() -> None:
    found = land(TANKER)
    assert found.by_method["vasco_costa"] / 1000.0 == pytest.approx(725.0, rel=0.005), "forces sheet check 26"
    assert found.by_method["ueda"] / 1000.0 == pytest.approx(713.0, rel=0.005), "forces sheet check 27"
    assert found.energy == max(found.by_method.values())
    assert found.eccentricity == pytest.approx(0.596, rel=0.005), "forces sheet check 26"
    assert found.design_speeds["difficult berthing, sheltered"] == pytest.approx(0.083, abs=0.0005), "check 28"
    assert (found.within, found.greatest_speed, found.reaction) == (None, None, None)


def test_greatest_speed_brings_what_is_allowed() -> None:
    limited = replace(TANKER, allowed_energy=500e3)
    found = land(limited)
    assert found.within is False
    at_limit = land(replace(limited, speed=found.greatest_speed))
    assert at_limit.energy == pytest.approx(500e3)
    ruled = land(replace(limited, allowed_speed=0.05))
    assert ruled.greatest_speed == 0.05


def test_landing_flat_brings_more() -> None:
    assert land(replace(TANKER, contact=None)).eccentricity == 1.0
    assert land(replace(TANKER, contact=None)).energy > land(TANKER).energy


def test_fender() -> None:
    curve = {"fender_deflection": np.array([0.0, 1.0]), "fender_reaction": np.array([0.0, 2000e3])}
    found = land(replace(TANKER, **curve))
    assert found.reaction is not None
    assert found.deflection == pytest.approx(math.sqrt(found.energy / 1000e3)), "a spring of 2000 kN/m, by hand"
    hard = land(replace(TANKER, speed=0.3, **curve))
    assert hard.reaction is None, "beyond the curve nothing is told"


def test_offshore_force_and_lines(container, quay) -> None:
    off = container(situation=Situation.ALONGSIDE, quay=quay, wind_from=90.0 * DEGREE)
    on = replace(off, wind_from=-90.0 * DEGREE)
    heaviest = max(abs(float(off.wind_loads(10.0, off.wind_from, each)[1])) for each in off.windages)
    assert offshore_force(off) == pytest.approx(heaviest)
    assert offshore_force(on) == 0.0
    expected = math.ceil(1.25 * heaviest / (0.65 * 600e3))
    assert lines_until_fast(off, 600e3, math.pi / 2.0) == expected, "forces sheet 7, by hand"
    assert lines_until_fast(on, 600e3, math.pi / 2.0) == 0


def test_lifting_off(container, tug_sets, quay) -> None:
    case = container(situation=Situation.OFF_THE_BERTH, quay=quay, tugs=tug_sets["two"], wind_speed=0.0)
    calm = lift_off(case, 20.0)
    assert calm.force > 300e3
    mass = 95e6 * (1.0 + 2.0 * 12.5 / 40.0)
    assert calm.seconds == pytest.approx(math.sqrt(2.0 * 20.0 * mass / calm.force)), "by hand: s = a t²/2"
    onshore = replace(case, wind_from=-90.0 * DEGREE, wind_speed=6.0)
    assert 0.0 < lift_off(onshore, 20.0).force < calm.force
    strong = lift_off(replace(onshore, wind_speed=25.0), 20.0)
    assert strong.force < 0.0
    assert strong.seconds == math.inf


def test_lifting_off_ends_where_holding_ends(container, tug_sets, quay) -> None:
    """The wind in which no force is left to lift her off is the wind that is just held."""
    case = container(
        situation=Situation.OFF_THE_BERTH, quay=quay, tugs=tug_sets["two"], wind_from=-90.0 * DEGREE, wind_speed=9.0
    )
    reserve = hold(case).reserve
    just = replace(case, wind_speed=9.0 * math.sqrt(1.0 + reserve))
    assert lift_off(just, 20.0).force == pytest.approx(0.0, abs=5.0)


def test_drifting_onto_the_quay(container, quay) -> None:
    case = container(situation=Situation.OFF_THE_BERTH, quay=quay)
    near, far = (speed_onto_quay(case, 200e3, distance) for distance in (5.0, 2000.0))
    mass = 95e6 * (1.0 + 2.0 * 12.5 / 40.0)
    assert near == pytest.approx(math.sqrt(2.0 * 200e3 * 5.0 / mass), rel=0.1), "at first, work and energy"
    assert near < far
    coefficient = case.hull.lateral_coefficient(case.water_depth)
    assert far == pytest.approx(math.sqrt(2.0 * 200e3 / (1025.0 * 285.0 * 12.5 * coefficient)), rel=0.01), "4.4"
    assert speed_onto_quay(case, -200e3, 50.0) == 0.0


def test_no_quay(container) -> None:
    with pytest.raises(ValueError, match="there is no quay to be lifted off from"):
        offshore_force(container())
    with pytest.raises(ValueError, match="there is no quay to lift off from"):
        lift_off(container(), 1.0)
    with pytest.raises(ValueError, match="there is no quay to drift onto"):
        speed_onto_quay(container(), 1.0, 1.0)

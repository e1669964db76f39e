"""Lying to an anchor: the sheet's worked tanker, and what follows from its parts."""

import math
from dataclasses import replace

import pytest

from leadsman.assessment.holding.anchoring import AnchoringCase, anchor_her, emergency_stop
from leadsman.assessment.holding.case import HullInStream
from leadsman.assessment.holding.windage import Profile, windages
from leadsman.physics import anchor
from leadsman.units import AIR_DENSITY, KNOT, SEA_WATER_DENSITY, STANDARD_GRAVITY

PROFILE = Profile(
    ship_type="tanker, loaded",
    length_overall=244.0,
    beam=42.0,
    lateral_area=2900.0,
    transverse_area=1000.0,
    centroid_forward=-6.0,
    height=10.0,
    superstructure_area=700.0,
    outline=320.0,
    mast_groups=1.0,
)
ISHERWOOD = tuple(each for each in windages(PROFILE, 1.0 / 7.0, AIR_DENSITY) if each.method == "isherwood")
TANKER = AnchoringCase(
    length_overall=244.0,
    beam=42.0,
    displacement=118e6,
    windages=ISHERWOOD,
    hull=HullInStream(
        length_waterline=230.0,
        beam=42.0,
        draught=14.5,
        block_coefficient=0.82,
        midship_coefficient=0.995,
        propeller="tanker",
        propellers=1,
        form="merchant",
        density=SEA_WATER_DENSITY,
    ),
    anchor_type="stockless, flukes fixed open",
    anchor_mass=12000.0,
    bottom="mud",
    chain_diameter=0.090,
    chain_grade="U2",
    cable_on_board=12 * 27.5,
    shackle=27.5,
    hawse_above_water=10.0,
    hawse_to_windlass=8.0,
    water_depth=20.0,
    wind_speed=20.0,
    current_speed=1.0,
    gust_seconds=600.0,
    amplification=1.5,
)


def test_worked_tanker() -> None:
    """Wind 20 m/s ahead 242 kN, current 1 m/s 66 kN; 12 000 kg stockless in mud 502 kN: ratio 1.08, in sand 1.46."""
    origin = "forces sheet 6.3, worked [computed]"
    found = anchor_her(TANKER)
    assert found.pull / 1000.0 == pytest.approx(308.0, rel=0.005), origin
    assert found.planned_pull / 1000.0 == pytest.approx(463.0, rel=0.005), origin
    assert found.ratio == pytest.approx(1.08, abs=0.01), origin
    assert anchor_her(replace(TANKER, bottom="sand")).ratio == pytest.approx(1.46, abs=0.01), origin
    assert found.cable_needed - 27.5 == pytest.approx(138.7, rel=0.005), origin
    assert found.brake / 1000.0 == pytest.approx(0.8 * 4093.0, rel=0.005)
    assert found.enough_cable
    assert not anchor_her(replace(TANKER, cable_on_board=150.0)).enough_cable
    on_deck, in_water = found.orders
    assert on_deck.shackles == 6.5, "by hand: (166.2 + 8) / 27.5 = 6.3"
    assert in_water.shackles == 6.0, "by hand: (166.2 - 10) / 27.5 = 5.7"


def test_greatest_wind_is_where_it_just_holds() -> None:
    found = anchor_her(TANKER)
    just = anchor_her(replace(TANKER, wind_speed=found.greatest_wind))
    assert just.ratio == pytest.approx(1.0)
    assert anchor_her(replace(TANKER, current_speed=6.0)).greatest_wind == 0.0


def test_gust_pulls_harder() -> None:
    assert anchor_her(replace(TANKER, gust_seconds=30.0)).pull > anchor_her(TANKER).pull


def test_swing_room() -> None:
    found = anchor_her(TANKER)
    assert found.swing_radius < found.cable_needed + 244.0
    assert found.swing_radius > math.sqrt(found.cable_needed**2 - 30.0**2) + 244.0 - 6.0


def test_depth_for_the_windlass() -> None:
    assert anchor_her(TANKER).windlass_can_lift
    assert not anchor_her(replace(TANKER, water_depth=90.0)).windlass_can_lift, "standards sheet 5: 82.5 m [seen]"


def test_calm() -> None:
    calm = anchor_her(replace(TANKER, wind_speed=0.0, current_speed=0.0, cable_on_board=1000.0))
    assert calm.ratio == math.inf
    assert calm.cable_needed == pytest.approx(30.0 + 27.5, abs=0.1), "up and down, and a shackle"


def test_bringing_up() -> None:
    found = anchor_her(TANKER)
    assert 0.0 < found.bringing_up_speed < 0.5 * KNOT


def test_emergency() -> None:
    force = 2.0 * (12000.0 * STANDARD_GRAVITY + 2.0 * anchor.chain_weight(0.090) * 30.0)
    found = emergency_stop(TANKER, 2, 3.0 * KNOT, 400.0)
    assert found.force == pytest.approx(force), "forces sheet 6.4 [common practice], by hand"
    assert found.distance == pytest.approx(1.05 * 118e6 * (3.0 * KNOT) ** 2 / (2.0 * force))
    assert found.within_walk_back
    again = emergency_stop(TANKER, 2, found.greatest_speed, 400.0)
    assert again.distance == pytest.approx(400.0)
    assert not emergency_stop(TANKER, 2, 5.0 * KNOT, 400.0).within_walk_back

"""Anchors against the forces sheet, section 10, its worked example, and the mechanics of a hanging chain."""

import math

import numpy as np
import pytest

from leadsman.physics import anchor
from leadsman.units import KNOT, STANDARD_GRAVITY

half_percent = 0.005
HOLDING = [  # mass, anchor, bottom, kN, origin
    (10000.0, "stockless, flukes fixed open", "mud", 424.0, "forces sheet check 29 [memory]"),
    (10000.0, "AC-14", "sand", 1054.0, "forces sheet check 30 [memory]"),
    (12000.0, "stockless, flukes fixed open", "mud", 502.0, "forces sheet 6.3, worked [memory]"),
    (12000.0, "stockless, flukes fixed open", "sand", 677.0, "forces sheet 6.3, worked [memory]"),
    (4536.0, "stockless", "mud", 2.4 * 4536 * STANDARD_GRAVITY / 1000.0, "forces sheet 6.1, ratio column [memory]"),
]


@pytest.mark.parametrize(("mass", "kind", "bottom", "expected", "origin"), HOLDING)
def test_holding(mass: float, kind: str, bottom: str, expected: float, origin: str) -> None:
    assert anchor.holding_ufc(mass, kind, bottom) / 1000.0 == pytest.approx(expected, rel=0.01), origin


def test_bottoms_relative_to_firm_sand() -> None:
    sand = anchor.holding_on(8000.0, "stockless", "firm sand")
    assert sand == anchor.holding_ufc(8000.0, "stockless", "sand")
    origin = "Crenshaw, Naval Shiphandling, as quoted [seen]"
    assert anchor.holding_on(8000.0, "stockless", "dense clay") == pytest.approx(1.5 * sand), origin
    assert anchor.holding_on(8000.0, "stockless", "rock") == 0.0, origin


def test_ratio() -> None:
    assert anchor.holding_ratio(1000.0, 3.0) == pytest.approx(3000.0 * STANDARD_GRAVITY)


def test_messages() -> None:
    with pytest.raises(ValueError, match="anchor 'brick' is not known; known: stockless, flukes fixed open, stockless"):
        anchor.holding_ufc(1.0, "brick", "mud")
    with pytest.raises(
        ValueError, match="anchor 'Flipper Delta' has no figures for bottom 'sand'; expected mud or sand"
    ):
        anchor.holding_ufc(1.0, "Flipper Delta", "sand")
    with pytest.raises(ValueError, match="bottom 'custard' is not known; known: firm sand, dense clay"):
        anchor.holding_on(1.0, "stockless", "custard")
    with pytest.raises(ValueError, match="chain grade 'U9' is not known; expected U1, U2, U3"):
        anchor.chain_breaking_load(0.08, "U9")


def test_chain() -> None:
    assert anchor.chain_weight(0.084) / 1000.0 == pytest.approx(1.3173, rel=half_percent), "forces sheet check 31"
    assert anchor.chain_weight(0.090) / 1000.0 == pytest.approx(1.512, rel=half_percent), "forces sheet 6.3, worked"
    origin = "class tables, 84 mm U2: 3610 kN (forces sheet 11) [memory]"
    assert anchor.chain_breaking_load(0.084, "U2") / 1000.0 == pytest.approx(3610.0, rel=0.001), origin
    assert anchor.chain_breaking_load(0.090, "U2") / 1000.0 == pytest.approx(4093.0, rel=0.001), "forces sheet 6.3"
    for grade in ("U1", "U2", "U3"):
        assert 0.66 < anchor.chain_proof_load(0.08, grade) / anchor.chain_breaking_load(0.08, grade) < 0.75


def test_catenary() -> None:
    origin = "forces sheet check 31 [derived]"
    found = anchor.catenary(35.0, 400e3, anchor.chain_weight(0.084))
    assert found.length == pytest.approx(149.9, rel=half_percent), origin
    assert found.span == pytest.approx(144.4, rel=half_percent), origin
    assert found.tension / 1000.0 == pytest.approx(446.1, rel=half_percent), origin


def test_worked_anchorage() -> None:
    """Tanker, 308 kN, 90 mm chain, 30 m: 114.6 m hang; yawing, 463 kN, 138.7 m hang, of six shackles 26 m lie."""
    origin = "forces sheet 6.3, worked [computed]"
    weight = anchor.chain_weight(0.090)
    steady = anchor.catenary(30.0, 308e3, weight)
    assert steady.length == pytest.approx(114.6, rel=half_percent), origin
    assert steady.tension / 1000.0 == pytest.approx(354.0, rel=half_percent), origin
    yawing = anchor.catenary(30.0, anchor.YAWING_AMPLIFICATION * 308.5e3, weight)
    assert yawing.length == pytest.approx(138.7, rel=half_percent), origin
    assert 6.0 * anchor.CLASS_SHACKLE - yawing.length == pytest.approx(26.0, abs=0.5), origin
    needed = anchor.cable_needed(30.0, 462.75e3, weight, anchor.LEFT_ON_BOTTOM)
    assert needed == pytest.approx(yawing.length + 27.5)


def test_pull_that_lifts_is_the_catenary_turned_round() -> None:
    weight = 1500.0
    length = anchor.catenary(30.0, 463e3, weight).length
    assert anchor.pull_that_lifts(30.0, length, weight) == pytest.approx(463e3)


RULES = [  # rule, depth, metres, origin
    ("fair_weather", 25.0, 165.0, "standards sheet check 32 [seen formula]"),
    ("rough_weather", 25.0, 245.0, "standards sheet check 32 [seen formula]"),
    ("root", 25.0, 195.0, "standards sheet check 32 [seen formula]"),
    ("admiralty", 25.0, 275.0, "by hand: 2 x 5 shackles of 27.5 m (forces sheet 6.4) [common practice]"),
]


@pytest.mark.parametrize(("rule", "depth", "expected", "origin"), RULES)
def test_cable_rules(rule: str, depth: float, expected: float, origin: str) -> None:
    assert anchor.CABLE_RULES[rule].function(depth) == pytest.approx(expected), origin


def test_swing_radius() -> None:
    weight = anchor.chain_weight(0.084)
    found = anchor.swing_radius(35.0, 400e3, weight, 200.0, 250.0)
    assert found == pytest.approx(144.4 + (200.0 - 149.9) + 250.0, abs=0.2), "forces sheet 6.4 on check 31"
    taut = anchor.swing_radius(35.0, 5e7, weight, 200.0, 250.0)
    assert taut == pytest.approx(math.sqrt(200.0**2 - 35.0**2) + 250.0), "never beyond the straight line"
    pulls = np.geomspace(1e3, 1e7, 50)
    assert np.all(np.diff(anchor.swing_radius(35.0, pulls, weight, 200.0, 250.0)) >= -1e-9)


def test_dragging_force() -> None:
    found = anchor.dragging_force(10000.0, 20.0, 1500.0, 1.0)
    assert found == pytest.approx(10000.0 * STANDARD_GRAVITY + 60e3), "forces sheet 6.4 [common practice]"


def test_friction_of_the_chain() -> None:
    assert anchor.chain_friction(1500.0, 100.0, 0.74) == pytest.approx(111e3), "forces sheet 6.1 [memory]"


def test_stopping() -> None:
    distance = anchor.stopping_distance(2.0 * KNOT, 60e6, 200e3)
    assert distance == pytest.approx(60e6 * (2.0 * KNOT) ** 2 / 400e3)
    assert anchor.stopping_speed(distance, 60e6, 200e3) == pytest.approx(2.0 * KNOT)


def test_energy_of_the_catenary_is_the_work_of_the_pull() -> None:
    """The hawse moves out by span less the chain it takes from the bed; the pull times that way, summed."""
    height, weight = 30.0, 1500.0
    pulls = np.geomspace(0.01, 800e3, 200_000)
    shapes = anchor.catenary(height, pulls, weight)
    out = shapes.span - shapes.length
    work = np.trapezoid(pulls, out)
    assert anchor.catenary_energy(height, 800e3, weight) == pytest.approx(work, rel=1e-3)
    assert anchor.catenary_energy(height, 1e-3, weight) == pytest.approx(0.0, abs=2.0)


def test_bringing_up_speed() -> None:
    weight = anchor.chain_weight(0.090)
    brake = anchor.BRAKE_SHARE * anchor.chain_breaking_load(0.090, "U2")
    speeds = [anchor.bringing_up_speed(40.0, cable, weight, brake, 100e6) for cable in (60.0, 140.0, 250.0, 500.0)]
    assert speeds == sorted(speeds), "more cable takes up more"
    assert speeds[1] < 0.5 * KNOT, "a large ship must be all but stopped (common practice, no source)"
    unlimited = anchor.bringing_up_speed(40.0, 1e5, weight, brake, 100e6)
    longer = anchor.bringing_up_speed(40.0, 2e5, weight, brake, 100e6)
    assert unlimited == longer, "then the brake is the limit"
    assert anchor.bringing_up_speed(40.0, 40.0, weight, brake, 100e6) == pytest.approx(0.0, abs=0.01)


ORDERS = [  # cable, hawse to windlass, hawse above water, on deck, in the water, origin
    (165.0, 0.0, 0.0, 6.0, 6.0, "six shackles of 27.5 m"),
    (165.0, 12.0, 15.0, 6.5, 5.5, "by hand: 177/27.5 = 6.44; 150/27.5 = 5.45"),
    (10.0, 12.0, 15.0, 1.0, 0.0, "by hand: 22/27.5 = 0.8; the anchor is not yet at the water"),
]


@pytest.mark.parametrize(("cable", "inboard", "height", "deck", "water", "origin"), ORDERS)
def test_orders(cable: float, inboard: float, height: float, deck: float, water: float, origin: str) -> None:
    on_deck, in_water = anchor.cable_order(cable, 27.5, inboard, height)
    assert on_deck == (deck, "on deck"), origin
    assert in_water == (water, "in the water"), origin

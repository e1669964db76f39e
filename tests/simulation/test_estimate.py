"""A ship made from a card alone: the card's own table comes back, the benchmark within the stated error, all kinds
believable."""

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.figure import Origin
from leadsman.physics import hull_force, shallow
from leadsman.simulation import kvlcc2, turning
from leadsman.simulation.estimate import estimate
from leadsman.simulation.parameters import Parameters
from leadsman.simulation.particulars import Particulars
from leadsman.simulation.state import even_depth
from leadsman.units import KNOT

AUTHORITY = Path(__file__).parents[2] / "authorities" / "kvlcc2"
KINDS = ("coaster", "bulk carrier", "container ship", "ferry", "cruise ship")


@pytest.mark.parametrize("kind", KINDS)
def test_the_engine_order_table_comes_back(examples: dict[str, Particulars], kind: str) -> None:
    """Every speed of the card within a third of a knot, the fastest within a tenth."""
    card = examples[kind]
    setting = estimate(card).setting()
    for line in card.orders:
        if line.speed is not None:
            near = 0.1 if line is card.fastest else 0.35
            assert setting.steady(line.order).speed / KNOT == pytest.approx(line.speed / KNOT, abs=near), line.order


@pytest.mark.parametrize("kind", KINDS)
def test_astern_is_slower_than_ahead(examples: dict[str, Particulars], kind: str) -> None:
    setting = estimate(examples[kind]).setting()
    astern, ahead = setting.steady("full_astern").speed, setting.steady("full_ahead").speed
    assert -1.05 * ahead < astern < -0.3 * ahead


@pytest.mark.parametrize("kind", KINDS)
def test_turning_is_that_of_a_ship(examples: dict[str, Particulars], kind: str) -> None:
    """Ships built satisfy MSC.137(76) as a rule: advance below 4.5, tactical diameter below 5 lengths; and none turns
    on a coin."""
    card = examples[kind]
    setting = estimate(card).setting()
    for side in (1.0, -1.0):
        circle = turning.turning_circle(setting, "full_sea_speed", side * setting.hard_over)
        assert circle.advance is not None
        assert circle.tactical_diameter is not None
        assert 2.0 < circle.advance / card.length < 4.5
        assert 1.0 < circle.tactical_diameter / card.length < 5.0


@pytest.mark.parametrize("kind", [*KINDS, "tanker"])
def test_every_estimated_hull_only_takes_energy(
    examples: dict[str, Particulars], tanker_card: Particulars, kind: str
) -> None:
    """Power of the hull force and the Munk moment over drift, turning and astern, in deep water."""
    card = tanker_card if kind == "tanker" else examples[kind]
    hull = estimate(card).parameters.hull
    block, drag = card.block_coefficient, hull.cross_flow_drag
    deep = shallow.factors(math.inf, card.length, card.beam, card.draught, block, drag)
    for speed in (0.5, 5.0):
        for drift in np.radians(np.arange(-180.0, 181.0, 5.0)):
            for swing in np.arange(-3.0, 3.01, 0.25):
                surge, sway = speed * math.cos(drift), -speed * math.sin(drift)
                rate = float(swing) * speed / card.length
                found = hull_force.force(hull, deep, 1025.0, 1.0, surge, sway, rate)
                munk = (hull.sway_added_mass - hull.surge_added_mass) * surge * sway * rate
                power = found.surge * surge + found.sway * sway + found.yaw * rate + munk
                assert power <= 0.0, (speed, math.degrees(drift), swing)


def test_the_benchmark_from_particulars_alone(tanker_card: Particulars) -> None:
    """Against the free-running experiment: the sheet (13, reading 4) expects -8 to +25 % on turning, overshoots too
    small.

    Found: advance -3 to +3 %, diameter -10 to +3 %, first overshoots 10/10 -15 to -25 %.
    """
    expected = tomllib.loads((AUTHORITY / "results.toml").read_text(encoding="utf-8"))
    setting = estimate(tanker_card).setting()
    for name, side in (("starboard", 1), ("port", -1)):
        circle = turning.turning_circle(setting, "full_sea_speed", side * math.radians(35.0))
        for figure in ("advance", "tactical_diameter"):
            value = getattr(circle, figure) / 320.0
            assert value == pytest.approx(expected[f"{name}_35"][figure]["experiment"], rel=0.12), (name, figure)
        zigzag = turning.zigzag(setting, "full_sea_speed", math.radians(10.0), side)
        first = math.degrees(zigzag.overshoots[0])
        assert first == pytest.approx(expected[f"zigzag_10_{name}"]["overshoots"]["experiment"][0], rel=0.30)


def test_shallow_water_slows_her_and_widens_her_turn(
    examples: dict[str, Particulars], tanker_card: Particulars
) -> None:
    """Sheet 7.2 and 7.3 [memory]: at depth/draught 1.2 a tanker loses 15 to 30 % of her speed, her circle grows 1.6
    to 2.0.

    Found 17 % and 1.5 times for the tanker; the other ships 1.0 (fishtail coaster) to 2.0 times.
    """
    for card in (*examples.values(), tanker_card):
        ready = estimate(card)
        deep, close = ready.setting(), ready.setting(even_depth(1.2 * card.draught_aft))
        speeds = [setting.steady("half_ahead").speed for setting in (deep, close)]
        assert 0.7 < speeds[1] / speeds[0] < 0.93
        diameters = [
            turning.turning_circle(setting, "half_ahead", setting.hard_over).tactical_diameter or math.nan
            for setting in (deep, close)
        ]
        assert 1.0 < diameters[1] / diameters[0] < 2.2
    assert speeds[1] / speeds[0] == pytest.approx(0.83, abs=0.03)


def test_the_fitted_pitch_is_that_of_the_benchmark(tanker_card: Particulars) -> None:
    """KVLCC2 P/D 0.721 (memory); found from her speed and revolutions."""
    assert estimate(tanker_card).parameters.propellers[0].pitch_ratio == pytest.approx(0.721, rel=0.07)


def test_every_figure_says_where_it_comes_from(examples: dict[str, Particulars]) -> None:
    for card in examples.values():
        for figure in estimate(card).figures:
            assert figure.origin is Origin.ESTIMATED
            assert figure.band is not None


def mirrored(card: Particulars) -> Parameters:
    """The same ship with the other hand."""
    screws = tuple(replace(screw, hand=-screw.hand) for screw in card.screws)
    return estimate(replace(card, screws=screws)).parameters


def test_a_left_handed_screw_gives_the_mirrored_rudder(examples: dict[str, Particulars]) -> None:
    right, left = estimate(examples["bulk carrier"]).parameters, mirrored(examples["bulk carrier"])
    assert left.rudders[0].straightening_port == right.rudders[0].straightening_starboard


def test_two_screws_without_a_place_are_put_apart(examples: dict[str, Particulars]) -> None:
    ferry = examples["ferry"]
    unplaced = replace(ferry, screws=tuple(replace(screw, offset=0.0) for screw in ferry.screws))
    offsets = [screw.offset for screw in estimate(unplaced).parameters.propellers]
    assert offsets == pytest.approx([-0.22 * 26.0, 0.22 * 26.0])


def test_full_hulls_lean_on_the_measured_tanker(tanker_card: Particulars) -> None:
    """At her own block coefficient the non-linear terms are hers; the linear ones stay the regression's."""
    hull = estimate(tanker_card).parameters.hull
    measured = kvlcc2.data()["hull"]
    assert hull.Yvvv == pytest.approx(measured["Yvvv"], rel=0.01)
    assert hull.Nvrr == pytest.approx(measured["Nvrr"], rel=0.02)
    assert hull.Yv != measured["Yv"]


REFUSED = [
    ({"length": 0.0}, "length: 0.0 is impossible"),
    ({"displacement": 450.0e6}, "a block coefficient of 8"),
    ({"engine_kind": "paddle"}, "engine kind: 'paddle' is not known"),
    ({"screws": ()}, "screws: none"),
    ({"rudders": ()}, "rudders: none, and no pods; she cannot be steered"),
    ({"orders": ()}, "orders: no ahead line with shaft speed and speed"),
]


@pytest.mark.parametrize(("changed", "message"), REFUSED)
def test_impossible_particulars_are_refused(
    examples: dict[str, Particulars], changed: dict[str, object], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        replace(examples["bulk carrier"], **changed)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["coaster", "bulk carrier", "cruise ship"])
def test_every_order_astern_is_there_and_each_is_less_than_the_next(
    examples: dict[str, Particulars], name: str
) -> None:
    """A plan may ask for slow astern though the card has no such line."""
    orders = estimate(examples[name]).orders
    strengths = [
        abs(orders[order].shaft_speed * orders[order].pitch_ratio)
        for order in ("dead_slow_astern", "slow_astern", "half_astern", "full_astern")
    ]
    assert strengths == sorted(strengths)
    assert all(orders[order].shaft_speed * orders[order].pitch_ratio < 0.0 for order in ("slow_astern", "half_astern"))

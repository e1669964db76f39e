"""Poster and booklet: both conditions, deep and shallow, bands about the ship as estimated, and nothing that grounds."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.manoeuvres import manoeuvres
from leadsman.assessment.posted import CLEARANCES, posted_manoeuvres
from leadsman.assessment.posted_result import Posted, PostedWater, Spread
from leadsman.equipment import State
from leadsman.errors import CannotCompute
from leadsman.files.call_files import read_ship
from leadsman.ship import ShipType
from leadsman.units import KNOT

EXAMPLES = Path(__file__).parents[2] / "examples"
BULKER = read_ship(EXAMPLES / "2-bar-bulk-carrier")
FERRY = read_ship(EXAMPLES / "4-ferry-corner-berth")


@pytest.fixture(scope="module")
def bulker() -> Posted:
    return posted_manoeuvres(*BULKER)


@pytest.fixture(scope="module")
def ferry() -> Posted:
    return posted_manoeuvres(*FERRY)


def water(posted: Posted, condition: str, shallow: bool) -> PostedWater:
    return next(
        one for one in posted.waters if one.condition == condition and (one.depth_to_draught is not None) is shallow
    )


def value(spread: Spread) -> float:
    assert spread.value is not None
    return spread.value


def test_both_conditions_deep_and_shallow_and_the_other_is_marked(bulker: Posted) -> None:
    assert [(one.condition, one.depth_to_draught, one.loading_estimated) for one in bulker.waters] == [
        ("loaded", None, False),
        ("loaded", 1.2, False),
        ("ballast", None, True),
        ("ballast", 1.2, True),
    ]


def test_the_deep_circles_are_those_of_the_trials(bulker: Posted) -> None:
    rows = {(row.trial, row.quantity): row.value for row in manoeuvres(*BULKER).rows}
    starboard, port = water(bulker, "loaded", False).circles
    assert (starboard.side, port.side) == (1, -1)
    trial = "Turn 35° starboard, full sea speed"
    assert value(starboard.advance) == pytest.approx(rows[trial, "advance"])
    assert value(starboard.tactical_diameter) == pytest.approx(rows[trial, "tactical diameter"])


def test_bands_enclose_the_ship_as_estimated(bulker: Posted) -> None:
    found = 0
    for one in bulker.waters:
        spreads = [spread for circle in one.circles for spread in (circle.advance, circle.tactical_diameter)]
        for spread in (*spreads, *(stop.track_reach for stop in one.stops)):
            if spread.low is not None and spread.high is not None:
                assert spread.low < value(spread) < spread.high
                found += 1
    assert found >= 20


def test_moments_follow_each_other_and_lie_on_the_track(bulker: Posted) -> None:
    for circle in water(bulker, "loaded", False).circles:
        degrees = [round(math.degrees(moment.heading_change)) for moment in circle.moments]
        assert degrees == [90, 180, 270, 360]
        assert [moment.time for moment in circle.moments] == sorted(moment.time for moment in circle.moments)
        assert circle.moments[0].north == pytest.approx(value(circle.advance))
        assert circle.moments[1].east * circle.side == pytest.approx(value(circle.tactical_diameter))


def test_shallow_water_widens_the_circle_and_lightness_shortens_the_stop(bulker: Posted) -> None:
    """Circles grow in shallow water, and a light ship stops sooner: common practice, no source."""
    deep, shallow = water(bulker, "loaded", False), water(bulker, "loaded", True)
    assert value(shallow.circles[0].tactical_diameter) > 1.2 * value(deep.circles[0].tactical_diameter)
    light = water(bulker, "ballast", False)
    for laden, empty in zip(deep.stops, light.stops, strict=True):
        if laden.stopped_by == "full_astern":
            assert value(empty.track_reach) < value(laden.track_reach)


def test_two_screws_alike_turn_alike(ferry: Posted) -> None:
    starboard, port = water(ferry, "loaded", False).circles
    assert value(starboard.tactical_diameter) == pytest.approx(value(port.tactical_diameter), rel=1e-6)


def test_an_order_that_squats_her_aground_is_told_and_not_tried(ferry: Posted) -> None:
    shallow = water(ferry, "loaded", True)
    assert "full_sea_speed" in shallow.aground
    assert "full_sea_speed" not in dict(shallow.speeds)
    assert not any(stop.order in shallow.aground for stop in shallow.stops)


def test_squat_falls_with_depth_and_rises_with_speed(bulker: Posted) -> None:
    for row in bulker.squats:
        assert list(row.squats) == sorted(row.squats, reverse=True)
    assert [row.speed for row in bulker.squats] == sorted((row.speed for row in bulker.squats), reverse=True)
    for faster, slower in zip(bulker.squats, bulker.squats[1:], strict=False):
        assert all(more > less for more, less in zip(faster.squats, slower.squats, strict=True))


def test_squat_is_no_less_than_the_short_formula_by_hand(bulker: Posted) -> None:
    """C_B V²/100 of [Barrass2004] for depth/draught 1.1 to 1.4, C_B 0.819 from her displacement: the greatest governs."""
    half = next(row for row in bulker.squats if row.order == "half_ahead")
    by_hand = 0.819 * (half.speed / KNOT) ** 2 / 100.0
    for share, squat in zip(CLEARANCES, half.squats, strict=True):
        if share <= 0.4:
            assert squat >= by_hand


def test_heel_puts_the_bilge_deeper_by_half_the_beam(bulker: Posted) -> None:
    angle, deeper = bulker.heels[1]
    assert math.degrees(angle) == pytest.approx(2.0)
    assert deeper == pytest.approx(15.0 * 0.0349, abs=0.001)  # 30 m beam, sin 2 degrees 0.0349


def test_a_ship_of_unknown_kind_is_tried_in_todays_condition_alone() -> None:
    ship = replace(BULKER[0], kind=ShipType.OTHER, summer_draught=None)
    assert {one.condition for one in posted_manoeuvres(ship, BULKER[1]).waters} == {"loaded"}


def test_equal_cards_give_equal_figures(ferry: Posted) -> None:
    assert posted_manoeuvres(*FERRY) == ferry


def test_a_ship_that_cannot_be_steered_is_not_tried() -> None:
    ship, loading = BULKER
    broken = replace(ship, rudders=tuple(replace(one, state=State.DEFECTIVE) for one in ship.rudders))
    with pytest.raises(CannotCompute, match="rudders: all recorded as defective"):
        posted_manoeuvres(broken, loading)

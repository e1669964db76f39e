"""From the thing to the numbers: what is given is used, what is missing is asked for by name, defects count."""

import math
from dataclasses import replace

import pytest

from leadsman.equipment import (
    Engine,
    EngineKind,
    EngineOrder,
    Propeller,
    ReversalMeaning,
    Rudder,
    State,
    Steering,
    Thruster,
)
from leadsman.poster import Basis, Poster, Stop, TurningCircle, ZigZag
from leadsman.ship import Loading, Ship, ShipType
from leadsman.simulation import from_ship, slow
from leadsman.simulation.calibrate import Figure
from leadsman.simulation.estimate import estimate
from leadsman.units import DEGREE, KNOT, RPM

LOADED = Loading(
    condition="loaded",
    draught_forward=10.2,
    draught_aft=10.3,
    displacement=45.5e6,
    lateral_windage=2100.0,
    frontal_windage=640.0,
)


def bulk_carrier() -> Ship:
    table = [
        ("full_sea_speed", 110.0, 14.0),
        ("full_ahead", 85.0, 11.0),
        ("half_ahead", 70.0, 9.0),
        ("slow_ahead", 52.0, 6.7),
        ("dead_slow_ahead", 40.0, 5.1),
        ("half_astern", 70.0, None),
        ("full_astern", 80.0, None),
    ]
    return Ship(
        name="Ashlar",
        kind=ShipType.BULK_CARRIER,
        length_overall=182.0,
        length_between_perpendiculars=176.0,
        beam=30.0,
        propellers=(Propeller(right_handed=True, diameter=5.8, blades=4),),
        rudders=(Rudder(maximum_angle=35.0 * DEGREE),),
        steering=Steering(hard_over_to_hard_over=26.0, hard_over_with_one_unit=50.0),
        thrusters=(Thruster(position="bow", power=1.0e6, turning_rate=None),),
        engine=Engine(
            kind=EngineKind.REVERSING_DIESEL,
            power=7.2e6,
            maximum_revolutions=115.0 * RPM,
            consecutive_starts=12,
            full_ahead_to_full_astern=90.0,
            reversal_meaning=ReversalMeaning.ENGINE_REVERSED,
            orders=tuple(
                EngineOrder(order=name, revolutions=n * RPM, speed_loaded=None if v is None else v * KNOT)
                for name, n, v in table
            ),
        ),
    )


def test_what_the_card_gives_is_used() -> None:
    found = from_ship.particulars(bulk_carrier(), LOADED)
    card = found.particulars
    assert found.assumed == ()
    assert (card.length, card.displacement, card.starts) == (176.0, 45.5e6, 12.0)
    assert card.engine_kind == "direct_reversing_diesel"
    astern = next(line for line in card.orders if line.order == "full_astern")
    assert astern.shaft_speed == pytest.approx(-80.0 / 60.0)
    assert card.full_ahead_to_full_astern == 90.0


def test_the_wind_pushes_her_to_leeward() -> None:
    """Wind from starboard abeam: force to port; from ahead: force aft (forces sheet, conventions)."""
    table = from_ship.particulars(bulk_carrier(), LOADED).particulars.wind
    assert table[18, 1] < 0.0
    assert table[54, 1] == pytest.approx(-table[18, 1])
    assert table[0, 0] < 0.0 < table[36, 0]
    beam_force = -table[18, 1] * 0.5 * 1.225 * 12.86**2
    assert beam_force == pytest.approx(0.85 * 2100.0 * 0.5 * 1.225 * 12.86**2, rel=0.01), (
        "Blendermann CDt 0.85 [memory]"
    )


def test_drift_and_steering_in_wind_can_be_told() -> None:
    setting = estimate(from_ship.particulars(bulk_carrier(), LOADED).particulars).setting()
    drift = slow.drift(setting, 10.0)
    assert 0.1 < drift.speed < 0.8
    assert abs(drift.leeway) < math.radians(50.0)
    least = slow.minimum_steering_speed(setting, "stop", 10.0)
    assert least is not None
    assert 0.5 < least < 4.0
    windier = slow.minimum_steering_speed(setting, "stop", 15.0)
    assert windier is not None
    assert windier > least


MISSING = [
    ({"length_between_perpendiculars": None}, {}, "length between perpendiculars: not on the card"),
    ({}, {"displacement": None}, "displacement: not on the card and no estimate given"),
    ({"engine": replace(bulk_carrier().engine, state=State.DEFECTIVE)}, {}, "engine: recorded as defective"),
    (
        {"rudders": (replace(bulk_carrier().rudders[0], state=State.DEFECTIVE),)},
        {},
        "rudders: all recorded as defective; she cannot be steered",
    ),
    ({"steering": replace(bulk_carrier().steering, state=State.DEFECTIVE)}, {}, "steering gear: recorded as defective"),
    (
        {"propellers": (replace(bulk_carrier().propellers[0], state=State.DEFECTIVE),)},
        {},
        "propellers: all recorded as defective",
    ),
    (
        {"engine": replace(bulk_carrier().engine, maximum_revolutions=None, orders=())},
        {},
        "revolutions: neither a maximum nor an engine order gives any",
    ),
]


@pytest.mark.parametrize(("ship", "loading", "message"), MISSING)
def test_what_is_missing_is_asked_for_by_name(
    ship: dict[str, object], loading: dict[str, object], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        from_ship.particulars(replace(bulk_carrier(), **ship), replace(LOADED, **loading))  # type: ignore[arg-type]


def test_estimates_given_take_the_place_of_missing_figures() -> None:
    ship = replace(bulk_carrier(), length_between_perpendiculars=None)
    card = from_ship.particulars(ship, replace(LOADED, displacement=None), length=175.0, displacement=45.0e6)
    assert (card.particulars.length, card.particulars.displacement) == (175.0, 45.0e6)


def test_what_is_taken_for_granted_is_said() -> None:
    ship = replace(
        bulk_carrier(),
        propellers=(),
        engine=replace(bulk_carrier().engine, reversal_meaning=ReversalMeaning.UNKNOWN),
    )
    said = from_ship.particulars(ship, replace(LOADED, lateral_windage=None)).assumed
    assert any("no windage is known" in sentence for sentence in said)
    assert any("the card describes none" in sentence for sentence in said)
    assert any("does not say to what" in sentence for sentence in said)


def test_one_pump_steers_slower() -> None:
    ship = bulk_carrier()
    reduced = replace(ship, steering=replace(ship.steering, state=State.REDUCED))
    assert from_ship.particulars(reduced, LOADED).particulars.hard_over_to_hard_over == 50.0


def test_a_defective_thruster_is_not_counted() -> None:
    ship = bulk_carrier()
    found = from_ship.thruster(ship)
    assert found is not None
    assert found[0] == pytest.approx(120e3), "0.12 kN a kW [common practice]"
    assert found[1] == pytest.approx(0.42 * 176.0)
    defective = replace(ship, thrusters=(replace(ship.thrusters[0], state=State.DEFECTIVE),))
    assert from_ship.thruster(defective) is None
    assert from_ship.thruster(ship, "stern") is None


def test_poster_figures_become_observations() -> None:
    circle = TurningCircle(
        side="port", condition="loaded", rudder=35.0 * DEGREE, advance=560.0, tactical_diameter=540.0, basis=Basis.TRIAL
    )
    ballast = replace(circle, condition="ballast")
    shallow = replace(circle, depth_to_draught=1.5)
    poster = Poster(
        turning_circles=(circle, ballast, shallow),
        stops=(
            Stop(order="full_ahead", condition="loaded", track_reach=1900.0),
            Stop(order="half_ahead", condition="loaded", track_reach=4000.0, engine_astern=False),
        ),
        zig_zags=(ZigZag(angle=10.0 * DEGREE, condition="loaded", first_overshoot=8.0 * DEGREE, basis=Basis.TRIAL),),
    )
    found = from_ship.observations(replace(bulk_carrier(), poster=poster), LOADED, 35.0 * DEGREE)
    assert [one.figure for one in found] == [
        Figure.TACTICAL_DIAMETER,
        Figure.ADVANCE,
        Figure.TRACK_REACH,
        Figure.COASTING_REACH,
        Figure.FIRST_OVERSHOOT,
    ]
    assert found[0].rudder == pytest.approx(-35.0 * DEGREE)
    assert found[0].deviation == 0.05
    assert found[2].deviation == 0.20, "not said to be a trial: twice as wide"


def test_a_stopping_time_given_as_reversal_is_a_figure_not_a_delay() -> None:
    engine = replace(
        bulk_carrier().engine, reversal_meaning=ReversalMeaning.SHIP_STOPPED, full_ahead_to_full_astern=420.0
    )
    ship = replace(bulk_carrier(), engine=engine)
    assert from_ship.particulars(ship, LOADED).particulars.full_ahead_to_full_astern is None
    (found,) = from_ship.observations(ship, LOADED, 35.0 * DEGREE)
    assert (found.figure, found.value, found.order) == (Figure.STOPPING_TIME, 420.0, "full_ahead")


def test_blades_that_turn_decide_the_kind_of_engine() -> None:
    ship = bulk_carrier()
    turning = replace(ship, propellers=(replace(ship.propellers[0], controllable_pitch=True),))
    card = from_ship.particulars(
        replace(
            turning,
            engine=replace(
                ship.engine,
                orders=(
                    EngineOrder(order="full_ahead", pitch=0.9, speed_loaded=6.0),
                    EngineOrder(order="half_ahead", revolutions=1.5),
                    EngineOrder(order="full_astern", pitch=0.7),
                ),
            ),
        ),
        LOADED,
    )
    assert card.particulars.engine_kind == "controllable_pitch"
    assert [line.pitch_share for line in card.particulars.orders] == [0.9, -0.7]
    assert card.assumed == ("half_ahead: no pitch on the card; the order is left out",)


def test_a_card_without_full_astern_is_told_what_is_taken() -> None:
    ship = bulk_carrier()
    orders = tuple(line for line in ship.engine.orders if line.order != "full_astern")
    reading = from_ship.particulars(replace(ship, engine=replace(ship.engine, orders=orders)), LOADED)
    assert "full astern: not on the card; 75 % of the revolutions or pitch of full ahead is taken" in reading.assumed
    assert not any("full astern" in said for said in from_ship.particulars(ship, LOADED).assumed)

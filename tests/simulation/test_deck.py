"""From card and call to thrusters, tugs and anchors of the moving ship: what is credited, what is said."""

import math
from dataclasses import replace

import pytest

from leadsman.equipment import Anchors, Engine, EngineKind, State, Thruster
from leadsman.portcall import Tug
from leadsman.ship import Loading, Ship, ShipType
from leadsman.simulation import deck
from leadsman.simulation.deck import Attendance
from leadsman.simulation.estimate import estimate
from leadsman.simulation.parameters import Parameters, packed
from leadsman.simulation.particulars import Particulars
from leadsman.units import KNOT, TONNE_FORCE

LOADED = Loading(condition="loaded", draught_forward=10.2, draught_aft=10.3, displacement=45.5e6)


def bulk_carrier() -> Ship:
    return Ship(
        name="Ashlar",
        kind=ShipType.BULK_CARRIER,
        length_overall=182.0,
        length_between_perpendiculars=176.0,
        beam=30.0,
        engine=Engine(kind=EngineKind.REVERSING_DIESEL),
        thrusters=(Thruster(position="bow", power=1.0e6),),
    )


ANCHORED = replace(
    bulk_carrier(),
    moulded_depth=15.5,
    anchors=Anchors(anchor_mass=6450.0, port_shackles=11.0, starboard_shackles=12.0, shackle=27.5),
)
FIFTY = Tug(name="Hornbeam", bollard_pull=50.0 * TONNE_FORCE, kind="azimuth stern drive")


@pytest.fixture(scope="module")
def moving(examples: dict[str, Particulars]) -> Parameters:
    return estimate(examples["bulk carrier"]).parameters


def equipped(
    moving: Parameters, ship: Ship, loading: Loading = LOADED, *tugs: Attendance, **more: str
) -> deck.Equipped:
    return deck.equipped(moving, ship, loading, tugs, **more)


def test_all_that_helps_her_is_aboard_and_packs(moving: Parameters) -> None:
    found = equipped(moving, ANCHORED, LOADED, Attendance(tug=FIFTY, place="aft"), bottom="firm sand")
    assert (found.thrusters, found.tugs) == (("bow thruster",), ("Hornbeam",))
    assert found.anchors == ("port anchor", "starboard anchor")
    record = packed(found.parameters).ships[0]
    assert (record["thruster_count"], record["tug_count"], record["anchor_count"]) == (1, 1, 2)


def test_the_thruster_has_the_planning_thrust_and_works_up_in_its_time(moving: Parameters) -> None:
    """Forces sheet 3.1: 0.12 kN for each kW; manoeuvring sheet 6: 5 to 10 s [memory]."""
    unit = equipped(moving, bulk_carrier()).parameters.thrusters[0]
    assert unit.thrust == pytest.approx(120e3)
    assert unit.ramp == pytest.approx(0.1)
    assert unit.position == pytest.approx(0.42 * 176.0)
    assert unit.immersion == 1.0
    assert math.isinf(unit.greatest_speed)


def test_what_the_card_says_of_the_thruster_is_used(moving: Parameters) -> None:
    given = Thruster(
        position="stern",
        power=1.0e6,
        distance_from_midships=70.0,
        time_to_full_thrust=8.0,
        time_to_reverse=24.0,
        not_effective_above=5.0 * KNOT,
        state=State.REDUCED,
    )
    found = equipped(moving, replace(bulk_carrier(), thrusters=(given,)))
    unit = found.parameters.thrusters[0]
    assert (unit.position, unit.greatest_speed) == (-70.0, 5.0 * KNOT)
    assert unit.ramp == pytest.approx(1.0 / 12.0)
    assert unit.thrust == pytest.approx(60e3)
    assert "stern thruster: reduced by the card; 50 % of it is reckoned with" in found.assumed


def test_in_ballast_the_tunnel_comes_out_of_the_water_and_that_is_said(moving: Parameters) -> None:
    """1 MW in a tunnel of 2.0 m: nothing is left at half a diameter over its top (forces sheet 3.2, tool default)."""
    light = replace(LOADED, condition="ballast", draught_forward=4.0, draught_aft=6.5)
    found = equipped(moving, bulk_carrier(), light)
    assert found.parameters.thrusters[0].immersion == 0.0
    assert any("too near the surface at this draught; nothing of its thrust is left" in said for said in found.assumed)
    partly = equipped(moving, bulk_carrier(), replace(light, draught_forward=4.5))
    assert partly.parameters.thrusters[0].immersion == pytest.approx(0.5)
    assert any("50 % of its thrust is left" in said for said in partly.assumed)


def test_defects_are_left_out(moving: Parameters) -> None:
    broken = Thruster(position="bow", power=1.0e6, state=State.DEFECTIVE)
    ship = replace(ANCHORED, thrusters=(broken,), anchors=replace(ANCHORED.anchors, state=State.DEFECTIVE))
    found = equipped(moving, ship)
    assert found.parameters.thrusters == ()
    assert found.parameters.anchors == ()
    assert "anchors: recorded as defective; none is reckoned with" in found.assumed


PULLS = [  # kind, place, of the bollard pull on a line, of it pushing; forces sheet 4.1 to 4.3 [practice, memory]
    ("azimuth stern drive", "aft", 0.8 * 0.90 * 0.95 * math.cos(math.radians(15.0)), None),
    ("azimuth stern drive", "port_bow", 0.8 * 0.90 * 0.95 * math.cos(math.radians(15.0)), 0.8),
    ("conventional, nozzle", "forward", 0.8 * 0.95 * math.cos(math.radians(15.0)), None),
    ("conventional, nozzle", "starboard_quarter", 0.8 * 0.6 * 0.95 * math.cos(math.radians(15.0)), 0.8),
]


@pytest.mark.parametrize(("kind", "place", "line", "push"), PULLS)
def test_what_is_credited_to_a_tug(moving: Parameters, kind: str, place: str, line: float, push: float | None) -> None:
    tug = replace(FIFTY, kind=kind)
    work = equipped(moving, ANCHORED, LOADED, Attendance(tug=tug, place=place)).parameters.tugs[0]
    assert work.line_pull == pytest.approx(line * tug.bollard_pull)
    assert (work.push_row >= 0.0) == (push is not None)
    if push is not None:
        assert work.push_pull == pytest.approx(push * tug.bollard_pull)
        assert work.offset == (-15.0 if place.startswith("port") else 15.0)


def test_a_tug_of_unknown_type_counts_as_the_least(moving: Parameters) -> None:
    found = equipped(moving, ANCHORED, LOADED, Attendance(tug=replace(FIFTY, kind=""), place="aft"))
    assert "tug Hornbeam: type not given; a conventional tug with an open screw is assumed" in found.assumed


def test_only_an_escort_tug_tows_indirect(moving: Parameters) -> None:
    with pytest.raises(ValueError, match="Hornbeam: type 'azimuth stern drive' does not tow indirect"):
        equipped(moving, ANCHORED, LOADED, Attendance(tug=FIFTY, place="aft", indirect=True))
    escort = Attendance(tug=replace(FIFTY, kind="escort"), place="aft", indirect=True)
    assert equipped(moving, ANCHORED, LOADED, escort).parameters.tugs[0].line_row == 4.0


def test_a_place_not_known_is_refused() -> None:
    with pytest.raises(ValueError, match="place of tug Hornbeam: 'amidships'; expected forward, aft, port_bow"):
        Attendance(tug=FIFTY, place="amidships")
    with pytest.raises(ValueError, match=r"line length of tug Hornbeam: 0\.0; metres above zero are needed"):
        Attendance(tug=FIFTY, place="aft", line_length=0.0)


def test_the_anchors_are_those_of_the_card(moving: Parameters) -> None:
    """IACS UR A1 from memory: an anchor of 6 450 kg goes with chain of grade 2 of 68 to 76 mm; stockless in firm sand
    holds 311 kN (m / 4536)^0.8 (UFC 4-159-03, memory)."""
    port, starboard = equipped(moving, ANCHORED, LOADED, bottom="firm sand").parameters.anchors
    assert port.most == pytest.approx(302.5)
    assert starboard.most == pytest.approx(330.0)
    assert port.hawse == pytest.approx(5.3)
    assert port.holding == pytest.approx(311e3 * (6450.0 / 4536.0) ** 0.8)
    assert 0.869 * 0.0219 * 68.0**2 * 9.80665 <= port.weight <= 0.869 * 0.0219 * 76.0**2 * 9.80665
    assert port.offset == -starboard.offset


def test_without_mass_or_number_there_is_no_anchor_and_that_is_said(moving: Parameters) -> None:
    found = equipped(moving, bulk_carrier())
    assert found.parameters.anchors == ()
    assert "anchors: neither mass nor equipment number is on the card; none is reckoned with" in found.assumed


def test_a_bottom_not_told_is_the_least_that_holds(moving: Parameters) -> None:
    found = equipped(moving, ANCHORED)
    assert "anchors: the bottom is not known; soft mud is taken, the least that holds" in found.assumed
    with pytest.raises(ValueError, match="bottom 'porridge' is not known"):
        equipped(moving, ANCHORED, bottom="porridge")

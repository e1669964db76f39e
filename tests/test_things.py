"""Things refuse what cannot be, each in a sentence."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from leadsman.equipment import Anchors, Engine, EngineKind, EngineOrder, Rudder, Thruster
from leadsman.errors import Impossible
from leadsman.figure import Band, Figure, Origin
from leadsman.forecast import Forecast
from leadsman.geometry import Position
from leadsman.portcall import Margins, PortCall, ReachPlan, Tug
from leadsman.ship import Loading, contradictions
from leadsman.waterway import Berth, ChannelKind, DepthArea, Gate, GateKind, Reach, StreamStation, TideStation

NOON = datetime(2031, 5, 6, 12, tzinfo=UTC)
HERE = Position(-31.5, -17.5)
SQUARE = (Position(0.0, 0.0), Position(0.0, 0.1), Position(0.1, 0.1), Position(0.1, 0.0))

IMPOSSIBLE = [
    (lambda: Figure(name="squat", value=float("nan"), unit="m", origin=Origin.GIVEN), "squat: a figure cannot be nan"),
    (lambda: Figure(name="squat", value=1.0, unit="m", origin=Origin.COMPUTED), "a computed figure names its method"),
    (lambda: Figure(name="squat", value=1.0, unit="m", origin=Origin.ESTIMATED, method="x"), "names its method and source"),
    (lambda: Band(), "a band needs a standard deviation, or both bounds"),
    (lambda: Band(deviation=-1.0), "a standard deviation cannot be -1.0"),
    (lambda: Band(low=2.0, high=1.0), "the lower bound 2.0 lies above the upper bound 1.0"),
    (lambda: EngineOrder(order="flank"), "'flank' is no engine order"),
    (lambda: EngineOrder(order="full_ahead", speed_loaded=-1.0), "the order itself says ahead or astern"),
    (lambda: Engine(kind=EngineKind.GEARED_DIESEL, orders=(EngineOrder(order="stop"),) * 2), "'stop' stands twice"),
    (lambda: Engine(kind=EngineKind.GEARED_DIESEL, critical_revolutions=(2.0, 1.0)), "expected lower figure first"),
    (lambda: Engine(kind=EngineKind.GEARED_DIESEL, consecutive_starts=0), "0 starts is no engine"),
    (lambda: Engine(kind=EngineKind.GEARED_DIESEL, power=-5.0), "-5.0 is impossible; expected a number above zero"),
    (lambda: Rudder(kind="oar"), "'oar' is no kind of rudder known here"),
    (lambda: Rudder(maximum_angle=0.005), "0.286 deg is no rudder's maximum; expected degrees, 10 to 110"),
    (lambda: Thruster(position="middle", power=1.0), "'middle' is no place for a thruster"),
    (lambda: Anchors(shackle=0.0), "shackle: 0.0 is impossible"),
    (lambda: Loading(condition="half", draught_forward=5.0, draught_aft=5.0), "'half' is no condition of the card"),
    (lambda: Loading(condition="loaded", draught_forward=5.0, draught_aft=float("inf")), "draught_aft: inf is impossible"),
    (lambda: Loading(condition="loaded", draught_forward=5.0, draught_aft=5.0, water_density=1.025), "expected kg/m³"),
    (lambda: Loading(condition="loaded", draught_forward=5.0, draught_aft=5.0, metacentric_height=-0.2), "not float upright"),
    (lambda: Reach(name="a", width_port=0.0, width_starboard=1.0, channel=ChannelKind.OPEN), "metres from the track to the edge"),
    (lambda: Reach(name="a", width_port=9.0, width_starboard=9.0, channel=ChannelKind.CANAL), "bottom_width: is missing; a canal"),
    (lambda: Reach(name="a", width_port=9.0, width_starboard=9.0, channel=ChannelKind.TRENCH, bottom_width=9.0, side_slope=1.0),
     "a trench needs the height of its dredged slope"),
    (lambda: Gate(name="b", kind=GateKind.BRIDGE, position=HERE), "clearance: is missing; a bridge needs its height"),
    (lambda: Gate(name="b", kind=GateKind.CABLE, position=HERE, clearance=20.0), "expected the datum of the clearance"),
    (lambda: Gate(name="b", kind=GateKind.BRIDGE, position=HERE, clearance=500.0, clearance_datum="HAT"), "500.0 is no height"),
    (lambda: Gate(name="b", kind=GateKind.SILL, position=HERE), "a sill needs its depth"),
    (lambda: Gate(name="b", kind=GateKind.NARROWS, position=HERE), "narrows need their width"),
    (lambda: DepthArea(name="a", ring=SQUARE[:2], depth=3.0), "area 'a' has 2 corners; expected at least 3"),
    (lambda: DepthArea(name="a", ring=(SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]), depth=3.0), "crosses itself"),
    (lambda: DepthArea(name="a", ring=SQUARE, depth=-30.0), "-30.0 m in area 'a' is no depth"),
    (lambda: DepthArea(name="a", ring=SQUARE, depth=3.0, siltation=-1.0), "siltation: -1.0 m in area 'a' is impossible"),
    (lambda: Berth(name="b", begin=HERE, end=HERE, depth=3.0, side_to="left"), "'left' is no side; expected port or starboard"),
    (lambda: TideStation(name="t", position=HERE), "needs one of: constituents, a table"),
    (lambda: TideStation(name="t", position=HERE, constituents=(("M2", 1.0, 0.0),)), "no mean level above chart datum"),
    (lambda: StreamStation(name="s", position=HERE, reference="t", spring_range=2.0, neap_range=3.0, rows=((0, 0, 1, 1), (1, 0, 1, 1))),
     "expected spring range above neap range"),
    (lambda: StreamStation(name="s", position=HERE, reference="t", spring_range=3.0, neap_range=2.0, rows=((1, 0, 1, 1), (0, 0, 1, 1))),
     "expected at least two rows in order"),
    (lambda: Forecast(issued=NOON.replace(tzinfo=None), source="x", residual=0, residual_low=0, residual_high=0), "has no zone"),
    (lambda: Forecast(issued=NOON, source="x", residual=9.0, residual_low=9.0, residual_high=9.0), "9.0 m is no residual"),
    (lambda: Forecast(issued=NOON, source="x", residual=0.0, residual_low=0.1, residual_high=0.2), "lies outside low 0.1 to high 0.2"),
    (lambda: Forecast(issued=NOON, source="x", residual=0, residual_low=0, residual_high=0, wind_speed=9.0), "both speed and direction"),
    (lambda: Forecast(issued=NOON, source="x", residual=0, residual_low=0, residual_high=0, wind_speed=9.0, wind_from=1.0, gust_speed=5.0),
     "is below the mean wind"),
    (lambda: Forecast(issued=NOON, source="x", residual=0, residual_low=0, residual_high=0, wave_height=2.0), "waves need their period"),
    (lambda: Forecast(issued=NOON, source="x", residual=0, residual_low=0, residual_high=0, water_density=1.0), "is no water"),
    (lambda: Margins(underkeel=-1.0, underkeel_share=0.1, overhead=1.0), "-1.0 m is no margin"),
    (lambda: Margins(underkeel=1.0, underkeel_share=10.0, overhead=1.0), "10 is no share of draught; expected 0 to 1"),
    (lambda: ReachPlan(reach="a"), "needs either an engine order or a speed"),
    (lambda: ReachPlan(reach="a", order="fast"), "'fast' is no engine order"),
    (lambda: ReachPlan(reach="a", speed=40.0), "40 m/s is no speed for a reach"),
    (lambda: Tug(name="t", bollard_pull=5e7), "is no tug; expected tonnes"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "sentence"), IMPOSSIBLE, ids=[row[1][:44] for row in IMPOSSIBLE])
def test_the_impossible_is_refused(make, sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        make()
    assert sentence in str(caught.value)


CALLS = [
    (lambda call: replace(call, start=call.start.replace(tzinfo=None)), "start: has no zone"),
    (lambda call: replace(call, search_end=call.search_begin), "expected an end after the begin"),
    (lambda call: replace(call, search_end=call.search_begin + timedelta(days=500)), "not more than 400 days"),
    (lambda call: replace(call, plans=call.plans[1:]), "reach 'Roads' has no order or speed"),
    (lambda call: replace(call, plans=(*call.plans, ReachPlan(reach="Nowhere", speed=2.0))), "'Nowhere' is no reach of waterway"),
    (lambda call: replace(call, berth="Other"), "'Other' is no berth of waterway 'River Ambry'"),
    (lambda call: replace(call, loading=replace(call.loading, draught_aft=33.0, draught_forward=33.0)), "deeper than moulded_depth_m"),
    (lambda call: replace(call, ship=replace(call.ship, keel_to_highest_point=6.0)), "drawn deeper than her highest point"),
]  # fmt: skip


@pytest.mark.parametrize(("spoil", "sentence"), CALLS, ids=[row[1][:40] for row in CALLS])
def test_an_impossible_call_is_refused(first_call: PortCall, spoil, sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        spoil(first_call)
    assert sentence in str(caught.value)


WATERWAYS = [
    (lambda way: replace(way, waypoints=way.waypoints[:1]), "a track needs at least two waypoints"),
    (lambda way: replace(way, reaches=way.reaches[:2]), "6 waypoints make 5 reaches, got 2"),
    (lambda way: replace(way, areas=()), "nothing missing is ever assumed deep"),
    (lambda way: replace(way, tide_stations=(), stream_stations=()), "expected at least one station for the water level"),
    (lambda way: replace(way, gates=way.gates * 2), "the name 'Lych Bridge' stands twice"),
    (lambda way: replace(way, stream_stations=(replace(way.stream_stations[0], reference="x"),)), "reference 'x' is no tide station"),
    (lambda way: replace(way, origin=Position(31.5, -17.5)), "latitude and longitude swapped?"),
]  # fmt: skip


@pytest.mark.parametrize(("spoil", "sentence"), WATERWAYS, ids=[row[1][:40] for row in WATERWAYS])
def test_an_impossible_waterway_is_refused(first_call: PortCall, spoil, sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        spoil(first_call.waterway)
    assert sentence in str(caught.value)


def test_a_datum_that_is_not_connected(first_call: PortCall) -> None:
    assert first_call.waterway.datum_height("CD") == 0.0
    with pytest.raises(Impossible, match="'MLLW' has no height above chart datum"):
        first_call.waterway.datum_height("MLLW")


def test_contradictions_of_ship_and_loading(first_call: PortCall) -> None:
    assert list(contradictions(first_call.ship, first_call.loading)) == []
    deep = replace(first_call.loading, draught_forward=31.0)
    assert "deeper than moulded_depth_m, 7.8" in next(iter(contradictions(first_call.ship, deep)))[1]
    unknown = replace(first_call.ship, moulded_depth=None)
    assert "deeper than any ship of her length floats" in next(iter(contradictions(unknown, deep)))[1]

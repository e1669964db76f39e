"""A container ship, a twin-screw ferry and their tugs, all invented, for the questions of holding."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from leadsman.assessment.holding.case import (
    PLANNING,
    HoldingCase,
    HullInStream,
    Place,
    Quay,
    Screw,
    Situation,
    Thruster,
    Tug,
)
from leadsman.assessment.holding.windage import Profile, windages
from leadsman.units import AIR_DENSITY, SEA_WATER_DENSITY, TONNE_FORCE

CONTAINER_PROFILE = Profile(
    ship_type="container ship",
    length_overall=300.0,
    beam=40.0,
    lateral_area=8500.0,
    transverse_area=1500.0,
    centroid_forward=-2.0,
    height=42.0,
    centroid_height=15.0,
    bridge_height=42.0,
    deck_house_area=4200.0,
)
CONTAINER = HoldingCase(
    situation=Situation.BASIN,
    length_overall=300.0,
    beam=40.0,
    displacement=95e6,
    windages=tuple(replace(each, pressure_ratio=1.0) for each in windages(CONTAINER_PROFILE, 1.0 / 7.0, AIR_DENSITY)),
    hull=HullInStream(
        length_waterline=285.0,
        beam=40.0,
        draught=12.5,
        block_coefficient=0.65,
        midship_coefficient=0.98,
        propeller="cargo",
        propellers=1,
        form="merchant",
        density=SEA_WATER_DENSITY,
    ),
    screws=(
        Screw(
            name="engine",
            position=-140.0,
            lateral_position=0.0,
            ahead=365e3,
            astern=200e3,
            throw=-0.10,
            rudder_position=-143.0,
            rudder_side=0.25,
            rudder_ahead=0.75,
            steady_ahead=365e3,
        ),
    ),
    thrusters=(Thruster(name="bow thruster", position=125.0, thrust=300e3, available=1.0, immersion=1.0),),
    tugs=(),
    water_depth=16.0,
    wind_speed=10.0,
    wind_from=math.radians(90.0),
    current_speed=0.0,
    current_from=0.0,
    speed=0.0,
    quay=None,
    planning=PLANNING,
)
QUAY = Quay(side=1, distance=0.0, closed=True, fenders_from=-60.0, fenders_to=60.0, fender_force=3e6)
POSITIONS = {
    Place.FORWARD: 144.0,
    Place.AFT: -141.0,
    Place.PORT_BOW: 60.0,
    Place.STARBOARD_BOW: 60.0,
    Place.PORT_QUARTER: -60.0,
    Place.STARBOARD_QUARTER: -60.0,
}


def make_tug(name: str, place: Place, tonnes: float = 60.0, kind: str = "azimuth stern drive") -> Tug:
    return Tug(
        name=name,
        kind=kind,
        bollard_pull=tonnes * TONNE_FORCE,
        place=place,
        position=POSITIONS[place],
        line_length=45.0,
        line_lead=math.radians(15.0),
        sector=math.radians(90.0),
    )


FORWARD, AFT = make_tug("Alder", Place.FORWARD), make_tug("Birch", Place.AFT)
SETS = {
    "none": (),
    "one": (FORWARD,),
    "two": (FORWARD, AFT),
    "three": (FORWARD, AFT, make_tug("Cedar", Place.PORT_BOW)),
}


@pytest.fixture
def container() -> Callable[..., HoldingCase]:
    """The container ship in a basin, with anything changed by name."""
    return lambda **changes: replace(CONTAINER, **changes)


@pytest.fixture
def quay() -> Quay:
    return QUAY


@pytest.fixture
def tug() -> Callable[..., Tug]:
    return make_tug


@pytest.fixture
def tug_sets() -> dict[str, tuple[Tug, ...]]:
    return dict(SETS)


@pytest.fixture
def positions() -> dict[Place, float]:
    return dict(POSITIONS)


@pytest.fixture
def profile() -> Profile:
    return CONTAINER_PROFILE


@pytest.fixture
def ferry() -> HoldingCase:
    """Two screws 12 m apart, a rudder behind each, two bow thrusters, no throw: symmetric about the centreline."""
    screws = tuple(
        Screw(
            name=f"{side} engine",
            position=-85.0,
            lateral_position=lateral,
            ahead=500e3,
            astern=300e3,
            rudder_position=-90.0,
            rudder_side=0.25,
            rudder_ahead=0.75,
        )
        for side, lateral in (("port", -6.0), ("starboard", 6.0))
    )
    thrusters = tuple(
        Thruster(name=f"bow thruster {i}", position=80.0 - 4.0 * i, thrust=150e3, available=1.0, immersion=1.0)
        for i in (1, 2)
    )
    profile = replace(
        CONTAINER_PROFILE,
        ship_type="ferry",
        length_overall=200.0,
        beam=28.0,
        lateral_area=4800.0,
        transverse_area=800.0,
        centroid_forward=0.0,
        height=30.0,
        centroid_height=13.0,
        bridge_height=30.0,
        deck_house_area=2500.0,
    )
    hull = replace(CONTAINER.hull, length_waterline=188.0, beam=28.0, draught=6.8, block_coefficient=0.6, propellers=2)
    return replace(
        CONTAINER,
        length_overall=200.0,
        beam=28.0,
        displacement=22e6,
        windages=windages(profile, 1.0 / 7.0, AIR_DENSITY),
        hull=hull,
        screws=screws,
        thrusters=thrusters,
        water_depth=10.0,
    )


@pytest.fixture
def mirrored() -> Callable[[HoldingCase], HoldingCase]:
    """The same case seen in a mirror along the centreline."""

    def mirror_place(place: Place) -> Place:
        swap = {"port": "starboard", "starboard": "port"}
        side, _, end = place.value.partition("_")
        return Place(f"{swap[side]}_{end}") if side in swap else place

    def mirror(case: HoldingCase) -> HoldingCase:
        return replace(
            case,
            wind_from=-case.wind_from,
            current_from=-case.current_from,
            screws=tuple(
                replace(each, lateral_position=-each.lateral_position, throw=-each.throw) for each in case.screws
            ),
            tugs=tuple(replace(each, place=mirror_place(each.place)) for each in case.tugs),
            quay=None if case.quay is None else replace(case.quay, side=-case.quay.side),
        )

    return mirror

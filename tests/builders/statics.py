"""The moving ship against the independent static balance of `assessment.holding`: loads, means, what is held."""

import math
from dataclasses import dataclass, replace

import numpy as np
from tests.builders.open_water import held, made

from leadsman.assessment.estimates import particulars as estimated
from leadsman.assessment.holding.case import PLANNING, HoldingCase, Place, Situation, Windage
from leadsman.assessment.holding.from_ship import Surroundings, holding_case
from leadsman.assessment.holding.hold import hold, reserve
from leadsman.assessment.holding.means import Kind
from leadsman.assessment.holding.ordered_tugs import tugs_at_work
from leadsman.assessment.holding.particulars import holding_particulars
from leadsman.assessment.holding.windage import Profile, windages
from leadsman.assessment.rehearse_prepare import Ready, attendance
from leadsman.geometry import Array
from leadsman.physics import wind_profile
from leadsman.physics.hull_force import Force
from leadsman.simulation import state
from leadsman.simulation.from_ship import wind_type
from leadsman.simulation.kernel import AFLOAT, pushed, steps
from leadsman.simulation.machinery import torque_at
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.state import Motion, even_depth
from leadsman.simulation.state import Surroundings as Around
from leadsman.units import AIR_DENSITY, SEA_WATER_DENSITY

EXAMPLES = (
    "1-river-coaster",
    "2-bar-bulk-carrier",
    "3-container-basin",
    "4-ferry-corner-berth",
    "5-podded-cruise",
)
DEEP = 5.0  # depth by draught
ABEAM = 0.5 * math.pi  # rad off the bow
TRIED = 10.0  # m/s of wind: forces go with its square on both sides
SETTLED = 1200  # s: far longer than springs, tugs and thrusters need
PERIOD = 100.0  # s of the springs that hold her place, critically damped


@dataclass(frozen=True, kw_only=True, eq=False)
class Sides:
    """A ship in open water, held over the ground: as the model has her, and for the static balance."""

    made: Ready
    case: HoldingCase
    """Without gust or further factor, so that both sides have the same wind; her tugs where the rehearsal has them."""
    depth: float


def sides(name: str, depth_to_draught: float = DEEP) -> Sides:
    """Both sides of an example."""
    ready = made(name)
    ship, loading = ready.prepared.aboard
    figures = holding_particulars(ship, loading)
    depth = depth_to_draught * figures.draught
    around = Surroundings(
        situation=Situation.BASIN,
        heading=0.0,
        wind_speed=TRIED,
        wind_from=ABEAM,
        stream_rate=0.0,
        stream_towards=0.0,
        water_depth=depth,
        water_density=SEA_WATER_DENSITY,
    )
    planning = replace(PLANNING, gust_seconds=wind_profile.FORECAST_MEAN, untested_thruster=1.0)
    case, _ = holding_case(ship, loading, figures, around, "half_ahead", planning)
    attending = attendance(ready.prepared)
    tugs, _ = tugs_at_work(
        [one.tug for one in attending],
        [Place(one.place) for one in attending],
        ship.length_overall,
        ship.parallel_body_loaded,
    )
    return Sides(made=ready, case=case.with_tugs(tugs), depth=depth)


def usual_windage(both: Sides) -> Windage:
    """Her windage by the model's method, at the middle of the bands where the static balance takes careful ends."""
    ship, loading = both.made.prepared.aboard
    known = estimated(ship, loading)
    profile = Profile(
        ship_type=wind_type(ship, loading),
        length_overall=ship.length_overall,
        beam=ship.beam,
        lateral_area=known["lateral_windage"].value,
        transverse_area=known["frontal_windage"].value,
        centroid_forward=known["windage_forward"].value,
        height=float(wind_profile.top_of(known["windage_height"].value)),
    )
    found = windages(profile, wind_profile.OPEN_SEA_EXPONENT, AIR_DENSITY)
    return next(one for one in found if one.method == "blendermann")


def around(both: Sides, wind: float, wind_from: float, stream: float = 0.0, stream_from: float = 0.0) -> Around:
    """Even water with a wind and a stream [m/s], from angles off a bow that points north. [rad]"""
    return even_depth(both.depth)._replace(
        wind_speed=wind,
        wind_from=wind_from,
        stream_north=-stream * math.cos(stream_from),
        stream_east=-stream * math.sin(stream_from),
    )


def load(both: Sides, wind: float, wind_from: float, stream: float = 0.0, stream_from: float = 0.0) -> Array:
    """Surge, sway, yaw of wind and stream on the moving ship while she lies still. [N, N, N m]"""
    fleet = both.made.setting.fleet
    motion = Motion(0.0, 0.0, 0.0, stream * math.cos(stream_from), stream * math.sin(stream_from), 0.0)
    there = state.record_of(around(both, wind, wind_from, stream, stream_from))
    return np.array(pushed(fleet, 0, state.gear(fleet, 0, 0.0), motion, there, NO_FORCE))


def driven(both: Sides, order: str, rudder: float = 0.0) -> Array:
    """Surge, sway, yaw of engine and rudder on the stopped ship under an order. [N, N, N m]"""
    setting = both.made.setting
    asked = setting.orders[order]
    gear = state.gear(setting.fleet, 0, asked.shaft_speed, asked.pitch_ratio, rudder)
    there = state.record_of(even_depth(both.depth))
    return np.array(pushed(setting.fleet, 0, gear, state.at_rest(), there, NO_FORCE))


@dataclass(frozen=True, kw_only=True)
class Bollard:
    """One screw of a ship made fast, under an order."""

    thrust: float
    """Of the screw itself, before the hull takes its part; astern negative. [N]"""
    power: float
    """That its torque takes. [W]"""
    ceiling: float
    """Thrust an ideal disc of its size gives for that power. [N]"""
    rudder_side: float
    """Of the rudder hard over in its race; nil for a pod. [N]"""


def bollard(both: Sides, order: str) -> Bollard:
    """What engine and rudder of the model come to on the stopped ship."""
    setting, case = both.made.setting, both.case
    asked, fleet = setting.orders[order], setting.fleet
    gear = state.gear(fleet, 0, asked.shaft_speed, asked.pitch_ratio)
    pushed(fleet, 0, gear, state.at_rest(), state.record_of(even_depth(both.depth)), NO_FORCE)
    screw = np.rec.array(fleet.ships[0]["screws"])[0]
    tables = np.rec.array(fleet.tables)[0]
    torque = float(torque_at(screw, tables, 0.0, asked.shaft_speed, asked.pitch_ratio, SEA_WATER_DENSITY))
    power = abs(torque * 2.0 * math.pi * asked.shaft_speed)
    disc = 0.25 * math.pi * float(screw.diameter) ** 2
    sides_of = [driven(both, order, hand * setting.hard_over)[1] for hand in (1.0, -1.0)]
    return Bollard(
        thrust=float(gear[0]["shafts"]["thrust"][0]),
        power=power,
        ceiling=float((2.0 * SEA_WATER_DENSITY * disc) ** (1.0 / 3.0) * power ** (2.0 / 3.0)),
        rudder_side=0.0 if case.screws[0].pod else 0.5 * abs(sides_of[0] - sides_of[1]) / len(case.screws),
    )


def static_limit(both: Sides) -> float:
    """Greatest steady wind abeam that the static balance holds, at its careful figures. [m/s]"""
    return TRIED * math.sqrt(max(reserve(both.case) + 1.0, 0.0))  # all loads go with the square of the wind


def by_helpers(both: Sides, wind: float) -> tuple[HoldingCase, Array]:
    """The case of a wind abeam balanced by thrusters and tugs alone, surge let be; and their orders as the model takes
    them: share and direction, thrusters first. [-, rad]"""
    case = replace(
        both.case,
        wind_speed=wind,
        screws=(),
        windages=(usual_windage(both),),
        planning=replace(both.case.planning, surge_allowance=1e9),
    )
    answer = hold(case)
    assert answer.held
    helpers = [one for one in answer.orders if one.kind in (Kind.THRUSTER, Kind.TUG)]
    orders = [
        (math.copysign(one.used, one.sway) if one.kind is Kind.THRUSTER else one.used, one.towards) for one in helpers
    ]
    return case, np.array(orders)


def left_over(both: Sides, surroundings: Around, orders: Array) -> Array:
    """What springs at midships bear in the end, while tugs and thrusters carry out their orders in the moving model.
    [N, N, N m]"""
    fleet = both.made.setting.fleet
    gear = state.gear(fleet, 0, 0.0)
    ship = fleet.ships[0]
    units, works = int(ship["thruster_count"]), int(ship["tug_count"])
    gear[0]["thrusters"]["order"][:units] = orders[:units, 0]
    gear[0]["tugs"]["order_power"][:works] = orders[units:, 0]
    gear[0]["tugs"]["order_direction"][:works] = orders[units:, 1]
    hull = ship["hull"]
    masses = np.array(
        [
            hull["mass"] + hull["surge_added_mass"],
            hull["mass"] + hull["sway_added_mass"],
            hull["yaw_inertia"] + hull["yaw_added_inertia"],
        ]
    )
    frequency = 2.0 * math.pi / PERIOD
    here = np.array([surroundings.stream_north, surroundings.stream_east, 0.0])
    motion = Motion(0.0, 0.0, 0.0, -float(here[0]), -float(here[1]), 0.0)
    record = state.record_of(surroundings)
    bears = np.zeros(3)
    for second in range(SETTLED):
        cosine, sine = math.cos(motion.heading), math.sin(motion.heading)
        turned = np.array([[cosine, sine, 0.0], [-sine, cosine, 0.0], [0.0, 0.0, 1.0]])
        place = turned @ np.array([motion.north, motion.east, motion.heading])
        way = np.array([motion.surge, motion.sway, motion.yaw_rate]) + turned @ here
        bears = -masses * frequency * (frequency * place + 2.0 * way)
        motion, standing = steps(fleet, 0, gear, motion, record, Force(*bears.tolist()), float(second), 1.0, 1)
        assert standing == AFLOAT
    return bears


def off_her_place(both: Sides, wind: float) -> float:
    """How far from her place the conn lets her go in 40 minutes of a wind abeam. [m]"""
    return held(both.made, wind)

"""Landing on the berth and getting off it, from the port call: how hard, with which lines, in what time."""

import math

import numpy as np

from leadsman.assessment.holding import landing
from leadsman.assessment.holding.answer import Plan
from leadsman.assessment.holding.particulars import Particulars
from leadsman.assessment.holding.result import Landing, LiftingOff
from leadsman.physics import fender, mooring
from leadsman.ship import Ship, ShipType
from leadsman.units import DEGREE
from leadsman.waterway import Berth

APPROACH_ANGLE = 6.0 * DEGREE  # rad, where the berth says nothing: ample for a ship laid alongside, setting
LEAST_SIDE_AREA = 2000.0  # m²: the class rule for lines holds above (forces sheet 7) [memory]
LINE = "synthetic"  # what first lines usually are [common practice]
LEAD = math.radians(70.0)  # of the first breast lines from the ship's side in plan (forces sheet 7), setting
LARGE_TANKER = 100_000.0e3  # kg: from here on the slow customary landing speed, setting


def landing_of(found: Plan, ship: Ship, particulars: Particulars, berth: Berth) -> Landing:
    """The energy she brings to the fenders, at the speed the berth allows or else the customary one."""
    case = found.case
    speed, said = _speed(ship, particulars, berth)
    angle = APPROACH_ANGLE if berth.approach_angle is None else berth.approach_angle
    quay = case.quay
    assert quay is not None, "a berth has its quay"
    answer = landing.land(
        landing.Approach(
            displacement=particulars.displacement,
            length_between_perpendiculars=particulars.length_between_perpendiculars,
            beam=ship.beam,
            draught=particulars.draught,
            block_coefficient=particulars.block_coefficient,
            underkeel_clearance=case.underkeel_clearance,
            speed=speed,
            angle=angle,
            contact=None if angle == 0.0 else quay.fenders_to,
            softness=1.0,
            configuration=fender.configuration_factor("open"),  # no cushion of water is credited, whatever the face
            allowed_energy=berth.fender_energy,
            allowed_speed=berth.maximum_landing_speed,
        )
    )
    return Landing(
        speed=speed,
        speed_from=said,
        angle=angle,
        energy=answer.energy,
        by_method=dict(answer.by_method),
        allowed_energy=answer.allowed_energy,
        greatest_speed=answer.greatest_speed,
        reaction=berth.fender_reaction if answer.within else None,
        design_speeds=dict(answer.design_speeds),
        drift_speed=landing.speed_onto_quay(case, _sway(found), quay.distance),
    )


def _speed(ship: Ship, particulars: Particulars, berth: Berth) -> tuple[float, str]:
    if berth.maximum_landing_speed is not None:
        return berth.maximum_landing_speed, "greatest by the rule of the berth"
    if ship.kind in (ShipType.TANKER, ShipType.GAS_CARRIER, ShipType.BULK_CARRIER):
        row = "large tanker" if particulars.displacement >= LARGE_TANKER else "small ship"
    else:
        row = "container ship" if ship.kind is ShipType.CONTAINER else "small ship"
    return fender.customary_landing_speed(row), f"customary for a {row}"


def _sway(found: Plan) -> float:
    """Of wind and stream on the whole ship, by the method that sets her hardest on to the quay. [N]"""
    case = found.case
    assert case.quay is not None, "a berth has its quay"
    stream = case.current_loads(case.current_speed, case.current_from)
    loads = [case.wind_loads(case.wind_speed, case.wind_from, each) + stream for each in case.windages]
    return max((float(load[1]) for load in loads), key=lambda sway: case.quay.side * sway if case.quay else 0.0)


def lifting_off(found: Plan, particulars: Particulars, berth: Berth) -> LiftingOff:
    """Whether she comes off the quay as things are, and which lines hold her on it until all is fast."""
    case = found.case
    assert case.quay is not None, "a berth has its quay"
    answer = landing.lift_off(case, case.quay.distance)
    load = None
    if particulars.lateral_area >= LEAST_SIDE_AREA:
        load = float(mooring.safe_load(float(mooring.design_breaking_load(particulars.lateral_area)), LINE))
        load = load if berth.bollard_load is None else min(load, berth.bollard_load)
    return LiftingOff(
        force=answer.force if answer.force > 0.0 else None,
        seconds=answer.seconds if np.isfinite(answer.seconds) else None,
        set_off_force=landing.offshore_force(case),
        lines=None if load is None else landing.lines_until_fast(case, load, LEAD),
        line_load=load,
    )

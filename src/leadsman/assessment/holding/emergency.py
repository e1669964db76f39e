"""Anchors as the last means on the way: where there is most room, whether one holds, how fast they still stop her."""

import math
from dataclasses import replace

import numpy as np

from leadsman.assessment.holding.anchoring import AnchoringCase, anchor_her, emergency_stop
from leadsman.assessment.holding.case import HoldingCase
from leadsman.assessment.holding.result import Anchoring
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.equipment import State
from leadsman.physics import anchor, equipment_number, wind_profile
from leadsman.ship import Loading, Ship

ANCHOR_TYPE = "stockless"  # flukes free to swing: the least in mud, and what most ships carry [common practice]
CHAIN_GRADE = "U3"  # the smallest, lightest chain of its equipment number: needs most cable, setting
MOST_TIMES = 100.0  # the ratio is told up to here: with neither wind nor stream there would be no end
HAWSE_TO_WINDLASS = 10.0  # m, setting
BOTTOMS = ("mud", "sand")
"""Those the holding figures are published for."""


def anchoring(prepared: Prepared, found: Account, case: HoldingCase, equipment: float | None) -> Anchoring | None:
    """One anchor at the roomiest place of the passage; None where anchors are defective or nothing is known of them.

    `case` gives her windage and the wind; `equipment` is her equipment number, for what the card leaves out.
    """
    call = prepared.call
    ship, loading = prepared.aboard
    if ship.anchors.state is State.DEFECTIVE or ship.moulded_depth is None:
        return None
    tackle = _tackle(ship, equipment)
    if tackle is None:
        return None
    station = int(np.argmax(np.minimum(found.room_port, found.room_starboard)))
    depth = float(found.depth[station] + found.water_level[station])
    charted = call.waterway.areas[int(prepared.passage.bed.area[station])].bottom.lower()
    bottoms = [bottom for bottom in BOTTOMS if bottom in charted] or list(BOTTOMS)
    mass, diameter = tackle
    one = AnchoringCase(
        length_overall=ship.length_overall,
        beam=ship.beam,
        displacement=case.displacement,
        windages=case.windages,
        hull=case.hull,
        anchor_type=ANCHOR_TYPE,
        anchor_mass=mass,
        bottom=bottoms[0],
        chain_diameter=diameter,
        chain_grade=CHAIN_GRADE,
        cable_on_board=_cable(ship) or math.inf,
        shackle=ship.anchors.shackle or anchor.CLASS_SHACKLE,
        hawse_above_water=_hawse(ship, loading),
        hawse_to_windlass=HAWSE_TO_WINDLASS,
        water_depth=depth,
        wind_speed=case.wind_speed,
        current_speed=math.hypot(float(found.stream_along[station]), float(found.stream_across[station])),
        gust_seconds=wind_profile.SHIP_GUST,
        amplification=anchor.YAWING_AMPLIFICATION,
    )
    answers = {bottom: anchor_her(replace(one, bottom=bottom)) for bottom in bottoms}
    first = answers[bottoms[0]]
    stop = emergency_stop(one, anchors=2, speed=0.0, room=ship.length_overall)
    return Anchoring(
        place=prepared.passage.place(float(found.distance[station])),
        bottom=charted,
        holding={bottom: min(answer.ratio, MOST_TIMES) for bottom, answer in answers.items()},
        greatest_wind={bottom: answer.greatest_wind for bottom, answer in answers.items()},
        cable=first.cable_needed,
        cable_on_board=_cable(ship),
        shackles_on_deck=first.orders[0].shackles,
        shackles_in_water=first.orders[1].shackles,
        by_rules=dict(first.cable_by_rules),
        swing_radius=first.swing_radius,
        room=float(min(found.room_port[station], found.room_starboard[station])) + 0.5 * ship.beam,
        bringing_up_speed=first.bringing_up_speed,
        stopping_speed=stop.greatest_speed,
        walk_back_speed=anchor.WALK_BACK_SPEED,
    )


def _tackle(ship: Ship, number: float | None) -> tuple[float, float] | None:
    """Mass of one bower and diameter of its chain, from the card or from class for her equipment number. [kg, m]"""
    number = ship.anchors.equipment_number or number
    if number is None:
        return None
    try:
        equipment = equipment_number.equipment(number)
    except ValueError:  # outside the table: nothing is known
        return None
    diameter = next((size for size in reversed(equipment.diameters) if not math.isnan(size)), None)
    return None if diameter is None else (ship.anchors.anchor_mass or equipment.anchor_mass, diameter)


def _cable(ship: Ship) -> float | None:
    """The longer of the bower cables. [m]"""
    counts = [count for count in (ship.anchors.port_shackles, ship.anchors.starboard_shackles) if count is not None]
    return max(counts) * (ship.anchors.shackle or anchor.CLASS_SHACKLE) if counts else None


def _hawse(ship: Ship, loading: Loading) -> float:
    """Her freeboard forward: hawse pipes leave the side a little under the deck. [m]"""
    assert ship.moulded_depth is not None, "asked only where it is known"
    return ship.moulded_depth - loading.draught_forward

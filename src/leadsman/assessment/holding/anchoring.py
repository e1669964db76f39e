"""Whether the anchor holds, how much cable, how much room to swing, and how fast she may still go to be brought up."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from leadsman.assessment.holding.case import HullInStream, Windage
from leadsman.physics import anchor, wind_profile

DREDGING_RATIO = 1.0  # anchor's drag over its weight at short stay (forces sheet 6.4) [common practice]
AHEAD_ADDED_MASS = 0.05  # of her own mass, moving ahead: 0.02 to 0.06 for ships (from memory)


@dataclass(frozen=True, kw_only=True, eq=False)
class AnchoringCase:
    """Ship, ground tackle, place and weather."""

    length_overall: float
    beam: float
    displacement: float
    windages: tuple[Windage, ...]
    hull: HullInStream
    anchor_type: str
    """Of `physics.anchor.anchor_types()`."""
    anchor_mass: float
    bottom: str
    """"mud" or "sand"."""
    chain_diameter: float
    chain_grade: str
    cable_on_board: float
    """On the side used. [m]"""
    shackle: float
    hawse_above_water: float
    hawse_to_windlass: float
    water_depth: float
    wind_speed: float
    """Ten-minute mean. [m/s]"""
    current_speed: float
    gust_seconds: float
    amplification: float
    """Pull of a yawing and surging ship over the steady pull, 1.5 to 2.0. [-]"""

    @property
    def height(self) -> float:
        """From the bed to the hawse. [m]"""
        return self.water_depth + self.hawse_above_water

    @property
    def chain_weight(self) -> float:
        """In water. [N/m]"""
        return float(anchor.chain_weight(self.chain_diameter))


@dataclass(frozen=True, kw_only=True)
class Anchoring:
    """The answer."""

    pull: float
    """Steady, wind and current from ahead together. [N]"""
    planned_pull: float
    """With the amplification. [N]"""
    holding: float
    """Ultimate, of the anchor well set. [N]"""
    ratio: float
    """Holding over planned pull; 1 just holds, the ship's own anchor being allowed a factor of 1. [-]"""
    cable_needed: float
    """Catenary of the planned pull and a shackle on the bed. [m]"""
    cable_by_rules: Mapping[str, float]
    """[m]"""
    enough_cable: bool
    orders: tuple[anchor.CableOrder, anchor.CableOrder]
    """On deck and in the water."""
    tension: float
    """At the hawse under the planned pull. [N]"""
    brake: float
    """What the windlass brake holds. [N]"""
    swing_radius: float
    """Of her stern, with the needed cable out and the planned pull. [m]"""
    greatest_wind: float
    """Ten-minute mean at which the planned pull equals the holding, current as it is; 0 where the current alone is
    too much. [m/s]"""
    bringing_up_speed: float
    """Over the ground, at which the needed cable brings her up within the brake. [m/s]"""
    windlass_can_lift: bool
    """The depth is within anchor and three shackles, that a windlass is rated for."""


def anchor_her(case: AnchoringCase) -> Anchoring:
    """Whether she lies safely to one anchor, wind and stream from ahead together.

    Raises ValueError for an anchor, bottom or grade without figures.
    """
    wind, stream = _pulls(case, case.wind_speed)
    pull = wind + stream
    planned = case.amplification * pull
    holding = float(anchor.holding_ufc(case.anchor_mass, case.anchor_type, case.bottom))
    hanging = anchor.catenary(case.height, planned, case.chain_weight)
    needed = float(hanging.length) + anchor.LEFT_ON_BOTTOM
    brake = anchor.BRAKE_SHARE * anchor.chain_breaking_load(case.chain_diameter, case.chain_grade)
    unit = _pulls(case, 1.0)[0]
    spare = holding / case.amplification - stream
    return Anchoring(
        pull=pull,
        planned_pull=planned,
        holding=holding,
        ratio=holding / planned if planned > 0.0 else math.inf,
        cable_needed=needed,
        cable_by_rules={name: float(rule.function(case.water_depth)) for name, rule in anchor.CABLE_RULES.items()},
        enough_cable=needed <= case.cable_on_board,
        orders=anchor.cable_order(needed, case.shackle, case.hawse_to_windlass, case.hawse_above_water),
        tension=float(hanging.tension),
        brake=brake,
        swing_radius=float(anchor.swing_radius(case.height, planned, case.chain_weight, needed, case.length_overall)),
        greatest_wind=math.sqrt(max(spare, 0.0) / unit),
        bringing_up_speed=float(
            anchor.bringing_up_speed(case.height, needed, case.chain_weight, brake, _moving_mass(case))
        ),
        windlass_can_lift=case.height <= anchor.WINDLASS_RATED_LENGTH,
    )


def _pulls(case: AnchoringCase, wind_speed: float) -> tuple[float, float]:
    """Steady pull of wind, by the worst method and with its gust, and of current, both from ahead. [N]"""
    gust = float(wind_profile.gust_factor(case.gust_seconds, wind_profile.FORECAST_MEAN))
    wind = max(-float(each.loads(gust * wind_speed, 0.0)[0]) for each in case.windages)
    stream = -float(case.hull.loads(case.current_speed, 0.0, case.water_depth)[0])
    return wind, stream


def _moving_mass(case: AnchoringCase) -> float:
    return (1.0 + AHEAD_ADDED_MASS) * case.displacement


@dataclass(frozen=True, kw_only=True)
class EmergencyStop:
    """Stopping her with anchors dredged at short stay."""

    force: float
    """Of all anchors. [N]"""
    distance: float
    """From the speed asked, anchors alone. [m]"""
    greatest_speed: float
    """From which she stops within the room, anchors alone. [m/s]"""
    within_walk_back: bool
    """The speed is one at which a windlass can still walk the cable out; above it the brake must take the run."""


def emergency_stop(case: AnchoringCase, anchors: int, speed: float, room: float) -> EmergencyStop:
    """Anchors let go to drag at short stay: how far she goes, and how fast she may go for the room there is.

    Parameters
    ----------
    speed : float
        Over the ground. [m/s]
    room : float
        [m]
    """
    force = anchors * float(anchor.dragging_force(case.anchor_mass, case.height, case.chain_weight, DREDGING_RATIO))
    mass = _moving_mass(case)
    return EmergencyStop(
        force=force,
        distance=float(anchor.stopping_distance(speed, mass, force)),
        greatest_speed=float(anchor.stopping_speed(room, mass, force)),
        within_walk_back=speed <= anchor.WALK_BACK_SPEED,
    )

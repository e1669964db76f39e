"""What stands against what when a ship is to be held: plain numbers in ship axes, SI. All angles count from the bow.

Positions are forward of midships and to starboard of the centreline. Nothing here is assumed for the reader: figures of
the trade that planning needs have names in `physics` and stand in `PLANNING`.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from leadsman.physics import current, static_hull, tug, wind, wind_profile
from leadsman.physics.method import Breach
from leadsman.physics.wind import Loads

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, eq=False)
class Windage:
    """What the wind finds of her, by one method."""

    method: str
    """Name of a row of `physics.wind.METHODS`."""
    coefficients: Array
    """Regular grid from 0 to pi, shape (n, 3), of `physics.wind.coefficient_table`."""
    length_overall: float
    lateral_area: float
    transverse_area: float
    pressure_ratio: float
    """Mean pressure over her height over that at 10 m; never under 1 unless someone answers for it. [-]"""
    air_density: float

    def loads(self, speed: Array | float, wind_from: Array | float) -> Array:
        """Surge, sway, yaw of a relative wind at 10 m, shape (..., 3). [N, N, N m]"""
        speed, wind_from = np.broadcast_arrays(np.asarray(speed, dtype=float), np.asarray(wind_from, dtype=float))
        grid = np.linspace(0.0, np.pi, len(self.coefficients))
        off_bow = wind.off_bow(wind_from)
        coefficients = wind.Coefficients(*(np.interp(off_bow, grid, column) for column in self.coefficients.T))
        pressure = self.pressure_ratio * wind_profile.dynamic_pressure(speed, self.air_density)
        found = wind.loads(
            coefficients, wind_from, pressure, self.length_overall, self.lateral_area, self.transverse_area
        )
        return np.stack(found, axis=-1)

    @property
    def beam_force_area(self) -> float:
        """Greatest lateral coefficient times area: what tells the heavier of two methods. [m²]"""
        return float(np.max(self.coefficients[:, 1])) * self.lateral_area


@dataclass(frozen=True, kw_only=True)
class HullInStream:
    """What the current finds of her: arguments of `physics.current.ufc`."""

    length_waterline: float
    beam: float
    draught: float
    block_coefficient: float
    midship_coefficient: float
    propeller: str
    propellers: int
    form: str
    density: float

    def loads(self, speed: Array | float, current_from: Array | float, water_depth: float) -> Array:
        """Surge, sway, yaw of a current past her, shape (..., 3). [N, N, N m]"""
        found: Loads = current.ufc(speed, current_from, water_depth=water_depth, **self.__dict__)
        return np.stack(np.broadcast_arrays(*found), axis=-1)

    def lateral_coefficient(self, water_depth: float) -> float:
        """Of the hull broadside on, at this depth. [-]"""
        section = self.midship_coefficient * self.beam * self.draught
        volume = self.length_waterline * self.beam * self.draught * self.block_coefficient
        deep = current.deep_coefficient(self.length_waterline, self.beam, section, volume)
        return float(current.coefficient_at_depth(deep, self.draught, water_depth))


@dataclass(frozen=True, kw_only=True)
class Screw:
    """One propeller with the rudder in its race, or one pod. Thrusts are those at rest, of the order allowed."""

    name: str
    position: float
    lateral_position: float
    ahead: float
    """Greatest thrust ahead; nil when the engine is defective. [N]"""
    astern: float
    """Greatest thrust astern. [N]"""
    throw: float = 0.0
    """Transverse thrust over thrust astern, to starboard positive: -0.10 for a right-handed screw. [-]"""
    rudder_position: float | None = None
    """Of the rudder in its race; None where there is none. [m]"""
    rudder_side: float = 0.0
    """Lateral force of the rudder hard over, over thrust ahead. [-]"""
    rudder_ahead: float = 1.0
    """Thrust ahead that is left then. [-]"""
    pod: bool = False
    """Turns all round."""
    steady_ahead: float = 0.0
    """Thrust ahead at the order she runs under way with. [N]"""
    rudder_free: float = 0.0
    """Lateral force of the rudder hard over by her way alone, at the speed of the case. [N]"""


@dataclass(frozen=True, kw_only=True)
class Thruster:
    """One tunnel thruster."""

    name: str
    position: float
    thrust: float
    """At rest, to either side. [N]"""
    available: float
    """Share that can be used today: 0 defective. [-]"""
    immersion: float
    """Factor of `physics.thruster.immersion_factor`. [-]"""


class Place(StrEnum):
    """Where a tug works."""

    FORWARD = "forward"
    """On a line from the centre lead forward."""
    AFT = "aft"
    """On a line from the centre lead aft."""
    PORT_BOW = "port_bow"
    STARBOARD_BOW = "starboard_bow"
    PORT_QUARTER = "port_quarter"
    STARBOARD_QUARTER = "starboard_quarter"

    @property
    def side(self) -> int:
        """+1 starboard side, -1 port side, 0 on a line."""
        return {"port": -1, "starboard": 1}.get(self.value.partition("_")[0], 0)


@dataclass(frozen=True, kw_only=True)
class Tug:
    """One tug at work."""

    name: str
    kind: str
    """A row of `physics.tug.types()`."""
    bollard_pull: float
    """Certified. [N]"""
    place: Place
    position: float
    """Where her force meets the ship, forward of midships. [m]"""
    line_length: float
    """From hull to tug when on a line: decides what her wash takes. [m]"""
    line_lead: float
    """Angle of the line below the horizontal. [rad]"""
    sector: float
    """On a line: how far to either side of the ship's own line she may pull. [rad]"""


@dataclass(frozen=True, kw_only=True)
class Quay:
    """The wall she lies at, lands on or leaves."""

    side: int
    """+1 to starboard, -1 to port."""
    distance: float
    """From her side; 0 alongside. [m]"""
    closed: bool
    """A wall that turns a jet back, not a jetty on piles."""
    fenders_from: float
    fenders_to: float
    """Where her parallel body bears on the outermost fenders, forward of midships. [m]"""
    fender_force: float
    """That each end may bear, by fender and by hull. [N]"""


class Situation(StrEnum):
    """What holding means."""

    ALONGSIDE = "alongside"
    """Fenders bear what presses her on; means hold her against what lifts her off."""
    OFF_THE_BERTH = "off_the_berth"
    """Stopped close to the quay, landing or lifting off: no fender helps."""
    BASIN = "basin"
    """Stopped over the ground in open water of the harbour."""
    SWINGING = "swinging"
    """Stopped through the water, going with it: how a ship is swung in a stream."""
    UNDER_WAY = "under_way"
    """Making way, kept on her course with a drift angle; surge is the engine's own affair."""


@dataclass(frozen=True, kw_only=True)
class Planning:
    """Figures of planning, to be set by whoever answers for the plan."""

    gust_seconds: float
    """The wind is multiplied by the gust of this length over the ten-minute mean; 600 for none. [s]"""
    demand: float
    """Factor on the loads of wind and current, 1.25 where gusts are not counted. [-]"""
    usable_pull: float
    """Of a tug's certified bollard pull. [-]"""
    screw_in_hand: float
    """Share of each engine and rudder kept in hand by the orders where the balance allows. [-]"""
    thruster_in_hand: float
    """Likewise of each thruster. [-]"""
    tug_in_hand: float
    """Likewise of each tug's usable pull. [-]"""
    untested_thruster: float
    """Factor on thrusters not lately tested. [-]"""
    surge_allowance: float
    """Fore-and-aft force that may stay unbalanced for the time of the manoeuvre, either way. [N]"""
    kicks_in_turn: bool
    """Whether kicks ahead and astern in turn count as their mean; a steady balance cannot have both from one screw."""
    drift_angle: float
    """Greatest drift angle under way that the room allows. [rad]"""


IN_HAND = 0.25  # 20 to 25 % (forces sheet 4.2) [common practice]
PLANNING = Planning(
    gust_seconds=wind_profile.SHIP_GUST,
    demand=1.0,  # with the gust counted (forces sheet 4.2) [common practice]
    usable_pull=tug.USABLE,
    screw_in_hand=IN_HAND,
    thruster_in_hand=IN_HAND,
    tug_in_hand=IN_HAND,
    untested_thruster=0.9,  # forces sheet 3.1, tool setting
    surge_allowance=0.0,
    kicks_in_turn=False,
    drift_angle=0.0873,  # rad, 5 degrees: tool setting, ample for most fairways
)


@dataclass(frozen=True, kw_only=True)
class HoldingCase:
    """One question: this ship, this wind and current, these means, in this situation."""

    situation: Situation
    length_overall: float
    beam: float
    displacement: float
    windages: tuple[Windage, ...]
    """By each method that suits her; the heaviest is planned on."""
    hull: HullInStream
    screws: tuple[Screw, ...]
    thrusters: tuple[Thruster, ...]
    tugs: tuple[Tug, ...]
    water_depth: float
    """Bed to surface at the time. [m]"""
    wind_speed: float
    """Ten-minute mean at 10 m. [m/s]"""
    wind_from: float
    """Off the bow, to starboard positive. [rad]"""
    current_speed: float
    current_from: float
    """Where it comes from, off the bow, to starboard positive. [rad]"""
    speed: float
    """Through the water, ahead positive; nil unless under way. [m/s]"""
    quay: Quay | None
    planning: Planning
    forecast_gust: float | None = None
    """Gust of the forecast over its ten-minute mean, read as one of three seconds. [-]"""

    def __post_init__(self) -> None:
        needs_quay = self.situation in (Situation.ALONGSIDE, Situation.OFF_THE_BERTH)
        if needs_quay and self.quay is None:
            raise ValueError(f"situation {self.situation} needs a quay")
        if not self.windages:
            raise ValueError("no windage is given; expected at least one method's")
        if self.situation is not Situation.UNDER_WAY and self.speed != 0.0:
            raise ValueError(
                f"situation {self.situation} is a stopped ship; expected speed 0, got {self.speed:.3g} m/s"
            )

    @property
    def windage(self) -> Windage:
        """That of the method with the greatest force abeam."""
        return max(self.windages, key=lambda each: each.beam_force_area)

    @property
    def lever(self) -> float:
        """Half her length: what moments are measured by. [m]"""
        return 0.5 * self.length_overall

    @property
    def underkeel_clearance(self) -> float:
        """Static. [m]"""
        return self.water_depth - self.hull.draught

    @property
    def gust(self) -> float:
        """Gust planned for over the ten-minute mean; a forecast that is gustier than usual raises it. [-]"""
        planned = float(wind_profile.gust_factor(self.planning.gust_seconds, wind_profile.FORECAST_MEAN))
        if self.forecast_gust is None:
            return planned
        short = wind_profile.gust_factor(wind_profile.SHORT_GUST, wind_profile.FORECAST_MEAN)
        return planned * max(1.0, self.forecast_gust / float(short))

    @property
    def goes_with_water(self) -> bool:
        """Whether the current carries her instead of loading her."""
        return self.situation in (Situation.UNDER_WAY, Situation.SWINGING)

    @property
    def _over_ground(self) -> tuple[float, float]:
        """Her velocity ahead and to starboard: held, or through the water and with it. [m/s]"""
        if self.situation is not Situation.UNDER_WAY:
            return 0.0, 0.0
        ahead = self.speed - self.current_speed * math.cos(self.current_from)
        return ahead, -self.current_speed * math.sin(self.current_from)

    @property
    def headwind(self) -> float:
        """Mean wind by which a ship that swings feels more than blows: the stream may carry her against it. [m/s]"""
        return self.current_speed / self.gust if self.situation is Situation.SWINGING else 0.0

    def wind_loads(self, speed: Array | float, wind_from: Array | float, windage: Windage | None = None) -> Array:
        """Surge, sway, yaw of true winds, gust and demand factor in it, shape (..., 3). [N, N, N m]"""
        ahead, to_starboard = self._over_ground
        speed = np.add(speed, self.headwind)
        felt, angle = wind_profile.relative(np.multiply(self.gust, speed), wind_from, ahead, to_starboard)
        return self.planning.demand * (windage or self.windage).loads(felt, angle)

    def current_loads(self, speed: Array | float, current_from: Array | float) -> Array:
        """Surge, sway, yaw of currents, shape (..., 3); nil where she goes with the water. [N, N, N m]"""
        found = self.planning.demand * self.hull.loads(speed, current_from, self.water_depth)
        return np.zeros_like(found) if self.goes_with_water else found

    @property
    def surge_counts(self) -> bool:
        """Whether the fore-and-aft balance is asked for; under way it is the engine's own affair."""
        return self.situation is not Situation.UNDER_WAY

    @property
    def breaches(self) -> tuple[Breach, ...]:
        """Limits of the methods used that the case does not respect: its answer is indicative then."""
        found = current.METHODS["ufc"].outside(
            stream_rate=self.current_speed, draught_to_depth=self.hull.draught / self.water_depth
        )
        if self.situation is not Situation.UNDER_WAY:
            return found
        return (*found, *static_hull.METHODS["linear"].outside(drift_angle=self.planning.drift_angle))

    def with_tugs(self, tugs: tuple[Tug, ...]) -> "HoldingCase":
        """The same question with other tugs."""
        return replace(self, tugs=tugs)


def tug_positions(length_overall: float, parallel_body: tuple[float, float]) -> Mapping[Place, float]:
    """Where tugs usually work, forward of midships: leads at the ends, and the ends of the parallel body. [m]

    Source: common practice, no source: centre leads about 0.48 and 0.47 of the length from midships.
    """
    aft, forward = parallel_body
    return {
        Place.FORWARD: 0.48 * length_overall,
        Place.AFT: -0.47 * length_overall,
        Place.PORT_BOW: forward,
        Place.STARBOARD_BOW: forward,
        Place.PORT_QUARTER: aft,
        Place.STARBOARD_QUARTER: aft,
    }

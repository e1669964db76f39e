"""What is fitted to a ship to move, steer and hold her, as her card gives it. Only what is impossible about it is told.

All SI; `None` means the card does not say. Orders are named as on the card.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from leadsman.errors import number_problems, refuse

AHEAD_ORDERS = ("full_ahead", "half_ahead", "slow_ahead", "dead_slow_ahead")
ASTERN_ORDERS = ("dead_slow_astern", "slow_astern", "half_astern", "full_astern")
ORDERS = ("full_sea_speed", *AHEAD_ORDERS, "stop", *ASTERN_ORDERS)
RUDDER_KINDS = ("conventional", "spade", "fishtail", "flap")


class EngineKind(StrEnum):
    """How thrust is reversed: what decides starts, delays and least revolutions."""

    REVERSING_DIESEL = "reversing_diesel"
    GEARED_DIESEL = "geared_diesel"
    CONTROLLABLE_PITCH = "controllable_pitch"
    DIESEL_ELECTRIC = "diesel_electric"
    STEAM_TURBINE = "steam_turbine"


class ReversalMeaning(StrEnum):
    """What the card's `full ahead to full astern` time was measured to: masters write either; it is never guessed."""

    ENGINE_REVERSED = "engine_reversed"
    SHIP_STOPPED = "ship_stopped"
    UNKNOWN = "unknown"


class State(StrEnum):
    """Whether a piece of equipment can be used today."""

    READY = "ready"
    REDUCED = "reduced"
    DEFECTIVE = "defective"


@dataclass(frozen=True, kw_only=True)
class EngineOrder:
    """One line of the engine order table."""

    order: str
    revolutions: float | None = None
    """Per second; negative for astern on a fixed-pitch propeller is written positive here, the order says which way."""
    pitch: float | None = None
    """Fraction of full pitch ahead, where the table gives pitch."""
    speed_loaded: float | None = None
    speed_ballast: float | None = None

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.order not in ORDERS:
            yield "order", f"'{self.order}' is no engine order; expected one of {', '.join(ORDERS)}"
        yield from number_problems(self, other=("revolutions", "pitch", "speed_loaded", "speed_ballast"))
        for name in ("speed_loaded", "speed_ballast", "revolutions"):
            value = getattr(self, name)
            if value is not None and value < 0.0:
                yield name, f"{value} is negative; the order itself says ahead or astern"


@dataclass(frozen=True, kw_only=True)
class Engine:
    """Main propulsion as the card gives it."""

    kind: EngineKind
    description: str = ""
    power: float | None = None
    """W, as given in kW."""
    horsepower: float | None = None
    """As written on the card; metric or mechanical is for the checks to find out."""
    orders: tuple[EngineOrder, ...] = ()
    time_limit_astern: float | None = None
    full_ahead_to_full_astern: float | None = None
    stop_to_full_astern: float | None = None
    reversal_meaning: ReversalMeaning = ReversalMeaning.UNKNOWN
    consecutive_starts: int | None = None
    maximum_revolutions: float | None = None
    """At maximum continuous rating. [1/s]"""
    minimum_revolutions: float | None = None
    time_limit_at_minimum_revolutions: float | None = None
    speed_at_minimum_revolutions: float | None = None
    astern_power_share: float | None = None
    critical_revolutions: tuple[float, float] | None = None
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from number_problems(
            self,
            positive=(
                "power",
                "horsepower",
                "time_limit_astern",
                "full_ahead_to_full_astern",
                "stop_to_full_astern",
                "maximum_revolutions",
                "minimum_revolutions",
                "time_limit_at_minimum_revolutions",
            ),
            other=("speed_at_minimum_revolutions", "astern_power_share"),
        )
        names = [order.order for order in self.orders]
        for name in sorted({name for name in names if names.count(name) > 1}):
            yield "orders", f"'{name}' stands twice in the engine order table"
        if self.critical_revolutions is not None and not self.critical_revolutions[0] < self.critical_revolutions[1]:
            yield "critical_revolutions", "the range is empty; expected lower figure first"
        if self.consecutive_starts is not None and self.consecutive_starts < 1:
            yield "consecutive_starts", f"{self.consecutive_starts} starts is no engine; expected 1 or more"

    def order(self, name: str) -> EngineOrder | None:
        """The line of the table for this order, if the card has it."""
        return next((line for line in self.orders if line.order == name), None)


@dataclass(frozen=True, kw_only=True)
class Propeller:
    """One propeller; lateral position positive to starboard of the centreline."""

    right_handed: bool | None = None
    controllable_pitch: bool = False
    diameter: float | None = None
    pitch_ratio: float | None = None
    blades: int | None = None
    lateral_position: float = 0.0
    shaft_height: float | None = None
    """Centre of the shaft above the keel. [m]"""
    podded: bool = False
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(
            number_problems(self, positive=("diameter", "pitch_ratio", "shaft_height"), other=("lateral_position",))
        )


@dataclass(frozen=True, kw_only=True)
class Rudder:
    """One rudder."""

    kind: str = "conventional"
    maximum_angle: float | None = None
    area: float | None = None
    height: float | None = None
    lateral_position: float = 0.0
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.kind not in RUDDER_KINDS:
            yield "kind", f"'{self.kind}' is no kind of rudder known here; expected one of {', '.join(RUDDER_KINDS)}"
        yield from number_problems(self, positive=("maximum_angle", "area", "height"), other=("lateral_position",))
        if self.maximum_angle is not None and not math.radians(10.0) <= self.maximum_angle <= math.radians(110.0):
            degrees = math.degrees(self.maximum_angle)
            yield "maximum_angle", f"{degrees:.3g} deg is no rudder's maximum; expected degrees, 10 to 110"


@dataclass(frozen=True, kw_only=True)
class Steering:
    """Steering particulars of the card."""

    hard_over_to_hard_over: float | None = None
    power_units: int | None = None
    """How many power units the hard-over time was taken with."""
    hard_over_with_one_unit: float | None = None
    """Where the poster gives a second time, taken with one power unit. [s]"""
    neutral_angle: float | None = None
    minimum_steering_speed: float | None = None
    minimum_steering_speed_propeller_stopped: float | None = None
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(
            number_problems(
                self,
                positive=(
                    "hard_over_to_hard_over",
                    "hard_over_with_one_unit",
                    "minimum_steering_speed",
                    "minimum_steering_speed_propeller_stopped",
                ),
                other=("neutral_angle",),
            )
        )


@dataclass(frozen=True, kw_only=True)
class Thruster:
    """One tunnel thruster; `position` is bow or stern."""

    position: str
    power: float
    horsepower: float | None = None
    not_effective_above: float | None = None
    distance_from_midships: float | None = None
    time_to_full_thrust: float | None = None
    time_to_reverse: float | None = None
    turning_rate: float | None = None
    """At zero speed through the water. [rad/s]"""
    time_limit: float | None = None
    """Of thrust at one go, where her motor bears it for so long only. [s]"""
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.position not in ("bow", "stern"):
            yield "position", f"'{self.position}' is no place for a thruster; expected bow or stern"
        yield from number_problems(
            self,
            positive=(
                "power",
                "horsepower",
                "not_effective_above",
                "time_to_full_thrust",
                "time_to_reverse",
                "turning_rate",
                "time_limit",
            ),
        )


@dataclass(frozen=True, kw_only=True)
class Anchors:
    """Bower and stern cables in shackles, and what the ship calls a shackle."""

    port_shackles: float | None = None
    starboard_shackles: float | None = None
    stern_shackles: float | None = None
    shackle: float | None = None
    """Length of one shackle. [m]"""
    shackle_fathoms: float | None = None
    heaving_time: float | None = None
    """To heave one shackle. [s]"""
    anchor_mass: float | None = None
    """Of one bower. [kg]"""
    equipment_number: float | None = None
    """From her certificate. [-]"""
    state: State = State.READY

    def __post_init__(self) -> None:
        refuse(
            number_problems(
                self,
                positive=(
                    "port_shackles",
                    "starboard_shackles",
                    "stern_shackles",
                    "shackle",
                    "shackle_fathoms",
                    "heaving_time",
                    "anchor_mass",
                    "equipment_number",
                ),
            )
        )

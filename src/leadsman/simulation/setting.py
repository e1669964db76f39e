"""A ship on trial: her fleet record, her engine orders, the water she is tried in, and how she runs steadily in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from leadsman.physics.hull_force import Force
from leadsman.simulation import sail, state
from leadsman.simulation.kernel import AFLOAT, STEP
from leadsman.simulation.parameters import Array, Fleet, Records
from leadsman.simulation.state import Motion, Surroundings

COLUMN = {name: index for index, name in enumerate(sail.COLUMNS)}
ORDERS = (
    "full_sea_speed",
    "full_ahead",
    "half_ahead",
    "slow_ahead",
    "dead_slow_ahead",
    "stop",
    "dead_slow_astern",
    "slow_astern",
    "half_astern",
    "full_astern",
)


class Order(NamedTuple):
    """What an engine order asks of every shaft: speed [1/s], astern negative unless the pitch is; pitch ratio [-]."""

    shaft_speed: float
    pitch_ratio: float


class Steady(NamedTuple):
    """Straight ahead under one order, for long: speed through the water [m/s], the gear as it turns then [1], and how
    she stands: not afloat where squat put her on the bottom before she was so fast.
    """

    speed: float
    gear: Records
    standing: int = AFLOAT

    @property
    def shaft_speed(self) -> float:
        """Of the first shaft. [1/s]"""
        return float(self.gear[0]["shafts"][0]["speed"])


@dataclass(frozen=True, kw_only=True)
class Setting:
    """What a trial needs to know. `interval` is the step [s]: a model of a few metres needs a shorter one than a
    ship."""

    fleet: Fleet
    orders: Mapping[str, Order]
    around: Surroundings = field(default_factory=state.deep_calm)
    variant: int = 0
    interval: float = STEP

    @property
    def length(self) -> float:
        """Between perpendiculars. [m]"""
        return float(self.ship["hull"]["length"])

    @property
    def ship(self) -> np.void:
        """The record of the variant on trial."""
        found: np.void = self.fleet.ships[self.variant]
        return found

    @property
    def screws(self) -> Records:
        """The records of her screws."""
        found: Records = self.ship["screws"][: int(self.ship["screw_count"])]
        return found

    @property
    def hard_over(self) -> float:
        """Greatest rudder angle, or 35 degrees for a pod. [rad]"""
        greatest = float(self.ship["rudders"]["greatest_angle"][: int(self.ship["rudder_count"])].min())
        return min(greatest, POD_HARD_OVER) if self.screws["azimuthing"].any() else greatest

    def time_for(self, lengths: float, speed: float) -> float:
        """Time to run a number of her lengths, and no less than ten minutes of a ship of 100 m. [s]"""
        return float(lengths * self.length / max(speed, 0.15 * np.sqrt(self.length)))

    def plan(self, order: str, rudder: float = 0.0) -> sail.Plan:
        """One engine order and one rudder angle from the beginning."""
        asked = self.orders[order]
        return sail.steady_plan(self.fleet, rudder, asked.shaft_speed, asked.pitch_ratio)

    def steady(self, order: str) -> Steady:
        """Run straight ahead under an order until speed and shafts no longer change."""
        asked = self.orders[order]
        guess = 0.8 * asked.shaft_speed * asked.pitch_ratio * float(self.screws["diameter"][0])
        found = self.sail(
            Motion(0.0, 0.0, 0.0, guess, 0.0, 0.0),
            self.plan(order),
            sail.Ending(self.time_for(300.0, abs(guess)), 0.0, -np.inf, 1e-4),
            helmsman=sail.RAILS,
            tracked=False,
        )
        return Steady(found.motion.surge, found.gear, found.standing)

    def sail(
        self,
        motion: Motion,
        plan: sail.Plan,
        ending: sail.Ending,
        *,
        helmsman: sail.Helmsman = sail.PLANNED,
        outside: Force = sail.NO_FORCE,
        gear: Records | None = None,
        tracked: bool = True,
    ) -> sail.Run:
        """`sail.run` in this setting."""
        return sail.run(
            self.fleet,
            motion,
            plan,
            ending,
            self.around,
            variant=self.variant,
            helmsman=helmsman,
            outside=outside,
            interval=self.interval,
            gear=gear,
            tracked=tracked,
        )


POD_HARD_OVER = np.radians(35.0)  # rad: pods turn all round; standard trials put them to the angle of a rudder


def straight(speed: float) -> Motion:
    """At the origin, on the northerly course the trials begin on, at a speed. [m/s]"""
    return Motion(0.0, 0.0, 0.0, speed, 0.0, 0.0)


def crossing(track: Array, column: str, value: float) -> Array | None:
    """The line of the track where a column first reaches a value, interpolated; None if it never does."""
    series = track[:, COLUMN[column]]
    reached = np.flatnonzero(series >= value) if value >= series[0] else np.flatnonzero(series <= value)
    if reached.size == 0:
        return None
    index = int(reached[0])
    if index == 0:
        first: Array = track[0]
        return first
    share = (value - series[index - 1]) / (series[index] - series[index - 1])
    between: Array = track[index - 1] + share * (track[index] - track[index - 1])
    return between


def path_length(track: Array) -> float:
    """Distance along the track. [m]"""
    return float(np.hypot(np.diff(track[:, COLUMN["north"]]), np.diff(track[:, COLUMN["east"]])).sum())


def speed_of(line: Array) -> float:
    """Speed through the water at a line of the track. [m/s]"""
    return float(np.hypot(line[COLUMN["surge"]], line[COLUMN["sway"]]))

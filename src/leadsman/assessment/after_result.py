"""What came of a passage, against what was planned: frozen, SI."""

from dataclasses import dataclass
from datetime import datetime

from leadsman.figure import Finding
from leadsman.geometry import Array


@dataclass(frozen=True, kw_only=True)
class Passing:
    """A place passed, when it was and when it was to be."""

    place: str
    distance: float
    """Along the track. [m]"""
    planned: datetime
    sailed: datetime
    off_track: float
    """To starboard positive. [m]"""
    planned_speed: float
    """Over the ground. [m/s]"""
    sailed_speed: float

    @property
    def late(self) -> float:
        """Negative: early. [s]"""
        return (self.sailed - self.planned).total_seconds()


@dataclass(frozen=True, kw_only=True)
class SailedLeg:
    """One reach: what was planned of it and what was made of it."""

    reach: str
    order: str
    """Planned; empty where a speed was."""
    planned_speed: float
    """Through the water. [m/s]"""
    sailed_speed: float
    """Through the water, the mean of the time on this reach: over the ground less the stream predicted. [m/s]"""
    slowest: float
    fastest: float
    off_port: float
    """How far to port of the track she came, at most; negative: never to port of it. [m]"""
    off_starboard: float
    rate_of_turn: float
    """The greatest of the reach and the bend at its end, as sailed; to starboard positive. [rad/s]"""
    least_net: float | None
    """Under the keel; None where no depth is known under her. [m]"""
    planned_net: float
    room_port: float
    """Least from her side to the edge of the fairway. [m]"""
    room_starboard: float


@dataclass(frozen=True, kw_only=True)
class SailedGate:
    """Something overhead, as passed."""

    name: str
    time: datetime
    clearance: float
    planned: float
    required: float


@dataclass(frozen=True, kw_only=True)
class Steady:
    """A stretch at even speed: what an order makes, if it was the one planned."""

    reach: str
    order: str
    distance: float
    """Run at even speed. [m]"""
    speed: float
    """Through the water, mean. [m/s]"""
    deviation: float
    """One standard deviation of that: the stream's. [m/s]"""
    card: float
    """What the plan took for the order. [m/s]"""
    depth_to_draught: float
    """Mean; card speeds are for deep water."""


@dataclass(frozen=True, kw_only=True, eq=False)
class After:
    """The passage as it was; arrays of one entry a station of the track that she passed."""

    ship: str
    vessel: str
    """As the log names her."""
    positions: int
    """Of the log that were used."""
    residual: float
    """Taken for the water level: observed less predicted. [m]"""
    measured: bool
    """Whether a gauge said so; else it is the forecast's best."""
    distance: Array
    time: tuple[datetime, ...]
    x: Array
    """On the local plane, north. [m]"""
    y: Array
    latitude: Array
    longitude: Array
    off_track: Array
    heading: Array
    speed_over_ground: Array
    speed: Array
    """Through the water. [m/s]"""
    water_level: Array
    squat: Array
    net: Array
    """NaN where no depth is known under her. [m]"""
    required: float
    room_port: Array
    room_starboard: Array
    rate_of_turn: Array
    passings: tuple[Passing, ...]
    legs: tuple[SailedLeg, ...]
    gates: tuple[SailedGate, ...]
    steady: tuple[Steady, ...]
    findings: tuple[Finding, ...]

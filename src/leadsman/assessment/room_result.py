"""Room to the sides, in bends, in basins and to stop in, as assessed."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class WidthRow:
    """One addend of a concept width."""

    name: str
    beams: float
    source: str
    mark: str
    beyond: bool
    """Whether its table ends before the value at hand."""


@dataclass(frozen=True, kw_only=True)
class ReachWidth:
    """The width of one reach, read backwards: what there is, what the guideline asks, what she sweeps."""

    reach: str
    available: float
    """Between the edges of the fairway. [m]"""
    needed: float
    """Concept width for her in these conditions; infinite where the guideline forbids them. [m]"""
    two_way: bool
    rows: tuple[WidthRow, ...]
    assumed: tuple[str, ...]
    """What nobody said, and how it was taken."""
    cross_wind: float | None
    """None: no wind is forecast. [m/s]"""
    cross_stream: float
    along_stream: float
    swept: float
    """Greatest width she sweeps. [m]"""
    heading_offset: float
    """Greatest angle from the track to her heading, starboard positive. [rad]"""
    rudder: float | None
    """That holds her on a straight track in the wind, greatest in the reach; None: the model cannot say. [rad]"""
    held: bool | None
    """Whether that is within her greatest angle."""

    @property
    def margin(self) -> float:
        """What is left above the concept width; negative: it lacks. [m]"""
        return self.available - self.needed


@dataclass(frozen=True, kw_only=True)
class BendTurn:
    """One bend against her: what it asks by geometry, and what her model says."""

    waypoint: str
    distance: float
    """Along the track to the waypoint. [m]"""
    radius: float
    lengths: float
    """The radius in her lengths overall."""
    deflection: float
    """To starboard positive. [rad]"""
    speed: float
    """Through the water. [m/s]"""
    rate_of_turn: float
    """At her speed over the ground. [rad/s]"""
    rudder: float | None
    """That keeps her on the arc; None: the model cannot say, or no angle would. [rad]"""
    held: bool | None
    """Whether her greatest wheel angle is enough; None: the model cannot say."""
    hard_over: float | None
    drift_angle: float | None
    wheel_over: float | None
    """Before the waypoint, her own delay in it. [m]"""
    meet: float | None
    """Before the new course, where the counter-wheel is given. [rad]"""
    time: float | None
    """From wheel-over to steady. [s]"""
    available: float
    needed: float
    """Concept width with what a bend adds. [m]"""
    swept: float
    straight_after: float | None
    """To the next bend, if that turns the other way. [m]"""


@dataclass(frozen=True, kw_only=True)
class SwingRoom:
    """One basin against her length and what the stream does while she swings."""

    basin: str
    diameter: float
    lengths: float
    stream: float
    """At her time there. [m/s]"""
    drift: float
    """How far the stream sets her while she swings, nobody holding her. [m]"""
    rules: tuple[tuple[str, float, str, str], ...]
    """(rule, diameter it asks, source, mark), the one that counts here first."""

    @property
    def needed(self) -> float:
        """By the rule that counts here. [m]"""
        return self.rules[0][1]


@dataclass(frozen=True, kw_only=True)
class WayOff:
    """How one reach is left: the distance her speed takes to come off, against the room there is."""

    reach: str
    speed: float
    """Through the water. [m/s]"""
    wanted: float
    """Of the next reach, or nil at the berth. [m/s]"""
    by: str
    """The engine order it is taken off with."""
    distance: float
    """Over the ground; infinite where that order never does. [m]"""
    begin: float
    """Along the track, where to begin. [m]"""
    room: float
    """Length of the reach. [m]"""
    crash_stop: float
    """By full astern from this speed, over the ground. [m]"""
    source: str
    """Of the crash stop: the model, or her own poster where that is longer."""
    last_stop: float
    """Along the track: where full astern still stops her before the end of it. [m]"""

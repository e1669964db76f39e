"""What an assessment says about holding her: plain numbers, SI, ship axes; angles count from the bow unless named true.

Surge is forward, sway to starboard, yaw to starboard, about midships.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from leadsman.figure import Finding


@dataclass(frozen=True, kw_only=True)
class Load:
    """A force and its moment."""

    surge: float
    """[N]"""
    sway: float
    """[N]"""
    yaw: float
    """[N m]"""


@dataclass(frozen=True, kw_only=True)
class Order:
    """What one of her means, or what bears by itself, makes in the balance."""

    name: str
    kind: str
    """`screw`, `thruster`, `tug`, `fender`, `hull` or `allowance`."""
    force: Load
    forward: float
    """Where it meets the ship, forward of midships. [m]"""
    to_starboard: float
    """Likewise, to starboard of the centreline. [m]"""
    used: float
    """Share of what it could give. [-]"""


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Whether she is held, by which orders."""

    held: bool
    reserve: float
    """How much more of wind and stream together could be held, as a share; below 0 she is not held. [-]"""
    by_method: Mapping[str, float]
    """The same by each wind method; the least counts. [-]"""
    in_hand: bool
    """Whether the orders keep in hand what is asked to be kept."""
    engines: str
    """Which way the screws drive; empty where there is no choice."""
    wind: Load
    stream: Load
    orders: tuple[Order, ...]
    left_over: Load
    """Nil but for rounding when held."""
    drift_speed: float
    """Sideways through the water that what is left over gives her in the end. [m/s]"""


@dataclass(frozen=True, kw_only=True)
class TugAtWork:
    """One tug where she is best placed."""

    name: str
    kind: str
    bollard_pull: float
    """Certified. [N]"""
    place: str
    forward: float
    """[m]"""
    usable: float
    """The most she can pull or push there as things are, whatever the direction. [N]"""


@dataclass(frozen=True, kw_only=True)
class TugsNeeded:
    """What must be ordered, by statics and by the trade's rules side by side. Certified bollard pulls."""

    by_statics: Mapping[str, float] | None
    """Least pull at each usual place; None where tugs at these places cannot. [N]"""
    by_rules: Mapping[str, float]
    """Total by each published rule. [N]"""
    two_at_least: bool
    """The side force is more than the thrusters make: the trade takes two tugs then."""
    number: int | None
    """How many of `each`, as statics have it, every place having its own."""
    each: float
    """Pull the number counts in. [N]"""

    @property
    def total_by_statics(self) -> float | None:
        """[N]"""
        return None if self.by_statics is None else sum(self.by_statics.values())


@dataclass(frozen=True, kw_only=True)
class Extra:
    """One more tug that would hold her, all else as it is."""

    bollard_pull: float
    """Certified, least that does. [N]"""
    kind: str
    place: str


@dataclass(frozen=True, kw_only=True)
class Change:
    """One change that would hold her, or the fact that it alone would not."""

    kind: str
    """`tug` or `wind`."""
    works: bool
    sentence: str
    change: float | None = None
    unit: str = ""


@dataclass(frozen=True, kw_only=True)
class Rose:
    """Greatest wind, or stream, by where it comes from, for each set of tugs."""

    off_bow: tuple[float, ...]
    """Where it comes from, off the bow, to starboard positive, from 0 round. [rad]"""
    limits: Mapping[str, tuple[float, ...]]
    """By name of the set of tugs. [m/s]"""
    ceiling: float
    """Limits that reach it are "over" it. [m/s]"""


@dataclass(frozen=True, kw_only=True)
class HeldAt:
    """Whether she is held at one place of the passage, at her time there."""

    key: str
    """Tells it from the others of the same call."""
    place: str
    situation: str
    """`under_way`, `swinging`, `off_the_berth`."""
    distance: float
    """Along the track. [m]"""
    time: datetime
    heading: float
    """True; where she swings, the heading that is hardest to hold. [rad]"""
    speed: float
    """Through the water. [m/s]"""
    engine_order: str
    """Greatest order reckoned with."""
    kicks: bool
    """Under way: the order is above the one she runs with, so it is given in kicks."""
    wind_speed: float
    """Ten-minute mean. [m/s]"""
    wind_from: float
    """True. [rad]"""
    gust: float
    """Gust planned for over the mean. [-]"""
    stream_rate: float
    stream_towards: float
    """True. [rad]"""
    water_depth: float
    quay_side: int
    """+1 quay to starboard, -1 to port, 0 none near."""
    balance: Balance
    tugs: tuple[TugAtWork, ...]
    alone: float | None
    """Reserve without tugs; None where there are none anyhow. [-]"""
    needed: TugsNeeded | None
    """None under way."""
    wind_limit: float
    """Greatest ten-minute mean from this direction she is held in, tugs as placed, stream as it is. [m/s]"""
    wind_over: bool
    """The limit is over the greatest wind looked at."""
    extra: Extra | None
    """None when held, or when one more tug does not do."""
    method_limits: tuple[str, ...]
    """What lies outside the published limits of a method: the answer is indicative then."""
    changes: tuple[Change, ...] = ()
    """What would hold her, where she is not held."""


@dataclass(frozen=True, kw_only=True)
class Landing:
    """How hard she lands on the fenders."""

    speed: float
    """Square to the quay, that is planned with. [m/s]"""
    speed_from: str
    """Who says so."""
    angle: float
    """Of her side to the quay. [rad]"""
    energy: float
    """By the method that gives most. [J]"""
    by_method: Mapping[str, float]
    allowed_energy: float | None
    """[J]"""
    greatest_speed: float | None
    """Allowed by fender or port; None where neither is known. [m/s]"""
    reaction: float | None
    """Of the fender at that energy. [N]"""
    design_speeds: Mapping[str, float]
    """What port engineers design for at her displacement, by conditions. [m/s]"""
    drift_speed: float
    """At which wind and stream set her on over half her beam, nothing holding her; 0 when they set her off. [m/s]"""


@dataclass(frozen=True, kw_only=True)
class LiftingOff:
    """Getting off the quay, or being set off it before the lines are fast."""

    force: float | None
    """Left over away from the quay; None: she is not lifted off. [N]"""
    seconds: float | None
    """For the first half beam; None when she is not lifted off. [s]"""
    set_off_force: float
    """What wind and stream set her off the quay with. [N]"""
    lines: int | None
    """Breast lines that must be fast before tugs let go; None where nothing is known of her lines."""
    line_load: float | None
    """Safe load of one, by the class rule for her side area. [N]"""


@dataclass(frozen=True, kw_only=True)
class Anchoring:
    """One anchor where she could lie, and stopping her with both."""

    place: str
    bottom: str
    """As charted; empty where nothing is."""
    holding: Mapping[str, float]
    """Over the planned pull, by kind of bottom; the charted one alone where it is known. [-]"""
    greatest_wind: Mapping[str, float]
    """Ten-minute mean that one anchor holds, by kind of bottom. [m/s]"""
    cable: float
    """Needed from the hawse. [m]"""
    cable_on_board: float | None
    shackles_on_deck: float
    shackles_in_water: float
    by_rules: Mapping[str, float]
    """Cable by each rule. [m]"""
    swing_radius: float
    """Of her stern. [m]"""
    room: float
    """To the edge of the fairway from midships. [m]"""
    bringing_up_speed: float
    """Over the ground, at which the cable brings her up within the brake. [m/s]"""
    stopping_speed: float
    """From which both anchors, dredged at short stay, stop her within her own length. [m/s]"""
    walk_back_speed: float
    """Above it the cable cannot be walked back and the brake must take the run. [m/s]"""


@dataclass(frozen=True, kw_only=True)
class HoldingAnswer:
    """All about holding her on one passage."""

    length_overall: float
    beam: float
    places: tuple[HeldAt, ...]
    """In the order sailed."""
    roses: Mapping[str, Rose]
    """Of wind, by key of the place: berth and basin."""
    landing: Landing | None
    lifting_off: LiftingOff | None
    anchoring: Anchoring | None
    findings: tuple[Finding, ...]
    """What was assumed, what falls short."""

    def at(self, key: str) -> HeldAt:
        """One place by its key."""
        return next(place for place in self.places if place.key == key)


@dataclass(frozen=True, kw_only=True)
class StaticLimits:
    """The answer with a rose of wind for every place, and of stream for those where she is stopped."""

    answer: HoldingAnswer
    streams: Mapping[str, Rose]
    """By key of the place, held over the ground. [m/s]"""

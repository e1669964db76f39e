"""What a rehearsal says: frozen, SI, times aware UTC. All that page, paper and command line receive of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from leadsman.assessment.result import Array
from leadsman.conning.orders import Order
from leadsman.figure import Finding, Grade


@dataclass(frozen=True, kw_only=True)
class Least:
    """The least of something along a run, and where; None where it was never looked at."""

    quantity: str
    """`room port`, `room starboard`, `water room`, `underkeel`, and `room to` each moored ship."""
    value: float | None
    distance: float
    """Along the track. [m]"""
    place: str


@dataclass(frozen=True, kw_only=True)
class WheelOver:
    """Where the wheel was put over for a bend, beside the geometry of its arc. [m]"""

    waypoint: str
    before: float
    """Before the waypoint, along the old course."""
    wheel: float
    """Of the first order. [rad]"""
    tangent: float
    """From the beginning of the arc to the waypoint: R tan(alteration/2)."""
    reach: float
    """What she runs before she turns: `before` less `tangent`."""


@dataclass(frozen=True, kw_only=True)
class Landing:
    """How she came to the quay."""

    speed: float
    """Of the nearer end towards it. [m/s]"""
    angle: float
    """Off parallel. [rad]"""
    place: float
    """Midships along the face, from its beginning. [m]"""
    limit: float
    """Speed borne. [m/s]"""


@dataclass(frozen=True, kw_only=True)
class BroughtUp:
    """How she came to lie at anchor."""

    off: float
    """Where the anchor lies at last, from where it was to go. [m]"""
    speed: float
    """Over the ground when it was let go. [m/s]"""
    cable: float
    """Out, from hawse to anchor. [m]"""
    dragged: float
    """How far it came home on the way. [m]"""
    pull: float
    """Of the cable at last. [N]"""
    radius: float
    """From anchor to stern with all the cable straight. [m]"""
    circle: float | None
    """She may swing in; None where nothing bounds her. [m]"""
    clearance: float
    """Under her keel over the circle at the lowest water of a tide; minus infinity where the bed is not known. [m]"""


@dataclass(frozen=True, kw_only=True)
class SwungOnAnchor:
    """What became of the anchor she was swung on."""

    side: str
    """`port` or `starboard`."""
    speed: float
    """Over the ground when it was let go. [m/s]"""
    dragged: float
    """How far it was dredged. [m]"""
    pull: float
    """Greatest, horizontal. [N]"""
    home: float | None
    """From letting go until it was clear of the water; None where it was not. [s]"""


@dataclass(frozen=True, kw_only=True)
class NoAir:
    """An order that found no air to start the engine on."""

    order: str
    """In words."""
    time: float
    """After the start. [s]"""
    distance: float
    """Along the track. [m]"""
    place: str


@dataclass(frozen=True, kw_only=True)
class Air:
    """Starts on air."""

    at_first: int
    """A shaft had air for, the least of several."""
    made: int
    """By all shafts together."""
    left: int
    """At the least, of the shaft that had least; air is made up on the way."""
    left_at: float
    """When that was, after the start. [s]"""
    refused: int
    """Orders that found no air."""
    waited: float
    """How long an engine was wanted and had no air, of the shaft that waited longest. [s]"""
    first_refused: NoAir | None


@dataclass(frozen=True, kw_only=True)
class Overrun:
    """A thruster told to give thrust for longer at one go than her card allows. [s]"""

    thruster: str
    at_one_go: float
    until: float
    """After the start."""
    limit: float


@dataclass(frozen=True, kw_only=True)
class MachineryUse:
    """What a run asked of engines and thrusters; of several the one that was asked most."""

    ahead: float
    """Greatest shaft speed times pitch, as a share of full ahead."""
    astern: float
    """The same of full astern."""
    astern_longest: float
    """Running astern at one go. [s]"""
    astern_until: float
    """When that stretch ended. [s]"""
    astern_in_all: float
    thruster: str
    """Which gave thrust longest at one go; empty where none was used."""
    thruster_longest: float
    """At one go. [s]"""
    thruster_until: float
    thruster_in_all: float
    """Of the one that gave thrust longest in all. [s]"""
    overruns: tuple[Overrun, ...]
    """Of every thruster whose card has a limit, its longest stretch beyond that."""
    air: Air | None
    """None where no engine starts on air."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Run:
    """One passage in time."""

    number: int
    ended: str
    """A word for the reason: `alongside`, `clear`, `aground`, ..."""
    why: str
    """The reason in a sentence, with the place."""
    success: bool
    time: float
    """[s]"""
    least: tuple[Least, ...]
    rudder: float
    """Greatest share of hard over used under way."""
    rate: float
    """Greatest rate of turn. [rad/s]"""
    thruster: float
    """Greatest share of thrust used."""
    tugs: float
    machinery: MachineryUse
    landing: Landing | None
    brought_up: BroughtUp | None
    """Where she was to anchor and let go."""
    swung: SwungOnAnchor | None
    """Where an anchor was let go to swing on."""
    orders: tuple[Order, ...]
    wheel_orders: int
    engine_orders: int
    busiest: int
    """Most orders spoken in ten minutes."""
    busiest_at: float
    """When those ten minutes ended. [s]"""
    wheel_overs: tuple[WheelOver, ...]
    columns: tuple[str, ...]
    track: Array
    """[moments, columns] SI."""
    advice: tuple[str, ...]
    """What would have made it go, where it failed."""


@dataclass(frozen=True, kw_only=True)
class Matter:
    """How much something uncertain matters: rank correlations with success, least room and landing speed."""

    name: str
    success: float
    room: float
    landing: float

    @property
    def weight(self) -> float:
        """The greatest of them."""
        return max(abs(self.success), abs(self.room), abs(self.landing))


@dataclass(frozen=True, kw_only=True)
class Tight:
    """A place where it was tight: the least room of the runs there."""

    quantity: str
    place: str
    distance: float
    usual: float
    """Median of the runs' least. [m]"""
    one_in_twenty: float
    """The value one run in twenty fell below. [m]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class Ensemble:
    """Many runs with everything uncertain drawn."""

    runs: int
    seed: int
    spread: Mapping[str, float]
    successes: int
    rate: float
    low: float
    """Of the interval that holds the true rate with 95 %."""
    high: float
    reasons: Mapping[str, int]
    tight: tuple[Tight, ...]
    matters: tuple[Matter, ...]
    """Heaviest first."""
    envelope_distance: Array
    envelope: Mapping[str, Array]
    """For `50`, `95` and `99` percent of the runs: reach to port and starboard of the track [stretches, 2]. [m]"""
    slow_work: Mapping[str, tuple[Array, ...]]
    """By the same names: outlines [corners, 2] of what she covers swinging, coming to the berth and landing, or leaving
    it; north and east on the plane [m], inside in an odd number of them."""
    worst: Run | None
    landing_speed: Mapping[str, float]
    """Quantiles over the runs that landed, by name. [m/s]"""
    duration: Mapping[str, float]
    busiest: Mapping[str, float]
    """Of the most orders spoken in ten minutes."""
    without_air: int
    """Runs in which an order to the engine found no air."""
    starts_left: int | None
    """At the least in any run; None where no engine starts on air."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Rehearsal:
    """A port call rehearsed."""

    call: str
    ship: str
    berth: str
    start: datetime
    planned: Run
    """Undisturbed: the ship as estimated in the wind and water forecast, without gusts."""
    ensemble: Ensemble | None
    estimated: tuple[str, ...]
    """What the run relied on that is estimated or was taken for granted, one sentence each."""
    fingerprint: str
    findings: tuple[Finding, ...] = ()
    """What a person must know of the planned run that does not end it, and of the drawn ones."""

    @property
    def stops(self) -> bool:
        """Whether the planned run asks for what she will not give, though it may have come to its end."""
        return any(finding.grade is Grade.STOP for finding in self.findings)

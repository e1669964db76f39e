"""The second waist: everything paper, page and command line receive about a port call. Numbers only; no formatting.

All SI; times aware UTC. Arrays run along the stations of the track, in the order sailed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.figure import Figure, Finding, Grade
from leadsman.portcall import PortCall

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Binding:
    """The limit that has least left, or is broken most: which, where, when, by how much."""

    limit: str
    """`underkeel`, `overhead`, or of a rule `daylight`, `speed`, `stream`, ...; a stable key."""
    place: str
    distance: float
    time: datetime
    value: float
    """What there is, in `unit`."""
    required: float
    """What must be, in `unit`."""
    unit: str = "m"
    at_most: bool = False
    """Whether `required` is the greatest allowed, not the least."""
    rule: str = ""
    """Name of the rule of the port it is; empty: the water itself binds."""
    words: str = ""
    """Of a rule: what she does and what it asks, as a clause."""
    part: str = ""
    """Of her bottom, under the keel."""

    @property
    def margin(self) -> float:
        """What is left of the requirement, in `unit`; negative: broken."""
        return self.required - self.value if self.at_most else self.value - self.required


@dataclass(frozen=True, kw_only=True)
class Window:
    """A span of start times for which all limits hold along the whole passage."""

    opens: datetime
    closes: datetime
    opens_by: Binding | None
    """The limit that holds her before it opens; None where the search began inside the window."""
    closes_by: Binding | None
    """The limit that holds her after it closes; None where the search ended inside the window."""
    best_start: datetime
    """The start with most margin."""
    best: Binding
    """What binds at the best start."""

    @property
    def length(self) -> timedelta:
        """How long it stands open."""
        return self.closes - self.opens


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the under-keel account along the track: what is added or taken off, with its source.

    `effect` is +1 where the values add to the clearance, -1 where they are taken off, 0 for a subtotal.
    """

    key: str
    label: str
    effect: int
    values: Array
    origin: str
    method: str
    source: str
    deviation: Array | None = None
    """One standard deviation. [m]"""


@dataclass(frozen=True, kw_only=True)
class Account:
    """The passage of one start time, station by station."""

    distance: Array
    x: Array
    y: Array
    latitude: Array
    longitude: Array
    course: Array
    reach: NDArray[np.int64]
    """Index into the reaches in the order sailed."""
    elapsed: Array
    """Since the start. [s]"""
    speed: Array
    speed_over_ground: Array
    stream_along: Array
    """Positive with her. [m/s]"""
    stream_across: Array
    """Positive to starboard. [m/s]"""
    water_level: Array
    depth: Array
    """Under the part of her with least left, below chart datum. [m]"""
    area: NDArray[np.int64]
    """Index of the depth area under that part."""
    part: tuple[str, ...]
    """Which part has least left, station by station: `bow`, `stern`, `port bilge`, `starboard bilge`."""
    room_port: Array
    """From what she sweeps, drifting and turning, to the edge of the fairway. [m]"""
    room_starboard: Array
    squat: Array
    squat_method: tuple[str, ...]
    """Which method governs, station by station."""
    lines: tuple[Line, ...]
    """Depth, level, draught ... in order, with the subtotals static, gross, manoeuvrability and net."""
    static: Array
    gross: Array
    net: Array
    required: Array

    @property
    def margin(self) -> Array:
        """Net clearance above the requirement. [m]"""
        return self.net - self.required


@dataclass(frozen=True, kw_only=True)
class GatePassage:
    """How she passes one gate."""

    name: str
    kind: str
    distance: float
    time: datetime
    value: float
    """Overhead clearance, or room between the sides of the narrows. [m]"""
    required: float
    figures: Mapping[str, Figure]
    """The figures the clearance is made of."""


@dataclass(frozen=True, kw_only=True)
class Leg:
    """One reach in the order sailed, from waypoint to waypoint."""

    number: int
    reach: str
    begins_at: str
    ends_at: str
    course: float
    distance: float
    order: str
    """Engine order of the card, empty where a speed was given outright."""
    speed: float
    time_begin: datetime
    time_end: datetime
    mean_speed_over_ground: float
    bend_radius: float | None
    """Of the bend at the end of this leg. [m]"""
    alteration: float | None
    """Change of course there, to starboard positive. [rad]"""
    rate_of_turn: float | None
    """For that radius at this leg's speed over ground. [rad/s]"""
    wheel_over_before: float | None
    """Where the bend begins, before the waypoint; without the ship's own delay. [m]"""
    least_net: float
    least_margin: float
    least_at: float
    """Distance along the track where the margin is least. [m]"""
    room_port: float
    room_starboard: float


@dataclass(frozen=True, kw_only=True)
class RuleCheck:
    """One rule of the port or company against the planned start."""

    name: str
    limit: str
    """Its kind, a stable key: `daylight`, `speed`, `stream`, ..."""
    place: str
    kept: bool | None
    """None: what is known cannot judge it."""
    words: str
    margin: float | None
    """What is left, in `unit`; negative: by how much it is broken."""
    unit: str
    time: datetime | None
    source: str


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


@dataclass(frozen=True, kw_only=True)
class Remedy:
    """One change that would make it go, or the finding that this change alone would not."""

    kind: str
    """`later`, `earlier`, `slower`, `less_draught`, `more_draught`, ..."""
    works: bool
    sentence: str
    start: datetime | None = None
    change: float | None = None
    unit: str = ""


@dataclass(frozen=True, kw_only=True)
class OtherStart:
    """What a start somewhat earlier or later leaves."""

    start: datetime
    underkeel: float
    """Least under-keel margin, in metres of water level; negative: too little water."""
    overhead: float | None
    """Likewise overhead; None where nothing hangs over her way."""
    binding: Binding
    """The limit that has least left, or is broken."""
    holds: bool


@dataclass(frozen=True, kw_only=True)
class TurnBack:
    """A place where she can still wait or turn, and what lies ahead of it up to the next such place."""

    place: str
    """Empty: before the first point of the track."""
    distance: float
    time: datetime
    """When she passes it: the latest moment to turn back here."""
    limit: str
    """What has least left ahead."""
    ahead: str
    ahead_time: datetime
    margin: float
    """[m]"""


@dataclass(frozen=True, kw_only=True)
class ReachTouching:
    """The chance of touching the bed in one reach."""

    reach: str
    probability: float


@dataclass(frozen=True, kw_only=True)
class Touching:
    """The chance of touching the bed, errors that are the same all along drawn once for the passage."""

    probability: float
    """On the whole passage. [-]"""
    limit: float | None
    """Greatest allowed, where the call sets one."""
    to_spare: float | None
    """How far all levels could fall until the limit is reached; negative: it is exceeded. [m]"""
    reaches: tuple[ReachTouching, ...]
    """In the order sailed."""
    least_told: float
    """Smaller chances are told as less than this."""
    draws: int
    seed: int

    @property
    def allowed(self) -> bool:
        """Whether the chance is within the limit, or none is set."""
        return self.to_spare is None or self.to_spare >= 0.0


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """Can she go as planned?"""

    go: bool
    word: str
    """`go`, `go with cautions`, `no go`."""
    sentence: str
    binding: Binding


@dataclass(frozen=True, kw_only=True)
class Alongside:
    """What lies under her at the berth after she has arrived."""

    berth: str
    time: datetime
    """Of the lowest water in the time looked at."""
    water_level: float
    static: float
    required: float
    aground_allowed: bool
    hours: float


@dataclass(frozen=True, kw_only=True)
class StartSeries:
    """The least margin over the passage for many start times: the ribbon behind the windows."""

    start: tuple[datetime, ...]
    underkeel: Array
    """Least under-keel margin in metres of water level; negative: too little water."""
    overhead: Array
    """Least overhead margin; NaN where there is no overhead gate. [m]"""
    rule: tuple[str, ...]
    """The rule that is broken most by each start; empty where all are kept."""


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """The whole answer about one port call."""

    call: PortCall
    verdict: Verdict
    windows: tuple[Window, ...]
    series: StartSeries
    account: Account
    gates: tuple[GatePassage, ...]
    legs: tuple[Leg, ...]
    alongside: Alongside | None
    rules: tuple[RuleCheck, ...]
    widths: tuple[ReachWidth, ...]
    bends: tuple[BendTurn, ...]
    basins: tuple[SwingRoom, ...]
    way_off: tuple[WayOff, ...]
    findings: tuple[Finding, ...]
    remedies: tuple[Remedy, ...]
    figures: Mapping[str, Figure]
    """The figures of ship, water and margins the account was made from, by name."""
    fingerprint: str
    """Of inputs and program: equal fingerprints, equal answers."""
    holding: HoldingAnswer | None = None
    """Whether she can be held; None where the forecast or the card leaves no way to say, which a finding tells."""
    touching: Touching | None = None
    """The chance of touching the bed."""
    others: tuple[OtherStart, ...] = ()
    """Starts up to an hour early and late, every quarter of an hour, the start itself among them."""
    turn_backs: tuple[TurnBack, ...] = ()
    """Where she can wait or turn, in the order sailed."""

    @property
    def stops(self) -> bool:
        """Whether any finding is of grade stop."""
        return any(finding.grade is Grade.STOP for finding in self.findings)


@dataclass(frozen=True, kw_only=True)
class Manoeuvre:
    """One figure of one trial; None where she did not get so far. SI, or the unit a criterion is published in."""

    trial: str
    quantity: str
    value: float | None
    unit: str
    lengths: float | None
    """The same in ship's lengths between perpendiculars, for distances."""
    limit: float | None
    kept: bool | None
    low: float | None = None
    """Ends between which nine draws of the uncertain ship in ten lie; in shallow water drawn out to what another
    published set of factors gives. None: no band."""
    high: float | None = None


@dataclass(frozen=True, kw_only=True)
class Stated:
    """A manoeuvre as card or poster state it, as the card alone gave it, and as the calibrated ship does it."""

    quantity: str
    order: str
    value: float
    """SI."""
    estimated: float | None
    calibrated: float | None
    missed_by: float | None
    """What is left, in deviations of the figure."""


@dataclass(frozen=True, kw_only=True)
class Manoeuvres:
    """What the model says a ship does in the standard trials, all of it estimated."""

    ship: str
    condition: str
    condition_estimated: bool
    """The card speaks of the other condition."""
    draught: float
    """Mean. [m]"""
    depth_to_draught: float | None
    """None: deep water."""
    rows: tuple[Manoeuvre, ...]
    stated: tuple[Stated, ...]
    """What the model was calibrated to."""
    draws: int
    """Of the uncertain ship, behind the bands; nil: no bands."""
    assumed: tuple[str, ...]
    """What had to be taken for granted, one sentence each."""

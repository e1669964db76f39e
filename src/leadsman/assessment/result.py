"""The second waist: everything paper, page and command line receive about a port call. Numbers only; no formatting.

All SI; times aware UTC. Arrays run along the stations of the track, in the order sailed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.assessment.room_result import BendTurn, ReachWidth, SwingRoom, WayOff
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

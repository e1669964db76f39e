"""What stands on wheelhouse poster and in manoeuvring booklet: all estimated, with bands; what documents lay out.

SI and radians; tracks begin northward at the origin and hold (north, east). A band's ends are those between which nine
draws in ten of the uncertain ship lie; None where a figure has no band.
"""

from dataclasses import dataclass

from leadsman.assessment.card_result import CheckedCard

Track = tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class Spread:
    """A figure of a trial, None where she does not get so far, and its band."""

    value: float | None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, kw_only=True)
class Moment:
    """She at one change of heading on her circle: when, how fast, where."""

    heading_change: float
    time: float
    speed: float
    north: float
    east: float


@dataclass(frozen=True, kw_only=True)
class PostedCircle:
    """One turning circle at the greatest rudder angle; `side` +1 to starboard."""

    side: int
    rudder: float
    order: str
    approach_speed: float
    advance: Spread
    transfer: Spread
    tactical_diameter: Spread
    moments: tuple[Moment, ...]
    track: Track


@dataclass(frozen=True, kw_only=True)
class PostedStop:
    """One stop from the steady speed of an order; `stopped_by` full astern, or stop: then down to `end_speed`."""

    order: str
    stopped_by: str
    approach_speed: float
    end_speed: float
    stopped: bool
    track_reach: Spread
    time: Spread
    head_reach: float
    side_reach: float
    heading_change: float
    track: Track


@dataclass(frozen=True, kw_only=True)
class PostedRecovery:
    """Williamson's turn: when the wheel is shifted and eased, and where she then is against the track she came on."""

    side: int
    order: str
    away: float
    """Heading change at which the wheel is put over the other way."""
    time_shifted: float
    time_eased: float
    time_back: float
    offset: float
    ahead: float
    track: Track


@dataclass(frozen=True, kw_only=True)
class PostedWater:
    """One ship so loaded in water so deep."""

    condition: str
    loading_estimated: bool
    """Whether the draughts are no reading but what is usual in that condition."""
    draught_forward: float
    draught_aft: float
    depth_to_draught: float | None
    """None: deep water."""
    speeds: tuple[tuple[str, float], ...]
    """Steady speed under each ahead order, the fastest first; orders that squat would put aground are absent."""
    aground: tuple[str, ...]
    """Ahead orders under which squat puts her on the bottom."""
    circles: tuple[PostedCircle, ...]
    stops: tuple[PostedStop, ...]


@dataclass(frozen=True, kw_only=True)
class PostedSquat:
    """Squat under way at one speed, for each under-keel clearance of `Posted.clearances`."""

    order: str
    speed: float
    squats: tuple[float, ...]
    """At the deeper end."""
    outside: tuple[bool, ...]
    """Whether the formula that governs is outside its published limits there."""


@dataclass(frozen=True, kw_only=True)
class Posted:
    """Everything the poster and the booklet draw."""

    length: float
    """Between perpendiculars."""
    waters: tuple[PostedWater, ...]
    recovery: PostedRecovery | None
    clearances: tuple[float, ...]
    squats: tuple[PostedSquat, ...]
    heels: tuple[tuple[float, float], ...]
    """Angle of heel, and by how much the bilge goes deeper."""
    assumed: tuple[str, ...]
    draws: int
    podded: bool = False
    """Whether she is steered by pods and has no rudder."""


@dataclass(frozen=True, kw_only=True)
class Shipboard:
    """A ship's own papers: her card as checked, and her manoeuvres, or why there are none."""

    card: CheckedCard
    posted: Posted | None = None
    untried: str = ""

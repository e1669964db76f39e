"""The answer: verdict, windows, account, legs, findings, remedies, each figure with its origin."""

from typing import Literal

from pydantic import Field

from leadsman.web.schema.basics import Clock, Gaps, Moment, Quantity, Series, Shape


class CallShape(Shape):
    """What was asked."""

    name: str
    ship: str
    waterway: str
    direction: Literal["inward", "outward"]
    berth: str
    from_: str = Field(alias="from")
    to: str
    start: Moment
    search_begin: Moment
    search_end: Moment
    draught: Quantity
    direction_text: str


class BindingShape(Shape):
    """The limit that has least left, or is broken most."""

    limit: str
    limit_text: str
    part: str
    place: str
    distance: Quantity
    time: Moment
    value: Quantity
    required: Quantity
    margin: Quantity
    rule: str = Field(description="name of the rule of the port it is; empty where the water binds")
    words: str


class VerdictShape(Shape):
    """Can she go as planned?"""

    go: bool
    word: str
    sentence: str
    binding: BindingShape


class ReachChanceShape(Quantity):
    """The chance of touching in one reach."""

    reach: str


class TouchingShape(Shape):
    """The chance of touching the bed on the passage, and what is allowed."""

    probability: Quantity
    limit: Quantity | None
    allowed: bool
    reaches: list[ReachChanceShape]
    draws: int
    seed: int


class TurnBackShape(Shape):
    """A place where she can still wait or turn, and what has least left from there to the next."""

    place: str
    distance: Quantity
    time: Moment
    limit_text: str
    ahead: str
    ahead_time: Moment
    margin: Quantity


class WindowShape(Shape):
    """A span of start times for which all limits hold."""

    opens: Moment
    closes: Moment
    length: Quantity
    opens_by: BindingShape | None
    closes_by: BindingShape | None
    best_start: Moment
    best: BindingShape


class NearestWindowShape(Shape):
    """The window the start lies in, else the next one, else the last."""

    window: WindowShape
    holds: bool
    later: bool


class AroundShape(Shape):
    """What is left for a start a little early or late."""

    start: Moment
    underkeel: Quantity
    overhead: Quantity | None
    rule: str
    binding: BindingShape
    holds: bool


class StartsShape(Shape):
    """The least margins for many start times [m], and the rule of the port each breaks most."""

    start: list[str]
    underkeel: Gaps
    overhead: Gaps
    rule: list[str]


class LineShape(Shape):
    """One line of the under-keel account along the track; effect +1 adds, -1 takes off, 0 is a subtotal. [m]"""

    key: str
    label: str
    effect: int
    values: Gaps
    deviation: Gaps | None
    origin: str
    method: str
    source: str


class AccountShape(Shape):
    """The passage station by station, SI."""

    distance: Series
    x: Series
    y: Series
    latitude: Series
    longitude: Series
    course: Series
    reach: list[int]
    elapsed: Series
    time: list[str]
    speed: Series
    speed_over_ground: Series
    stream_along: Series
    stream_across: Series
    water_level: Series
    depth: Series
    room_port: Series
    room_starboard: Series
    squat: Gaps
    squat_method: list[str]
    part: list[str]
    static: Gaps
    gross: Gaps
    net: Gaps
    required: Series
    margin: Gaps
    lines: list[LineShape]


class BandShape(Shape):
    """How far a figure may be off."""

    deviation: float | None
    low: float | None
    high: float | None
    text: str


class FigureShape(Shape):
    """A figure with where it comes from."""

    name: str
    value: float
    unit: str
    text: str
    origin: Literal["given", "computed", "estimated", "assumed"]
    method: str
    source: str
    inputs: dict[str, float]
    band: BandShape | None


class GateShape(Shape):
    """How she passes one gate."""

    name: str
    kind: str
    distance: Quantity
    time: Moment
    value: Quantity
    required: Quantity
    margin: Quantity
    figures: dict[str, FigureShape]


class LineTextShape(Shape):
    """One line of the account at one place, as written for people."""

    key: str
    label: str
    effect: int
    text: str


class PlaceAccountShape(Shape):
    """The whole under-keel account where a leg has least margin."""

    station: int
    time: Clock
    lines: list[LineTextShape]
    depth: Quantity
    water_level: Quantity
    squat: Quantity
    draught: Quantity
    squat_method: str
    part: str
    static: Quantity
    gross: Quantity
    net: Quantity
    required: Quantity
    margin: Quantity


class LegShape(Shape):
    """One reach in the order sailed."""

    number: int
    reach: str
    begins_at: str
    ends_at: str
    course: Quantity
    distance: Quantity
    order: str
    order_text: str
    speed: Quantity
    speed_over_ground: Quantity
    time_begin: Moment
    time_end: Moment
    bend_radius: Quantity | None
    alteration: Quantity | None
    rate_of_turn: Quantity | None
    wheel_over_before: Quantity | None
    least_net: Quantity
    least_margin: Quantity
    least_at: Quantity
    room_port: Quantity
    room_starboard: Quantity
    tightest: PlaceAccountShape


class TightPlaceShape(Shape):
    """One of the places with least left; its letter stands on every drawing and sheet."""

    letter: str
    limit: str
    limit_text: str
    place: str
    leg: int
    station: int
    distance: Quantity
    time: Clock
    value: Quantity
    required: Quantity
    margin: Quantity


class AlongsideShape(Shape):
    """What lies under her at the berth."""

    berth: str
    time: Moment
    water_level: Quantity
    static: Quantity
    required: Quantity
    margin: Quantity
    aground_allowed: bool
    hours: float


class RuleShape(Shape):
    """One rule of the port or company against this start."""

    name: str
    limit: str
    limit_text: str
    place: str
    kept: bool | None
    kept_text: str
    words: str
    margin: Quantity | None
    time: Moment | None
    source: str


class FindingShape(Shape):
    """A fact about card or voyage."""

    grade: Literal["stop", "caution", "note"]
    subject: str
    sentence: str
    value: float | None
    limit: float | None
    unit: str
    place: str
    time: Moment | None
    source: str


class RemedyShape(Shape):
    """One change that would make it go, or would not."""

    kind: str
    works: bool
    sentence: str
    start: Moment | None
    change: float | None
    unit: str


class OriginShape(Shape):
    """Where the local plane has its zero; degrees."""

    latitude: float
    longitude: float

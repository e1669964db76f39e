"""The shape of `leadsman.assessment/1` as the API describes it; `page/src/contract.ts` is written from here.

Replies are not passed through these models (that would cost more than the assessment); the tests hold the two together.
"""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from leadsman.web.replies import Fault

Point = tuple[float, float]
"""[x north, y east] on the local plane. [m]"""
Series = list[float]
Gaps = list[float | None]
"""Numbers, with null where there is none."""


class Shape(BaseModel):
    """Nothing more and nothing less than what is described."""

    model_config = ConfigDict(extra="forbid")


class Quantity(Shape):
    """A number in SI units, and how it is written for people."""

    value: float
    text: str


class Given(Shape):
    """A number in SI units that may be missing, and how that is written for people."""

    value: float | None
    text: str


class Stamp(Shape):
    """A time, UTC: for machines, and with the day."""

    value: str = Field(json_schema_extra={"format": "date-time"})
    text: str


class Clock(Stamp):
    """A time, also as a clock shows it."""

    clock: str


class Moment(Clock):
    """A time, also as a date."""

    date: str


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
    place: str
    distance: Quantity
    time: Moment
    value: Quantity
    required: Quantity
    margin: Quantity


class VerdictShape(Shape):
    """Can she go as planned?"""

    go: bool
    word: str
    sentence: str
    binding: BindingShape


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
    holds: bool


class StartsShape(Shape):
    """The least margins for many start times. [m]"""

    start: list[str]
    underkeel: Gaps
    overhead: Gaps


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


class AreaShape(Shape):
    """Water of one least depth; null: unsurveyed."""

    name: str
    depth: float | None
    ring: list[Point]
    holes: list[list[Point]]
    bottom: str
    surveyed: str
    net: Quantity | None


class PlaceShape(Shape):
    """A named point."""

    name: str
    at: Point


class GatePlaceShape(PlaceShape):
    """Where a gate stands."""

    kind: str


class MarkShape(PlaceShape):
    """Something to steer or look by."""

    kind: str
    description: str


class ReachShape(Shape):
    """Widths either side of the track, inward bound. [m]"""

    name: str
    width_port: float
    width_starboard: float


class BasinShape(PlaceShape):
    """A circle to swing in."""

    diameter: float


class BerthShape(Shape):
    """A quay face."""

    name: str
    begin: Point
    end: Point


class OutlineShape(Shape):
    """The ship's extent. [m]"""

    length_overall: float
    beam: float


class PlanShape(Shape):
    """What the plan drawing needs, on the local plane."""

    origin: OriginShape
    areas: list[AreaShape]
    waypoints: list[PlaceShape]
    reaches: list[ReachShape]
    gates: list[GatePlaceShape]
    marks: list[MarkShape]
    basins: list[BasinShape]
    berths: list[BerthShape]
    ship: OutlineShape


class OrderShape(Shape):
    """One engine order that makes way ahead, with its speed in today's condition."""

    order: str
    speed: Given


class ShipCardShape(Shape):
    """The ship as handed over."""

    name: str
    call_sign: str
    kind: str
    length_overall: Given
    beam: Given
    keel_to_highest_point: Given
    engine: str
    thrusters: str
    rudders: str
    orders: list[OrderShape]
    defects: list[str]


class LoadingShape(Shape):
    """How she floats today."""

    condition: str
    draught_forward: Given
    draught_aft: Given
    draught: Given
    trim: Given
    displacement: Given
    air_draught: Given
    water_density: Given


class ForecastShape(Shape):
    """What weather and gauge are expected to do."""

    issued: Stamp
    source: str
    residual: Given
    residual_low: Given
    residual_high: Given
    wind: str
    waves: str
    visibility: Given


class UnderkeelMarginShape(Shape):
    """Metres, or a share of draught."""

    value: float
    share: float
    text: str


class MarginsShape(Shape):
    """What this port or company requires."""

    underkeel: UnderkeelMarginShape
    overhead: Quantity
    alongside: Given
    width: Given
    source: str


class TugShape(Shape):
    """A tug as ordered."""

    name: str
    kind: str
    bollard_pull: Quantity


class Assessment(Shape):
    """The whole answer about one port call for one start."""

    schema_: Literal["leadsman.assessment/1"] = Field(alias="schema")
    caution: str
    fingerprint: str
    call: CallShape
    verdict: VerdictShape
    windows: list[WindowShape]
    nearest_window: NearestWindowShape | None
    series: StartsShape
    around: list[AroundShape]
    account: AccountShape
    gates: list[GateShape]
    legs: list[LegShape]
    alongside: AlongsideShape | None
    findings: list[FindingShape]
    remedies: list[RemedyShape]
    figures: dict[str, FigureShape]
    tightest: list[TightPlaceShape]
    plan: PlanShape
    ship: ShipCardShape
    loading: LoadingShape
    forecast: ForecastShape
    margins: MarginsShape
    tugs: list[TugShape]


class CallList(Shape):
    """The port calls in the folder served."""

    calls: list[str] = Field(description="names of their folders")


class Document(Shape):
    """A document of the bibliography, and how far it was seen by whoever wrote the formula down."""

    title: str
    authors: str
    year: int | None
    edition: str
    mark: str
    note: str


class SourceList(Shape):
    """The bibliography by key."""

    sources: dict[str, Document]


class CardFieldShape(Shape):
    """One field of the card's form."""

    path: list[str] = Field(description="where it stands in ship.toml; in a row: relative to it")
    name: str = Field(description="as findings and figures call it")
    label: str
    unit: str
    kind: Literal["number", "count", "text", "choice", "yes", "pair", "lines"]
    choices: list[str]
    needed: bool
    usual: str | bool | None = Field(description="what is taken where nothing is said")
    expected: str


class CardGroupShape(Shape):
    """Fields under one heading; with a table: those of each of its rows."""

    title: str
    table: list[str]
    name: str = Field(description="as findings call the table")
    rows: list[str] = Field(description="names of the rows, where the card fixes them")
    fields: list[CardFieldShape]


class CardForm(Shape):
    """The whole form of a ship card."""

    groups: list[CardGroupShape]


class ShipCard(Shape):
    """A ship card in the shape of ship.toml."""

    card: dict[str, Any]


class CardFigureShape(Shape):
    """One figure that computation needs, SI and as written for people."""

    name: str
    value: float
    unit: str
    label: str
    text: str
    band: str
    origin: Literal["given", "computed", "estimated", "assumed"]
    method: str
    source: str
    meaning: str


class CheckedCard(Shape):
    """What is said of a ship card; where it has faults, nothing else."""

    schema_: Literal["leadsman.checked-card/1"] = Field(alias="schema")
    caution: str
    ship: str
    findings: list[FindingShape]
    figures: list[CardFigureShape]
    faults: list[Fault]

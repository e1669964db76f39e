"""The replies about calls: `leadsman.assessment/1`, the list of calls, the bibliography."""

from typing import Literal

from pydantic import Field

from leadsman.web.schema.answer import (
    AccountShape,
    AlongsideShape,
    AroundShape,
    CallShape,
    FigureShape,
    FindingShape,
    GateShape,
    LegShape,
    NearestWindowShape,
    RemedyShape,
    RuleShape,
    StartsShape,
    TightPlaceShape,
    TouchingShape,
    TurnBackShape,
    VerdictShape,
    WindowShape,
)
from leadsman.web.schema.basics import MannerShape, Shape
from leadsman.web.schema.given import ForecastShape, LoadingShape, MarginsShape, ShipCardShape, TugShape
from leadsman.web.schema.holding import HoldingShape
from leadsman.web.schema.plan import PlanShape
from leadsman.web.schema.sides import BendTurnShape, ReachWidthShape, SideTableShape, SwingRoomShape, WayOffShape


class Assessment(Shape):
    """The whole answer about one port call for one start."""

    schema_: Literal["leadsman.assessment/1"] = Field(alias="schema")
    caution: str
    manner: MannerShape
    fingerprint: str
    call: CallShape
    verdict: VerdictShape
    windows: list[WindowShape]
    nearest_window: NearestWindowShape | None
    series: StartsShape
    around: list[AroundShape]
    turn_backs: list[TurnBackShape]
    account: AccountShape
    gates: list[GateShape]
    legs: list[LegShape]
    alongside: AlongsideShape | None
    rules: list[RuleShape]
    touching: TouchingShape | None
    holding: HoldingShape | None
    widths: list[ReachWidthShape]
    bends: list[BendTurnShape]
    basins: list[SwingRoomShape]
    way_off: list[WayOffShape]
    side_tables: list[SideTableShape]
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
    about: dict[str, str] = Field(description="one sentence on each, from the head of its call.toml")


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

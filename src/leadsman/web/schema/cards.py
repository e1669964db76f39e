"""The replies about ship cards alone: the form, a card, a checked card."""

from typing import Any, Literal

from pydantic import Field

from leadsman.web.replies import Fault
from leadsman.web.schema.answer import FindingShape
from leadsman.web.schema.basics import Shape


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


class OwnFieldShape(Shape):
    """Where a figure can be overruled by the handler's own."""

    key: str = Field(description="under own_figures in ship.toml")
    name: str = Field(description="of the figure")
    unit: str
    expected: str


class CardForm(Shape):
    """The whole form of a ship card."""

    groups: list[CardGroupShape]
    own: list[OwnFieldShape]


class ShipCard(Shape):
    """A ship card in the shape of ship.toml."""

    card: dict[str, Any]
    revision: str = Field(description="names the files beside it; to be given back in If-Match when writing")


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


class CardChangeShape(Shape):
    """One figure that the handler's own figures change, as written for people."""

    name: str
    label: str
    before: str
    before_origin: str = Field(description="how it was got without them; empty: not known then")
    after: str
    by: str = Field(description="in percent of what it was; empty where that says nothing")
    own: bool = Field(description="whether it is itself an own figure")


class CheckedCard(Shape):
    """What is said of a ship card; where it has faults, nothing else."""

    schema_: Literal["leadsman.checked-card/1"] = Field(alias="schema")
    caution: str
    ship: str
    findings: list[FindingShape]
    figures: list[CardFigureShape]
    changes: list[CardChangeShape]
    faults: list[Fault]


class TwoCards(Shape):
    """What is asked to be set side by side."""

    one: dict[str, Any] = Field(description="the tables and keys of ship.toml")
    other: dict[str, Any] | None = Field(
        default=None, description="another card; left out: the same ship in her other condition, estimated"
    )


class RemarkShape(Shape):
    """What one difference means for handling."""

    name: str = Field(description="of the figure, or of the field of the card, it speaks of")
    sentence: str


class BesideRowShape(Shape):
    """One line of both cards."""

    label: str
    one: str
    other: str
    mark: str = Field(description="a sign where they differ, else empty")


class BesideGroupShape(Shape):
    """Lines under one heading."""

    title: str
    rows: list[BesideRowShape]


class BesideSideShape(Shape):
    """A figure as written for people."""

    text: str
    band: str
    origin: str


class BesideFigureShape(Shape):
    """One figure of both."""

    name: str
    label: str
    one: BesideSideShape
    other: BesideSideShape
    mark: str


class CardsBeside(Shape):
    """Two cards side by side."""

    schema_: Literal["leadsman.beside/1"] = Field(alias="schema")
    caution: str
    called: list[str]
    about: list[str]
    remarks: list[RemarkShape]
    groups: list[BesideGroupShape]
    figures: list[BesideFigureShape]
    marks: str = Field(description="what the signs mean")

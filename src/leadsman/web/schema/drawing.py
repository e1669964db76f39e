"""What is drawn and filled in on the page: the parts of a call's files, their faults, and the versions kept."""

from typing import Any, Literal

from pydantic import Field

from leadsman.web.schema.basics import Shape
from leadsman.web.schema.cards import CardFieldShape


class PlacedFault(Shape):
    """One fault of the files as they are or would be."""

    file: str
    line: int | None
    field: str
    problem: str
    place: list[str | int] = Field(description="the part, then keys and positions within it; empty if in none")


class EarlierVersion(Shape):
    """One version kept."""

    number: int
    revision: str
    time: str
    words: str


class CallFiles(Shape):
    """The files of a call as plain data: `call`, `forecast`, `waterway` as in TOML, `areas` as GeoJSON."""

    revision: str = Field(description="names these files; to be given back in If-Match when writing")
    parts: dict[str, Any]
    faults: list[PlacedFault]
    earlier: list[EarlierVersion]
    underlay: bool = Field(description="whether there is a chart to draw upon")


class CallRevision(Shape):
    """How the files of a call stand."""

    revision: str = Field(description="names these files; another one: somebody changed them")


class CallParts(Shape):
    """Parts of a call's files as they are to be; a part left out stays as it is."""

    parts: dict[str, Any]
    words: str = Field(default="", max_length=120, description="what was done, for the list of versions kept")


class WantedVersion(Shape):
    """The version to go back to."""

    revision: str = Field(max_length=16)


class SaidOfParts(Shape):
    """What would be said of a call with these parts; nothing is written."""

    faults: list[PlacedFault]
    word: str = Field(description="the verdict in a word; empty while there are faults")
    sentence: str
    grade: Literal["", "go", "caution", "stop"]


class CallTexts(Shape):
    """The files of a call as texts, by their names in its folder; depth areas are drawn and not among them."""

    revision: str = Field(description="names these files; to be given back in If-Match when writing")
    texts: dict[str, str]


class GivenTexts(Shape):
    """Texts as they are to be; a file left out stays as it is."""

    texts: dict[str, str] = Field(max_length=40)
    words: str = Field(default="", max_length=120, description="what was done, for the list of versions kept")


class InnerTable(Shape):
    """A table within a table."""

    key: str
    table: str = Field(description="its form's name")
    label: str
    many: bool = Field(description="whether there may be several, one after the other")
    needed: bool
    instead: bool = Field(description="whether it stands in place of the others so marked")


class CallFields(Shape):
    """The fields of every table of a call's files, and the tables within each."""

    tables: dict[str, list[CardFieldShape]]
    inner: dict[str, list[InnerTable]]

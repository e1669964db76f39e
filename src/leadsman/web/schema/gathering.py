"""What a new call is made of, gathered bit by bit."""

from typing import Literal

from pydantic import Field

from leadsman.web.replies import Fault
from leadsman.web.schema.basics import Shape


class SourceFile(Shape):
    """One file as gathered."""

    name: str
    size: int
    kind: str = Field(description="what it was recognised as; empty: nothing that is read")
    use: Literal["chart", "update", "tide", "ship", "route", ""]
    problem: str


class AskedPlace(Shape):
    """Where something asked for stands, in degrees."""

    latitude: float
    longitude: float


class Question(Shape):
    """One thing that no file says."""

    key: str
    sentence: str
    places: list[str] = Field(description="what it is asked of; answered for one alone under key@place")
    choices: list[str]
    other: bool = Field(description="whether another answer than one of the choices is taken too")
    needs_file: bool
    position: AskedPlace | None
    optional: bool = Field(description="whether there can be a call without it")
    open: bool


class SourceFinding(Shape):
    """What a person should look at in the draft."""

    grade: Literal["stop", "caution", "note"]
    sentence: str


class Gathering(Shape):
    """What there is of a new call, and what is not."""

    gathering: str
    sources: list[SourceFile]
    missing: list[str]
    questions: list[Question]
    answers: dict[str, str]
    faults: list[Fault]
    findings: list[SourceFinding]
    ready: bool


class GivenAnswers(Shape):
    """Answers by the keys of the questions; an empty one takes an answer back."""

    answers: dict[str, str] = Field(max_length=500)


class CallToMake(Shape):
    """The folder's name of the call to be made."""

    name: str = Field(max_length=60)


class CallMade(Shape):
    """The call made, by the name of its folder."""

    call: str

"""A passage as it was sailed, against its plan; times are of ISO 8601, UTC."""

from typing import Literal

from pydantic import Field

from leadsman.web.schema.basics import Gaps, Series, Shape


class PassingShape(Shape):
    """A place passed, when it was and when it was to be. SI."""

    place: str
    distance: float
    planned: str
    sailed: str
    late: float = Field(description="seconds, negative early")
    off_track: float
    planned_speed: float
    sailed_speed: float
    texts: list[str] = Field(description="along, planned, sailed, late, off the track, planned at, made good")


class SailedLegShape(Shape):
    """One reach."""

    reach: str
    order: str
    planned_speed: float
    sailed_speed: float
    slowest: float
    fastest: float
    off_port: float
    off_starboard: float
    rate_of_turn: float
    least_net: float | None
    planned_net: float
    room_port: float
    room_starboard: float
    texts: list[str] = Field(description="order, made, under keel, planned, to the sides")


class SailedGateShape(Shape):
    """Something overhead, as passed."""

    name: str
    time: str
    clearance: float
    planned: float
    required: float
    sentence: str


class SteadyShape(Shape):
    """What an order made at even speed, if it was the one planned."""

    reach: str
    order: str
    distance: float
    speed: float
    deviation: float
    card: float
    depth_to_draught: float
    sentence: str


class SailedFinding(Shape):
    """What was broken, or how far the log can be trusted."""

    grade: str
    subject: str
    sentence: str
    place: str


class SailedStations(Shape):
    """One entry a station of the track that she passed."""

    time: list[str]
    distance: Series
    x: Series
    y: Series
    latitude: Series
    longitude: Series
    off_track: Series
    heading: Series
    speed_over_ground: Series
    speed: Series
    water_level: Series
    squat: Gaps
    net: Gaps
    room_port: Series
    room_starboard: Series
    rate_of_turn: Series


class SailedPassage(Shape):
    """The whole of it."""

    schema_: Literal["leadsman.after/1"] = Field(alias="schema")
    caution: str
    ship: str
    vessel: str
    words: str
    level_words: str
    positions: int
    residual: float
    residual_measured: bool
    required: float
    passings: list[PassingShape]
    legs: list[SailedLegShape]
    gates: list[SailedGateShape]
    steady: list[SteadyShape]
    findings: list[SailedFinding]
    stations: SailedStations
    notes: list[str] = Field(description="what was left out of the log")

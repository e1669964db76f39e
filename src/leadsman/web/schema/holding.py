"""Whether she can be held: places, balances of forces, roses, landing, anchors."""

from typing import Literal

from pydantic import Field

from leadsman.web.schema.basics import Clock, Quantity, Series, Shape


class LoadShape(Shape):
    """A force and its moment in ship axes: forward, to starboard, turning to starboard. [N, N, N m]"""

    surge: float
    sway: float
    yaw: float
    text: str
    yaw_text: str


class OrderShape(Shape):
    """What one of her means makes, where it meets her [m forward, m to starboard], and how much of it is used."""

    name: str
    kind: Literal["screw", "thruster", "tug", "fender", "hull", "allowance"]
    force: LoadShape
    forward: float
    to_starboard: float
    used: float
    used_text: str
    words: str


class BalanceShape(Shape):
    """Loads, and who holds them."""

    held: bool
    in_hand: bool
    engines: str
    wind: LoadShape
    stream: LoadShape
    left_over: LoadShape
    left_over_words: str
    drift_speed: Quantity
    by_method: dict[str, str]
    orders: list[OrderShape]


class ArrowShape(Shape):
    """One force of the drawing: metres from midships, to starboard and forward."""

    kind: Literal["wind", "stream", "screw", "rudder", "thruster", "tug", "fender", "hull", "allowance", "left_over"]
    tail: tuple[float, float]
    head: tuple[float, float]
    outer: tuple[float, float]
    label: tuple[float, float]
    words: str


class BarShape(Shape):
    """The scale of forces: a length that stands for a pull. [m]"""

    length: float
    text: str


class BalanceDrawingShape(Shape):
    """A force balance as it is drawn. [m]"""

    unit: float
    box: tuple[float, float, float, float]
    bar: BarShape
    arrows: list[ArrowShape]


class TugAtWorkShape(Shape):
    """One tug where she serves best."""

    name: str
    kind: str
    bollard_pull: Quantity
    place: str
    place_text: str
    forward: float
    usable: Quantity


class PullAtShape(Shape):
    """A pull needed at one place."""

    place_text: str
    text: str


class TugsNeededShape(Shape):
    """What must be ordered, by statics and by the trade's rules."""

    by_statics: list[PullAtShape] | None
    total: Quantity | None
    by_rules: dict[str, str]
    two_at_least: bool
    number: int | None
    each: Quantity


class ChangeShape(Shape):
    """One change that would hold her, or would not."""

    kind: str
    works: bool
    sentence: str


class HeldAtShape(Shape):
    """One place of the passage at her time there; angles off the bow to starboard positive. [rad]"""

    key: str
    place: str
    situation: Literal["under_way", "swinging", "off_the_berth"]
    situation_text: str
    time: Clock
    heading: Quantity
    speed: Quantity
    engine_order: str
    kicks: bool
    wind: Quantity
    wind_from: Quantity
    wind_off_bow: float
    gust: Quantity
    stream: Quantity
    stream_towards: Quantity
    stream_off_bow: float
    water_depth: Quantity
    quay_side: int
    word: str
    reserve: Quantity
    alone: Quantity | None
    wind_limit: Quantity
    balance: BalanceShape
    drawing: BalanceDrawingShape
    tugs: list[TugAtWorkShape]
    needed: TugsNeededShape | None
    changes: list[ChangeShape]
    method_limits: list[str]


class RoseSetShape(Shape):
    """Greatest wind by direction with one set of tugs. [m/s]"""

    name: str
    limits: Series
    least: Quantity
    least_from: str


class RoseShape(Shape):
    """Greatest wind by where it comes from, off the bow. [rad]"""

    off_bow: Series
    ceiling: float
    sets: list[RoseSetShape]


class LandingShape(Shape):
    """How hard she lands."""

    speed: Quantity
    speed_from: str
    angle: Quantity
    energy: Quantity
    by_method: dict[str, str]
    allowed_energy: Quantity | None
    greatest_speed: Quantity | None
    drift_speed: Quantity
    design_speeds: dict[str, str]


class LiftingOffShape(Shape):
    """Getting off the quay, and the lines that hold her on it."""

    force: Quantity | None
    seconds: float | None
    set_off_force: Quantity
    lines: int | None
    line_load: Quantity | None


class AnchoringShape(Shape):
    """One anchor at the roomiest place, and stopping her with both."""

    place: str
    bottom: str
    holding: dict[str, float]
    greatest_wind: dict[str, str]
    cable: Quantity
    cable_on_board: Quantity | None
    shackles_on_deck: float
    shackles_in_water: float
    by_rules: dict[str, str]
    swing_radius: Quantity
    room: Quantity
    stopping_speed: Quantity
    bringing_up_speed: Quantity
    walk_back_speed: Quantity


class HoldingShape(Shape):
    """All about holding her on one passage."""

    length_overall: float
    beam: float
    places: list[HeldAtShape]
    roses: dict[str, RoseShape]
    landing: LandingShape | None
    lifting_off: LiftingOffShape | None
    anchoring: AnchoringShape | None


class WhatIf(Shape):
    """One place with other wind, stream, tugs, or something out of order."""

    schema_: Literal["leadsman.what-if/1"] = Field(alias="schema")
    place: HeldAtShape
    rose: RoseShape
    means: list[str] = Field(description="thrusters and engines that can be taken out of order")

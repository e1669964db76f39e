"""What all shapes are built of: numbers, times, series."""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Point = tuple[float, float]
"""[x north, y east] on the local plane. [m]"""
Series = list[float]
Gaps = list[float | None]
"""Numbers, with null where there is none."""


class Shape(BaseModel):
    """Nothing more and nothing less than what is described."""

    model_config = ConfigDict(extra="forbid")


class MannerShape(Shape):
    """In which units, and by whose clock, the texts of an answer are written."""

    lengths: Literal["metres", "feet"]
    length: str
    forces: Literal["tonnes", "kilonewtons"]
    force: str
    zone: int = Field(description="minutes added to UTC")
    clock: str
    words: str = Field(description="for the foot of a sheet; empty where all is as usual")


class Quantity(Shape):
    """A number in SI units, and how it is written for people."""

    value: float
    text: str


class Given(Shape):
    """A number in SI units that may be missing, and how that is written for people."""

    value: float | None
    text: str


class Stamp(Shape):
    """A time: for machines, UTC; and with the day, by the clock asked for."""

    value: str = Field(json_schema_extra={"format": "date-time"})
    text: str


class Clock(Stamp):
    """A time, also as a clock shows it."""

    clock: str


class Moment(Clock):
    """A time, also as a date."""

    date: str

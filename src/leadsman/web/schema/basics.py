"""What all shapes are built of: numbers, times, series."""

from pydantic import BaseModel, ConfigDict, Field

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

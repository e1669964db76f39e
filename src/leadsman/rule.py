"""Rules of a port or company: where they hold, for which ships, what they ask. No physics, no judgement.

A rule has one `asks`, and the kind of thing it asks is the kind of rule.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import TypeAlias

from leadsman.errors import refuse
from leadsman.geometry import Position
from leadsman.units import DAY


class Light(StrEnum):
    """From when to when it counts as light."""

    SUN = "sun"
    CIVIL_TWILIGHT = "civil_twilight"
    NAUTICAL_TWILIGHT = "nautical_twilight"


@dataclass(frozen=True, kw_only=True)
class Daylight:
    """She may be there in the light only."""

    light: Light
    after_light_begins: float = 0.0
    """How long it must have been light when she comes. [s]"""
    before_light_ends: float = 0.0
    """How long it must stay light when she has gone. [s]"""


@dataclass(frozen=True, kw_only=True)
class GreatestSpeed:
    """Over the ground. [m/s]"""

    speed: float


@dataclass(frozen=True, kw_only=True)
class GreatestStream:
    """Rate of the stream while she is there, whatever its direction. [m/s]"""

    rate: float


@dataclass(frozen=True, kw_only=True)
class LeastVisibility:
    """As forecast. [m]"""

    visibility: float


@dataclass(frozen=True, kw_only=True)
class GreatestWind:
    """As forecast, mean or in gusts, at 10 m. [m/s]"""

    mean: float | None = None
    gust: float | None = None

    def __post_init__(self) -> None:
        if self.mean is None and self.gust is None:
            refuse([("wind", "gives neither a mean nor a gust; expected at least one")])


@dataclass(frozen=True, kw_only=True)
class GreatestWaves:
    """Significant height as forecast. [m]"""

    height: float


@dataclass(frozen=True, kw_only=True)
class TimeBetweenShips:
    """Least time between her and the traffic the call names. [s]"""

    least: float


@dataclass(frozen=True, kw_only=True)
class Opening:
    """When a lock, a bridge or a channel lets ships pass: the spans given together."""

    daily: tuple[tuple[float, float], ...] = ()
    """(opens, closes) after 00:00 UTC each day; one that closes before it opens runs over midnight. [s]"""
    reference: str | None = None
    """Tide station whose high water counts for the two that follow."""
    before_high_water: float = 0.0
    """[s]"""
    after_high_water: float = 0.0
    """[s]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not self.daily and self.reference is None:
            yield "opening", "has neither daily times nor a reference for high water; expected at least one"
        if self.reference is not None and not self.before_high_water + self.after_high_water > 0.0:
            yield "opening", "has no time before or after high water; expected minutes of either"
        for opens, closes in self.daily:
            if not (0.0 <= opens <= DAY and 0.0 <= closes <= DAY and opens != closes):
                yield "opening", "has a daily time that is none; expected two different times of the day"


@dataclass(frozen=True, kw_only=True)
class TugsFast:
    """Tugs that must be there while she passes."""

    number: int = 0
    pull: float = 0.0
    """Bollard pull of all together. [N]"""

    def __post_init__(self) -> None:
        if self.number <= 0 and not self.pull > 0.0:
            refuse([("tugs", "asks for neither a number nor a pull; expected at least one")])


@dataclass(frozen=True, kw_only=True)
class Closed:
    """Kept for another, or shut, from one time to another: a crossing ferry, works, a ship without room to pass."""

    begin: datetime
    end: datetime

    def __post_init__(self) -> None:
        if self.begin.tzinfo is None or self.end.tzinfo is None:
            refuse([("closed", "has a time without zone; expected times such as 2031-05-04T06:00:00Z")])
        if not self.begin < self.end:
            refuse([("closed", "ends before it begins; expected an end after the begin")])


Asked: TypeAlias = (
    Daylight
    | GreatestSpeed
    | GreatestStream
    | LeastVisibility
    | GreatestWind
    | GreatestWaves
    | TimeBetweenShips
    | Closed
    | Opening
    | TugsFast
)


@dataclass(frozen=True, kw_only=True)
class Ships:
    """The ships a rule is for: those above every bound that is given; no bound, every ship."""

    length_over: float | None = None
    """Of length overall. [m]"""
    beam_over: float | None = None
    draught_over: float | None = None

    def include(self, length_overall: float, beam: float, draught: float) -> bool:
        """Whether a ship of these dimensions is meant."""
        bounds = ((self.length_over, length_overall), (self.beam_over, beam), (self.draught_over, draught))
        return all(bound is None or value > bound for bound, value in bounds)


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One rule: its name as people say it, what it asks, where, of whom, and who says so."""

    name: str
    asks: Asked
    source: str
    at: str | None = None
    """A waypoint, gate, basin or berth of the waterway."""
    reaches: tuple[str, ...] = ()
    """Reaches it holds in; with neither place nor reaches it holds for the whole passage."""
    lasting: float = 0.0
    """How long she stays at the place after she comes to it, or is there before she leaves. [s]"""
    direction: str | None = None
    """`inward` or `outward`; None: both ways."""
    ships: Ships = field(default_factory=Ships)

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not self.name.strip():
            yield "name", "is empty; expected what people call the rule"
        if not self.source.strip():
            yield "source", "is empty; a rule says whose it is"
        if self.at is not None and self.reaches:
            yield "at", "stands beside reaches; expected a place or reaches, not both"
        if self.direction not in (None, "inward", "outward"):
            yield "direction", f"'{self.direction}' is no direction; expected inward or outward"
        if not (math.isfinite(self.lasting) and 0.0 <= self.lasting <= DAY):
            yield "lasting", f"{self.lasting:g} s is no stay; expected up to a day"
        if self.lasting > 0.0 and self.at is None:
            yield "lasting", "needs a place: `at` says where she stays"
        if isinstance(self.asks, TimeBetweenShips) and self.at is None:
            yield "at", "is missing; time between ships is counted at a place"


@dataclass(frozen=True, kw_only=True)
class Movement:
    """Another ship that passes a place of the waterway."""

    name: str
    """Of the ship."""
    at: str
    """A waypoint, gate, basin or berth."""
    time: datetime

    def __post_init__(self) -> None:
        if self.time.tzinfo is None:
            refuse([("time", "has no zone; expected a time such as 2031-05-04T06:00:00Z")])


@dataclass(frozen=True, kw_only=True)
class MooredShip:
    """A ship lying alongside that she passes."""

    name: str
    position: Position
    """Of her middle."""
    length: float
    """At the waterline. [m]"""
    beam: float
    draught: float
    greatest_along: float | None = None
    """What her lines may be pulled with along the quay. [N]"""

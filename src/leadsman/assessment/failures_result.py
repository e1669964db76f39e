"""What a sweep of failures says, and the greatest winds: frozen, SI."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, kw_only=True)
class Moment:
    """One failure at one moment of the passage."""

    time: float
    """After the start. [s]"""
    distance: float
    """Along the track. [m]"""
    danger: str | None
    """What comes of going on; None: nothing as long as it is watched."""
    time_left: float | None
    """From the failure to the danger. [s]"""
    distance_left: float | None
    answered: bool
    """Whether the best answer averts it."""
    answer: str
    """The best answer, in words."""
    answered_ends: str
    """What comes of the best answer."""
    answered_time_left: float | None
    """From the failure to the danger with the best answer, None where it averts it. [s]"""
    leaves_fairway: bool
    """Whether she crosses an edge of the fairway under the best answer."""


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """A part of the passage over which the same answer is best: times after the start of its first and last moment [s],
    distances along the track [m], places."""

    begin_time: float
    end_time: float
    begin: float
    begin_place: str
    end: float
    end_place: str
    answer: str
    answered: bool
    ends: str
    """What comes of it, most often."""
    least_time_left: float | None
    """[s]"""


@dataclass(frozen=True, kw_only=True)
class Failing:
    """One kind of failure along the whole passage."""

    name: str
    moments: tuple[Moment, ...]
    stretches: tuple[Stretch, ...]
    least_time_left: float | None
    """[s]"""
    no_return: tuple[tuple[float, str], ...]
    """From where on no answer helps: distance along the track and place."""
    abort: tuple[tuple[float, str], ...]
    """The last places before them from where one still does."""


@dataclass(frozen=True, kw_only=True)
class Failures:
    """All of them."""

    call: str
    ship: str
    start: datetime
    every: float
    failing: tuple[Failing, ...]
    estimated: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class WindLimit:
    """The greatest wind from one direction for which the asked share of runs succeeds. [m/s]"""

    wind_from: float
    """[rad]"""
    wind_speed: float | None
    """None: not even in calm."""
    beyond: bool
    """The greatest wind tried still went."""
    too_much: float | None
    """The first wind tried that is too much; None: there was none. [m/s]"""
    reasons: Mapping[str, int]
    """How the runs ended in it, as far as they had to be sailed to know."""
    broken: str
    """The limit most of the failed ones broke."""
    place: str
    """Where most of those did."""


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Greatest winds by direction for each number of tugs."""

    call: str
    ship: str
    start: datetime
    level: float
    runs: int
    seed: int
    greatest: float
    """Wind tried at most. [m/s]"""
    tugs: tuple[tuple[str, ...], ...]
    """The tugs of each set."""
    winds: tuple[tuple[WindLimit, ...], ...]
    """For each set, direction by direction."""
    estimated: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class StreamLimit:
    """The greatest stream for which the asked share of runs succeeds, started for one state of the stream."""

    state: str
    """`as planned`, `with her`, `slack` or `against her`, where it runs strongest on the way."""
    start: datetime
    rate: float
    """Predicted there when she passes, positive with her. [m/s]"""
    factor: float | None
    """Times the predicted stream, everywhere; None: not even without any."""
    beyond: bool
    """The greatest multiple tried still went."""
    reasons: Mapping[str, int]
    """How the runs ended at the first multiple that is too much."""
    broken: str
    place: str


@dataclass(frozen=True, kw_only=True)
class StreamLimits:
    """Greatest streams by state of the stream, in the forecast's wind with all tugs."""

    call: str
    ship: str
    level: float
    runs: int
    seed: int
    most: float
    """Greatest multiple of the predicted stream that is tried."""
    place: str
    """Where the stream runs strongest on the way."""
    states: tuple[StreamLimit, ...]
    estimated: tuple[str, ...]

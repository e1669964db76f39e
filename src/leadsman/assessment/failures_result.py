"""What a sweep of failures says: frozen, SI."""

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
    """What comes of it without an answer; None: nothing within the time looked at."""
    time_left: float | None
    """From the failure to the danger. [s]"""
    distance_left: float | None
    answered: bool
    """Whether the planned answer averts it."""
    answered_danger: str | None


@dataclass(frozen=True, kw_only=True)
class Failing:
    """One kind of failure along the whole passage."""

    name: str
    moments: tuple[Moment, ...]
    least_time_left: float | None
    """[s]"""
    no_return: tuple[tuple[float, str], ...]
    """Where the planned answer ceases to help: distance along the track and place."""
    abort: tuple[tuple[float, str], ...]
    """The last places before them from where it still does."""


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
    reasons: Mapping[str, int]
    """How the runs ended at the first wind that is too much."""


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

"""What every rule must answer, and a rule about a figure that no start changes."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.stretch import Stretch
from leadsman.geometry import Array
from leadsman.rule import Rule


@dataclass(frozen=True, kw_only=True)
class Told:
    """One rule for one start."""

    value: float
    """What there is, in the unit of the limit."""
    required: float
    """Bound of the value: the least where more is better, the greatest where less is."""
    time: float
    """When she meets it, on the clock of the water. [s]"""
    words: str
    """A clause such as `she is there 21:10 to 21:25, light ends 20:58`."""


class Limit(Protocol):
    """A rule in one stretch."""

    @property
    def rule(self) -> Rule:
        """What it is a limit of."""

    @property
    def stretch(self) -> Stretch:
        """Where."""

    @property
    def unit(self) -> str:
        """Of margins and values: `s`, `m/s`, `m`, `N` or nothing."""

    @property
    def rate(self) -> float:
        """How fast the margin can change with the time she passes. [unit/s]"""

    def margins(self, passing: Passing) -> Array:
        """What is left for each start; negative: the rule is broken. [unit]"""

    def told(self, passing: Passing) -> Told:
        """What a person must know about the only start of `passing`."""


@dataclass(frozen=True, kw_only=True, eq=False)
class FixedLimit:
    """A rule about a figure that is the same whenever she starts, such as the forecast wind."""

    rule: Rule
    stretch: Stretch
    unit: str
    value: float
    required: float
    margin: float
    words: str
    rate: float = 0.0

    def margins(self, passing: Passing) -> Array:
        """The same for every start. [unit]"""
        return np.full(np.shape(passing.enters), self.margin)

    def told(self, passing: Passing) -> Told:
        """What a person must know."""
        return Told(value=self.value, required=self.required, time=float(passing.enters[0]), words=self.words)


@dataclass(frozen=True, kw_only=True)
class Unjudged:
    """A rule that holds for her, but that what is known cannot judge."""

    rule: Rule
    why: str

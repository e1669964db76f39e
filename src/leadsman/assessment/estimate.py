"""How one particular is worked out: what it may ask for, what it answers, and what it means for handling."""

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from leadsman.assessment import plausibility
from leadsman.errors import CannotCompute
from leadsman.figure import Figure, Origin
from leadsman.ship import Loading, Ship


class Missing(CannotCompute):
    """The card leaves no way to this figure."""


@dataclass(frozen=True)
class Worked:
    """One particular's value and how it was got."""

    value: float
    origin: Origin
    method: str = ""
    source: str = ""
    deviation: float | None = None
    """Of the method itself, one standard deviation; what the inputs add is reckoned by the caller."""


@dataclass(frozen=True)
class Known:
    """What an estimate may look at: the card, and other particulars by name."""

    ship: Ship
    loading: Loading
    value: Callable[[str], float]
    """Another particular's value; `Missing` where there is none."""
    overruled: Mapping[str, float]
    """What the user knows better, by name."""

    @functools.cached_property
    def usual(self) -> plausibility.Usual | None:
        """What ships of her type and length usually are."""
        return plausibility.usual(self.ship.kind, self.ship.length_overall)

    @property
    def typical(self) -> plausibility.Usual:
        """The same, where an estimate rests on it; `Missing` for a type that is not known."""
        if self.usual is None:
            raise Missing(f"what is usual for a ship of kind '{self.ship.kind.value}'")
        return self.usual

    @property
    def fullness_known(self) -> bool:
        """Whether displacement or block coefficient stands on the card or is known better: not estimated."""
        return self.loading.displacement is not None or bool(
            self.overruled.keys() & {"displacement", "block_coefficient"}
        )

    def tried(self, name: str) -> float | None:
        """Another particular's value, or None."""
        try:
            return self.value(name)
        except Missing:
            return None


Meaning = Callable[[Mapping[str, Figure]], str]


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """One row of the table of particulars."""

    unit: str
    function: Callable[[Known], Worked]
    meaning: Meaning


def read(value: float, name: str, deviation: float | None = None) -> Worked:
    """The card's own figure."""
    return Worked(value, Origin.GIVEN, source=f"ship card: {name}", deviation=deviation)


def given(value: float | None, name: str, deviation: float | None = None) -> Worked | None:
    """The card's own figure, if it has one."""
    return None if value is None else read(value, name, deviation)


def computed(value: float, method: str, source: str, deviation: float | None = None) -> Worked:
    """A figure that follows from others."""
    return Worked(float(value), Origin.COMPUTED, method, source, deviation)


def estimated(value: float, method: str, source: str, deviation: float) -> Worked:
    """A figure the card leaves out."""
    return Worked(float(value), Origin.ESTIMATED, method, source, deviation)


def of_range(bounds: plausibility.Range, scale: float, method: str) -> Worked:
    """The middle of what is usual for her type, times a scale; the range is taken as two deviations to each side."""
    return estimated(
        plausibility.middle(bounds) * scale, method, "CardPractice", plausibility.spread(bounds) * abs(scale)
    )


def always(sentence: str) -> Meaning:
    """A meaning that holds whatever the figures are."""
    return lambda figures: sentence

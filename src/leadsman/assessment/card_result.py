"""What is known of a ship card once it has been checked, completed, and set beside another: what documents lay out."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from leadsman.figure import Figure, Finding, Grade
from leadsman.ship import Loading, Ship

Change: TypeAlias = tuple[Figure | None, Figure | None]
"""A figure before and after; None where there was or is none."""
EQUAL = 0.005  # share by which two figures may differ and still be the same: rounding on cards


@dataclass(frozen=True, kw_only=True)
class CheckedCard:
    """Ship and loading as on the card; nothing of it is corrected."""

    ship: Ship
    loading: Loading
    findings: tuple[Finding, ...]
    """The heaviest first."""
    figures: Mapping[str, Figure]
    """Every particular by name, given, computed or estimated."""
    meanings: Mapping[str, str]
    """What each figure means for handling, by its name."""
    changed: Mapping[str, Change]
    """What the own figures change, as (without them, with them), by name."""

    @property
    def stops(self) -> bool:
        """Whether the card cannot be true as it stands."""
        return any(finding.grade is Grade.STOP for finding in self.findings)


@dataclass(frozen=True, kw_only=True)
class Pair:
    """One figure of both; None where it cannot be known."""

    name: str
    one: Figure | None
    other: Figure | None

    @property
    def differs(self) -> bool:
        """Beyond rounding, or known of one alone."""
        if self.one is None or self.other is None:
            return self.one is not self.other
        return abs(self.one.value - self.other.value) > EQUAL * max(abs(self.one.value), abs(self.other.value))

    @property
    def certain(self) -> bool:
        """Whether they differ by more than their bands together, one standard deviation each."""
        if not self.differs or self.one is None or self.other is None:
            return self.differs
        bands = (self.one.band, self.other.band)
        together = math.hypot(*((band.deviation or 0.0) if band is not None else 0.0 for band in bands))
        return abs(self.one.value - self.other.value) > together


@dataclass(frozen=True, kw_only=True)
class Remark:
    """What one difference means for handling."""

    name: str
    """Of the figure, or of the field of the card, it speaks of."""
    sentence: str


@dataclass(frozen=True, kw_only=True)
class Beside:
    """Two cards side by side."""

    one: CheckedCard
    other: CheckedCard
    called: tuple[str, str]
    loading_estimated: bool
    """Whether the other's draughts are no reading but what is usual in that condition."""
    pairs: tuple[Pair, ...]
    remarks: tuple[Remark, ...]

"""Figures with provenance, and findings: what every answer is made of."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from leadsman.errors import refuse


class Origin(StrEnum):
    """How a figure was got."""

    GIVEN = "given"
    COMPUTED = "computed"
    ESTIMATED = "estimated"
    ASSUMED = "assumed"


@dataclass(frozen=True, kw_only=True)
class Band:
    """How far a figure may be off: one standard deviation, or bounds, or both; in the figure's own unit."""

    deviation: float | None = None
    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.deviation is None and (self.low is None or self.high is None):
            yield "deviation", "a band needs a standard deviation, or both bounds"
        if self.deviation is not None and not (math.isfinite(self.deviation) and self.deviation >= 0.0):
            yield "deviation", f"a standard deviation cannot be {self.deviation}"
        if self.low is not None and self.high is not None and not self.low <= self.high:
            yield "low", f"the lower bound {self.low} lies above the upper bound {self.high}"


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A number that can be followed back: value and unit (SI), how it was got, by which method, from which inputs."""

    name: str
    value: float
    unit: str
    origin: Origin
    method: str = ""
    source: str = ""
    """A key of the bibliography, or the file and field it was given in."""
    inputs: Mapping[str, float] = field(default_factory=dict)
    band: Band | None = None

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not math.isfinite(self.value):
            yield self.name, f"a figure cannot be {self.value}"
        if self.origin is Origin.COMPUTED and not self.method:
            yield self.name, "a computed figure names its method"
        if self.origin is Origin.ESTIMATED and not (self.method and self.source):
            yield self.name, "an estimated figure names its method and source"


class Grade(StrEnum):
    """How heavy a finding weighs."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True, kw_only=True)
class Finding:
    """A fact about card or voyage that a person must know, in one sentence, with value, limit, place, time, source."""

    grade: Grade
    subject: str
    """A stable key such as `underkeel`, `overhead`, `method_limits`."""
    sentence: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    place: str = ""
    time: datetime | None = None
    source: str = ""

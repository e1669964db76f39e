"""A passage as it was sailed: where a ship was and when, as a log gives it. No physics.

Latitudes and longitudes are degrees, WGS 84; all else is SI and radians. NaN means: not reported then.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from leadsman.errors import refuse
from leadsman.geometry import Array


def position_problems(latitude: Array, longitude: Array) -> Iterator[tuple[str, str]]:
    if not np.all(np.abs(latitude) <= 90.0):
        yield (
            "latitude",
            "goes beyond -90 to 90, or is missing; expected degrees north (latitude and longitude swapped?)",
        )
    if not np.all(np.abs(longitude) <= 180.0):
        yield "longitude", "goes beyond -180 to 180, or is missing; expected degrees east"


def series_problems(thing: Any, names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Faults common to all series: zone, order, equal lengths, infinities."""
    if thing.start.tzinfo is None:
        yield "start", "has no time zone; expected an aware time"
    if len(thing.elapsed) == 0:
        yield "elapsed", "is empty; expected at least one time"
        return
    if not np.all(np.isfinite(thing.elapsed)) or not np.all(np.diff(thing.elapsed) > 0.0):
        yield "elapsed", "is not in order; expected each time later than the one before"
    for name in names:
        values = getattr(thing, name)
        if values is None:
            continue
        if len(values) != len(thing.elapsed):
            yield name, f"has {len(values)} values for {len(thing.elapsed)} times"
        elif np.any(np.isinf(values)):
            yield name, "holds an infinite value"


@dataclass(frozen=True, kw_only=True, eq=False)
class SailedTrack:
    """Where a vessel was, and when."""

    name: str
    start: datetime
    elapsed: Array
    latitude: Array
    longitude: Array
    speed_over_ground: Array | None = None
    """[m/s]"""
    course: Array | None = None
    """Over the ground. [rad]"""
    heading: Array | None = None
    """[rad]"""
    rate_of_turn: Array | None = None
    """To starboard positive. [rad/s]"""
    identifier: str = ""
    """Such as the MMSI."""
    particulars: Mapping[str, float | str] = field(default_factory=dict)
    """What the vessel says of herself, SI: `length_overall`, `beam`, `draught`, `callsign`..."""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        columns = ("latitude", "longitude", "speed_over_ground", "course", "heading", "rate_of_turn")
        yield from series_problems(self, columns)
        yield from position_problems(self.latitude, self.longitude)

    def time(self, index: int) -> datetime:
        """Time of one of the points, UTC."""
        return (self.start + timedelta(seconds=float(self.elapsed[index]))).astimezone(UTC)

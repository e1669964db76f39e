"""What ships of each type and size usually are, from `plausibility.toml`: grounds for questions, never for refusal."""

import functools
import math
import tomllib
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from leadsman.ship import ShipType

Range = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Usual:
    """One row of the table: a type and size with its usual ranges, in the units the trade speaks (see the file)."""

    kind: ShipType
    size: str
    length: Range
    length_to_beam: Range
    beam_to_draught: Range
    block: Range
    service: Range
    power: Range
    thruster: Range
    windage: Range
    lightship: Range
    admiralty: Range
    perpendiculars: Range
    stability_loaded: Range
    stability_ballast: Range
    rudder: Range
    depth: Range
    house: Range
    stack: float


@functools.cache
def table() -> tuple[Usual, ...]:
    """All rows, as the file has them."""
    rows = tomllib.loads((files(__package__) / "plausibility.toml").read_text(encoding="utf-8"))["row"]
    return tuple(Usual(**_row(row)) for row in rows)


def _row(row: dict[str, Any]) -> dict[str, Any]:
    return {name: tuple(value) if isinstance(value, list) else value for name, value in row.items()} | {
        "kind": ShipType(str(row["kind"]))
    }


def usual(kind: ShipType, length_overall: float) -> Usual | None:
    """The row of this type nearest to this length; None where the type has no row."""
    rows = [row for row in table() if row.kind is kind]
    return min(rows, key=lambda row: distance(length_overall, row.length), default=None)


def distance(value: float, bounds: Range) -> float:
    """How far a value lies outside bounds, as a natural logarithm of the ratio to the nearer one; 0 inside. [-]"""
    low, high = bounds
    if value <= 0.0:
        return math.inf
    if value < low:
        return math.log(low / value)
    return math.log(value / high) if value > high else 0.0


def middle(bounds: Range) -> float:
    """The middle of a range."""
    return 0.5 * (bounds[0] + bounds[1])


def spread(bounds: Range) -> float:
    """One standard deviation, the range taken as two of them to each side."""
    return 0.25 * (bounds[1] - bounds[0])

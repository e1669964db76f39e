"""What the wheelhouse poster and the manoeuvring booklet add to the card: measured or estimated manoeuvres, as printed.

Fields follow IMO Resolution A.601(15), appendices 2 and 3 (layout partly from memory). All SI; `None` means the poster
does not say. Nothing here is computed by us: `leadsman trials` computes manoeuvres, this module keeps what she shows.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from leadsman.errors import refuse
from leadsman.units import DEGREE

CONDITIONS = ("loaded", "ballast")
SIDES = ("port", "starboard")

Ranges = dict[str, tuple[float, float, float, str]]
"""Field to (low, high, SI size of the unit spoken, the unit spoken)."""


class Basis(StrEnum):
    """Whether a poster figure was measured or not: the form asks for one of the two beside each diagram."""

    TRIAL = "trial"
    ESTIMATED = "estimated"
    UNKNOWN = "unknown"


def _outside(thing: Any, ranges: Ranges) -> Iterator[tuple[str, str]]:
    """Numbers that no ship has; `None` is allowed."""
    for name, (low, high, size, unit) in ranges.items():
        value = getattr(thing, name)
        if value is not None and not low * size <= value <= high * size:
            yield name, f"{value / size:.4g} {unit} is no manoeuvre of a ship; expected {unit}, {low:g} to {high:g}"


def _condition(thing: Any) -> Iterator[tuple[str, str]]:
    if thing.condition not in CONDITIONS:
        yield "condition", f"'{thing.condition}' is no condition of the poster; expected loaded or ballast"


@dataclass(frozen=True, kw_only=True)
class TurningCircle:
    """One turning circle diagram."""

    side: str
    condition: str
    rudder: float
    """Rudder angle held, positive whichever the side. [rad]"""
    advance: float | None = None
    transfer: float | None = None
    tactical_diameter: float | None = None
    time_to_90: float | None = None
    """From the order to 90 degrees of heading change. [s]"""
    approach_speed: float | None = None
    depth_to_draught: float | None = None
    """None: the diagram is for deep water. [-]"""
    basis: Basis = Basis.UNKNOWN

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.side not in SIDES:
            yield "side", f"'{self.side}' is no side; expected port or starboard"
        yield from _condition(self)
        yield from _outside(self, _TURNING)


@dataclass(frozen=True, kw_only=True)
class Stop:
    """One line of the stopping table: from which speed, with engine astern or merely stopped, to rest in the water."""

    order: str
    condition: str
    engine_astern: bool = True
    track_reach: float | None = None
    head_reach: float | None = None
    side_reach: float | None = None
    duration: float | None = None
    approach_speed: float | None = None
    basis: Basis = Basis.UNKNOWN

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.order not in ("full_sea_speed", "full_ahead", "half_ahead", "slow_ahead", "dead_slow_ahead"):
            yield "order", f"'{self.order}' is no ahead order of the stopping table; expected one such as full_ahead"
        yield from _condition(self)
        yield from _outside(self, _STOPPING)


@dataclass(frozen=True, kw_only=True)
class ZigZag:
    """One zig-zag test: rudder and heading angle alike, 10/10 or 20/20."""

    angle: float
    condition: str
    first_overshoot: float | None = None
    second_overshoot: float | None = None
    approach_speed: float | None = None
    basis: Basis = Basis.UNKNOWN

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from _condition(self)
        yield from _outside(self, _ZIG_ZAG)


@dataclass(frozen=True, kw_only=True)
class SquatEstimate:
    """One line of the poster's draught-increase table."""

    clearance: float
    """Under-keel clearance at rest the line is for. [m]"""
    speed: float
    squat: float

    def __post_init__(self) -> None:
        refuse(_outside(self, _SQUAT))


@dataclass(frozen=True, kw_only=True)
class Poster:
    """The manoeuvres the ship displays."""

    turning_circles: tuple[TurningCircle, ...] = ()
    stops: tuple[Stop, ...] = ()
    zig_zags: tuple[ZigZag, ...] = ()
    squats: tuple[SquatEstimate, ...] = ()
    initial_turning_distance: float | None = None
    """Travelled with 10 degrees of rudder until the heading has changed 10 degrees. [m]"""
    blind_zone_loaded: float | None = None
    """Sea surface hidden ahead of the bow from the conning position. [m]"""
    blind_zone_ballast: float | None = None

    def __post_init__(self) -> None:
        refuse(_outside(self, _POSTER))


_TURNING: Ranges = {
    "rudder": (5.0, 110.0, DEGREE, "deg"),
    "advance": (10.0, 10_000.0, 1.0, "m"),
    "transfer": (1.0, 10_000.0, 1.0, "m"),
    "tactical_diameter": (5.0, 10_000.0, 1.0, "m"),
    "time_to_90": (5.0, 3600.0, 1.0, "s"),
    "approach_speed": (0.5, 30.0, 1.0, "m/s"),
    "depth_to_draught": (1.0, 20.0, 1.0, "times the draught"),
}
_STOPPING: Ranges = {
    "track_reach": (1.0, 30_000.0, 1.0, "m"),
    "head_reach": (1.0, 30_000.0, 1.0, "m"),
    "side_reach": (-15_000.0, 15_000.0, 1.0, "m"),
    "duration": (1.0, 7200.0, 1.0, "s"),
    "approach_speed": (0.5, 30.0, 1.0, "m/s"),
}
_ZIG_ZAG: Ranges = {
    "angle": (5.0, 35.0, DEGREE, "deg"),
    "first_overshoot": (0.0, 180.0, DEGREE, "deg"),
    "second_overshoot": (0.0, 180.0, DEGREE, "deg"),
    "approach_speed": (0.5, 30.0, 1.0, "m/s"),
}
_SQUAT: Ranges = {
    "clearance": (0.05, 100.0, 1.0, "m"),
    "speed": (0.1, 30.0, 1.0, "m/s"),
    "squat": (0.0, 10.0, 1.0, "m"),
}
_POSTER: Ranges = {
    "initial_turning_distance": (5.0, 5_000.0, 1.0, "m"),
    "blind_zone_loaded": (0.0, 2_000.0, 1.0, "m"),
    "blind_zone_ballast": (0.0, 2_000.0, 1.0, "m"),
}

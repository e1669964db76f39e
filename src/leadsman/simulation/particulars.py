"""What is known of a ship in plain numbers before anything is estimated; `None` where the card is silent. SI and
radians."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from leadsman.physics import engine, rudder
from leadsman.simulation.parameters import Array, calm_air
from leadsman.units import SEA_WATER_DENSITY


@dataclass(frozen=True, kw_only=True)
class Screw:
    """One propeller or pod; `offset` from the centreline, positive to starboard; `hand` +1 right-handed."""

    hand: float = 1.0
    offset: float = 0.0
    diameter: float | None = None
    pitch_ratio: float | None = None
    blades: float = 4.0
    area_ratio: float | None = None
    controllable: bool = False
    podded: bool = False


@dataclass(frozen=True, kw_only=True)
class Blade:
    """One rudder; `kind` of `physics.rudder.TYPES`."""

    kind: str = "normal"
    offset: float = 0.0
    area: float | None = None
    height: float | None = None
    greatest_angle: float | None = None


@dataclass(frozen=True, kw_only=True)
class OrderLine:
    """One line of the engine-order table: shaft speed [1/s], astern negative; pitch as a share of full pitch ahead,
    astern negative; speed through the water [m/s] where the card gives it for this loading.
    """

    order: str
    shaft_speed: float
    pitch_share: float = 1.0
    speed: float | None = None


@dataclass(frozen=True, kw_only=True)
class Particulars:
    """A ship in today's loading, as the card has it.

    `full_ahead_to_full_astern` only where it is known to be the time to reverse the engine, not the ship. `wind` as in
    `Tables.wind`.
    """

    length: float
    beam: float
    draught_forward: float
    draught_aft: float
    displacement: float
    engine_kind: str
    power: float | None = None
    full_shaft_speed: float
    least_shaft_speed: float | None = None
    orders: tuple[OrderLine, ...]
    screws: tuple[Screw, ...]
    rudders: tuple[Blade, ...] = ()
    water_density: float = SEA_WATER_DENSITY
    bulbous_bow: bool = False
    hard_over_to_hard_over: float | None = None
    full_ahead_to_full_astern: float | None = None
    astern_power_share: float | None = None
    starts: float | None = None
    wind: Array = field(default_factory=calm_air)

    def __post_init__(self) -> None:
        faults = list(self._problems())
        if faults:
            raise ValueError("; ".join(faults))

    def _problems(self) -> Iterator[str]:
        for name in ("length", "beam", "draught_forward", "draught_aft", "displacement", "full_shaft_speed"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0.0):
                yield f"{name.replace('_', ' ')}: {value} is impossible; a number above zero is needed"
                return
        if not 0.3 <= self.block_coefficient <= 1.0:
            yield (
                f"displacement: {self.displacement / 1000.0:.0f} t in a box of {self.length:.4g} x {self.beam:.4g} x "
                f"{self.draught:.4g} m is a block coefficient of {self.block_coefficient:.2f}; expected 0.3 to 1"
            )
        if self.engine_kind not in engine.KINDS:
            yield f"engine kind: '{self.engine_kind}' is not known; expected one of {', '.join(engine.KINDS)}"
        if not self.screws:
            yield "screws: none; at least one is needed to move"
        for blade in self.rudders:
            if blade.kind not in rudder.TYPES:
                yield f"rudder kind: '{blade.kind}' is not known; expected one of {', '.join(rudder.TYPES)}"
        if not self.rudders and not any(screw.podded for screw in self.screws):
            yield "rudders: none, and no pods; she cannot be steered"
        if not any(line.speed and line.shaft_speed > 0.0 and line.pitch_share > 0.0 for line in self.orders):
            yield "orders: no ahead line with shaft speed and speed; one is needed to know her propeller"

    @property
    def draught(self) -> float:
        """Mean of the ends. [m]"""
        return 0.5 * (self.draught_forward + self.draught_aft)

    @property
    def trim(self) -> float:
        """Positive by the stern. [m]"""
        return self.draught_aft - self.draught_forward

    @property
    def volume(self) -> float:
        """Displaced. [m³]"""
        return self.displacement / self.water_density

    @property
    def block_coefficient(self) -> float:
        """At the mean draught. [-]"""
        return self.volume / (self.length * self.beam * self.draught)

    @property
    def fastest(self) -> OrderLine:
        """The ahead line with the highest speed: the one propeller and resistance are fitted to."""
        known = [line for line in self.orders if line.speed and line.shaft_speed > 0.0 and line.pitch_share > 0.0]
        return max(known, key=lambda line: line.speed or 0.0)

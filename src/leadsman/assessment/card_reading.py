"""A ship card as the checks read it: figures given, the few that follow at once, and how a check speaks."""

import functools
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from leadsman import format as text
from leadsman.assessment import plausibility
from leadsman.equipment import AHEAD_ORDERS, ASTERN_ORDERS, EngineOrder
from leadsman.figure import Grade
from leadsman.physics import form
from leadsman.ship import Loading, Ship
from leadsman.units import RPM, SEA_WATER_DENSITY

SEA_AND_AHEAD = ("full_sea_speed", *AHEAD_ORDERS)
STRONGEST_FIRST_ASTERN = tuple(reversed(ASTERN_ORDERS))


@dataclass(frozen=True, kw_only=True)
class Remark:
    """What one check has to say: about which fields of the card, how heavily, in one sentence."""

    grade: Grade
    fields: tuple[str, ...]
    sentence: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""


@dataclass(frozen=True, kw_only=True)
class Check:
    """One row of the table of checks."""

    name: str
    function: Callable[["Reading"], Iterator[Remark]]
    source: str
    """A key of the bibliography."""
    about: str
    """What is held against what, for the table in the docs."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One card, with the figures several checks need."""

    ship: Ship
    loading: Loading

    @functools.cached_property
    def usual(self) -> plausibility.Usual | None:
        """What ships of her type and length usually are."""
        return plausibility.usual(self.ship.kind, self.ship.length_overall)

    @functools.cached_property
    def length(self) -> float:
        """Between perpendiculars; where not given, 0.96 of length overall or what is usual for her type. [m]"""
        given = self.ship.length_between_perpendiculars
        if given is not None:
            return given
        share = 0.96 if self.usual is None else plausibility.middle(self.usual.perpendiculars)
        return share * self.ship.length_overall

    @property
    def density(self) -> float:
        """Of the water the draughts were read in; sea water where not given. [kg/m³]"""
        return self.loading.water_density or SEA_WATER_DENSITY

    @functools.cached_property
    def block(self) -> float | None:
        """Block coefficient at today's mean draught, from the displacement given. [-]"""
        if self.loading.displacement is None:
            return None
        volume = self.loading.displacement / self.density
        return float(form.block_coefficient(volume, self.length, self.ship.beam, self.loading.mean_draught))

    @functools.cached_property
    def summer_displacement(self) -> float | None:
        """At the summer draught, as given or as lightship and deadweight make it. [kg]"""
        ship = self.ship
        if ship.summer_displacement is not None:
            return ship.summer_displacement
        if ship.lightship is not None and ship.deadweight is not None:
            return ship.lightship + ship.deadweight
        return None

    @functools.cached_property
    def summer_block(self) -> float | None:
        """Block coefficient at the summer draught, as given or from the summer displacement. [-]"""
        ship, displacement = self.ship, self.summer_displacement
        if ship.summer_draught is None or displacement is None:
            return ship.summer_block_coefficient
        volume = displacement / SEA_WATER_DENSITY
        return float(form.block_coefficient(volume, self.length, ship.beam, ship.summer_draught))

    @functools.cached_property
    def full_displacement(self) -> float | None:
        """At the summer draught; by today's displacement if loaded, or by the usual block coefficient. [kg]"""
        if self.summer_displacement is not None:
            return self.summer_displacement
        if self.loading.condition == "loaded" and self.block is not None and 0.35 <= self.block <= 0.9:
            return self.loading.displacement
        if self.usual is None or self.ship.summer_draught is None:
            return None
        box = self.length * self.ship.beam * self.ship.summer_draught
        return SEA_WATER_DENSITY * plausibility.middle(self.usual.block) * box

    @functools.cached_property
    def orders(self) -> dict[str, EngineOrder]:
        """Lines of the order table by name."""
        return {line.order: line for line in self.ship.engine.orders}

    def lines(self, names: tuple[str, ...]) -> tuple[EngineOrder, ...]:
        """Those of the named orders the table has, in the order named."""
        return tuple(self.orders[name] for name in names if name in self.orders)

    def speed(self, line: EngineOrder) -> float | None:
        """Speed in today's column, else in the other. [m/s]"""
        first, second = line.speed_loaded, line.speed_ballast
        if self.loading.condition == "ballast":
            first, second = second, first
        return second if first is None else first

    @functools.cached_property
    def by_pitch(self) -> bool:
        """Whether the table gives pitch: then pitch, not revolutions, tells the orders apart."""
        return any(line.pitch is not None for line in self.ship.engine.orders)

    @functools.cached_property
    def controllable(self) -> bool:
        """Whether any propeller or the engine is said to have controllable pitch."""
        return self.ship.engine.kind == "controllable_pitch" or any(
            propeller.controllable_pitch for propeller in self.ship.propellers
        )


def spoken(order: str) -> str:
    """Half ahead, from half_ahead."""
    return order.replace("_", " ")


def rpm(revolutions: float) -> str:
    """96 rpm, from revolutions per second."""
    return f"{text.number(revolutions / RPM, 0 if revolutions > 10.0 * RPM else 1)} rpm"


def percent(share: float) -> str:
    """70 %."""
    return f"{text.number(100.0 * share, 0)} %"


def kilowatts(power: float) -> str:
    """8 600 kW, from W."""
    return f"{power / 1000.0:,.0f} kW".replace(",", "\u202f")


def horsepower(value: float) -> str:
    """12 900 HP."""
    return f"{value:,.0f} HP".replace(",", "\u202f")

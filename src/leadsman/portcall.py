"""One port call: this ship so loaded, this waterway, when, how fast, in what weather, with what margins."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from leadsman.equipment import ORDERS
from leadsman.errors import refuse
from leadsman.forecast import Forecast
from leadsman.rule import MooredShip, Movement, Rule
from leadsman.ship import Loading, Ship, contradictions
from leadsman.waterway import Waterway


class Direction(StrEnum):
    """Which way the waterway is sailed."""

    INWARD = "inward"
    OUTWARD = "outward"


ALLOWANCES = ("survey", "siltation", "level", "squat", "heel", "draught_reading", "waves")
"""What is taken off between the chart and the net clearance, and what a port's own margin may already hold."""


@dataclass(frozen=True, kw_only=True)
class Margins:
    """What this port or company requires. Under keel: the greater of metres and share of draught."""

    underkeel: float
    """Least net under-keel clearance. [m]"""
    underkeel_share: float
    """Least net under-keel clearance as a share of draught. [-]"""
    overhead: float
    """Least overhead clearance. [m]"""
    alongside: float | None = None
    """Least static clearance at the berth while she lies there. [m]"""
    width: float | None = None
    """Least room from what she sweeps to the edge of the fairway. [m]"""
    rudder_in_hand: float | None = None
    """Share of engine and rudder that must stay unused while she is held. [-]"""
    thruster_in_hand: float | None = None
    """Likewise of each thruster. [-]"""
    tug_in_hand: float | None = None
    """Likewise of what each tug can use. [-]"""
    includes: tuple[str, ...] = ()
    """Allowances the required clearance already holds, of `ALLOWANCES`: they are not taken off a second time."""
    touching: float | None = None
    """Greatest probability of touching the bed on the passage. [-]"""
    source: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        for name in self.includes:
            if name not in ALLOWANCES:
                yield "underkeel_includes", f"'{name}' is no allowance; expected some of {', '.join(ALLOWANCES)}"
        if self.touching is not None and not 1e-6 <= self.touching <= 0.5:
            yield "touching", f"{self.touching:.3g} is no limit for the chance of touching; expected 0.000001 to 0.5"
        for name, most in (("underkeel", 50.0), ("overhead", 50.0), ("alongside", 50.0), ("width", 500.0)):
            value = getattr(self, name)
            if value is not None and not 0.0 <= value <= most:
                yield name, f"{value} m is no margin; expected metres, 0 to {most:g}"
        for name in ("rudder_in_hand", "thruster_in_hand", "tug_in_hand"):
            value = getattr(self, name)
            if value is not None and not 0.0 <= value < 1.0:
                yield name, f"{value:.3g} is no share to keep in hand; expected 0 to below 1 (0 to below 100 percent)"
        if not 0.0 <= self.underkeel_share <= 1.0:
            yield (
                "underkeel_share",
                f"{self.underkeel_share:.3g} is no share of draught; expected 0 to 1 (0 to 100 percent)",
            )

    def underkeel_required(self, draught: float) -> float:
        """The greater of the fixed metres and the share of this draught. [m]"""
        return max(self.underkeel, self.underkeel_share * draught)


@dataclass(frozen=True, kw_only=True)
class ReachPlan:
    """How one reach is to be run: an engine order of the card, or a speed through the water given outright."""

    reach: str
    order: str | None = None
    speed: float | None = None

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if (self.order is None) == (self.speed is None):
            yield "order", f"reach '{self.reach}' needs either an engine order or a speed, not both and not neither"
        if self.order is not None and self.order not in ORDERS:
            yield "order", f"'{self.order}' is no engine order; expected one of {', '.join(ORDERS)}"
        if self.speed is not None and not (math.isfinite(self.speed) and 0.1 <= self.speed <= 20.0):
            yield "speed", f"{self.speed:.3g} m/s is no speed for a reach; expected 0.2 to 39 kn"


@dataclass(frozen=True, kw_only=True)
class Tug:
    """A tug as ordered."""

    name: str
    bollard_pull: float
    """N."""
    kind: str = ""
    available_from: datetime | None = None
    """None: at any time before `available_until`."""
    available_until: datetime | None = None
    fast_from: str = ""
    """Reach from whose beginning, inward, she is made fast; outward, at whose end she is let go. Empty: not said."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not 0.0 < self.bollard_pull < 3.0e6:
            yield "bollard_pull", f"{self.bollard_pull / 9806.65:.3g} t is no tug; expected tonnes, 0 to 300"
        bounds = [time for time in (self.available_from, self.available_until) if time is not None]
        if any(time.tzinfo is None for time in bounds):
            yield "available_from", "has no zone; expected a time such as 2031-05-04T06:00:00Z"
        elif len(bounds) == 2 and not bounds[0] < bounds[1]:
            yield "available_until", "expected a time after available_from"


def _bower_problems(anchor: str, bottom: str) -> Iterator[tuple[str, str]]:
    if anchor not in ("port", "starboard"):
        yield "anchor", f"'{anchor}' is no bower; expected port or starboard"
    if not bottom.strip():
        yield "bottom", "is empty; expected the bottom as charted, such as soft mud or firm sand"


@dataclass(frozen=True, kw_only=True)
class Anchoring:
    """Where she anchors on her way, and how."""

    at: str
    """A basin or waiting place of the waterway; a basin's circle is what she may swing in."""
    anchor: str
    """`port` or `starboard`."""
    bottom: str
    """Of the sea bed, as `physics.anchor.holding_on` knows it: never assumed to hold."""
    shackles: float | None = None
    """In the water; None: what the rules of the trade and her pull ask for. [-]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from _bower_problems(self.anchor, self.bottom)
        if self.shackles is not None and not 1.0 <= self.shackles <= 16.0:
            yield "shackles", f"{self.shackles:g} is no length of cable; expected shackles in the water, 1 to 16"


@dataclass(frozen=True, kw_only=True)
class Swing:
    """An anchor she is swung on: let go at short stay in the basin, and hove up when she is round."""

    anchor: str
    """`port` or `starboard`: she turns to the side of it, so that the cable does not lead under her forefoot."""
    bottom: str
    """Of the basin, as `physics.anchor.holding_on` knows it: never assumed to hold."""
    shackles: float | None = None
    """In the water; None: short stay, about one and a half times the depth in half shackles. [-]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from _bower_problems(self.anchor, self.bottom)
        if self.shackles is not None and not 0.5 <= self.shackles <= 4.0:
            yield "shackles", f"{self.shackles:g} is no cable to swing on; expected shackles in the water, 0.5 to 4"


@dataclass(frozen=True, kw_only=True)
class PortCall:
    """Everything one assessment needs; whatever the files, forms or databases it came from."""

    name: str
    ship: Ship
    loading: Loading
    waterway: Waterway
    forecast: Forecast
    direction: Direction
    berth: str
    start: datetime
    """When she passes the first point of the track. UTC."""
    plans: tuple[ReachPlan, ...]
    margins: Margins
    search_begin: datetime
    search_end: datetime
    squat_methods: tuple[str, ...] = ()
    """Named methods to compare; empty: all that apply. The largest governs."""
    tugs: tuple[Tug, ...] = ()
    rules: tuple[Rule, ...] = ()
    """Of this call or company, beside those of the waterway."""
    movements: tuple[Movement, ...] = ()
    """Of other ships."""
    moored: tuple[MooredShip, ...] = ()
    """Ships she passes that lie alongside."""
    anchoring: Anchoring | None = None
    """Where she anchors before she goes on; None: she does not."""
    swing: Swing | None = None
    """The anchor she is swung on; None: she is swung with engine, thrusters and tugs alone."""
    sources: tuple[tuple[str, str], ...] = ()
    """(thing.field, file and line it was given in): the way from a figure back to the paper."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        for name in ("start", "search_begin", "search_end"):
            if getattr(self, name).tzinfo is None:
                yield name, "has no zone; expected a time such as 2031-05-04T06:00:00Z"
        if not self.search_begin < self.search_end <= self.search_begin + timedelta(days=400):
            yield "search_end", "expected an end after the begin, and not more than 400 days after it"
        yield from contradictions(self.ship, self.loading)
        names = [reach.name for reach in self.waterway.reaches]
        planned = [plan.reach for plan in self.plans]
        for name in names:
            if name not in planned:
                yield "plan", f"reach '{name}' has no order or speed; expected one for every reach"
        for tug in self.tugs:
            if tug.fast_from and tug.fast_from not in names:
                yield (
                    "tug",
                    f"tug '{tug.name}' is to be fast from '{tug.fast_from}', which is no reach of waterway "
                    f"'{self.waterway.name}'; expected one of {', '.join(names)}",
                )
        for name in planned:
            if name not in names:
                yield (
                    "plan",
                    f"'{name}' is no reach of waterway '{self.waterway.name}'; expected one of {', '.join(names)}",
                )
        if self.berth not in [berth.name for berth in self.waterway.berths]:
            known = ", ".join(berth.name for berth in self.waterway.berths) or "none is defined"
            yield "berth", f"'{self.berth}' is no berth of waterway '{self.waterway.name}'; expected one of {known}"
        yield from self._anchoring_problems()
        if self.swing is not None and not self.waterway.basins:
            yield "swing", f"waterway '{self.waterway.name}' has no basin to swing in; expected a table [[basin]] there"
        yield from self._rule_problems()

    def _anchoring_problems(self) -> Iterator[tuple[str, str]]:
        if self.anchoring is None:
            return
        known = [basin.name for basin in self.waterway.basins]
        known += [place.name for place in self.waterway.waiting_places]
        if self.anchoring.at not in known:
            yield (
                "anchoring",
                f"'{self.anchoring.at}' is no basin or waiting place of waterway '{self.waterway.name}'; expected one "
                f"of {', '.join(known) or 'them, and none is defined'}",
            )

    def _rule_problems(self) -> Iterator[tuple[str, str]]:
        taken = {rule.name for rule in self.waterway.rules}
        for rule in self.rules:
            yield from ((f"rule.{rule.name}", why) for why in self.waterway.unknown_in(rule))
            if rule.name in taken:
                yield f"rule.{rule.name}", "the name stands twice; expected names that tell one rule from another"
            taken.add(rule.name)
        for moved in self.movements:
            yield from ((f"movement.{moved.name}", why) for why in self.waterway.unknown_places(moved.at, ()))

    def given_in(self, key: str) -> str:
        """File and line a figure was given in, for a key such as `ship:loading.draught_aft_m`; else the file."""
        return dict(self.sources).get(key) or f"{key.partition(':')[0]}.toml"

    def searching(self, days: float) -> "PortCall":
        """The same call with windows looked for over so many days from the begin of its search."""
        return replace(self, search_end=self.search_begin + timedelta(days=days))

    def starting(self, start: datetime) -> "PortCall":
        """The same call with another start."""
        return replace(self, start=start)

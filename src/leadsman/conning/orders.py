"""The orders of a run in words, as they are spoken on the bridge.

Wheel and engine orders are those of IMO resolution A.918(22), part A2 (from memory). Thruster and tug orders keep to
its pattern; quarters are common practice, no source.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from leadsman.conning.anchor_work import HELD_ON, HOVE_UP, LET_GO, PAID_OUT
from leadsman.conning.bridge import (
    ANCHOR_ORDER,
    COURSE_ORDER,
    ENGINE_ORDER,
    KIND,
    MEANING,
    PLACE,
    THRUSTER_ORDER,
    TIME,
    TUG_ORDER,
    UNIT,
    VALUE,
    WHEEL_ORDER,
)
from leadsman.physics.anchor import CLASS_SHACKLE
from leadsman.simulation.parameters import Array

NUMBERS = {5: "five", 10: "ten", 15: "fifteen", 20: "twenty", 25: "twenty-five", 30: "thirty"}
QUARTERS = {0: "stop", 1: "one quarter", 2: "half", 3: "three quarters", 4: "full"}
SIDES = ("port", "starboard")
LEADS = ("ahead", "to starboard", "astern", "to port")
KINDS = {
    COURSE_ORDER: "course",
    WHEEL_ORDER: "wheel",
    ENGINE_ORDER: "engine",
    THRUSTER_ORDER: "thruster",
    TUG_ORDER: "tug",
    ANCHOR_ORDER: "anchor",
}


@dataclass(frozen=True, kw_only=True)
class Names:
    """What the ship's orders are called."""

    telegraph: tuple[str, ...]
    shafts: int
    podded: bool
    hard_over: float
    thrusters: tuple[str, ...]
    tugs: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Order:
    """One order: when after the start [s], where along the track [m], of what kind, to which means, and the words."""

    time: float
    distance: float
    kind: str
    means: tuple[str, ...]
    words: str


def spoken(log: Array, names: Names) -> tuple[Order, ...]:
    """The log of a run as orders; what is told to several thrusters at once is one order."""
    return tuple(_merged(list(_lines(log, names)), names))


def _lines(log: Array, names: Names) -> Iterator[Order]:
    for line in log:
        kind, unit, value = int(line[KIND]), int(line[UNIT]), float(line[VALUE])
        if kind == COURSE_ORDER:
            means, words = "helm", f"Steer {_figures(round(math.degrees(value)) % 360)}"
        elif kind == WHEEL_ORDER:
            means, words = "helm", wheel(value, names)
        elif kind == ENGINE_ORDER:
            means, words = engine_name(unit, names.shafts), engine(names.telegraph[int(value)], unit, names.shafts)
        elif kind == THRUSTER_ORDER:
            means, words = names.thrusters[unit], thruster(names.thrusters[unit], round(value))
        elif kind == ANCHOR_ORDER:
            means, words = f"{SIDES[unit]} anchor", anchor(unit, value, int(line[MEANING]))
        else:
            means, words = names.tugs[unit], tug(names.tugs[unit], round(value), int(line[MEANING]))
        time, place = float(line[TIME]), float(line[PLACE])
        yield Order(time=time, distance=place, kind=KINDS[kind], means=(means,), words=words)


def _merged(lines: Sequence[Order], names: Names) -> Iterator[Order]:
    """Orders given at one moment: both engines alike are 'both engines', all thrusters of an end alike its thrust."""
    index = 0
    while index < len(lines):
        here = lines[index]
        together = [one for one in lines[index:] if one.time == here.time and one.kind == here.kind]
        joined = None
        if here.kind == "engine" and len(together) == names.shafts == 2:
            joined = both_engines(here.words, together[1].words)
        if here.kind == "thruster":
            end, told = here.words.split(" ", 1)
            units = sum(name.startswith(end.lower()) for name in names.thrusters)
            alike = [one for one in together[:units] if one.words.split(" ", 3)[0::3] == here.words.split(" ", 3)[0::3]]
            joined = f"{end} thrust {told.split(' ', 2)[2]}" if len(alike) == units > 1 else None
            together = together[:units]
        means = tuple(name for one in together for name in one.means)
        yield here if joined is None else replace(here, means=means, words=joined)
        index += 1 if joined is None else len(together)


def both_engines(port: str, starboard: str) -> str | None:
    """One order for both engines, if they are told the same."""
    ahead, other = port.split(" engine ", 1), starboard.split(" engine ", 1)
    return f"Both engines {ahead[1]}" if len(ahead) == len(other) == 2 and ahead[1] == other[1] else None


def _figures(degrees: int) -> str:
    return f"{degrees:03d}"


def wheel(angle: float, names: Names) -> str:
    """A wheel order, or the order of pods that take the rudder's place."""
    degrees = round(abs(math.degrees(angle)))
    side = "starboard" if angle > 0.0 else "port"
    if names.podded:
        return "Pods amidships" if degrees == 0 else f"Pods {degrees} degrees to {side}"
    if degrees == 0:
        return "Midships"
    if degrees >= round(math.degrees(names.hard_over)):
        return f"Hard-a-{side}"
    return f"{side.capitalize()} {NUMBERS.get(degrees, str(degrees))}"


def engine(order: str, shaft: int, shafts: int) -> str:
    """A telegraph order; with two shafts it names the engine, port before starboard."""
    words = order.replace("_", " ")
    if shafts == 1:
        return "Stop engine" if order == "stop" else words.capitalize()
    name = engine_name(shaft, shafts)
    return f"{name[0].upper()}{name[1:]} {words}"


def engine_name(shaft: int, shafts: int) -> str:
    """What an engine is called; with two, port is before starboard."""
    if shafts == 1:
        return "engine"
    return f"{SIDES[shaft]} engine" if shafts == 2 else f"shaft {shaft + 1} engine"


def thruster(name: str, quarters: int) -> str:
    """A thruster order; with several at an end it names which: 'Bow thruster 2 half to port'."""
    end, *number = name.split(" thruster")
    unit = f"{end.capitalize()} thruster{number[0]}" if number and number[0] else f"{end.capitalize()} thrust"
    if quarters == 0:
        return f"{unit} stop"
    return f"{unit} {QUARTERS[abs(quarters)]} to {'starboard' if quarters > 0 else 'port'}"


def tug(name: str, quarters: int, lead: int) -> str:
    """An order to a tug: how much, and which way her force is wanted."""
    if quarters == 0:
        return f"{name}: stop"
    return f"{name}: {QUARTERS[quarters]} {LEADS[lead]}"


def anchor(unit: int, cable: float, meaning: int = LET_GO) -> str:
    """An order to the forecastle, cable in shackles of class chain; SMCP part A2/3 (from memory)."""
    side = SIDES[unit]
    if meaning == HELD_ON:
        return f"Hold on {side} cable"
    if meaning == HOVE_UP:
        return f"Heave up {side} anchor"
    shackles = f"{cable / CLASS_SHACKLE:.1f}".removesuffix(".0")
    counted = "half a shackle" if shackles == "0.5" else f"{shackles} {'shackle' if shackles == '1' else 'shackles'}"
    return (
        f"Pay out {side} cable to {counted} in the water" if meaning == PAID_OUT else f"Let go {side} anchor, {counted}"
    )

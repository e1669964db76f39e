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
    """The log of a run as orders; what is told alike to several engines or thrusters at once is one order.

    As `bridge.write` counts them.
    """
    lines = list(_lines(log, names))
    return tuple(_as_one(log[alike], lines[alike], names) for alike in _told_alike(log))


def _told_alike(log: Array) -> Iterator[slice]:
    """Lines one after another that are one order to several engines or thrusters."""
    begin = 0
    for end in range(1, len(log) + 1):
        several = end < len(log) and int(log[end, KIND]) in (ENGINE_ORDER, THRUSTER_ORDER)
        if not (several and (log[end, [TIME, KIND, VALUE]] == log[begin, [TIME, KIND, VALUE]]).all()):
            yield slice(begin, end)
            begin = end


def _as_one(log: Array, lines: Sequence[Order], names: Names) -> Order:
    if len(lines) == 1:
        return lines[0]
    units, value = [int(unit) for unit in log[:, UNIT]], float(log[0, VALUE])
    if int(log[0, KIND]) == ENGINE_ORDER:
        words = engines(names.telegraph[int(value)], units, names.shafts)
    else:
        words = thrusters([names.thrusters[unit] for unit in units], round(value), names)
    return replace(lines[0], means=tuple(name for one in lines for name in one.means), words=words)


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


def engines(order: str, told: Sequence[int], shafts: int) -> str:
    """A telegraph order to several engines at once: 'Both engines stop'."""
    words = order.replace("_", " ")
    if len(told) == shafts:
        return f"{'Both' if shafts == 2 else 'All'} engines {words}"
    named = " and ".join(engine_name(shaft, shafts) for shaft in told)
    return f"{named[0].upper()}{named[1:]} {words}"


def thruster(name: str, quarters: int) -> str:
    """A thruster order; with several at an end it names which: 'Bow thruster 2 half to port'."""
    unit = name if name[-1].isdigit() else name.replace("thruster", "thrust")
    return f"{unit.capitalize()} {thrust(quarters)}"


def thrusters(told: Sequence[str], quarters: int, names: Names) -> str:
    """An order to several thrusters at once: 'Bow thrust half to port', 'Bow and stern thrust stop'."""
    if sorted(told) == sorted(names.thrusters):
        ends = " and ".join(dict.fromkeys(name.split(" ")[0] for name in told))
        return f"{ends.capitalize()} thrust {thrust(quarters)}"
    parts = []
    for end in dict.fromkeys(name.split(" ")[0] for name in told):
        here = [name for name in told if name.startswith(end)]
        whole = len(here) == sum(name.startswith(end) for name in names.thrusters)
        numbers = " and ".join(name.rsplit(" ", 1)[1] for name in here if name[-1].isdigit())
        plural = "thrusters" if len(here) > 1 else "thruster"
        parts.append(f"{end} thrust" if whole else f"{end} {plural} {numbers}")
    return f"{' and '.join(parts).capitalize()} {thrust(quarters)}"


def thrust(quarters: int) -> str:
    """How much, and which way."""
    return "stop" if quarters == 0 else f"{QUARTERS[abs(quarters)]} to {SIDES[int(quarters > 0)]}"


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

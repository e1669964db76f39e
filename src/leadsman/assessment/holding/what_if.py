"""The same place with other wind, stream, tugs, or something out of order: what the page's sliders ask."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache

from leadsman.assessment.account import account
from leadsman.assessment.holding.answer import Plan, held_at, roses
from leadsman.assessment.holding.assess import plans
from leadsman.assessment.holding.case import HoldingCase, Situation
from leadsman.assessment.holding.findings import with_changes
from leadsman.assessment.holding.result import HeldAt, Rose
from leadsman.assessment.holding.rose import current_rose, swing, turned
from leadsman.assessment.prepare import Prepared
from leadsman.errors import CannotCompute
from leadsman.units import signed, wrapped


@dataclass(frozen=True, kw_only=True)
class Changes:
    """What is to be different; None: as it is."""

    wind_speed: float | None = None
    """Ten-minute mean. [m/s]"""
    wind_from: float | None = None
    """True. [rad]"""
    stream_rate: float | None = None
    stream_towards: float | None = None
    """True. [rad]"""
    tugs: int | None = None
    """How many of those ordered, in the order they were ordered in."""
    out_of_order: tuple[str, ...] = ()
    """Names of thrusters and engines."""


@lru_cache(maxsize=4)
def plans_at(prepared: Prepared, start: datetime) -> tuple[Plan, ...]:
    """The cases of one start, kept while someone moves the sliders."""
    return plans(prepared, account(prepared, start), start)


def what_if(prepared: Prepared, start: datetime, key: str, changes: Changes) -> tuple[HeldAt, Rose]:
    """The place of this key under the changes, tugs staying where they are; `CannotCompute` for a key not known."""
    found = changed(_of(plans_at(prepared, start), key), changes)
    return with_changes(held_at(found)), roses(found)


def stream_rose(prepared: Prepared, start: datetime, key: str) -> Rose:
    """Greatest stream she is held in over the ground, by direction, with the wind as it is."""
    found = _of(plans_at(prepared, start), key)
    case = found.case
    if case.situation is Situation.SWINGING:
        case = replace(case, situation=Situation.BASIN)
    rose = current_rose(case, found.tug_sets)
    return Rose(
        off_bow=tuple(float(angle) for angle in rose.directions),
        limits={name: tuple(float(speed) for speed in speeds) for name, speeds in rose.limits.items()},
        ceiling=rose.ceiling,
    )


def names_of(prepared: Prepared, start: datetime, key: str) -> tuple[str, ...]:
    """The thrusters and engines that can be taken out of order there."""
    case = _of(plans_at(prepared, start), key).case
    return _names(case)


def _names(case: HoldingCase) -> tuple[str, ...]:
    return (*(each.name for each in case.thrusters), *(each.name for each in case.screws))


def _of(made: tuple[Plan, ...], key: str) -> Plan:
    for one in made:
        if one.asked.key == key:
            return one
    known = ", ".join(one.asked.key for one in made)
    raise CannotCompute(f"place: '{key}' is no place of this passage; expected one of {known}")


def changed(found: Plan, changes: Changes) -> Plan:
    """The case of a place under the changes; a swinging ship is turned to the heading that is then the hardest."""
    around = found.asked.surroundings
    around = replace(
        around,
        **{
            name: value
            for name in ("wind_speed", "wind_from", "stream_rate", "stream_towards")
            if (value := getattr(changes, name)) is not None
        },
    )
    offered = found.offered if changes.tugs is None else found.offered[: max(changes.tugs, 0)]
    case = replace(_without(found.case, changes.out_of_order), tugs=offered)
    heading = around.heading
    case = replace(
        case,
        wind_speed=around.wind_speed,
        wind_from=_off_bow(around.wind_from, heading),
        current_speed=around.stream_rate,
        current_from=_off_bow(around.stream_towards + math.pi, heading),
    )
    if case.situation is Situation.SWINGING:
        turn = swing(case).hardest
        case = turned(case, turn)
        around = replace(around, heading=wrapped(heading + turn))
    return replace(found, asked=replace(found.asked, surroundings=around), case=case, offered=offered)


def _off_bow(direction: float, heading: float) -> float:
    return signed(direction - heading)


def _without(case: HoldingCase, names: Iterable[str]) -> HoldingCase:
    out, known = set(names), _names(case)
    for name in sorted(out.difference(known)):
        raise CannotCompute(f"out_of_order: '{name}' is none of her means; expected one of {', '.join(known)}")
    return replace(
        case,
        thrusters=tuple(replace(each, available=0.0) if each.name in out else each for each in case.thrusters),
        screws=tuple(
            replace(each, ahead=0.0, astern=0.0, steady_ahead=0.0) if each.name in out else each for each in case.screws
        ),
    )

"""What a rehearsed run asks of her machinery, beside what the card says of it: air, time astern, power in hand."""

import math
from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment.rehearse_prepare import Ready
from leadsman.assessment.rehearse_result import Air, Ensemble, MachineryUse, NoAir, Overrun
from leadsman.conning.bridge import KIND, THRUSTER_ORDER, TIME, UNIT, VALUE
from leadsman.conning.orders import engine
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.physics.engine import DIRECT
from leadsman.simulation.deck import usable_thrusters
from leadsman.simulation.parameters import Records

FEW_STARTS = 2  # left at the least, from which the air is told to be short. Ours


def machinery_use(made: Ready, outcome: Records, log: Array) -> MachineryUse:
    """What a run asked of engines and thrusters; `log` of its orders."""
    unit = int(outcome["thruster_unit"])
    ran = float(outcome["thruster_longest"]) > 0.0
    return MachineryUse(
        ahead=float(outcome["driven_ahead"]) / driven(made, "full_ahead"),
        astern=float(outcome["driven_astern"]) / -driven(made, "full_astern"),
        astern_longest=float(outcome["astern_longest"]),
        astern_until=float(outcome["astern_until"]),
        astern_in_all=float(outcome["astern_all"]),
        thruster=made.thrusters[unit] if ran else "",
        thruster_longest=float(outcome["thruster_longest"]),
        thruster_until=float(outcome["thruster_until"]),
        thruster_in_all=float(outcome["thruster_all"]),
        overruns=tuple(overruns(made, log, float(outcome["time"]))),
        air=air(made, outcome),
    )


def overruns(made: Ready, log: Array, end: float) -> Iterator[Overrun]:
    """Thrusters told to give thrust for longer at one go than the card allows, each with its longest stretch."""
    told = log[log[:, KIND] == THRUSTER_ORDER]
    for unit, (name, card) in enumerate(usable_thrusters(made.prepared.call.ship)):
        if card.time_limit is None:
            continue
        begin, until = longest_thrust(told[told[:, UNIT] == unit], end)
        if until - begin > card.time_limit:
            yield Overrun(thruster=name, at_one_go=until - begin, until=until, limit=card.time_limit)


def longest_thrust(told: Array, end: float) -> tuple[float, float]:
    """When the longest stretch of thrust begins and ends under one thruster's orders, `end` that of the run. [s]"""
    found, begun = (0.0, 0.0), end
    for time, quarters in [*zip(told[:, TIME], told[:, VALUE], strict=True), (end, 0.0)]:
        if quarters == 0.0:
            found = max(found, (begun, float(time)), key=lambda stretch: stretch[1] - stretch[0])
            begun = end
        else:
            begun = min(begun, float(time))
    return found


def driven(made: Ready, order: str) -> float:
    """Shaft speed times pitch ratio of an order, by which power is measured; the first or last of her telegraph's
    where she has not that order. [1/s]"""
    known, names = made.case.known, made.case.names
    line = names.index(order) if order in names else (0 if order == "full_astern" else len(names) - 1)
    return float(known.speeds[line] * known.pitches[line])


def air(made: Ready, outcome: Records) -> Air | None:
    """The starts on air; None where no engine starts on it."""
    if not math.isfinite(float(outcome["starts_left"])):
        return None
    return Air(
        at_first=at_first(made),
        made=int(outcome["starts_made"]),
        left=int(outcome["starts_left"]),
        left_at=float(outcome["starts_left_at"]),
        refused=int(outcome["starts_refused"]),
        waited=float(outcome["airless"]),
        first_refused=no_air(made, outcome) if outcome["starts_refused"] > 0.0 else None,
    )


def no_air(made: Ready, outcome: Records) -> NoAir:
    """The first order that found no air."""
    name, shafts = made.case.names[int(outcome["refused_order"])], len(made.parameters.propellers)
    at = float(outcome["refused_place"])
    return NoAir(
        order=engine(name, int(outcome["refused_shaft"]), shafts),
        time=float(outcome["refused_at"]),
        distance=at,
        place=made.prepared.passage.place(at),
    )


def at_first(made: Ready) -> int:
    """Starts a shaft has air for when the run begins, the least of those that start on air."""
    starts = made.case.gear[0]["shafts"]["starts"][: len(made.parameters.engines)]
    on_air = np.array([engine.kind == DIRECT for engine in made.parameters.engines])
    return int(np.min(starts[on_air]))


def findings(made: Ready, use: MachineryUse) -> Iterator[Finding]:
    """What a run asks of the machinery that it will not, or will hardly, give."""
    if use.air is not None:
        yield from _air_findings(made, use.air)
    limit = made.prepared.call.ship.engine.time_limit_astern
    if limit is not None and use.astern_longest > limit:
        yield Finding(
            grade=Grade.CAUTION,
            subject="machinery",
            sentence=f"The rehearsed run goes astern for {text.stopwatch(use.astern_longest)} at one go, where the "
            f"card allows {text.stopwatch(limit)}: take her way off earlier, or let a tug do it.",
            value=use.astern_longest,
            limit=limit,
            unit="s",
            time=made.start + timedelta(seconds=use.astern_until),
            source="ship.toml, time_limit_astern_min",
        )
    for one in use.overruns:
        yield Finding(
            grade=Grade.CAUTION,
            subject="machinery",
            sentence=f"The rehearsed run has the {one.thruster} give thrust for {text.stopwatch(one.at_one_go)} at one "
            f"go, where the card allows {text.stopwatch(one.limit)}: a tug in its place, or less wind.",
            value=one.at_one_go,
            limit=one.limit,
            unit="s",
            time=made.start + timedelta(seconds=one.until),
            source="ship.toml, time_limit_min",
        )


def _air_findings(made: Ready, found: Air) -> Iterator[Finding]:
    refused = found.first_refused
    if refused is not None:
        times = "once" if found.refused == 1 else f"{found.refused} times"
        yield Finding(
            grade=Grade.STOP,
            subject="machinery",
            sentence=f"An order to the engine finds no air to start on {times} in the rehearsed run, first "
            f"{_said(made, refused)}; the engine is wanted without air for {text.stopwatch(found.waited)} in all.",
            value=float(found.refused),
            limit=0.0,
            place=refused.place,
            time=made.start + timedelta(seconds=refused.time),
        )
    elif found.left <= FEW_STARTS:
        yield Finding(
            grade=Grade.CAUTION,
            subject="machinery",
            sentence=f"The rehearsed run leaves air for {_starts(found.left)} of {found.at_first}: one reversal more "
            "than planned may find none.",
            value=float(found.left),
            limit=float(FEW_STARTS),
            time=made.start + timedelta(seconds=found.left_at),
            source="setting of ours",
        )


def drawn_findings(many: Ensemble | None) -> Iterator[Finding]:
    """What the drawn runs show of the air that the planned one need not."""
    if many is not None and many.without_air > 0:
        yield Finding(
            grade=Grade.CAUTION,
            subject="machinery",
            sentence=f"In {many.without_air} of {many.runs} drawn runs an order to the engine finds no air.",
            value=float(many.without_air),
            limit=0.0,
        )


def without_air(made: Ready, outcome: Records) -> str:
    """The clause of a failed run's reason that tells of an order without air; empty where there was none."""
    if not outcome["starts_refused"] > 0.0:
        return ""
    return f" Before that the engine found no air to start on: {_said(made, no_air(made, outcome))}."


def fewer_starts(made: Ready, outcome: Records) -> Iterator[str]:
    """What to do about a failed run in which the air gave out."""
    if outcome["starts_refused"] > 0.0:
        yield (
            f"Her air was used up after {int(outcome['starts_made'])} starts: fewer reversals, her way taken off "
            "earlier under one order, or tugs for the swing."
        )


def relied_on(made: Ready) -> Iterator[str]:
    """On what the reckoning of her starts rests."""
    on_air = [engine for engine in made.parameters.engines if engine.kind == DIRECT]
    if on_air:
        minutes = on_air[0].recharge / 60.0
        yield (
            f"Her engine is taken to have air for {_starts(at_first(made))} when the run begins, its bottles full, and "
            f"for one more every {minutes:.0f} min (from memory: 3 to 5)."
        )


def _said(made: Ready, refused: NoAir) -> str:
    return f"{refused.order} at {text.clock_seconds(made.start + timedelta(seconds=refused.time))} in {refused.place}"


def _starts(count: int) -> str:
    return f"{count} start" if count == 1 else f"{count} starts"

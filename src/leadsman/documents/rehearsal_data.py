"""A rehearsal as plain data (`leadsman.rehearsal/1`) and as a page in a terminal."""

import math
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.rehearse_result import Ensemble, MachineryUse, Rehearsal, Run
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH
from leadsman.documents.terminal_table import table as headed
from leadsman.manner import clock

SCHEMA = "leadsman.rehearsal/1"
EVERY = 5  # moments of a track between two that are told
MATTERS_SHOWN = 6
TIGHT_SHOWN = 6


def rehearsal_data(found: Rehearsal, *, track: bool = True) -> dict[str, Any]:
    """Everything, ready for JSON: SI and radians; what is not known or never was is null."""
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "call": found.call,
        "ship": found.ship,
        "berth": found.berth,
        "start": text.iso(found.start),
        "fingerprint": found.fingerprint,
        "estimated": list(found.estimated),
        "findings": [
            {
                "grade": one.grade.value,
                "subject": one.subject,
                "sentence": one.sentence,
                "value": one.value,
                "limit": one.limit,
                "time": None if one.time is None else text.iso(one.time),
                "source": one.source,
            }
            for one in found.findings
        ],
        "planned": run_data(found.planned, track=track),
        "ensemble": None if found.ensemble is None else ensemble_data(found.ensemble, track=track),
    }


def run_data(run: Run, *, track: bool) -> dict[str, Any]:
    """One run; its track every few seconds, and its last moment."""
    moments = np.unique(np.append(np.arange(0, len(run.track), EVERY), max(len(run.track) - 1, 0)))
    return {
        "number": run.number,
        "ended": run.ended,
        "success": run.success,
        "why": run.why,
        "advice": list(run.advice),
        "time": run.time,
        "least": [
            {"quantity": one.quantity, "value": one.value, "distance": one.distance, "place": one.place}
            for one in run.least
        ],
        "rudder": run.rudder,
        "rate_of_turn": run.rate,
        "thruster": run.thruster,
        "tugs": run.tugs,
        "machinery": machinery_data(run.machinery),
        "landing": None
        if run.landing is None
        else {
            "speed": run.landing.speed,
            "angle": run.landing.angle,
            "place": run.landing.place,
            "limit": run.landing.limit,
        },
        "brought_up": None
        if run.brought_up is None
        else {name: _finite(value) if value is not None else None for name, value in vars(run.brought_up).items()},
        "orders": [
            {"time": one.time, "distance": one.distance, "kind": one.kind, "means": list(one.means), "words": one.words}
            for one in run.orders
        ],
        "wheel_orders": run.wheel_orders,
        "engine_orders": run.engine_orders,
        "busiest": {"orders": run.busiest, "until": run.busiest_at},
        "wheel_overs": [
            {
                "waypoint": one.waypoint,
                "before": one.before,
                "wheel": one.wheel,
                "tangent": one.tangent,
                "reach": one.reach,
            }
            for one in run.wheel_overs
        ],
        "columns": list(run.columns) if track else [],
        "track": [[_finite(value) for value in row] for row in run.track[moments]] if track and len(run.track) else [],
    }


def machinery_data(use: MachineryUse) -> dict[str, Any]:
    """What was asked of engines and thrusters: shares of full, seconds, and the starts on air."""
    air, refused = use.air, None if use.air is None else use.air.first_refused
    return {
        "ahead": use.ahead,
        "astern": use.astern,
        "astern_longest": use.astern_longest,
        "astern_until": use.astern_until,
        "astern_in_all": use.astern_in_all,
        "thruster": use.thruster,
        "thruster_longest": use.thruster_longest,
        "thruster_until": use.thruster_until,
        "thruster_in_all": use.thruster_in_all,
        "overruns": [vars(one).copy() for one in use.overruns],
        "air": None
        if air is None
        else {
            "at_first": air.at_first,
            "made": air.made,
            "left": air.left,
            "left_at": air.left_at,
            "refused": air.refused,
            "waited": air.waited,
            "first_refused": None if refused is None else vars(refused).copy(),
        },
    }


def ensemble_data(found: Ensemble, *, track: bool) -> dict[str, Any]:
    """The drawn runs summed up."""
    return {
        "runs": found.runs,
        "seed": found.seed,
        "spread": dict(found.spread),
        "successes": found.successes,
        "rate": found.rate,
        "low": found.low,
        "high": found.high,
        "reasons": dict(found.reasons),
        "tight": [
            {
                "quantity": one.quantity,
                "place": one.place,
                "distance": one.distance,
                "usual": one.usual,
                "one_in_twenty": one.one_in_twenty,
            }
            for one in found.tight
        ],
        "matters": [
            {"name": one.name, "success": one.success, "room": one.room, "landing": one.landing}
            for one in found.matters
        ],
        "envelope": {
            "distance": found.envelope_distance.tolist(),
            **{name: [[_finite(value) for value in row] for row in rows] for name, rows in found.envelope.items()},
        },
        "slow_work": {name: [np.round(ring, 1).tolist() for ring in rings] for name, rings in found.slow_work.items()},
        "landing_speed": dict(found.landing_speed),
        "duration": dict(found.duration),
        "busiest": dict(found.busiest),
        "without_air": found.without_air,
        "starts_left": found.starts_left,
        "worst": None if found.worst is None else run_data(found.worst, track=track),
    }


def _finite(value: float) -> float | None:
    return round(float(value), 4) if math.isfinite(value) else None


def print_rehearsal(found: Rehearsal) -> None:
    """How it went, where it was tight, the order sheet, and what it relied on."""
    console = Console(width=WIDTH, highlight=False)
    run = found.planned
    console.print(Text(f"{found.ship}, {found.berth}, start {text.day_clock(found.start)} {clock()}"))
    console.print(Text(f"{run.ended.upper()} after {run.time / 60.0:.0f} min", style="bold"))
    console.print(Text(run.why))
    for sentence in (*run.advice, *_brought_up(run)):
        console.print(Text(sentence))
    for finding in found.findings:
        source = f" ({finding.source})" if finding.source else ""
        console.print(Text(f"{finding.grade.value}: {finding.sentence}{source}"))
    console.print(_least(run))
    if run.wheel_overs:
        console.print(_wheel_overs(run))
    if found.ensemble is not None:
        _print_ensemble(console, found.ensemble)
    console.print(_orders(found))
    console.print(Text("\nWhat this relies on", style="bold"))
    for sentence in found.estimated:
        console.print(Text(f"  {sentence}"))
    console.print(Text(SHORT_CAUTION, style="italic"))
    console.print(Text(f"All times {clock()}. Fingerprint {found.fingerprint}."))


def _least(run: Run) -> Table:
    table = headed("Nearest", "what", "least", "where", right=("least",))
    for one in run.least:
        if one.value is not None:
            table.add_row(one.quantity, text.clearance(one.value, 1), f"{one.place}, {text.miles(one.distance)}")
    table.add_row("rudder under way", text.percent(run.rudder), "of hard over")
    table.add_row("rate of turn", text.rate_of_turn(run.rate), "")
    table.add_row("orders in ten minutes", str(run.busiest), f"until {run.busiest_at / 60.0:.0f} min from the start")
    for row in _machinery(run, run.machinery):
        table.add_row(*row)
    return table


def _machinery(run: Run, use: MachineryUse) -> Iterator[tuple[str, str, str]]:
    """What was asked of engines, thrusters and tugs, for the table of what came nearest."""
    yield "engine ahead", text.percent(use.ahead), "of full ahead, by shaft speed and pitch"
    yield "engine astern", text.percent(use.astern), "of full astern"
    if use.astern_longest > 0.0:
        yield "astern at one go", text.stopwatch(use.astern_longest), f"{text.stopwatch(use.astern_in_all)} in all"
    if run.tugs > 0.0:
        yield "tug, greatest", text.percent(run.tugs), "of what she is credited with"
    if use.thruster:
        yield "thruster, greatest", text.percent(run.thruster), "of full thrust"
        in_all = f"{use.thruster}; {text.stopwatch(use.thruster_in_all)} in all"
        yield "thruster at one go", text.stopwatch(use.thruster_longest), in_all
    if use.air is not None:
        made = f"of {use.air.at_first} at the least; {use.air.made} made, {use.air.refused} refused"
        yield "starts left", str(use.air.left), made


def _brought_up(run: Run) -> Iterator[str]:
    """How she came to lie at anchor, in words."""
    found = run.brought_up
    if found is None:
        return
    yield (
        f"Let go with {text.slow_speed(found.speed)} over the ground; the anchor lies {text.metres(found.off, 0)} from "
        f"where it was to go, and came home {text.metres(found.dragged, 0)} on the way."
    )
    circle = "" if found.circle is None else f" of {text.metres(found.circle, 0)}"
    left = (
        "the bed under it is not known"
        if not math.isfinite(found.clearance)
        else f"{text.clearance(found.clearance)} under her keel there at the lowest water of a tide"
    )
    yield f"She swings in {text.metres(found.radius, 0)}{circle}; {left}."


def _wheel_overs(run: Run) -> Table:
    figures = ("distance", "first wheel", "arc begins", "she runs on")
    table = headed("Wheel over", "before", *figures, right=figures)
    for one in run.wheel_overs:
        side = "starboard" if one.wheel > 0.0 else "port"
        table.add_row(
            one.waypoint,
            text.metres(one.before, 0),
            f"{side} {abs(math.degrees(one.wheel)):.0f}°",
            text.metres(one.tangent, 0),
            text.metres(one.reach, 0),
        )
    return table


def _print_ensemble(console: Console, found: Ensemble) -> None:
    console.print(
        Text(
            f"{found.successes} of {found.runs} runs succeed: {100.0 * found.rate:.1f} % "
            f"({100.0 * found.low:.1f} to {100.0 * found.high:.1f} % with 95 % confidence), seed {found.seed}",
            style="bold",
        )
    )
    console.print(Text("; ".join(f"{number} {word}" for word, number in found.reasons.items())))
    if found.starts_left is not None:
        console.print(
            Text(f"Starts left at the least: {found.starts_left}; runs in which one was refused: {found.without_air}")
        )
    table = headed("Where it was tight", "what", "where", "usual", "one run in twenty below")
    for one in found.tight[:TIGHT_SHOWN]:
        table.add_row(one.quantity, one.place, text.metres_signed(one.usual), text.metres_signed(one.one_in_twenty))
    console.print(table)
    heavy = ", ".join(f"{one.name} ({one.weight:.2f})" for one in found.matters[:MATTERS_SHOWN])
    console.print(Text(f"What mattered most (rank correlation): {heavy}"))
    if found.worst is not None and not found.worst.success:
        console.print(Text(f"Run {found.worst.number} failed first: {found.worst.why}"))
        for sentence in found.worst.advice:
            console.print(Text(f"  {sentence}"))


def _orders(found: Rehearsal) -> Table:
    table = headed("Order sheet", "time", "along", "order", right=("along",))
    for one in found.planned.orders:
        clock = text.clock_seconds(found.start + timedelta(seconds=one.time))
        table.add_row(clock, text.miles(one.distance), one.words)
    return table

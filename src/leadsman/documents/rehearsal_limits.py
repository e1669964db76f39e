"""Limits of wind by rehearsal, and sweeps of failures: plain data and pages in a terminal."""

import math
from datetime import timedelta
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.failures_result import Failing, Failures, Limits, WindLimit
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH
from leadsman.manner import clock

LIMITS_SCHEMA = "leadsman.rehearsed-limits/1"
FAILURES_SCHEMA = "leadsman.failures/1"


def limits_data(found: Limits) -> dict[str, Any]:
    """Everything, ready for JSON: SI and radians."""
    return {
        "schema": LIMITS_SCHEMA,
        "caution": SHORT_CAUTION,
        "call": found.call,
        "ship": found.ship,
        "start": text.iso(found.start),
        "level": found.level,
        "runs": found.runs,
        "seed": found.seed,
        "greatest_tried": found.greatest,
        "estimated": list(found.estimated),
        "sets": [
            {
                "tugs": list(tugs),
                "winds": [
                    {
                        "wind_from": one.wind_from,
                        "wind_speed": one.wind_speed,
                        "beyond": one.beyond,
                        "reasons": dict(one.reasons),
                    }
                    for one in row
                ],
            }
            for tugs, row in zip(found.tugs, found.winds, strict=True)
        ],
    }


def print_limits(found: Limits) -> None:
    """A table: a line for each direction, a column for each set of tugs."""
    console = Console(width=WIDTH, highlight=False)
    console.print(Text(f"{found.ship}, start {text.day_clock(found.start)} {clock()}", style="bold"))
    console.print(
        Text(
            f"Greatest wind for which {text.percent(found.level)} of {found.runs} runs succeed, by direction, "
            f"seed {found.seed}"
        )
    )
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("wind from", justify="right")
    for tugs in found.tugs:
        table.add_column("no tug" if not tugs else ", ".join(tugs), justify="right")
    for lines in zip(*found.winds, strict=True):
        table.add_row(f"{math.degrees(lines[0].wind_from):03.0f}", *(wind_words(one) for one in lines))
    console.print(table)
    _relied_on(console, found.estimated)


def wind_words(limit: WindLimit) -> str:
    """A greatest wind as it is read."""
    if limit.wind_speed is None:
        return "not even in calm"
    return f"{text.knots_below(limit.wind_speed)}{' and more' if limit.beyond else ''}"


def failures_data(found: Failures) -> dict[str, Any]:
    """Everything, ready for JSON: SI."""
    return {
        "schema": FAILURES_SCHEMA,
        "caution": SHORT_CAUTION,
        "call": found.call,
        "ship": found.ship,
        "start": text.iso(found.start),
        "every": found.every,
        "estimated": list(found.estimated),
        "failures": [
            {
                "name": one.name,
                "least_time_left": one.least_time_left,
                "no_return": [{"distance": at, "place": place} for at, place in one.no_return],
                "abort": [{"distance": at, "place": place} for at, place in one.abort],
                "moments": [
                    {
                        "time": moment.time,
                        "distance": moment.distance,
                        "danger": moment.danger,
                        "time_left": moment.time_left,
                        "distance_left": moment.distance_left,
                        "answered": moment.answered,
                        "answered_danger": moment.answered_danger,
                    }
                    for moment in one.moments
                ],
            }
            for one in found.failing
        ],
    }


def print_failures(found: Failures) -> None:
    """A table of the failures, and where there is no turning back from each."""
    console = Console(width=WIDTH, highlight=False)
    console.print(Text(f"{found.ship}, start {text.day_clock(found.start)} {clock()}", style="bold"))
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for name in ("failure", "brings danger", "least time left", "answer fails", "last place to abort"):
        table.add_column(name)
    for one in found.failing:
        table.add_row(*_row(found, one))
    console.print(table)
    _relied_on(console, found.estimated)


def _row(found: Failures, one: Failing) -> tuple[str, ...]:
    count = len(one.moments)
    dangers = sum(moment.danger is not None for moment in one.moments)
    failed = sum(not moment.answered for moment in one.moments)
    left = "" if one.least_time_left is None else text.duration(timedelta(seconds=one.least_time_left))
    abort = "; ".join(f"{place}, {text.miles(at)}" for at, place in one.abort)
    return one.name, f"{dangers} of {count} times", left, f"{failed} of {count} times", abort


def _relied_on(console: Console, sentences: tuple[str, ...]) -> None:
    console.print(Text("What this relies on", style="bold"))
    for sentence in sentences:
        console.print(Text(f"  {sentence}"))
    console.print(Text(SHORT_CAUTION, style="italic"))

"""Limits of wind by rehearsal, and sweeps of failures: plain data and pages in a terminal."""

import math
from datetime import timedelta
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.failures_result import Failing, Failures, Limits, WindLimit
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH
from leadsman.documents.terminal_table import table as headed
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
                        "too_much": one.too_much,
                        "reasons": dict(one.reasons),
                        "broken": one.broken,
                        "place": one.place,
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
    heads = ("wind from", *("no tug" if not tugs else ", ".join(tugs) for tugs in found.tugs))
    table = headed("Winds", *heads, right=heads)
    for lines in zip(*found.winds, strict=True):
        table.add_row(f"{math.degrees(lines[0].wind_from):03.0f}", *(wind_words(one) for one in lines))
    console.print(table)
    console.print(_breaking(found))
    relied_on(console, found.estimated)


def _breaking(found: Limits) -> Table:
    """What breaks the call in the first wind that is too much, with all its tugs."""
    heads = ("wind from", "too much", "most often", "where", "runs sailed to know")
    table = headed("What breaks it", *heads, right=heads[:2])
    for one in found.winds[-1]:
        if one.too_much is None:
            continue
        sailed = ", ".join(f"{number} {word}" for word, number in one.reasons.items())
        wind = text.knots(one.too_much)
        table.add_row(f"{math.degrees(one.wind_from):03.0f}", wind, one.broken, one.place, sailed)
    return table


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
                        "answer": moment.answer,
                        "answered_ends": moment.answered_ends,
                        "answered_time_left": moment.answered_time_left,
                        "leaves_fairway": moment.leaves_fairway,
                    }
                    for moment in one.moments
                ],
                "stretches": [
                    {
                        "begin_time": stretch.begin_time,
                        "end_time": stretch.end_time,
                        "begin": {"distance": stretch.begin, "place": stretch.begin_place},
                        "end": {"distance": stretch.end, "place": stretch.end_place},
                        "answer": stretch.answer,
                        "answered": stretch.answered,
                        "ends": stretch.ends,
                        "least_time_left": stretch.least_time_left,
                    }
                    for stretch in one.stretches
                ],
            }
            for one in found.failing
        ],
    }


def print_failures(found: Failures) -> None:
    """A table of the failures, and which answer is best from where, with where none helps."""
    console = Console(width=WIDTH, highlight=False)
    console.print(Text(f"{found.ship}, start {text.day_clock(found.start)} {clock()}", style="bold"))
    heads = ("failure", "brings danger", "least time left", "no answer helps", "last place to abort")
    table = headed("Failures", *heads)
    for one in found.failing:
        table.add_row(*_row(found, one))
    console.print(table)
    console.print(Text("\nThe best answer, place by place", style="bold"))
    for one in found.failing:
        console.print(_stretches(found, one))
    relied_on(console, found.estimated)


def _row(found: Failures, one: Failing) -> tuple[str, ...]:
    count = len(one.moments)
    dangers = sum(moment.danger is not None for moment in one.moments)
    failed = sum(not moment.answered for moment in one.moments)
    left = "" if one.least_time_left is None else text.duration(timedelta(seconds=one.least_time_left))
    abort = "; ".join(f"{place}, {text.miles(at)}" for at, place in one.abort)
    return one.name, f"{dangers} of {count} times", left, f"{failed} of {count} times", abort


def _stretches(found: Failures, one: Failing) -> Table:
    heads = ("if lost from", "to", "in", "answer", "ends")
    table = headed(one.name.capitalize(), *heads, right=heads[:2])
    for stretch in one.stretches:
        begin, end = (
            text.clock(found.start + timedelta(seconds=time)) for time in (stretch.begin_time, stretch.end_time)
        )
        same = stretch.begin_place == stretch.end_place
        places = stretch.begin_place if same else f"{stretch.begin_place} to {stretch.end_place}"
        left = stretch.least_time_left
        soonest = "" if left is None else f", soonest after {text.duration(timedelta(seconds=left))}"
        ends = f"{stretch.ends}{soonest}"
        table.add_row(begin, end, places, stretch.answer, Text(ends, style="" if stretch.answered else "bold"))
    return table


def relied_on(console: Console, sentences: tuple[str, ...]) -> None:
    """What a rehearsal relied on, and the caution."""
    console.print(Text("What this relies on", style="bold"))
    for sentence in sentences:
        console.print(Text(f"  {sentence}"))
    console.print(Text(SHORT_CAUTION, style="italic"))

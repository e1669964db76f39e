"""A passage as it was against its plan: plain data, and a page in a terminal."""

import math
from datetime import timedelta
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.after_result import After, Passing, SailedGate, SailedLeg, Steady
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH, finding_lines
from leadsman.documents.terminal_table import keep_whole
from leadsman.documents.terminal_table import table as headed
from leadsman.geometry import Array
from leadsman.manner import clock
from leadsman.units import NAUTICAL_MILE

SCHEMA = "leadsman.after/1"
COLUMNS = (
    "distance",
    "x",
    "y",
    "latitude",
    "longitude",
    "off_track",
    "heading",
    "speed_over_ground",
    "speed",
    "water_level",
    "squat",
    "net",
    "room_port",
    "room_starboard",
    "rate_of_turn",
)


def after_data(found: After) -> dict[str, Any]:
    """Everything, ready for JSON: SI, radians, degrees of position, null where nothing is known; and how it is told."""
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "ship": found.ship,
        "vessel": found.vessel,
        "words": head(found),
        "level_words": level_words(found),
        "positions": found.positions,
        "residual": found.residual,
        "residual_measured": found.measured,
        "required": found.required,
        "passings": [_passing(one) for one in found.passings],
        "legs": [{**vars(one), "texts": _leg_texts(one)} for one in found.legs],
        "gates": [{**vars(one), "time": text.iso(one.time), "sentence": gate_words(one)} for one in found.gates],
        "steady": [{**vars(one), "sentence": taught(one)} for one in found.steady],
        "findings": [
            {"grade": one.grade.value, "subject": one.subject, "sentence": one.sentence, "place": one.place}
            for one in found.findings
        ],
        "stations": {
            "time": [text.iso(time) for time in found.time],
            **{name: _column(getattr(found, name)) for name in COLUMNS},
        },
    }


def _passing(one: Passing) -> dict[str, Any]:
    return {
        "place": one.place,
        "distance": one.distance,
        "planned": text.iso(one.planned),
        "sailed": text.iso(one.sailed),
        "late": round(one.late, 1),
        "off_track": one.off_track,
        "planned_speed": one.planned_speed,
        "sailed_speed": one.sailed_speed,
        "texts": _passing_texts(one),
    }


PASSING_HEADS = ("along", "planned", "sailed", "late", "off the track", "planned at", "made good")
LEG_HEADS = ("order", "made", "under keel", "planned", "to the sides")


def _passing_texts(one: Passing) -> list[str]:
    """Under `PASSING_HEADS`."""
    return [
        text.miles(one.distance),
        text.clock(one.planned),
        text.clock(one.sailed),
        late(one),
        off(one.off_track),
        text.knots(one.planned_speed),
        text.knots(one.sailed_speed),
    ]


def _leg_texts(leg: SailedLeg) -> list[str]:
    """Under `LEG_HEADS`."""
    order = leg.order.replace("_", " ").replace("dead slow ahead", "dead slow")
    return [
        f"{order} {text.knots(leg.planned_speed)}".strip(),
        f"{text.knots(leg.slowest).removesuffix(' kn')} to {text.knots(leg.fastest)}",
        "unknown" if leg.least_net is None else text.clearance(leg.least_net),
        text.clearance(leg.planned_net),
        f"{text.clearance(leg.room_port, 0)}, {text.clearance(leg.room_starboard, 0)}",
    ]


def _column(values: Array) -> list[float | None]:
    return [round(float(value), 6) if math.isfinite(value) else None for value in values]


def print_after(found: After) -> None:
    """When, how far off, how fast, what was left, what was broken, what it teaches."""
    console = Console(width=WIDTH, highlight=False)
    console.print(Text(head(found), style="bold"))
    console.print(Text(level_words(found)))
    drawn = headed("When she passed", "place", *PASSING_HEADS, right=PASSING_HEADS)
    keep_whole(drawn, 0)
    for passing in found.passings:
        drawn.add_row(passing.place, *_passing_texts(passing))
    console.print(drawn)
    drawn = headed("Reach by reach, speeds through the water", "reach", *LEG_HEADS, right=LEG_HEADS[1:])
    keep_whole(drawn, 0, 1)
    for leg in found.legs:
        drawn.add_row(leg.reach, *_leg_texts(leg))
    console.print(drawn)
    if found.gates:
        console.print(Text("\nGates", style="bold"))
    for gate in found.gates:
        console.print(Text(gate_words(gate)))
    if found.findings:
        console.print(Text("\nFindings", style="bold"))
        for line in finding_lines(found.findings):
            console.print(line)
    if found.steady:
        console.print(Text("\nWhat it teaches of her speeds, if the orders were those planned", style="bold"))
        for one in found.steady:
            console.print(Padding(Text(taught(one)), (0, 0, 0, 1)))
    console.print(Text(f"\n{SHORT_CAUTION}", style="italic"))
    console.print(Text(f"All times {clock()}."))


def head(found: After) -> str:
    """Which ship, when, from which log."""
    begun = f"{text.day_clock(found.time[0])} {clock()}"
    return f"{found.ship} as sailed, {begun}; {found.positions} positions of {found.vessel}"


def level_words(found: After) -> str:
    """What the water level rests on."""
    source = "as the gauge showed" if found.measured else "the forecast's best"
    return f"Water level: the prediction and {text.metres_signed(found.residual)}, {source}."


def gate_words(gate: SailedGate) -> str:
    """Overhead as sailed, as planned, as required."""
    return (
        f"{gate.name} at {text.clock(gate.time)}: {text.clearance(gate.clearance)} overhead as sailed, "
        f"{text.clearance(gate.planned)} planned, {text.requirement(gate.required)} required"
    )


def late(passing: Passing) -> str:
    """2 min late, 40 s early."""
    span = text.duration(timedelta(seconds=abs(passing.late)))
    return "on time" if abs(passing.late) < 1.0 else f"{span} {'late' if passing.late > 0.0 else 'early'}"


def off(value: float) -> str:
    """12 m to starboard."""
    return f"{text.metres(abs(value), 0)} to {text.side(value)}" if abs(value) >= 0.5 else "on it"


def taught(one: Steady) -> str:
    """What an order made, beside what the card says."""
    return (
        f"{one.order.replace('_', ' ').capitalize()} in {one.reach}: {text.knots(one.speed)} through the water over "
        f"{one.distance / NAUTICAL_MILE:.1f} nm, the card {text.knots(one.card)}; the stream is good to "
        f"{text.knots(one.deviation)}, the water {one.depth_to_draught:.1f} times her draught."
    )

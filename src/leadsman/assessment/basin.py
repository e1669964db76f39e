"""The basin she may swing in against her length and the stream at her time, by every rule of the guidelines."""

import numpy as np

from leadsman import format as text
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.assessment.room_result import SwingRoom
from leadsman.assessment.rules.stretch import place_distance
from leadsman.environment.stream import stream_at
from leadsman.figure import Finding, Grade
from leadsman.physics import swept_path
from leadsman.units import KNOT, MINUTE

SWING_TIME = 25.0 * MINUTE  # s: 20 to 30 minutes (sheet on water 4.5) [memory]
SLACK, CURRENT = 0.5 * KNOT, 1.5 * KNOT  # m/s: classes of [EM1613], memory


def swing_rooms(prepared: Prepared, found: Account, elapsed: float) -> tuple[SwingRoom, ...]:
    """One for each basin of the waterway; `elapsed` is her start on the water's clock. [s]"""
    return tuple(
        _swing_room(prepared, found, elapsed, name, basin.diameter)
        for basin in prepared.call.waterway.basins
        for name in [basin.name]
    )


def _swing_room(prepared: Prepared, found: Account, elapsed: float, name: str, diameter: float) -> SwingRoom:
    length = prepared.call.ship.length_overall
    at = place_distance(prepared.passage, name)
    there = elapsed + float(np.interp(at, found.distance, found.elapsed))
    times = np.linspace(there, there + SWING_TIME, 6)
    north, east = stream_at(prepared.water.stream.grid, np.full_like(times, at), times)
    stream = float(np.max(np.hypot(north, east)))
    drift = float(swept_path.basin_drift(stream, SWING_TIME))
    return SwingRoom(
        basin=name,
        diameter=diameter,
        lengths=diameter / length,
        stream=stream,
        drift=drift,
        rules=tuple(
            (
                rule,
                swept_path.basin_diameter(rule, length),
                swept_path.BASINS[rule].source,
                swept_path.BASINS[rule].mark,
            )
            for rule in _rules(bool(prepared.call.tugs), stream)
        ),
    )


def _rules(tugs: bool, stream: float) -> tuple[str, ...]:
    """The guideline for a design first; then what is least in this stream."""
    design = "pianc_with_tugs" if tugs else "pianc_unaided"
    least = "corps_slack" if stream <= SLACK else "corps_current"
    return (design, least)


def basin_findings(rooms: tuple[SwingRoom, ...], tugs: bool) -> list[Finding]:
    """A basin below the least of all rules, below the design rule, or in a stream that carries her."""
    made = []
    for one in rooms:
        (_, design, by_design, _), (_, least, by_least, _) = one.rules
        there = f"{one.basin}: {text.metres(one.diameter, 0)} across, {text.number(one.lengths, 2)} of her lengths"
        if one.diameter < least:
            sentence = f"{there}; {text.metres(least, 0)} is the least to swing in."
            made.append(_finding(one, Grade.CAUTION, sentence, least, by_least))
        elif one.diameter < design:
            helped = "with" if tugs else "without"
            sentence = f"{there}; a basin laid out for her {helped} tugs would have {text.metres(design, 0)}."
            made.append(_finding(one, Grade.NOTE, sentence, design, by_design))
        if one.stream > CURRENT:
            sentence = (
                f"{one.basin}: the stream runs {text.knots(one.stream)} at her time and sets her "
                f"{text.metres(one.drift, 0)} while she swings, what tugs hold not reckoned."
            )
            made.append(_finding(one, Grade.CAUTION, sentence, one.diameter, "EM1613"))
    return made


def _finding(one: SwingRoom, grade: Grade, sentence: str, limit: float, source: str) -> Finding:
    return Finding(
        grade=grade,
        subject="basin",
        sentence=sentence,
        value=one.diameter,
        limit=limit,
        unit="m",
        place=one.basin,
        source=source,
    )

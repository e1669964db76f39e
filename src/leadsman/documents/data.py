"""The Assessment as plain data (`leadsman.assessment/1`): what `--json`, the page and the sheets read.

Every figure a person reads stands as {"value": SI number, "text": as written for people}; arrays stand as numbers.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from leadsman import format as text
from leadsman.assessment.result import (
    Account,
    Alongside,
    Assessment,
    Binding,
    GatePassage,
    Leg,
    Line,
    OtherStart,
    Remedy,
    RuleCheck,
    Touching,
    TurnBack,
    Verdict,
    Window,
)
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.holding_data import holding_data
from leadsman.documents.manner_data import manner_data
from leadsman.documents.particulars import particulars
from leadsman.documents.places import leg_tightest, plan_data, tightest_places
from leadsman.documents.side_data import side_data
from leadsman.figure import Band, Figure, Finding

SCHEMA = "leadsman.assessment/1"


def assessment_data(assessment: Assessment) -> dict[str, Any]:
    """The whole assessment, ready for JSON."""
    call = assessment.call
    windows = [_window(window) for window in assessment.windows]
    names = [waypoint.name for waypoint in call.waterway.waypoints]
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "manner": manner_data(),
        "fingerprint": assessment.fingerprint,
        "call": {
            "name": call.name,
            "ship": call.ship.name,
            "waterway": call.waterway.name,
            "direction": call.direction.value,
            "berth": call.berth,
            "from": names[0] if call.direction.value == "inward" else names[-1],
            "to": names[-1] if call.direction.value == "inward" else names[0],
            "start": _time(call.start),
            "search_begin": _time(call.search_begin),
            "search_end": _time(call.search_end),
            "draught": _metres(call.loading.draught),
            "direction_text": "inward bound" if call.direction.value == "inward" else "outward bound",
        },
        "verdict": _verdict(assessment.verdict),
        "windows": windows,
        "nearest_window": nearest_window(text.iso(call.start), windows),
        "series": {
            "start": [text.iso(start) for start in assessment.series.start],
            "underkeel": _numbers(assessment.series.underkeel, 3),
            "overhead": _numbers(assessment.series.overhead, 3),
            "rule": list(assessment.series.rule),
        },
        "around": _around(assessment.others),
        "turn_backs": [_turn_back(one) for one in assessment.turn_backs],
        "account": _account(assessment.account, call.start),
        "gates": [_gate(gate) for gate in assessment.gates],
        "legs": [_leg(leg) | {"tightest": leg_tightest(assessment, leg)} for leg in assessment.legs],
        "alongside": None if assessment.alongside is None else _alongside(assessment.alongside),
        "rules": [_rule(check) for check in assessment.rules],
        "touching": None if assessment.touching is None else _touching(assessment.touching),
        "holding": None if assessment.holding is None else holding_data(assessment.holding),
        "findings": [_finding(finding) for finding in assessment.findings],
        "remedies": [_remedy(remedy) for remedy in assessment.remedies],
        "figures": {name: figure_data(figure) for name, figure in assessment.figures.items()},
        "tightest": tightest_places(assessment),
        "plan": plan_data(assessment),
        **side_data(assessment),
        **particulars(call),
    }


def _time(time: datetime) -> dict[str, str]:
    return {
        "value": text.iso(time),
        "text": text.day_clock(time),
        "clock": text.clock(time),
        "date": text.date(time),
    }


def _edge(time: datetime, written: str) -> dict[str, str]:
    """An edge of a window, as rounded into it."""
    day, clock = written.rsplit(" ", 1)
    return {"value": text.iso(time), "text": written, "clock": clock, "date": day}


def _metres(value: float, decimals: int = 2) -> dict[str, Any]:
    return {"value": round(value, 4), "text": text.metres(value, decimals)}


def _clearance(value: float, decimals: int = 2) -> dict[str, Any]:
    return {"value": round(value, 4), "text": text.clearance(value, decimals)}


def _requirement(value: float) -> dict[str, Any]:
    return {"value": round(value, 4), "text": text.requirement(value)}


def _numbers(values: Any, decimals: int) -> list[float | None]:
    rounded = np.round(np.asarray(values, dtype=np.float64), decimals)
    return [float(value) if np.isfinite(value) else None for value in rounded]


def _floored(values: Any, decimals: int) -> list[float | None]:
    """Rounded down: what there is is never sent larger than it is."""
    scale = 10.0**decimals
    return _numbers(np.floor(np.asarray(values) * scale + 1e-6) / scale, decimals)


def _ceiled(values: Any, decimals: int) -> list[float | None]:
    """Rounded up: what must be is never sent smaller than it is."""
    scale = 10.0**decimals
    return _numbers(np.ceil(np.asarray(values) * scale - 1e-6) / scale, decimals)


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {
        "go": verdict.go,
        "word": verdict.word,
        "sentence": verdict.sentence,
        "binding": _binding(verdict.binding),
    }


def _touching(touching: Touching) -> dict[str, Any]:
    def chance(probability: float) -> dict[str, Any]:
        return {"value": probability, "text": text.chance(probability)}

    return {
        "probability": chance(touching.probability),
        "limit": None if touching.limit is None else chance(touching.limit),
        "allowed": touching.allowed,
        "reaches": [{"reach": one.reach, **chance(one.probability)} for one in touching.reaches],
        "draws": touching.draws,
        "seed": touching.seed,
    }


def _binding(binding: Binding | None) -> dict[str, Any] | None:
    if binding is None:
        return None
    return {
        "limit": binding.limit,
        "limit_text": text.limit(binding.limit),
        "part": binding.part,
        "place": binding.place,
        "distance": {"value": round(binding.distance, 1), "text": text.miles(binding.distance)},
        "time": _time(binding.time),
        "value": _measured(binding.value, binding.unit, binding.at_most),
        "required": _requirement(binding.required)
        if binding.unit == "m" and not binding.at_most
        else _measured(binding.required, binding.unit),
        "margin": _measured(binding.margin, binding.unit),
        "rule": binding.rule,
        "words": binding.words,
    }


def _measured(value: float, unit: str, at_most: bool = False) -> dict[str, Any]:
    return {"value": round(value, 4), "text": text.measured(value, unit, at_most)}


def _rule(check: RuleCheck) -> dict[str, Any]:
    return {
        "name": check.name,
        "limit": check.limit,
        "limit_text": text.limit(check.limit),
        "place": check.place,
        "kept": check.kept,
        "kept_text": {True: "kept", False: "broken", None: "not judged"}[check.kept],
        "words": check.words,
        "margin": None if check.margin is None else _measured(check.margin, check.unit),
        "time": None if check.time is None else _time(check.time),
        "source": check.source,
    }


def _window(window: Window) -> dict[str, Any]:
    opens, closes, length = text.window(window.opens, window.closes)
    return {
        "opens": _edge(window.opens, opens),
        "closes": _edge(window.closes, closes),
        "length": {"value": window.length.total_seconds(), "text": length},
        "opens_by": _binding(window.opens_by),
        "closes_by": _binding(window.closes_by),
        "best_start": _time(window.best_start),
        "best": _binding(window.best),
    }


def _around(others: tuple[OtherStart, ...]) -> list[dict[str, Any]]:
    """What is left if she starts up to an hour early or late, and what then binds."""
    return [
        {
            "start": _time(one.start),
            "underkeel": _clearance(one.underkeel),
            "overhead": None if one.overhead is None else _clearance(one.overhead),
            "rule": one.binding.rule,
            "binding": _binding(one.binding),
            "holds": one.holds,
        }
        for one in others
    ]


def _turn_back(one: TurnBack) -> dict[str, Any]:
    return {
        "place": one.place,
        "distance": {"value": round(one.distance, 1), "text": text.miles(one.distance)},
        "time": _time(one.time),
        "limit_text": text.limit(one.limit),
        "ahead": one.ahead,
        "ahead_time": _time(one.ahead_time),
        "margin": _clearance(one.margin),
    }


def nearest_window(start: str, windows: Sequence[dict[str, Any]]) -> dict[str, Any] | None:
    """The window the start lies in, else the next one, else the last; with which of these it is."""
    for one in windows:
        if start <= one["closes"]["value"]:
            holds = one["opens"]["value"] <= start
            return {"window": one, "holds": holds, "later": not holds}
    return {"window": windows[-1], "holds": False, "later": False} if windows else None


def _account(account: Account, start: datetime) -> dict[str, Any]:
    return {
        "distance": _numbers(account.distance, 1),
        "x": _numbers(account.x, 2),
        "y": _numbers(account.y, 2),
        "latitude": _numbers(account.latitude, 7),
        "longitude": _numbers(account.longitude, 7),
        "course": _numbers(account.course, 5),
        "reach": [int(index) for index in account.reach],
        "elapsed": _numbers(account.elapsed, 1),
        "time": [text.iso(start + timedelta(seconds=float(seconds))) for seconds in account.elapsed],
        "speed": _numbers(account.speed, 3),
        "speed_over_ground": _numbers(account.speed_over_ground, 3),
        "stream_along": _numbers(account.stream_along, 3),
        "stream_across": _numbers(account.stream_across, 3),
        "water_level": _numbers(account.water_level, 3),
        "depth": _numbers(account.depth, 3),
        "room_port": _floored(account.room_port, 1),
        "room_starboard": _floored(account.room_starboard, 1),
        "squat": _numbers(account.squat, 3),
        "squat_method": list(account.squat_method),
        "part": list(account.part),
        "static": _floored(account.static, 3),
        "gross": _floored(account.gross, 3),
        "net": _floored(account.net, 3),
        "required": _ceiled(account.required, 3),
        "margin": _floored(account.margin, 3),
        "lines": [_line(line) for line in account.lines],
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "key": line.key,
        "label": line.label,
        "effect": line.effect,
        "values": _numbers(line.values, 3),
        "deviation": None if line.deviation is None else _numbers(line.deviation, 3),
        "origin": line.origin,
        "method": line.method,
        "source": line.source,
    }


def _gate(gate: GatePassage) -> dict[str, Any]:
    return {
        "name": gate.name,
        "kind": gate.kind,
        "distance": {"value": round(gate.distance, 1), "text": text.miles(gate.distance)},
        "time": _time(gate.time),
        "value": _clearance(gate.value),
        "required": _requirement(gate.required),
        "margin": _clearance(gate.value - gate.required),
        "figures": {name: figure_data(figure) for name, figure in gate.figures.items()},
    }


def _leg(leg: Leg) -> dict[str, Any]:
    return {
        "number": leg.number,
        "reach": leg.reach,
        "begins_at": leg.begins_at,
        "ends_at": leg.ends_at,
        "course": {"value": round(leg.course, 5), "text": text.course(leg.course)},
        "distance": {"value": round(leg.distance, 1), "text": text.miles(leg.distance)},
        "order": leg.order,
        "order_text": leg.order.replace("_", " ") if leg.order else "speed as planned",
        "speed": {"value": round(leg.speed, 4), "text": text.knots(leg.speed)},
        "speed_over_ground": {
            "value": round(leg.mean_speed_over_ground, 4),
            "text": text.knots(leg.mean_speed_over_ground),
        },
        "time_begin": _time(leg.time_begin),
        "time_end": _time(leg.time_end),
        "bend_radius": None if leg.bend_radius is None else _metres(leg.bend_radius, 0),
        "alteration": None
        if leg.alteration is None
        else {"value": round(leg.alteration, 5), "text": text.alteration(leg.alteration)},
        "rate_of_turn": None
        if leg.rate_of_turn is None
        else {"value": round(leg.rate_of_turn, 6), "text": text.rate_of_turn(leg.rate_of_turn)},
        "wheel_over_before": None if leg.wheel_over_before is None else _metres(leg.wheel_over_before, 0),
        "least_net": _clearance(leg.least_net),
        "least_margin": _clearance(leg.least_margin),
        "least_at": {"value": round(leg.least_at, 1), "text": text.miles(leg.least_at)},
        "room_port": _clearance(leg.room_port, 0),
        "room_starboard": _clearance(leg.room_starboard, 0),
    }


def _alongside(alongside: Alongside) -> dict[str, Any]:
    return {
        "berth": alongside.berth,
        "time": _time(alongside.time),
        "water_level": _metres(alongside.water_level),
        "static": _clearance(alongside.static),
        "required": _requirement(alongside.required),
        "margin": _clearance(alongside.static - alongside.required),
        "aground_allowed": alongside.aground_allowed,
        "hours": alongside.hours,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "grade": finding.grade.value,
        "subject": finding.subject,
        "sentence": finding.sentence,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "place": finding.place,
        "time": None if finding.time is None else _time(finding.time),
        "source": finding.source,
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    return {
        "kind": remedy.kind,
        "works": remedy.works,
        "sentence": remedy.sentence,
        "start": None if remedy.start is None else _time(remedy.start),
        "change": remedy.change,
        "unit": remedy.unit,
    }


def figure_data(figure: Figure) -> dict[str, Any]:
    """One figure with its provenance."""
    band = figure.band
    return {
        "name": figure.name,
        "value": figure.value,
        "unit": figure.unit,
        "text": text.figure(figure),
        "origin": figure.origin.value,
        "method": figure.method,
        "source": figure.source,
        "inputs": dict(figure.inputs),
        "band": None if band is None else _band(figure, band),
    }


def _band(figure: Figure, band: Band) -> dict[str, Any]:
    def written(value: float) -> str:
        return text.figure(replace(figure, value=value, band=None))

    if band.deviation is not None:
        words = f"± {written(band.deviation)}"
    else:
        words = " to ".join(written(bound) for bound in (band.low, band.high) if bound is not None)
    return {"deviation": band.deviation, "low": band.low, "high": band.high, "text": words}


def findings_data(name: str, findings: Sequence[Finding]) -> dict[str, Any]:
    """What was found about a card (`leadsman.findings/1`)."""
    return {
        "schema": "leadsman.findings/1",
        "caution": SHORT_CAUTION,
        "ship": name,
        "findings": [_finding(finding) for finding in findings],
    }

"""Holding as plain data: what `--json`, the page and the sheets read; each figure with the way it is written."""

import math
from typing import Any

from leadsman import format as text
from leadsman.assessment.holding.result import (
    Anchoring,
    Balance,
    HeldAt,
    HoldingAnswer,
    Landing,
    LiftingOff,
    Load,
    Order,
    Rose,
    TugAtWork,
    TugsNeeded,
)
from leadsman.documents.holding_layout import LEAST_TOLD, balance_layout
from leadsman.units import KNOT, wrapped

SITUATIONS = {
    "under_way": "under way",
    "swinging": "swinging, hardest heading",
    "off_the_berth": "off the berth",
}
PLACES = {
    "forward": "centre lead forward",
    "aft": "centre lead aft",
    "port_bow": "port bow",
    "starboard_bow": "starboard bow",
    "port_quarter": "port quarter",
    "starboard_quarter": "starboard quarter",
}
LEAST_MOMENT = 1e5  # N m: likewise of a moment


def holding_data(answer: HoldingAnswer) -> dict[str, Any]:
    """Everything about holding her on one passage."""
    return {
        "length_overall": answer.length_overall,
        "beam": answer.beam,
        "places": [place_data(place, answer.length_overall, answer.beam) for place in answer.places],
        "roses": {key: rose_data(rose) for key, rose in answer.roses.items()},
        "landing": None if answer.landing is None else _landing(answer.landing),
        "lifting_off": None if answer.lifting_off is None else _lifting_off(answer.lifting_off),
        "anchoring": None if answer.anchoring is None else _anchoring(answer.anchoring),
    }


def place_data(place: HeldAt, length: float, beam: float) -> dict[str, Any]:
    """One place: what loads her there, who holds her, what would be needed. Her length and beam in metres."""
    balance = place.balance
    over = "over " if place.wind_over else ""
    return {
        "key": place.key,
        "place": place.place,
        "situation": place.situation,
        "situation_text": SITUATIONS[place.situation],
        "time": {"value": text.iso(place.time), "text": text.day_clock(place.time), "clock": text.clock(place.time)},
        "heading": {"value": round(place.heading, 5), "text": f"{text.course(place.heading)}°"},
        "speed": {"value": round(place.speed, 4), "text": text.knots(place.speed)},
        "engine_order": place.engine_order.replace("_", " "),
        "kicks": place.kicks,
        "wind": {"value": round(place.wind_speed, 4), "text": text.knots_whole(place.wind_speed)},
        "wind_from": {"value": round(place.wind_from, 5), "text": f"{text.course(place.wind_from)}°"},
        "wind_off_bow": round(_signed(place.wind_from - place.heading), 5),
        "gust": {"value": round(place.gust, 4), "text": text.knots_whole(place.gust * place.wind_speed)},
        "stream": {"value": round(place.stream_rate, 4), "text": text.knots(place.stream_rate)},
        "stream_towards": {"value": round(place.stream_towards, 5), "text": f"{text.course(place.stream_towards)}°"},
        "stream_off_bow": round(_signed(place.stream_towards + math.pi - place.heading), 5),
        "water_depth": {"value": round(place.water_depth, 3), "text": text.clearance(place.water_depth, 1)},
        "quay_side": place.quay_side,
        "word": _word(place),
        "reserve": {"value": round(balance.reserve, 4), "text": text.reserve(balance.reserve)},
        "alone": None if place.alone is None else {"value": round(place.alone, 4), "text": text.reserve(place.alone)},
        "wind_limit": {"value": round(place.wind_limit, 4), "text": over + text.knots_below(place.wind_limit)},
        "balance": _balance(balance),
        "drawing": balance_layout(place, length, beam),
        "tugs": [_tug(tug) for tug in place.tugs],
        "needed": None if place.needed is None else _needed(place.needed),
        "changes": [{"kind": one.kind, "works": one.works, "sentence": one.sentence} for one in place.changes],
        "method_limits": list(place.method_limits),
    }


def _word(place: HeldAt) -> str:
    if not place.balance.held:
        return "not held" if place.wind_limit * place.gust < place.wind_speed else "not held in gusts"
    return "held" if place.balance.in_hand else "held, little in hand"


def _signed(angle: float) -> float:
    return (angle + math.pi) % (2.0 * math.pi) - math.pi


def _balance(balance: Balance) -> dict[str, Any]:
    return {
        "held": balance.held,
        "in_hand": balance.in_hand,
        "engines": balance.engines,
        "wind": load_data(balance.wind),
        "stream": load_data(balance.stream),
        "left_over": load_data(balance.left_over),
        "left_over_words": "" if balance.held else _left_over(balance),
        "drift_speed": {"value": round(balance.drift_speed, 3), "text": text.knots_above(balance.drift_speed)},
        "by_method": {name: text.reserve(reserve) for name, reserve in balance.by_method.items()},
        "orders": [_order(order) for order in balance.orders],
    }


def _left_over(balance: Balance) -> str:
    """What nobody holds, in words."""
    load = balance.left_over
    parts = []
    if math.hypot(load.surge, load.sway) >= LEAST_TOLD:
        parts.append(f"{text.pull(math.hypot(load.surge, load.sway))}")
    if abs(load.yaw) >= LEAST_MOMENT:
        side = "starboard" if load.yaw > 0.0 else "port"
        parts.append(f"a moment of {text.number(abs(load.yaw) / 1e6, 1)} MNm to {side}")
    drift = "" if balance.drift_speed < 0.01 else f"; she drifts sideways, in the end at {_drift(balance)}"
    return f"Left over: {' and '.join(parts) or 'hardly anything'}{drift}."


def _drift(balance: Balance) -> str:
    return text.knots_above(balance.drift_speed)


def load_data(load: Load) -> dict[str, Any]:
    """A force with its moment; moments in meganewton metres."""
    return {
        "surge": round(load.surge, 0),
        "sway": round(load.sway, 0),
        "yaw": round(load.yaw, 0),
        "text": text.pull(math.hypot(load.surge, load.sway)),
        "yaw_text": f"{text.number(load.yaw / 1e6, 1)} MNm",
    }


def _order(order: Order) -> dict[str, Any]:
    return {
        "name": order.name,
        "kind": order.kind,
        "force": load_data(order.force),
        "forward": round(order.forward, 1),
        "to_starboard": round(order.to_starboard, 1),
        "used": round(order.used, 4),
        "used_text": f"{text.number(100.0 * order.used, 0)} %",
        "words": order_words(order),
    }


def order_words(order: Order) -> str:
    """What is to be done, as it would be told."""
    surge, sway = order.force.surge, order.force.sway
    if math.hypot(surge, sway) < LEAST_TOLD:
        return "stand by" if order.kind == "tug" else "stop"
    to_side = "to starboard" if sway > 0.0 else "to port"
    if order.kind == "thruster":
        return to_side
    if order.kind == "tug":
        return _tug_words(order)
    if order.kind == "screw":
        return _screw_words(order)
    return to_side


def _tug_words(order: Order) -> str:
    if abs(order.to_starboard) > 0.0:
        way = "push" if order.force.sway * order.to_starboard < 0.0 else "pull"
        return f"{way} to {'starboard' if order.force.sway > 0.0 else 'port'}"
    angle = math.degrees(wrapped(math.atan2(order.force.sway, order.force.surge)))
    side = "starboard" if angle < 180.0 else "port"
    off = min(angle, 360.0 - angle)
    if off < 5.0:
        return "pull ahead"
    if off > 175.0:
        return "pull astern"
    return f"pull to {side}, {off:.0f}° from the bow"


def _screw_words(order: Order) -> str:
    surge, sway = order.force.surge, order.force.sway
    way = "ahead" if surge > LEAST_TOLD else "astern" if surge < -LEAST_TOLD else ""
    if "pod" in order.name:
        return f"thrust {math.degrees(wrapped(math.atan2(sway, surge))):03.0f}° from the bow"
    helm = ""
    if way != "astern" and abs(sway) > LEAST_TOLD:
        helm = "wheel to port" if sway > 0.0 else "wheel to starboard"
    return ", ".join(part for part in (way, helm) if part) or "stop"


def _tug(tug: TugAtWork) -> dict[str, Any]:
    return {
        "name": tug.name,
        "kind": tug.kind,
        "bollard_pull": {"value": round(tug.bollard_pull, 0), "text": text.pull(tug.bollard_pull)},
        "place": tug.place,
        "place_text": PLACES[tug.place],
        "forward": round(tug.forward, 1),
        "usable": {"value": round(tug.usable, 0), "text": text.pull(tug.usable)},
    }


def _needed(needed: TugsNeeded) -> dict[str, Any]:
    statics, total = needed.by_statics, needed.total_by_statics
    return {
        "by_statics": None
        if statics is None
        else [{"place_text": PLACES[place], "text": text.pull_needed(pull)} for place, pull in statics.items()],
        "total": None if total is None else {"value": round(total, 0), "text": text.pull_needed(total)},
        "by_rules": {name: text.pull_needed(pull) for name, pull in needed.by_rules.items()},
        "two_at_least": needed.two_at_least,
        "number": needed.number,
        "each": {"value": round(needed.each, 0), "text": text.pull(needed.each)},
    }


def rose_data(rose: Rose) -> dict[str, Any]:
    """Limits by direction; the least of each set also in words."""
    return {
        "off_bow": [round(angle, 5) for angle in rose.off_bow],
        "ceiling": rose.ceiling,
        "sets": [_set(name, speeds, rose) for name, speeds in rose.limits.items()],
    }


def _set(name: str, speeds: tuple[float, ...], rose: Rose) -> dict[str, Any]:
    least = min(range(len(speeds)), key=lambda index: speeds[index])
    off = math.degrees(_signed(rose.off_bow[least]))
    side = "" if round(abs(off)) in (0, 180) else " on the starboard side" if off > 0.0 else " on the port side"
    return {
        "name": name,
        "limits": [round(speed, 3) for speed in speeds],
        "least": {"value": round(speeds[least], 3), "text": text.knots_below(speeds[least])},
        "least_from": f"{abs(off):.0f}° from the bow{side}",
    }


def _landing(landing: Landing) -> dict[str, Any]:
    return {
        "speed": _speed(landing.speed),
        "speed_from": landing.speed_from,
        "angle": {"value": round(landing.angle, 4), "text": f"{text.number(math.degrees(landing.angle), 0)}°"},
        "energy": {"value": round(landing.energy, 0), "text": text.energy(landing.energy)},
        "by_method": {name: text.energy(energy) for name, energy in landing.by_method.items()},
        "allowed_energy": None
        if landing.allowed_energy is None
        else {"value": landing.allowed_energy, "text": text.energy(landing.allowed_energy)},
        "greatest_speed": None if landing.greatest_speed is None else _speed(landing.greatest_speed),
        "drift_speed": {"value": round(landing.drift_speed, 3), "text": text.slow_speed(landing.drift_speed)},
        "design_speeds": {name: text.landing_speed(speed) for name, speed in landing.design_speeds.items()},
    }


def _speed(speed: float) -> dict[str, Any]:
    return {"value": round(speed, 4), "text": text.landing_speed(speed)}


def _lifting_off(lifting: LiftingOff) -> dict[str, Any]:
    return {
        "force": None if lifting.force is None else _pull(lifting.force),
        "seconds": lifting.seconds,
        "set_off_force": _pull(lifting.set_off_force),
        "lines": lifting.lines,
        "line_load": None if lifting.line_load is None else _pull(lifting.line_load),
    }


def _pull(force: float) -> dict[str, Any]:
    return {"value": round(force, 0), "text": text.pull(force)}


def _anchoring(anchoring: Anchoring) -> dict[str, Any]:
    return {
        "place": anchoring.place,
        "bottom": anchoring.bottom,
        "holding": {name: round(ratio, 2) for name, ratio in anchoring.holding.items()},
        "greatest_wind": {name: text.knots_below(wind) for name, wind in anchoring.greatest_wind.items()},
        "cable": {"value": round(anchoring.cable, 1), "text": text.requirement(anchoring.cable, 0)},
        "cable_on_board": None
        if anchoring.cable_on_board is None
        else {"value": anchoring.cable_on_board, "text": text.clearance(anchoring.cable_on_board, 0)},
        "shackles_on_deck": anchoring.shackles_on_deck,
        "shackles_in_water": anchoring.shackles_in_water,
        "by_rules": {name: text.requirement(cable, 0) for name, cable in anchoring.by_rules.items()},
        "swing_radius": {
            "value": round(anchoring.swing_radius, 1),
            "text": text.requirement(anchoring.swing_radius, 0),
        },
        "room": {"value": round(anchoring.room, 1), "text": text.clearance(anchoring.room, 0)},
        "stopping_speed": {
            "value": round(anchoring.stopping_speed, 3),
            "text": text.knots(math.floor(anchoring.stopping_speed * 10.0) / 10.0),
        },
        "bringing_up_speed": {
            "value": round(anchoring.bringing_up_speed, 3),
            "text": f"{text.number(math.floor(anchoring.bringing_up_speed / KNOT * 100.0) / 100.0, 2)} kn",
        },
        "walk_back_speed": {
            "value": round(anchoring.walk_back_speed, 3),
            "text": text.knots(anchoring.walk_back_speed),
        },
    }

"""The ship card as plain data for paper and page: every field of the open form, its words, and what was found about it.

Field names are those of IMO Resolution A.601(15), appendices 1 and 2. A field the card does not give says so; a number
in a field's `flags` is that of the finding that speaks of it.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from leadsman import format as text
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.manner_data import manner_data
from leadsman.equipment import AHEAD_ORDERS, ASTERN_ORDERS, EngineOrder, Propeller, Rudder, State, Thruster
from leadsman.figure import Figure, Finding, Grade
from leadsman.poster import Poster
from leadsman.ship import Loading, Ship
from leadsman.units import DEGREE, FOOT, INCH, KNOT, MINUTE, RPM, TONNE

NOT_GIVEN = "not given"
SPOKEN = {"vhf": "VHF", "arpa": "ARPA", "radar_3cm": "radar 3 cm", "radar_10cm": "radar 10 cm"}
Data = dict[str, Any]
Row = tuple[str, str, tuple[str, ...]]
"""Label, words, and the fields of the card a finding may name."""


def card_data(
    ship: Ship,
    loading: Loading,
    findings: Sequence[Finding],
    figures: Mapping[str, Figure],
    meanings: Mapping[str, str],
) -> Data:
    """Everything the sheets of a card show (`leadsman.card/1`)."""
    flagged = _flagged(findings)
    groups = {
        "head": _head(ship, loading),
        "particulars": _particulars(ship, loading),
        "engine": _engine(ship),
        "steering": _steering(ship),
        "aboard": _aboard(ship),
    }
    return {
        "schema": "leadsman.card/1",
        "caution": SHORT_CAUTION,
        "manner": manner_data(),
        "ship": ship.name,
        "kind": _spoken(ship.kind.value),
        "condition": loading.condition,
        **{name: [_row(row, flagged) for row in rows] for name, rows in groups.items()},
        "orders": _orders(ship, flagged),
        "by_pitch": any(line.pitch is not None for line in ship.engine.orders),
        "remarks": ship.remarks,
        "defects": list(ship.defects),
        "poster": _poster(ship, flagged),
        "findings": [
            {"number": number, "grade": one.grade.value, "sentence": one.sentence, "source": one.source}
            for number, one in enumerate(findings, start=1)
        ],
        "figures": [figure_words(figure, meanings.get(name, "")) for name, figure in figures.items()],
        "profile": _profile(ship, loading),
        "posted": None,
        "untried": "",
    }


def _flagged(findings: Sequence[Finding]) -> dict[str, list[int]]:
    """Field of the card to the numbers of stops and cautions that name it."""
    flagged: dict[str, list[int]] = {}
    for number, finding in enumerate(findings, start=1):
        if finding.grade is not Grade.NOTE:
            for field in finding.place.split(", "):
                flagged.setdefault(field, []).append(number)
    return flagged


def _row(row: Row, flagged: Mapping[str, list[int]]) -> Data:
    label, words, fields = row
    numbers = sorted({number for field in fields for number in flagged.get(field, [])})
    return {"label": label, "text": words, "given": words != NOT_GIVEN, "flags": numbers}


def _head(ship: Ship, loading: Loading) -> Iterator[Row]:
    yield "Call sign", ship.call_sign or NOT_GIVEN, ("call_sign",)
    yield "Year built", _or_not(ship.year_built, str), ("year_built",)
    yield "Deadweight", _or_not(ship.deadweight, text.tonnes), ("deadweight",)
    yield "Gross tonnage", _or_not(ship.gross_tonnage, lambda value: f"{value:.0f}"), ("gross_tonnage", "net_tonnage")
    for end in ("forward", "aft"):
        draught, imperial = getattr(loading, f"draught_{end}"), getattr(loading, f"draught_{end}_imperial")
        yield f"Draught {end}", _twice(draught, imperial), (f"draught_{end}",)
    marks = (loading.draught_midships_port, loading.draught_midships_starboard)
    if any(mark is not None for mark in marks):
        words = ", ".join(f"{side} {_metres(mark)}" for side, mark in zip(("port", "starboard"), marks, strict=True))
        yield "Draught midships", words, ("draught_midships_port", "draught_midships_starboard", "list_angle")
    yield "Displacement", _or_not(loading.displacement, text.tonnes), ("displacement",)
    density = loading.water_density
    yield "Water density", _or_not(density, lambda value: f"{value:.0f} kg/m³"), ("water_density",)


def _particulars(ship: Ship, loading: Loading) -> Iterator[Row]:
    yield "Length overall", text.metres(ship.length_overall, 1), ("length_overall",)
    between = ship.length_between_perpendiculars
    yield "Length between perpendiculars", _metres(between, 1), ("length_between_perpendiculars",)
    yield "Breadth", text.metres(ship.beam, 1), ("beam",)
    yield "Moulded depth", _metres(ship.moulded_depth, 1), ("moulded_depth",)
    yield "Summer draught", _metres(ship.summer_draught), ("summer_draught",)
    yield "Bulbous bow", _yes(ship.bulbous_bow), ("bulbous_bow",)
    yield from _particulars_of_anchors(ship)
    yield "Air draught", _twice(loading.air_draught, loading.air_draught_imperial), ("air_draught",)
    yield "Keel to highest point", _metres(ship.keel_to_highest_point), ("keel_to_highest_point",)
    yield "Bridge front to bow", _metres(ship.bridge_to_bow, 1), ("bridge_to_bow",)
    yield "Bridge front to stern", _metres(ship.bridge_to_stern, 1), ("bridge_to_stern",)
    body = ship.parallel_body_loaded, ship.parallel_body_ballast
    words = ", ".join(
        f"{name} {text.metres(value, 1)}"
        for name, value in zip(("loaded", "ballast"), body, strict=True)
        if value is not None
    )
    yield "Parallel mid-body", words or NOT_GIVEN, ("parallel_body_loaded", "parallel_body_ballast")


def _particulars_of_anchors(ship: Ship) -> Iterator[Row]:
    anchors = ship.anchors
    for side in ("port", "starboard", "stern"):
        count = getattr(anchors, f"{side}_shackles")
        if side != "stern" or count is not None:
            words = _or_not(count, lambda value: f"{value:g} shackles")
            yield f"Anchor chain, {side}", words + _unless(anchors.state), (f"{side}_shackles", "anchors")
    fathoms = "" if anchors.shackle_fathoms is None else f" / {anchors.shackle_fathoms:g} fathoms"
    yield "1 shackle", _metres(anchors.shackle) + fathoms, ("shackle", "shackle_fathoms")


def _engine(ship: Ship) -> Iterator[Row]:
    engine = ship.engine
    kind = _spoken(engine.kind.value) + (f": {engine.description}" if engine.description else "")
    yield "Type of engine", kind + _unless(engine.state), ("engine",)
    kilowatts = _or_not(engine.power, lambda value: f"{value / 1000.0:.0f} kW")
    horsepower = "" if engine.horsepower is None else f" ({engine.horsepower:.0f} HP)"
    yield "Maximum power", kilowatts + horsepower, ("power", "horsepower")
    yield "Propellers", _listed(map(_propeller, ship.propellers)), ("propellers",)
    yield "Time limit astern", _or_not(engine.time_limit_astern, _minutes), ("time_limit_astern",)
    reversal = engine.full_ahead_to_full_astern
    words = _or_not(reversal, lambda value: f"{_seconds(value)} ({_REVERSAL[engine.reversal_meaning.value]})")
    yield "Full ahead to full astern", words, ("full_ahead_to_full_astern",)
    yield "Max. no. of consecutive starts", _or_not(engine.consecutive_starts, str), ("consecutive_starts",)
    speed = engine.speed_at_minimum_revolutions
    slowest = _or_not(engine.minimum_revolutions, _rpm) + ("" if speed is None else f", {text.knots(speed)}")
    yield "Minimum RPM", slowest, ("minimum_revolutions", "speed_at_minimum_revolutions")
    share = _or_not(engine.astern_power_share, lambda value: f"{100.0 * value:.0f} % of ahead")
    yield "Astern power", share, ("astern_power_share",)
    critical = engine.critical_revolutions
    words = NOT_GIVEN if critical is None else f"{critical[0] / RPM:.0f} to {critical[1] / RPM:.0f} rpm"
    yield "Critical RPM", words, ("critical_revolutions",)


_REVERSAL = {
    "engine_reversed": "to engine reversed",
    "ship_stopped": "to ship stopped",
    "unknown": "to what is not said",
}


def _steering(ship: Ship) -> Iterator[Row]:
    steering = ship.steering
    yield "Type of rudder", _listed(map(_rudder, ship.rudders)), ("rudders",)
    units = "" if steering.power_units is None else f" ({steering.power_units} power units)"
    swing = _or_not(steering.hard_over_to_hard_over, _seconds) + units
    yield "Hard-over to hard-over", swing + _unless(steering.state), ("hard_over_to_hard_over", "steering")
    yield "Rudder angle for neutral effect", _or_not(steering.neutral_angle, _degrees), ("neutral_angle",)
    least = _or_not(steering.minimum_steering_speed, text.knots)
    yield "Minimum steering speed", least, ("minimum_steering_speed",)
    for position in ("bow", "stern"):
        units_there = [item for item in ship.thrusters if item.position == position]
        yield f"Thruster, {position}", _listed(map(_thruster, units_there)), ("thrusters",)


def _aboard(ship: Ship) -> Iterator[Row]:
    for item, state in ship.equipment.items():
        details = ship.equipment_details.get(item)
        yield _spoken(item), state.value + (f", {details}" if details else ""), ("equipment",)
    for item, details in ship.equipment_details.items():
        if item not in ship.equipment:
            yield _spoken(item), details, ("equipment",)
    if ship.gyro_error is not None:
        high = "high" if ship.gyro_error > 0.0 else "low"
        yield "constant gyro error", f"{abs(ship.gyro_error) / DEGREE:.1f}° {high}", ("gyro_error",)


def _orders(ship: Ship, flagged: Mapping[str, list[int]]) -> list[Data]:
    """The engine order table, sea speed first, astern last."""
    names = ("full_sea_speed", *AHEAD_ORDERS, *ASTERN_ORDERS)
    lines = {line.order: line for line in ship.engine.orders}
    return [
        {
            "order": _spoken(name).capitalize(),
            "setting": _setting(lines[name]),
            "loaded": _or_dash(lines[name].speed_loaded),
            "ballast": _or_dash(lines[name].speed_ballast),
            "flags": flagged.get(name, []),
        }
        for name in names
        if name in lines
    ]


def _setting(line: EngineOrder) -> str:
    parts = [] if line.pitch is None else [f"{100.0 * line.pitch:.0f} %".replace("-", text.MINUS)]
    if line.revolutions is not None:
        parts.append(f"{line.revolutions / RPM:.0f} rpm")
    return ", ".join(parts) or "–"


def _or_dash(speed: float | None) -> str:
    return "–" if speed is None else text.number(speed / KNOT, 1)


def _poster(ship: Ship, flagged: Mapping[str, list[int]]) -> Data:
    """The manoeuvres the ship displays, as rows of words, and the poster's own groups."""
    poster = ship.poster
    groups = {
        "head": _poster_head(ship),
        "steering": _poster_steering(ship),
        "propulsion": _poster_propulsion(ship),
        "thrusters": _poster_thrusters(ship),
        "anchors": _poster_anchors(ship),
        "visibility": _visibility(poster),
    }
    return {name: [_row(row, flagged) for row in rows] for name, rows in groups.items()} | {
        "turning_circles": [
            [
                f"{one.side}, {one.condition}" + ("" if one.depth_to_draught is None else ", shallow"),
                f"{one.rudder / DEGREE:.0f}°",
                _metres(one.advance, 0),
                _metres(one.transfer, 0),
                _metres(one.tactical_diameter, 0),
                one.basis.value,
            ]
            for one in poster.turning_circles
        ],
        "stops": [
            [
                f"{_spoken(one.order)}, {one.condition}",
                "full astern" if one.engine_astern else "engine stopped",
                _metres(one.track_reach, 0),
                _metres(one.head_reach, 0),
                _or_not(one.duration, _seconds),
                one.basis.value,
            ]
            for one in poster.stops
        ],
        "zig_zags": [
            [
                f"{one.angle / DEGREE:.0f}/{one.angle / DEGREE:.0f}, {one.condition}",
                _or_not(one.first_overshoot, _degrees),
                _or_not(one.second_overshoot, _degrees),
                one.basis.value,
            ]
            for one in poster.zig_zags
        ],
        "squats": [[_metres(one.clearance), text.knots(one.speed), _metres(one.squat)] for one in poster.squats],
    }


def _poster_head(ship: Ship) -> Iterator[Row]:
    yield "Call sign", ship.call_sign or NOT_GIVEN, ("call_sign",)
    for name in ("gross_tonnage", "net_tonnage"):
        yield _spoken(name).capitalize(), _or_not(getattr(ship, name), lambda value: f"{value:.0f}"), (name,)
    yield "Max. displacement", _or_not(ship.summer_displacement, text.tonnes), ("summer_displacement",)
    yield "Deadweight", _or_not(ship.deadweight, text.tonnes), ("deadweight",)
    block = _or_not(ship.summer_block_coefficient, lambda value: text.number(value, 3))
    yield "Block coefficient", block, ("summer_block_coefficient",)
    yield "Summer full load draught", _metres(ship.summer_draught), ("summer_draught",)


def _poster_steering(ship: Ship) -> Iterator[Row]:
    steering = ship.steering
    yield "Type of rudder", _listed(map(_rudder, ship.rudders)), ("rudders",)
    units = f" with {steering.power_units} power units" if steering.power_units else ""
    swing = _or_not(steering.hard_over_to_hard_over, _seconds) + units
    yield "Hard-over to hard-over", swing, ("hard_over_to_hard_over",)
    alone = _or_not(steering.hard_over_with_one_unit, _seconds)
    yield "With one power unit", alone, ("hard_over_with_one_unit",)
    stopped = _or_not(steering.minimum_steering_speed_propeller_stopped, text.knots)
    fields = ("minimum_steering_speed_propeller_stopped",)
    yield "Minimum speed to maintain course, propeller stopped", stopped, fields
    yield "Rudder angle for neutral effect", _or_not(steering.neutral_angle, _degrees), ("neutral_angle",)


def _poster_propulsion(ship: Ship) -> Iterator[Row]:
    engine = ship.engine
    yield from (row for row in _engine(ship) if row[0] != "Full ahead to full astern")
    limit = _or_not(engine.time_limit_at_minimum_revolutions, _minutes)
    yield "Time limit at min. rev.", limit, ("time_limit_at_minimum_revolutions",)
    reversal = _or_not(engine.full_ahead_to_full_astern, _seconds)
    yield "Emergency full ahead to full astern", reversal, ("full_ahead_to_full_astern",)
    yield "Stop to full astern", _or_not(engine.stop_to_full_astern, _seconds), ("stop_to_full_astern",)


def _poster_thrusters(ship: Ship) -> Iterator[Row]:
    for item in ship.thrusters:
        words = [_thruster(item)]
        if item.time_to_full_thrust is not None:
            words.append(f"full thrust in {_seconds(item.time_to_full_thrust)}")
        if item.time_to_reverse is not None:
            words.append(f"reversed in {_seconds(item.time_to_reverse)}")
        if item.turning_rate is not None:
            words.append(f"turns her {text.rate_of_turn(item.turning_rate)}")
        if item.not_effective_above is not None:
            words.append(f"not effective above {text.knots(item.not_effective_above)}")
        yield item.position.capitalize(), ", ".join(words), ("thrusters",)


def _poster_anchors(ship: Ship) -> Iterator[Row]:
    yield from (row for row in _particulars_of_anchors(ship))
    heaving = _or_not(ship.anchors.heaving_time, lambda value: f"{value / MINUTE:.1f} min for a shackle")
    yield "Max. rate of heaving", heaving, ("heaving_time",)


def _visibility(poster: Poster) -> Iterator[Row]:
    yield "Blind zone ahead, loaded", _metres(poster.blind_zone_loaded, 0), ("blind_zone_loaded",)
    yield "Blind zone ahead, ballast", _metres(poster.blind_zone_ballast, 0), ("blind_zone_ballast",)


def figure_words(figure: Figure, meaning: str) -> Data:
    """One figure as paper, page and terminal write it: value, band, how it was got, what it means for handling."""
    band = figure.band
    deviation = "" if band is None or not band.deviation else f"± {_written(figure.unit, band.deviation, 1)}"
    return {
        "label": _spoken(figure.name).capitalize(),
        "text": _written(figure.unit, figure.value),
        "band": deviation,
        "origin": figure.origin.value,
        "method": figure.method or figure.source,
        "source": figure.source,
        "meaning": meaning,
    }


def _written(unit: str, value: float, figures: int = 3) -> str:
    """In the unit the trade speaks, with this many figures or a little more."""
    size, name = text.length_unit() if unit == "m" else _SPOKEN.get(unit, (1.0, unit))
    scaled = value / size
    places = 0 if scaled == 0.0 else max(0, figures - 1 - math.floor(math.log10(abs(scaled))))
    decimals = min(places, 2 if unit == "m" and figures > 1 else 3)
    if unit == "m" and figures > 1:
        decimals = 1 if text.in_feet() else 2
    number = f"{scaled:,.{decimals}f}".replace(",", "\u202f").replace("-", text.MINUS)
    return f"{number}{'' if name.startswith('°') else ' '}{name}".strip()


_SPOKEN = {
    "kg": (TONNE, "t"),
    "kg/m": (100.0 * TONNE, "t/cm"),
    "kg m/m": (100.0 * TONNE, "t m/cm"),
    "kg m²": (TONNE * 1e6, "10⁶ t m²"),
    "rad": (DEGREE, "°"),
    "-": (1.0, ""),
    "N": (1000.0, "kN"),
}


def _profile(ship: Ship, loading: Loading) -> Data:
    """What the profile sketch needs, in metres; None where not given."""
    return {
        "length_overall": ship.length_overall,
        "bridge_to_bow": ship.bridge_to_bow,
        "bridge_to_stern": ship.bridge_to_stern,
        "mast_from_stern": ship.mast_from_stern,
        "keel_to_highest_point": ship.keel_to_highest_point,
        "air_draught": loading.air_draught,
        "moulded_depth": ship.moulded_depth,
        "draught_forward": loading.draught_forward,
        "draught_aft": loading.draught_aft,
    }


def _propeller(item: Propeller) -> str:
    hand = {True: "right-handed", False: "left-handed", None: "hand not given"}[item.right_handed]
    kind = "pod" if item.podded else "controllable pitch" if item.controllable_pitch else "fixed pitch"
    parts = [hand, kind]
    if item.diameter is not None:
        parts.append(text.metres(item.diameter, 1))
    return " ".join(parts) + _unless(item.state)


def _rudder(item: Rudder) -> str:
    angle = "" if item.maximum_angle is None else f" {item.maximum_angle / DEGREE:.0f}°"
    return f"{item.kind}{angle}{_unless(item.state)}"


def _thruster(item: Thruster) -> str:
    horsepower = "" if item.horsepower is None else f" ({item.horsepower:.0f} HP)"
    limit = "" if item.time_limit is None else f", {_minutes(item.time_limit)} at one go"
    return f"{item.power / 1000.0:.0f} kW{horsepower}{limit}{_unless(item.state)}"


def _unless(state: State) -> str:
    return "" if state is State.READY else f" ({state.value})"


def _listed(words: Iterator[str]) -> str:
    counted: dict[str, int] = {}
    for word in words:
        counted[word] = counted.get(word, 0) + 1
    return "; ".join(word if count == 1 else f"{count} x {word}" for word, count in counted.items()) or NOT_GIVEN


def _spoken(key: str) -> str:
    return SPOKEN.get(key, key.replace("_", " "))


def _or_not(value: Any, write: Any) -> str:
    return NOT_GIVEN if value is None else str(write(value))


def _metres(value: float | None, decimals: int = 2) -> str:
    return _or_not(value, lambda number: text.metres(number, decimals))


def _twice(metres: float | None, imperial: float | None) -> str:
    return _metres(metres) + ("" if imperial is None else f" / {_feet(imperial)}")


def _feet(metres: float) -> str:
    inches = round(metres / INCH)
    return f"{inches // round(FOOT / INCH)} ft {inches % round(FOOT / INCH):02d} in"


def _seconds(seconds: float) -> str:
    return f"{seconds:.0f} s"


def _minutes(seconds: float) -> str:
    return f"{seconds / MINUTE:.0f} min"


def _rpm(revolutions: float) -> str:
    return f"{revolutions / RPM:.0f} rpm"


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.1f}°".replace("-", text.MINUS)


def _yes(value: bool | None) -> str:
    return NOT_GIVEN if value is None else "yes" if value else "no"

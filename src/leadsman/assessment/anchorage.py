"""Where she anchors on her way: how she lies there, how much cable, whether it holds, whether the circle has water.

What the call plans to, and what a rehearsal to the anchorage is sailed to. The pull is that of the static balance: wind
by the heaviest method and stream, both from ahead, as `holding.anchoring` has it.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment.holding.case import PLANNING, HoldingCase, Situation
from leadsman.assessment.holding.from_ship import Surroundings, holding_case
from leadsman.assessment.holding.particulars import holding_particulars
from leadsman.assessment.moving import reading_of
from leadsman.assessment.prepare import Prepared
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.errors import CannotCompute
from leadsman.figure import Finding, Grade
from leadsman.physics import anchor as rules
from leadsman.physics.cable import Anchor
from leadsman.portcall import Anchoring
from leadsman.simulation.deck import equipped
from leadsman.simulation.estimate import estimate
from leadsman.simulation.lying import lies_to
from leadsman.simulation.parameters import Parameters, packed
from leadsman.simulation.setting import Order, Setting
from leadsman.simulation.state import even_depth
from leadsman.units import SEA_WATER_DENSITY

STAYS = timedelta(hours=12.5)  # a tide, over which the lowest water is looked for: how long she lies is not in a call
CORNERS = 72  # of the circle whose bed is looked at
ROUGH_WIND = 13.9  # m/s: near gale, from which the rough-weather rule for cable counts (common practice, no source)
HALF_SHACKLE = 0.5
GROUNDS = ("mud", "sand", "clay", "gravel", "rock")


@dataclass(frozen=True, kw_only=True, eq=False)
class Anchorage:
    """One anchoring, worked out for a start."""

    name: str
    north: float
    east: float
    """Where the anchor is to be let go, on the plane. [m]"""
    distance: float
    """Along the track, of the place abreast of it. [m]"""
    time: datetime
    """When she is there."""
    unit: int
    """Of her anchors."""
    anchor: Anchor
    bottom: str
    charted: str
    """What the chart says of the bottom there; empty: nothing."""
    water_depth: float
    """At the place at her time. [m]"""
    heading: float
    """She lies to; in a calm that of the track. [rad]"""
    pull: float
    """Wind and stream from ahead, yawing in it. [N]"""
    cable: float
    """From hawse to anchor. [m]"""
    shackles: float
    """In the water."""
    usual: float
    """Shackles by catenary and the rule of the trade for the weather, the greater."""
    needed: float
    """Cable by catenary and a shackle on the bed. [m]"""
    radius: float
    """From the anchor to her stern with the cable straight. [m]"""
    circle: float | None
    """She may swing in; None where the place is not a circle. [m]"""
    clearance: float
    """Under her keel over the whole circle at the lowest water of a tide: chart less survey and siltation, level by its
    band; minus infinity where the bed is not known. [m]"""
    required: float
    """[m]"""

    @property
    def holding_ratio(self) -> float:
        """Holding of the anchor well set over the pull; infinite in a calm. [-]"""
        return self.anchor.holding / self.pull if self.pull > 0.0 else math.inf


def anchorage(
    prepared: Prepared, start: datetime, parameters: Parameters | None = None, orders: dict[str, Order] | None = None
) -> Anchorage:
    """The anchoring of the call for a start; `parameters` of the model that moves, where it is made already.

    `CannotCompute` where the call has none, or her card leaves out what it takes.
    """
    asked = prepared.call.anchoring
    if asked is None:
        raise CannotCompute("the call names no anchorage; expected a table [anchoring] in call.toml")
    ship, loading = prepared.aboard
    if parameters is None or orders is None:
        parameters, orders = model_anchored(prepared, asked.bottom)
    unit, bower = _bower(prepared, parameters, asked)
    north, east, circle = _place(prepared, asked)
    distance, seconds, stream, ground, depth = water_at(prepared, start, north, east)
    if ground is None or not depth > loading.draught:
        raise CannotCompute(f"{asked.at}: no water is known there that floats her; she cannot be anchored")
    heading = _heading(prepared, parameters, orders, bower, distance, depth, stream)
    pull = _pull(prepared, depth, math.hypot(*stream))
    height = depth + bower.hawse
    needed = float(rules.catenary(height, pull, bower.weight).length) + rules.LEFT_ON_BOTTOM
    shackle = ship.anchors.shackle or rules.CLASS_SHACKLE
    usual = _shackles(needed, depth, prepared.call.forecast.wind_speed or 0.0, shackle)
    shackles = asked.shackles or usual
    cable = shackles * shackle + bower.hawse
    radius = math.sqrt(max(cable**2 - height**2, 0.0)) + bower.position + 0.5 * ship.length_overall
    lowest = _lowest(prepared, distance, seconds)
    return Anchorage(
        name=asked.at,
        north=north,
        east=east,
        distance=distance,
        time=start + timedelta(seconds=seconds - prepared.water.elapsed(start)),
        unit=unit,
        anchor=bower,
        bottom=asked.bottom,
        charted=prepared.call.waterway.areas[ground].bottom,
        water_depth=depth,
        heading=heading,
        pull=pull,
        cable=cable,
        shackles=shackles,
        usual=usual,
        needed=needed,
        radius=radius,
        circle=circle,
        clearance=depth_over(prepared, north, east, radius) + lowest - prepared.floating.draught,
        required=prepared.call.margins.underkeel_required(prepared.floating.draught),
    )


def anchoring_findings(prepared: Prepared, start: datetime) -> tuple[Finding, ...]:
    """What the anchoring of a call comes to and what stands against it; nothing where she does not anchor."""
    if prepared.call.anchoring is None:
        return ()
    try:
        found = anchorage(prepared, start)
    except CannotCompute as error:
        return (Finding(grade=Grade.STOP, subject="anchoring", sentence=f"The anchoring is not answered: {error}."),)
    shackle = prepared.call.ship.anchors.shackle or rules.CLASS_SHACKLE
    return (*unknown_pull(prepared, "anchoring"), *_told(found, shackle))


def unknown_pull(prepared: Prepared, subject: str) -> Iterator[Finding]:
    """What pulls on a ship at anchor and was not given: reckoned as none, never in silence."""
    call = prepared.call
    missing = [
        *(["wind"] if call.forecast.wind_speed is None else []),
        *([] if call.waterway.stream_stations else ["stream"]),
    ]
    if missing:
        yield Finding(
            grade=Grade.CAUTION,
            subject=subject,
            sentence=f"No {' and no '.join(missing)} is given: cable and holding are reckoned without, and say nothing "
            "of a day that has it.",
        )


def _told(found: Anchorage, shackle: float) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            grade=grade,
            subject="anchoring",
            sentence=f"{found.name}: {sentence}.",
            value=value,
            limit=limit,
            unit=unit,
            place=found.name,
            time=found.time,
            source=source,
        )
        for grade, sentence, value, limit, unit, source in judged(found, shackle)
    )


Judged = tuple[Grade, str, float | None, float | None, str, str]


def judged(found: Anchorage, shackle: float) -> Iterator[Judged]:
    """Grade, sentence, value, limit, unit and source of what an anchoring comes to; the length of a shackle. [m]"""
    yield (
        Grade.NOTE,
        f"brought up on {found.shackles:g} shackles in the water in {text.metres(found.water_depth, 1)}, heading "
        f"{text.course(found.heading)}, she swings in {text.metres(found.radius, 0)}",
        found.radius,
        None,
        "m",
        "",
    )
    if contradicted(found.bottom, found.charted):
        sentence = f"the call reckons with {found.bottom}; the chart says {found.charted}"
        yield (Grade.CAUTION, sentence, None, None, "", "")
    if found.holding_ratio < 1.0:
        yield (
            Grade.STOP,
            f"{found.bottom} is reckoned to hold {text.pull(found.anchor.holding)} where wind and stream pull "
            f"{text.pull_needed(found.pull)}",
            found.holding_ratio,
            1.0,
            "",
            "CrenshawNavalShiphandling",
        )
    if found.cable < found.needed:
        least = math.ceil(2.0 * (found.needed - found.anchor.hawse) / shackle) / 2.0
        sentence = f"{found.shackles:g} shackles lift the anchor's shank; {least:g} are needed in the water"
        yield (Grade.STOP, sentence, found.cable, found.needed, "m", "")
    elif found.shackles < found.usual:
        sentence = f"{found.shackles:g} shackles are fewer than is usual for depth and weather, {found.usual:g}"
        yield (Grade.CAUTION, sentence, found.shackles, found.usual, "", "common practice, no source")
    if found.cable > found.anchor.most > 0.0:
        sentence = (
            f"{text.metres(found.cable, 0)} of cable are wanted where {text.metres(found.anchor.most, 0)} are there"
        )
        yield (Grade.STOP, sentence, found.anchor.most, found.cable, "m", "")
    if found.circle is not None and found.radius > found.circle:
        over = text.metres(found.radius - found.circle, 0)
        sentence = f"she swings out of her circle of {text.metres(found.circle, 0)} by {over}"
        yield (Grade.STOP, sentence, found.circle, found.radius, "m", "")
    if not math.isfinite(found.clearance):
        yield (Grade.STOP, "the bed is not known over all of her swinging circle", None, found.required, "m", "")
    elif found.clearance < found.required:
        sentence = (
            f"over her swinging circle {text.clearance(found.clearance)} is left under her keel at the lowest water of "
            f"a tide, {text.requirement(found.required)} required"
        )
        yield (Grade.STOP, sentence, found.clearance, found.required, "m", "")
    if found.water_depth + found.anchor.hawse > rules.WINDLASS_RATED_LENGTH:
        yield (Grade.CAUTION, "deeper than a windlass is rated to lift from", found.water_depth, None, "m", "IACSA1")


def model_anchored(prepared: Prepared, bottom: str) -> tuple[Parameters, dict[str, Order]]:
    """The ship of the moving model with her anchors on a bottom, and her engine orders."""
    ship, loading = prepared.aboard
    try:
        model = estimate(reading_of(ship, loading).particulars)
        return equipped(model.parameters, ship, loading, bottom=bottom).parameters, model.orders
    except ValueError as error:
        raise CannotCompute(f"{ship.name} cannot be anchored: {error}") from error


def _bower(prepared: Prepared, parameters: Parameters, asked: Anchoring) -> tuple[int, Anchor]:
    """The anchor asked for: the port one stands first."""
    if len(parameters.anchors) != 2:
        raise CannotCompute(f"{prepared.call.ship.name}: the card tells no anchor that can be used")
    unit = 0 if asked.anchor == "port" else 1
    return unit, parameters.anchors[unit]


def _place(prepared: Prepared, asked: Anchoring) -> tuple[float, float, float | None]:
    """Where the anchor goes, and the radius of the circle she may swing in. [m]"""
    waterway = prepared.call.waterway
    circles = {basin.name: (basin.centre, 0.5 * basin.diameter) for basin in waterway.basins}
    points = {place.name: (place.position, None) for place in waterway.waiting_places}
    position, circle = {**points, **circles}[asked.at]
    north, east = waterway.plane.to_plane(position.latitude, position.longitude)
    return float(north), float(east), circle


def water_at(
    prepared: Prepared, start: datetime, north: float, east: float
) -> tuple[float, float, tuple[float, float], int | None, float]:
    """Of a place when she is abreast of it: distance along the track [m], seconds of the water's clock, stream north
    and east [m/s], the depth area that counts, None where none is known, and the depth, then minus infinity. [m]"""
    distance = float(prepared.passage.track.nearest(north, east)[0])
    seconds = float(np.interp(distance, prepared.passage.distance, prepared.passed(start)))
    level = float(np.asarray(level_at(prepared.water.level.grid, distance, seconds)))
    to_north, to_east = stream_at(prepared.water.stream.grid, distance, seconds)
    ground = ground_under(prepared, north, east, 1.0)
    depth = -math.inf if ground is None else float(prepared.passage.depths.careful[ground]) + level
    return distance, seconds, (float(np.asarray(to_north)), float(np.asarray(to_east))), ground, depth


def depth_over(prepared: Prepared, north: float, east: float, radius: float) -> float:
    """Least careful depth below datum over a circle; minus infinity where not all of it is known. [m]"""
    index = ground_under(prepared, north, east, radius)
    return -math.inf if index is None else float(prepared.passage.depths.careful[index])


def ground_under(prepared: Prepared, north: float, east: float, radius: float) -> int | None:
    """The depth area that counts under a circle; None where not all of it is known."""
    angles = np.linspace(0.0, 2.0 * np.pi, CORNERS, endpoint=False)
    grown = radius / math.cos(math.pi / CORNERS)  # so that the polygon holds the circle
    ring = np.column_stack([north + grown * np.cos(angles), east + grown * np.sin(angles)])
    bed = prepared.passage.depths.under(ring[np.newaxis])
    if not bed.covered[0] or bed.unsurveyed[0] or bed.area[0] < 0:
        return None
    return int(bed.area[0])


def contradicted(said: str, charted: str) -> bool:
    """Whether what is said of a bottom names another ground than the chart does."""
    one, other = ({ground for ground in GROUNDS if ground in words.lower()} for words in (said, charted))
    return bool(one and other and not one & other)


def _lowest(prepared: Prepared, distance: float, seconds: float) -> float:
    """The lowest water of the stay, less two deviations of its band. [m]"""
    level = prepared.water.level
    last = level.grid.step * (level.grid.level.shape[1] - 2)
    moments = np.arange(seconds, min(seconds + STAYS.total_seconds(), last), 600.0)
    found = np.asarray(level_at(level.grid, np.full_like(moments, distance), moments))
    return float(np.min(found)) - 2.0 * float(np.asarray(level.deviation(distance)))


def _heading(
    prepared: Prepared,
    parameters: Parameters,
    orders: dict[str, Order],
    bower: Anchor,
    distance: float,
    depth: float,
    stream: tuple[float, ...],
) -> float:
    """What she lies to by the model that moves; along the track in a calm."""
    forecast = prepared.call.forecast
    setting = Setting(fleet=packed(parameters._replace(anchors=())), orders=orders)
    around = even_depth(depth, forecast.water_density or SEA_WATER_DENSITY)._replace(
        stream_north=stream[0],
        stream_east=stream[1],
        wind_speed=forecast.wind_speed or 0.0,
        wind_from=forecast.wind_from or 0.0,
    )
    lying = lies_to(setting, around, bower.position)
    return float(prepared.passage.track.at(distance)[2][0]) if lying is None else lying.heading


def _pull(prepared: Prepared, depth: float, stream: float) -> float:
    """Wind, its gust in it, and stream both from ahead, as a yawing ship feels them. [N]"""
    wind, case = held_there(prepared, depth, stream, 0.0)
    from_ahead = max(-float(case.wind_loads(wind, 0.0, each)[0]) for each in case.windages)
    return rules.YAWING_AMPLIFICATION * (from_ahead - float(case.current_loads(stream, 0.0)[0]))


def held_there(prepared: Prepared, depth: float, stream: float, off_bow: float) -> tuple[float, HoldingCase]:
    """The mean wind forecast [m/s], none where none is, and the static balance of a ship stopped in it, gust and all,
    with a stream [m/s], both from an angle off her bow. [rad]"""
    ship, loading = prepared.aboard
    forecast = prepared.call.forecast
    wind = forecast.wind_speed or 0.0
    around = Surroundings(
        situation=Situation.BASIN,
        heading=0.0,
        wind_speed=wind,
        wind_from=off_bow,
        stream_rate=stream,
        stream_towards=off_bow + math.pi,
        water_depth=depth,
        water_density=forecast.water_density or SEA_WATER_DENSITY,
    )
    gust = forecast.gust_speed / wind if forecast.gust_speed and wind > 0.0 else None
    case, _ = holding_case(ship, loading, holding_particulars(ship, loading), around, "half_ahead", PLANNING, gust)
    return wind, case


def _shackles(needed: float, depth: float, wind: float, shackle: float) -> float:
    """Shackles in the water by catenary and by the rule for the weather, the greater, up to the next half."""
    rule = rules.cable_rough_weather if wind > ROUGH_WIND else rules.cable_fair_weather
    return math.ceil(max(needed, float(rule(depth))) / shackle / HALF_SHACKLE) * HALF_SHACKLE

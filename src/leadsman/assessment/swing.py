"""The anchor she is swung on: how much cable, what it holds at short stay against stream and wind, what forbids it.

What the call asks for is judged for its start, and told to the rehearsal that sails it. Whether a swing on an anchor is
a good one is the rehearsal's to show; here stands what is known before.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment.anchorage import (
    Judged,
    contradicted,
    held_there,
    model_anchored,
    unknown_pull,
    water_at,
)
from leadsman.assessment.prepare import Prepared
from leadsman.conning.plan import TURNED, alongside, quay
from leadsman.conning.transit import angle
from leadsman.errors import CannotCompute
from leadsman.figure import Finding, Grade
from leadsman.physics import anchor as rules
from leadsman.physics.cable import Anchor, greatest_pull
from leadsman.portcall import Direction
from leadsman.simulation.parameters import Parameters
from leadsman.units import KNOT
from leadsman.waterway import Basin

SHORT_STAY = (1.0, 1.5)  # depths of cable in the water to dredge or snub on (standards sheet 9) [common practice]
HALF_SHACKLE = 0.5
LET_GO_SPEED = 2.0 * KNOT  # m/s over the ground: careful end of 2 to 3 kn for dredging (manoeuvring sheet 9) [memory]
ABEAM = 0.5 * math.pi


@dataclass(frozen=True, kw_only=True, eq=False)
class SwingOnAnchor:
    """One swing on an anchor, worked out for a start."""

    basin: Basin
    time: datetime
    """When she is there."""
    side: str
    """`port` or `starboard`: the anchor's, to which she turns."""
    anchor: Anchor
    bottom: str
    charted: str
    """What the chart says of the bottom there; empty: nothing."""
    water_depth: float
    """In the middle of the basin at her time: chart less survey and siltation. [m]"""
    clearance: float
    """Between her keel, at rest, and the bed there. [m]"""
    shackles: float
    """In the water."""
    cable: float
    """From hawse to anchor. [m]"""
    holds: float
    """What the anchor at this stay drags with. [N]"""
    presses: float
    """Stream and wind on a ship held athwart both. [N]"""
    turned: bool
    """Whether she is turned at all on her way to the berth or from it."""

    @property
    def depths(self) -> float:
        """Cable in the water over depth. [-]"""
        return (self.cable - self.anchor.hawse) / self.water_depth


def unit_of(side: str) -> int:
    """The number of a bower among a ship's anchors: port stands first."""
    return 0 if side == "port" else 1


def swing_on_anchor(prepared: Prepared, start: datetime, parameters: Parameters | None = None) -> SwingOnAnchor:
    """The swing of the call for a start; `parameters` of the model that moves, where it is made already.

    `CannotCompute` where the call has none, or card, chart or basin leave out what it takes.
    """
    asked = prepared.call.swing
    if asked is None:
        raise CannotCompute("the call swings on no anchor; expected a table [swing] in call.toml")
    ship = prepared.call.ship
    known = parameters or model_anchored(prepared, asked.bottom)[0]
    if len(known.anchors) != 2:
        raise CannotCompute(f"{ship.name}: the card tells no anchor that can be used")
    bower = known.anchors[unit_of(asked.anchor)]
    try:
        holding = float(rules.holding_on(bower.mass, "stockless", asked.bottom))
    except ValueError as error:
        raise CannotCompute(str(error)) from error
    basin = swing_basin(prepared)
    if basin is None:
        raise CannotCompute(f"no basin is as wide as {ship.name} is long; she is swung on an anchor only in a basin")
    north, east = (
        float(part) for part in prepared.call.waterway.plane.to_plane(basin.centre.latitude, basin.centre.longitude)
    )
    _, seconds, stream, ground, depth = water_at(prepared, start, north, east)
    if ground is None or not depth > prepared.floating.draught:
        raise CannotCompute(f"{basin.name}: no water is known there that floats her; she cannot be swung in it")
    shackle = ship.anchors.shackle or rules.CLASS_SHACKLE
    shackles = asked.shackles or short_stay(depth / shackle)
    cable = shackles * shackle + bower.hawse
    height = depth + bower.hawse
    return SwingOnAnchor(
        basin=basin,
        time=start + timedelta(seconds=seconds - prepared.water.elapsed(start)),
        side=asked.anchor,
        anchor=bower,
        bottom=asked.bottom,
        charted=prepared.call.waterway.areas[ground].bottom,
        water_depth=depth,
        clearance=depth - prepared.floating.draught,
        shackles=shackles,
        cable=cable,
        holds=float(greatest_pull(bower._replace(holding=holding), height, cable)) if cable > height else 0.0,
        presses=_presses(prepared, depth, math.hypot(*stream)),
        turned=turned(prepared),
    )


def short_stay(depth: float) -> float:
    """Shackles in the water at short stay, in halves: the most within one and a half depths, no fewer than the first
    beyond one; `depth` in shackles."""
    least, most = (each * depth / HALF_SHACKLE for each in SHORT_STAY)
    return max(math.floor(most), math.ceil(least)) * HALF_SHACKLE


def swing_basin(prepared: Prepared) -> Basin | None:
    """The basin nearest to the harbour's end of the track; None without one as wide as she is long."""
    plane, long = prepared.call.waterway.plane, prepared.call.ship.length_overall
    wide = [basin for basin in prepared.call.waterway.basins if basin.diameter >= long]
    if not wide:
        return None
    end = 0.0 if prepared.call.direction is Direction.OUTWARD else prepared.passage.track.length
    x, y, _ = prepared.passage.track.at(np.array([end]))

    def apart(basin: Basin) -> float:
        north, east = plane.to_plane(basin.centre.latitude, basin.centre.longitude)
        return math.hypot(float(north) - float(x[0]), float(east) - float(y[0]))

    return min(wide, key=apart)


def turned(prepared: Prepared) -> bool:
    """Whether the heading at the berth and the track's end lie so far apart that she is swung."""
    call, plane = prepared.call, prepared.call.waterway.plane
    berth = next(one for one in call.waterway.berths if one.name == call.berth)
    end = 0.0 if call.direction is Direction.OUTWARD else prepared.passage.track.length
    x, y, course = (float(part[0]) for part in prepared.passage.track.at(np.array([end])))
    ends = [plane.to_plane(place.latitude, place.longitude) for place in (berth.begin, berth.end)]
    face = quay([float(ends[0][0]), float(ends[1][0])], [float(ends[0][1]), float(ends[1][1])], (x, y))
    return abs(float(angle(alongside(face, berth.side_to, 0.0).heading - course))) > TURNED


def _presses(prepared: Prepared, depth: float, stream: float) -> float:
    """Stream and wind together on her side, by the heaviest method of the static balance. [N]"""
    wind, case = held_there(prepared, depth, stream, ABEAM)
    by_wind = max(abs(float(case.wind_loads(wind, ABEAM, each)[1])) for each in case.windages)
    return by_wind + abs(float(case.current_loads(stream, ABEAM)[1]))


def swing_findings(prepared: Prepared, start: datetime) -> tuple[Finding, ...]:
    """What the swing of a call comes to and what stands against it; nothing where she is swung on no anchor."""
    if prepared.call.swing is None:
        return ()
    try:
        found = swing_on_anchor(prepared, start)
    except CannotCompute as error:
        return (Finding(grade=Grade.STOP, subject="swing", sentence=f"The swing is not answered: {error}."),)
    told = (
        Finding(
            grade=grade,
            subject="swing",
            sentence=f"{found.basin.name}: {sentence}.",
            value=value,
            limit=limit,
            unit=unit,
            place=found.basin.name,
            time=found.time,
            source=source,
        )
        for grade, sentence, value, limit, unit, source in judged(found)
    )
    return (*unknown_pull(prepared, "swing"), *told)


def judged(found: SwingOnAnchor) -> Iterator[Judged]:
    """Grade, sentence, value, limit, unit and source of what a swing comes to."""
    if not found.turned:
        sentence = f"she is not turned on this call; the {found.side} anchor asked for stays home"
        yield (Grade.CAUTION, sentence, None, None, "", "")
        return
    yield (
        Grade.NOTE,
        f"swung to {found.side} on the {found.side} anchor, {counted(found.shackles)} in the water in "
        f"{text.metres(found.water_depth, 1)}; let go at no more than {text.knots(LET_GO_SPEED)} over the ground. "
        "Cables and pipes on the bed are on the official chart",
        found.shackles,
        None,
        "",
        "common practice, no source",
    )
    yield from ((Grade.STOP, why, None, None, "", "") for why in forbidden(found))
    if contradicted(found.bottom, found.charted):
        sentence = f"the call reckons with {found.bottom}; the chart says {found.charted}"
        yield (Grade.CAUTION, sentence, None, None, "", "")
    least, most = SHORT_STAY
    if not least <= found.depths <= most + HALF_SHACKLE * rules.CLASS_SHACKLE / found.water_depth:
        sentence = f"{counted(found.shackles)} in the water are {text.number(found.depths, 1)} depths"
        usual = f"an anchor is dredged on {least:g} to {most:g}"
        yield (Grade.CAUTION, f"{sentence}; {usual}", found.depths, most, "", "common practice, no source")
    if found.presses > found.holds:
        yield (
            Grade.CAUTION,
            f"stream and wind press a ship athwart with {text.pull_needed(found.presses)} where the anchor at short "
            f"stay drags with {text.pull(found.holds)}: she comes down with it while she swings",
            found.holds,
            found.presses,
            "N",
            "TradeForces",
        )
    stands = float(rules.standing_height(found.anchor.mass))
    if found.clearance < stands:
        yield (
            Grade.CAUTION,
            f"{text.clearance(found.clearance)} is between her keel and the bed, and the anchor stands up to "
            f"{text.metres(stands, 1)} from it: swung over it, she can be holed by it",
            found.clearance,
            stands,
            "m",
            "common practice, no source",
        )


def forbidden(found: SwingOnAnchor) -> Iterator[str]:
    """Why no anchor may be let go, or none would do anything there."""
    if found.basin.no_anchor:
        yield f"no anchor is let go there: {found.basin.no_anchor}"
    if found.holds <= 0.0:
        what = "is shorter than the way to the bed" if found.bottom != "rock" else f"on {found.bottom} holds nothing"
        yield f"the cable of {counted(found.shackles)} in the water {what}"


def counted(shackles: float) -> str:
    """Shackles in words."""
    if shackles == HALF_SHACKLE:
        return "half a shackle"
    return f"{shackles:g} {'shackle' if shackles == 1.0 else 'shackles'}"

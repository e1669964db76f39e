"""Each bend against her: radius in her lengths, wheel and counter-wheel by her model, where the wheel goes over."""

import math

import numpy as np

from leadsman import format as text
from leadsman.assessment.handling import LEAST_WHEEL
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.assessment.room_result import BendTurn
from leadsman.assessment.swept import Swept, SweptPath, edges, speed_into
from leadsman.assessment.width import conditions
from leadsman.figure import Finding, Grade
from leadsman.physics import swept_path, turn, width
from leadsman.portcall import Direction
from leadsman.units import DEGREE

IN_HAND = 20.0 * DEGREE  # a bend taken with no more leaves wheel in hand (sheet on water 4.4, from 15 to 20) [memory]
STRAIGHT = 1.0 * DEGREE  # a change of course below is steered, not turned


def bend_turns(prepared: Prepared, path: SweptPath, found: Account, swept: Swept) -> tuple[BendTurn, ...]:
    """One for each bend in the order sailed."""
    bends = prepared.passage.track.bends
    turning = [index for index, bend in enumerate(bends) if abs(bend.deflection) > STRAIGHT]
    return tuple(_bend_turn(prepared, path, found, swept, index) for index in turning)


def _bend_turn(prepared: Prepared, path: SweptPath, found: Account, swept: Swept, index: int) -> BendTurn:
    passage, ship = prepared.passage, prepared.call.ship
    bend = passage.track.bends[index]
    inside = (passage.distance >= bend.begin) & (passage.distance <= bend.end)
    speed = speed_into(passage, index)
    depth = float(np.min((found.depth + found.water_level)[inside]))
    balance, she = swept.turns[index], path.handling(depth)
    known = balance is not None and math.isfinite(balance.rudder)
    turned = None
    if she is not None and balance is not None and known:
        wheel = min(max(abs(balance.rudder), LEAST_WHEEL), she.hard_over)
        turned = she.turn(speed, wheel, bend.deflection, bend.radius)
    port, starboard = edges(passage)
    over_ground = float(np.interp(bend.begin, found.distance, found.speed_over_ground))
    return BendTurn(
        waypoint=_names(prepared)[bend.waypoint],
        distance=0.5 * (bend.begin + bend.end),
        radius=bend.radius,
        lengths=bend.radius / ship.length_overall,
        deflection=bend.deflection,
        speed=speed,
        rate_of_turn=math.copysign(float(turn.rate_of_turn(over_ground, bend.radius)), bend.deflection),
        rudder=balance.rudder if balance is not None and known else None,
        held=None if balance is None else balance.held,
        hard_over=None if she is None else she.hard_over,
        drift_angle=balance.drift_angle if balance is not None and known else None,
        wheel_over=None if turned is None else turned.wheel_over,
        meet=None if turned is None else turned.meet,
        time=None if turned is None else turned.time,
        available=float(np.min((port + starboard)[inside])),
        needed=_needed(prepared, found, index),
        swept=float(np.max(swept.width[inside])),
        straight_after=_straight_to_opposite(prepared, index),
    )


def _names(prepared: Prepared) -> list[str]:
    names = [point.name for point in prepared.call.waterway.waypoints]
    return names if prepared.call.direction is Direction.INWARD else names[::-1]


def _needed(prepared: Prepared, found: Account, index: int) -> float:
    """Concept width of the wider of both reaches, with what the bend adds for drift and response. [m]"""
    passage, ship = prepared.passage, prepared.call.ship
    straight = max(
        (width.two_way(asked) if passage.reaches[reach].fairway.two_way else width.one_way(asked)).metres(ship.beam)
        for reach in (index, index + 1)
        for asked, _ in [conditions(prepared, found, reach)]
    )
    block = prepared.floating.hull.block_coefficient
    drift = float(swept_path.bend_drift_width(ship.length_overall, passage.track.bends[index].radius, block))
    return straight + drift + float(swept_path.bend_response_width(ship.beam))


def _straight_to_opposite(prepared: Prepared, index: int) -> float | None:
    bends = prepared.passage.track.bends
    if index + 1 >= len(bends) or bends[index].deflection * bends[index + 1].deflection > 0.0:
        return None
    return bends[index + 1].begin - bends[index].end


def bend_findings(turns: tuple[BendTurn, ...], length_overall: float, tugs: bool) -> list[Finding]:
    """Where a bend is tighter than the guideline's, asks more wheel than leaves some in hand, or more than she has."""
    made = []
    for one in turns:
        if one.lengths < swept_path.LEAST_RADIUS:
            made.append(_tight(one, tugs))
        if one.held is False:
            made.append(_not_turned(one, tugs))
        elif one.rudder is not None and abs(one.rudder) > IN_HAND:
            made.append(_little_in_hand(one))
        least = swept_path.STRAIGHT_BETWEEN * length_overall
        if one.straight_after is not None and one.straight_after < least:
            made.append(
                Finding(
                    grade=Grade.NOTE,
                    subject="bend",
                    sentence=f"{one.waypoint}: {text.metres(max(one.straight_after, 0.0), 0)} straight before a bend "
                    f"the other way; {text.metres(least, 0)} are usual, five of her lengths.",
                    value=one.straight_after,
                    limit=least,
                    unit="m",
                    place=one.waypoint,
                    source="PIANC121",
                )
            )
    return made


def _tight(one: BendTurn, tugs: bool) -> Finding:
    least = swept_path.LEAST_RADIUS
    return Finding(
        grade=Grade.NOTE,
        subject="bend",
        sentence=f"{one.waypoint}: the bend has a radius of {text.metres(one.radius, 0)}, "
        f"{text.number(one.lengths, 1)} of her lengths; guidelines ask {least:g}, and "
        f"{swept_path.PREFERRED_RADIUS:g} without tugs" + ("." if tugs else " (none are ordered)."),
        value=one.lengths,
        limit=least,
        place=one.waypoint,
        source="PIANC121",
    )


def _not_turned(one: BendTurn, tugs: bool) -> Finding:
    return Finding(
        grade=Grade.CAUTION if tugs else Grade.STOP,
        subject="bend",
        sentence=f"{one.waypoint}: her estimated model does not keep a radius of {text.metres(one.radius, 0)} with the "
        f"wheel hard over ({text.degrees(one.hard_over or 0.0)})"
        + ("; the tugs must turn her." if tugs else "; a wider bend, a tug or a twist of her screws is needed."),
        place=one.waypoint,
        source="docs/methods/turn.md",
    )


def _little_in_hand(one: BendTurn) -> Finding:
    return Finding(
        grade=Grade.NOTE,
        subject="bend",
        sentence=f"{one.waypoint}: about {text.number(math.degrees(abs(one.rudder or 0.0)), 0)}° of wheel keeps her "
        f"on the arc, by her estimated model; over {text.number(math.degrees(IN_HAND), 0)}° leaves little in hand.",
        value=abs(one.rudder or 0.0),
        limit=IN_HAND,
        unit="rad",
        place=one.waypoint,
        source="docs/methods/turn.md",
    )

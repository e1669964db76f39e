"""What falls short of holding her, in sentences, and the single changes that would help.

Not held in the gusts planned for is a caution; not held even in the mean wind is a stop. Under way it is a caution: how
she steers is for the rehearsal to say, statics only tell that rudder and drift angle do not balance the wind.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from leadsman import format as text
from leadsman.assessment.holding.result import Anchoring, Change, HeldAt, HoldingAnswer, Landing, LiftingOff
from leadsman.figure import Finding, Grade
from leadsman.portcall import Direction, Margins, PortCall
from leadsman.units import KNOT, MINUTE, TONNE_FORCE

WORDS = {"under_way": "under way", "swinging": "swinging", "off_the_berth": "off the berth"}
PLACES = {
    "forward": "forward",
    "aft": "aft",
    "port_bow": "on the port bow",
    "starboard_bow": "on the starboard bow",
    "port_quarter": "on the port quarter",
    "starboard_quarter": "on the starboard quarter",
}
SWING_TIME = 20.0 * MINUTE  # s: 20 to 30 min for a swing with tugs ([EM1613] in the width page) [memory]
TOLD_STREAM = 0.2 * KNOT  # m/s: below this the stream is no news, setting
TUG_STEP = 5.0 * TONNE_FORCE  # N: tugs are asked for in steps of five tonnes


def unanswered(why: str) -> Finding:
    """Nothing is told about holding, and that is told."""
    return Finding(
        grade=Grade.CAUTION, subject="holding", sentence=f"Whether she can be held in the wind is not answered: {why}."
    )


def with_findings(answer: HoldingAnswer, call: PortCall, assumed: Iterable[Finding]) -> HoldingAnswer:
    """The answer with all that must be told about it."""
    found = [
        *(finding for place in answer.places for finding in _held(place, call.margins)),
        *_landing(answer.landing, call),
        *_lifting(answer.lifting_off, call),
        *_anchors(answer.anchoring),
        *{finding.sentence: finding for finding in assumed}.values(),
    ]
    return replace(answer, places=tuple(with_changes(place) for place in answer.places), findings=tuple(found))


def with_changes(place: HeldAt) -> HeldAt:
    """The place with what would hold her there."""
    return replace(place, changes=_changes(place))


def held_in_mean(place: HeldAt) -> bool:
    """Whether the mean wind without its gusts would be held: loads go with the square of the wind."""
    return place.wind_limit * place.gust >= place.wind_speed


def _held(place: HeldAt, margins: Margins) -> Iterator[Finding]:
    wind, limit = text.knots_whole(place.wind_speed), text.knots_below(place.wind_limit)
    tugs = f"with {len(place.tugs)} tug{'s' if len(place.tugs) > 1 else ''}" if place.tugs else "without tugs"
    where = f"{place.place}, {WORDS[place.situation]}"
    if place.situation == "swinging":
        where += f" through {text.course(place.heading)}°"
    if not place.balance.held:
        stop = place.situation != "under_way" and not held_in_mean(place)
        gusts = "not held" if stop or place.situation == "under_way" else "not held in the gusts"
        yield Finding(
            grade=Grade.STOP if stop else Grade.CAUTION,
            subject="holding",
            sentence=f"{where}: {gusts} of {wind} {tugs}; held to {limit} from there.".replace(
                "not held of", "not held in"
            ),
            value=place.wind_limit,
            limit=place.wind_speed,
            unit="m/s",
            place=place.place,
            time=place.time,
        )
    if place.situation == "swinging" and place.stream_rate >= TOLD_STREAM:
        yield Finding(
            grade=Grade.NOTE,
            subject="holding",
            sentence=f"{place.place}: swinging she goes with the stream, {text.knots(place.stream_rate)} towards "
            f"{text.course(place.stream_towards)}°: about {text.requirement(place.stream_rate * SWING_TIME, 0)} in "
            f"{text.number(SWING_TIME / MINUTE, 0)} minutes.",
            value=place.stream_rate * SWING_TIME,
            unit="m",
            place=place.place,
            time=place.time,
        )
    if place.balance.held and place.kicks:
        yield Finding(
            grade=Grade.NOTE,
            subject="holding",
            sentence=f"{where}: held in {wind} {tugs} only with kicks of {place.engine_order.replace('_', ' ')}.",
            place=place.place,
            time=place.time,
        )
    elif place.balance.held and not place.balance.in_hand:
        kept = [margins.rudder_in_hand, margins.thruster_in_hand, margins.tug_in_hand]
        yield Finding(
            grade=Grade.CAUTION if any(kept) else Grade.NOTE,
            subject="holding",
            sentence=f"{where}: held in {wind} {tugs}, but with less in hand than "
            f"{'required' if any(kept) else 'a quarter'}: {text.percent(place.balance.reserve)} more wind and stream "
            "would be the most.",
            value=place.balance.reserve,
            unit="-",
            place=place.place,
            time=place.time,
        )


def _landing(landing: Landing | None, call: PortCall) -> Iterator[Finding]:
    if landing is None or call.direction is Direction.OUTWARD:
        return
    if landing.allowed_energy is not None and landing.energy > landing.allowed_energy:
        assert landing.greatest_speed is not None, "an energy allowed gives a speed"
        yield Finding(
            grade=Grade.CAUTION,
            subject="landing",
            sentence=f"Landing at {text.landing_speed(landing.speed)} brings {text.energy(landing.energy)} to the "
            f"fenders, {text.energy(landing.allowed_energy)} are allowed: land at no more than "
            f"{text.landing_speed(landing.greatest_speed)}.",
            value=landing.energy,
            limit=landing.allowed_energy,
            unit="J",
            place=call.berth,
        )
    limit = landing.speed if landing.greatest_speed is None else landing.greatest_speed
    if landing.drift_speed > limit:
        yield Finding(
            grade=Grade.NOTE,
            subject="landing",
            sentence=f"Wind and stream set her on to the berth: let go half a beam off she lands at "
            f"{text.slow_speed(landing.drift_speed)}, more than {text.landing_speed(limit)}; hold her off.",
            value=landing.drift_speed,
            limit=limit,
            unit="m/s",
            place=call.berth,
        )


def _lifting(lifting: LiftingOff | None, call: PortCall) -> Iterator[Finding]:
    if lifting is None:
        return
    if call.direction is Direction.INWARD and lifting.lines:
        yield Finding(
            grade=Grade.NOTE,
            subject="lines",
            sentence=f"{call.berth}: wind and stream set her off with {text.kilonewtons(lifting.set_off_force)}; "
            f"{lifting.lines} breast lines must be fast before tugs and thrusters let go.",
            value=float(lifting.lines),
            place=call.berth,
        )


def _anchors(anchoring: Anchoring | None) -> Iterator[Finding]:
    if anchoring is None:
        return
    worst = min(anchoring.holding.values())
    bottoms = " or ".join(anchoring.holding)
    if worst < 1.0:
        yield Finding(
            grade=Grade.NOTE,
            subject="anchor",
            sentence=f"One anchor does not hold her in this wind at {anchoring.place} in {bottoms}, yawing counted; in "
            f"{text.knots_below(min(anchoring.greatest_wind.values()))} it does.",
            value=worst,
            limit=1.0,
            place=anchoring.place,
        )
    if anchoring.cable_on_board is not None and anchoring.cable > anchoring.cable_on_board:
        yield Finding(
            grade=Grade.NOTE,
            subject="anchor",
            sentence=f"Anchored at {anchoring.place} she needs {text.requirement(anchoring.cable, 0)} of cable and has "
            f"{text.clearance(anchoring.cable_on_board, 0)}.",
            value=anchoring.cable,
            limit=anchoring.cable_on_board,
            unit="m",
            place=anchoring.place,
        )


def _changes(place: HeldAt) -> tuple[Change, ...]:
    """The single changes that would hold her where she is not: one more tug, or less wind."""
    if place.balance.held:
        return ()
    limit = text.knots_below(place.wind_limit)
    lull = Change(
        kind="wind",
        works=place.wind_limit > KNOT,
        sentence=f"{place.place}: wind from there to {limit}."
        if place.wind_limit > KNOT
        else f"{place.place}: no wind from there would do.",
        change=place.wind_limit,
        unit="m/s",
    )
    return (lull,) if place.situation == "under_way" else (_more_tug(place), lull)


def _more_tug(place: HeldAt) -> Change:
    if place.extra is None:
        return Change(kind="tug", works=False, sentence=f"{place.place}: one more tug alone would not do.")
    pull = -(-place.extra.bollard_pull // TUG_STEP) * TUG_STEP
    return Change(
        kind="tug",
        works=True,
        sentence=f"{place.place}: one more tug of {text.pull(pull)} ({place.extra.kind}) {PLACES[place.extra.place]}.",
        change=pull,
        unit="N",
    )


def stopping(answer: HoldingAnswer) -> tuple[HeldAt, ...]:
    """The places that forbid the passage: stopped, and not held even in the mean wind."""
    return tuple(
        place
        for place in answer.places
        if place.situation != "under_way" and not place.balance.held and not held_in_mean(place)
    )

"""The card against published limits: steering gear, manoeuvring standards, pilot transfer, starting air."""

import math
from collections.abc import Iterator

from leadsman import format as text
from leadsman.assessment.card_reading import Check, Reading, Remark, spoken
from leadsman.equipment import EngineKind
from leadsman.figure import Grade
from leadsman.poster import Stop, TurningCircle, ZigZag
from leadsman.units import DEGREE, KNOT

STEERING_SWING = 65.0 * DEGREE  # 35 degrees on one side to 30 on the other, SOLAS II-1/29.3.2
STEERING_TIME = 28.0  # s, the same
STANDARD_LENGTH = 100.0  # m, from which MSC.137(76) applies; chemical tankers and gas carriers of any length
PILOT_CLIMB = (1.5, 9.0)  # m, SOLAS V/23.3.3
STARTS = {EngineKind.REVERSING_DIESEL: 12, EngineKind.GEARED_DIESEL: 6}  # air starts by class, IACS UR M61


def steering_gear(card: Reading) -> Iterator[Remark]:
    """From 35 degrees to 30 on the other side in 28 s, reckoned from a hard-over time at whatever angle."""
    steering, rudders = card.ship.steering, card.ship.rudders
    angle = max((rudder.maximum_angle for rudder in rudders if rudder.maximum_angle is not None), default=None)
    times = [(steering.hard_over_to_hard_over, steering.power_units), (steering.hard_over_with_one_unit, 1)]
    for seconds, units in times:
        if seconds is None or angle is None or not card.ship.propellers or seconds < 7.0:
            continue
        pumps = "" if units is None else f" with {units} power unit{'s' if units > 1 else ''}"
        rate = 2.0 * angle / seconds
        equivalent = STEERING_SWING / rate
        if equivalent <= STEERING_TIME * (1.0 + 1e-9):
            if seconds > STEERING_TIME:
                yield Remark(
                    grade=Grade.NOTE,
                    fields=("hard_over_to_hard_over",),
                    sentence=f"Hard over to hard over {seconds:.0f} s{pumps} is for {2.0 * angle / DEGREE:.0f}°, "
                    f"{rate / DEGREE:.2f}°/s; from 35° to 30° on the other side that makes {equivalent:.1f} s, within "
                    "the 28 s of SOLAS.",
                    value=equivalent,
                    limit=STEERING_TIME,
                    unit="s",
                )
            continue
        # With two units aboard the rule holds for both together on a cargo ship; one alone may be slower.
        alone = (
            units == 1 and steering.hard_over_with_one_unit == seconds and steering.hard_over_to_hard_over is not None
        )
        yield Remark(
            grade=Grade.NOTE if alone else Grade.CAUTION,
            fields=("hard_over_to_hard_over", "rudders"),
            sentence=f"Hard over to hard over {seconds:.0f} s{pumps} for {2.0 * angle / DEGREE:.0f}° is "
            f"{rate / DEGREE:.2f}°/s; from 35° to 30° on the other side that makes {equivalent:.1f} s, and SOLAS "
            "II-1/29 allows 28 s (2.32°/s). Is a power unit out, or was the time taken to the stops?",
            value=equivalent,
            limit=STEERING_TIME,
            unit="s",
        )


def turning_ability(card: Reading) -> Iterator[Remark]:
    """Posted turning circles: advance within 4.5 lengths, tactical diameter within 5."""
    for circle in card.ship.poster.turning_circles:
        if circle.depth_to_draught is not None:
            continue
        for name, limit in (("advance", 4.5), ("tactical_diameter", 5.0)):
            distance = getattr(circle, name)
            if distance is None or distance <= limit * card.length:
                continue
            yield _beyond(
                card, f"turning_circles {circle.side}", _circle(circle, name), distance, limit * card.length, "m"
            )
        if circle.tactical_diameter and circle.transfer and circle.transfer >= circle.tactical_diameter:
            yield Remark(
                grade=Grade.CAUTION,
                fields=(f"turning_circles {circle.side}",),
                sentence=f"The poster's transfer to {circle.side}, {text.metres(circle.transfer, 0)}, is not less "
                f"than the tactical diameter, {text.metres(circle.tactical_diameter, 0)}; about half is usual. Are "
                "they exchanged?",
                value=circle.transfer,
                limit=circle.tactical_diameter,
                unit="m",
            )


def _circle(circle: TurningCircle, name: str) -> str:
    return f"{spoken(name)} to {circle.side} ({circle.condition}, {circle.basis.value})"


def initial_turning(card: Reading) -> Iterator[Remark]:
    """With 10 degrees of rudder the heading changes 10 degrees within 2.5 lengths."""
    distance = card.ship.poster.initial_turning_distance
    if distance is not None and distance > 2.5 * card.length:
        yield _beyond(card, "initial_turning_distance", "initial turning distance", distance, 2.5 * card.length, "m")


def yaw_checking(card: Reading) -> Iterator[Remark]:
    """Posted overshoots of 10/10 and 20/20 zig-zags within the limits for her length and speed."""
    for zig_zag in card.ship.poster.zig_zags:
        if zig_zag.approach_speed is None:
            continue
        first, second = overshoot_limits(zig_zag.angle, card.length / zig_zag.approach_speed)
        for ordinal, overshoot, limit in (
            ("first", zig_zag.first_overshoot, first),
            ("second", zig_zag.second_overshoot, second),
        ):
            if overshoot is not None and limit is not None and overshoot > limit * (1.0 + 1e-9):
                yield _beyond(card, "zig_zags", _zig_zag(zig_zag, ordinal), overshoot, limit, "rad")


def _zig_zag(zig_zag: ZigZag, ordinal: str) -> str:
    angle = f"{zig_zag.angle / DEGREE:.0f}"
    return f"{ordinal} overshoot of the {angle}/{angle} zig-zag ({zig_zag.condition}, {zig_zag.basis.value})"


def overshoot_limits(angle: float, length_by_speed: float) -> tuple[float | None, float | None]:
    """First and second overshoot allowed for a zig-zag of this angle [rad], at L/V [s]; None where no limit is set.

    Source: [MSC137-76-Trials] 5.3, seen.
    """
    if math.isclose(angle, 20.0 * DEGREE, abs_tol=0.5 * DEGREE):
        return 25.0 * DEGREE, None
    if not math.isclose(angle, 10.0 * DEGREE, abs_tol=0.5 * DEGREE):
        return None, None
    held = min(max(length_by_speed, 10.0), 30.0)
    return (5.0 + 0.5 * held) * DEGREE, (17.5 + 0.75 * held) * DEGREE


def stopping_ability(card: Reading) -> Iterator[Remark]:
    """Posted full astern stop from sea speed: track reach within 15 lengths, never above 20."""
    for stop in card.ship.poster.stops:
        if stop.track_reach is None or not stop.engine_astern or stop.order != "full_sea_speed":
            continue
        if stop.track_reach > 15.0 * card.length:
            yield _beyond(card, "stops", _stop(stop), stop.track_reach, 15.0 * card.length, "m", "; 20 for the largest")


def _stop(stop: Stop) -> str:
    return f"track reach of the full astern stop from sea speed ({stop.condition}, {stop.basis.value})"


def reach_and_track(card: Reading) -> Iterator[Remark]:
    """Head reach cannot exceed the track reach, and the mean speed of a stop lies below the approach speed."""
    for stop in card.ship.poster.stops:
        track, head, duration, speed = stop.track_reach, stop.head_reach, stop.duration, stop.approach_speed
        if track is not None and head is not None and head > track * 1.001:
            yield Remark(
                grade=Grade.STOP,
                fields=("stops",),
                sentence=f"The poster's head reach from {spoken(stop.order)}, {text.metres(head, 0)}, is longer than "
                f"the track itself, {text.metres(track, 0)}: are the two exchanged?",
                value=head,
                limit=track,
                unit="m",
            )
        if track is not None and duration is not None and speed is not None and track / duration > speed:
            yield Remark(
                grade=Grade.CAUTION,
                fields=("stops",),
                sentence=f"The poster's stop from {spoken(stop.order)} covers {text.metres(track, 0)} in "
                f"{duration:.0f} s, {text.knots(track / duration)} on the mean, more than the {text.knots(speed)} she "
                "began with. Is the time in minutes?",
                value=track / duration,
                limit=speed,
                unit="m/s",
            )


def _beyond(card: Reading, field: str, name: str, value: float, limit: float, unit: str, more: str = "") -> Remark:
    applies = card.length >= STANDARD_LENGTH or card.ship.kind in ("tanker", "gas_carrier")
    if unit == "rad":
        shown, allowed = f"{value / DEGREE:.1f}°", f"{limit / DEGREE:.1f}°"
    else:
        shown = f"{text.metres(value, 0)}, {value / card.length:.1f} lengths,"
        allowed = f"{text.metres(limit, 0)} ({limit / card.length:.1f} lengths{more})"
    return Remark(
        grade=Grade.CAUTION if applies else Grade.NOTE,
        fields=("poster", field),
        sentence=f"The poster's {name} of {shown} is beyond the {allowed} of the manoeuvring standards"
        f"{'' if applies else ', which do not bind a ship under 100 m'}. Expect her to be slow to answer.",
        value=value,
        limit=limit,
        unit=unit,
    )


def pilot_ladder(card: Reading) -> Iterator[Remark]:
    """The climb is 1.5 to 9 m; above 9 m the pilot ladder needs an accommodation ladder or a side door."""
    ship, loading = card.ship, card.loading
    least, most = PILOT_CLIMB
    climb = loading.boarding_height
    if climb is not None and climb > most and loading.combination_ladder is not True:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("boarding_height", "combination_ladder"),
            sentence=f"The pilot would climb {text.metres(climb, 1)}; above 9 m SOLAS V/23 asks for an accommodation "
            "ladder together with the pilot ladder. Is a combination rigged?",
            value=climb,
            limit=most,
            unit="m",
        )
    elif climb is not None and climb < least:
        yield Remark(
            grade=Grade.NOTE,
            fields=("boarding_height",),
            sentence=f"The pilot steps up only {text.metres(climb, 1)}; SOLAS V/23 speaks of climbs from 1.5 m.",
            value=climb,
            limit=least,
            unit="m",
        )
    elif climb is None and ship.moulded_depth is not None and loading.combination_ladder is not True:
        freeboard = ship.moulded_depth - loading.mean_draught
        if freeboard > most:
            yield Remark(
                grade=Grade.NOTE,
                fields=("boarding_height", "moulded_depth"),
                sentence=f"Her deck lies about {text.metres(freeboard, 1)} above the water; above 9 m the pilot "
                "ladder needs an accommodation ladder with it, or a side door. What is rigged?",
                value=freeboard,
                limit=most,
                unit="m",
            )


def starting_air(card: Reading) -> Iterator[Remark]:
    """Consecutive starts: class asks for 12 of a reversing engine and 6 of another; 6 to 40 are believed."""
    engine = card.ship.engine
    starts = engine.consecutive_starts
    if starts is None:
        if engine.kind is EngineKind.REVERSING_DIESEL:
            yield Remark(
                grade=Grade.NOTE,
                fields=("consecutive_starts",),
                sentence="Her engine is started anew for every reversal, and the card does not say how many starts "
                "the air gives. How many?",
            )
        return
    required = STARTS.get(engine.kind)
    if required is not None and starts < required:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("consecutive_starts",),
            sentence=f"{starts} consecutive starts are fewer than the {required} class asks for such an engine. Is "
            "starting air short, or the figure wrong?",
            value=float(starts),
            limit=float(required),
            unit="-",
        )
    elif starts > 40:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("consecutive_starts",),
            sentence=f"{starts} consecutive starts are more than air bottles give; 12 to 24 are usual. Does it mean "
            "no limit?",
            value=float(starts),
            limit=40.0,
            unit="-",
        )


def steering_speed(card: Reading) -> Iterator[Remark]:
    """Least steering speed, at most 8 kn, and more with the propeller stopped."""
    steering = card.ship.steering
    running, stopped = steering.minimum_steering_speed, steering.minimum_steering_speed_propeller_stopped
    for speed, name in ((running, "minimum_steering_speed"), (stopped, "minimum_steering_speed_propeller_stopped")):
        if speed is not None and not 0.8 * KNOT <= speed <= 8.0 * KNOT:
            yield Remark(
                grade=Grade.CAUTION,
                fields=(name,),
                sentence=f"She is said to need {text.knots(speed)} to steer; 3 to 5 kn is usual and more than 8 kn "
                "unheard of. Is the figure right?",
                value=speed,
                limit=8.0 * KNOT,
                unit="m/s",
            )
    if running is not None and stopped is not None and stopped < running:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("minimum_steering_speed_propeller_stopped", "minimum_steering_speed"),
            sentence=f"She is said to steer down to {text.knots(stopped)} with the propeller stopped but only to "
            f"{text.knots(running)} with it turning; the race over the rudder makes it the other way round.",
            value=stopped,
            limit=running,
            unit="m/s",
        )


CHECKS = (
    Check(
        name="steering_gear",
        function=steering_gear,
        source="SOLASII1_29",
        about="hard-over time, at whatever maximum angle, brought to 35° to 30°: at most 28 s",
    ),
    Check(
        name="turning_ability",
        function=turning_ability,
        source="MSC137-76-Trials",
        about="posted advance <= 4.5 L, tactical diameter <= 5 L, transfer < tactical diameter",
    ),
    Check(
        name="initial_turning",
        function=initial_turning,
        source="MSC137-76-Trials",
        about="posted initial turning distance <= 2.5 L",
    ),
    Check(
        name="yaw_checking",
        function=yaw_checking,
        source="MSC137-76-Trials",
        about="posted 10/10 and 20/20 overshoots within the limits for L/V",
    ),
    Check(
        name="stopping_ability",
        function=stopping_ability,
        source="MSC137-76-Trials",
        about="posted track reach from sea speed <= 15 L",
    ),
    Check(
        name="reach_and_track",
        function=reach_and_track,
        source="CardIdentities",
        about="head reach <= track reach; mean speed of a stop below the approach speed",
    ),
    Check(
        name="pilot_ladder",
        function=pilot_ladder,
        source="SOLASV23",
        about="climb 1.5 to 9 m, above that a combination ladder or a side door",
    ),
    Check(
        name="starting_air",
        function=starting_air,
        source="IACSM61",
        about="consecutive starts at least 12 (reversing) or 6, at most 40",
    ),
    Check(
        name="steering_speed",
        function=steering_speed,
        source="CardPractice",
        about="least steering speed 0.8 to 8 kn, higher with the propeller stopped",
    ),
)

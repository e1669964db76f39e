"""The verdict, what binds, and the findings of one start."""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime, timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment import parts
from leadsman.assessment.prepare import OVERHEAD, OVERHEAD_AT, UNDERKEEL, UNDERKEEL_AT, Prepared
from leadsman.assessment.result import Account, Alongside, Binding, GatePassage, Leg, Touching, Verdict, Window
from leadsman.assessment.rules.told import broken_rule
from leadsman.assessment.touching import touching
from leadsman.figure import Finding, Grade
from leadsman.physics import squat
from leadsman.units import KNOT

LIMIT_WORDS = {"underkeel": "under the keel", "overhead": "overhead", "width": "to the side"}


def binding_at(prepared: Prepared, start: datetime) -> Binding:
    """The limit with the least margin for a start, in water level; broken ones first, the water before rules."""
    row = prepared.margins(np.array([prepared.water.elapsed(start)]))[0]
    if min(row[UNDERKEEL], row[OVERHEAD]) >= 0.0 and (broken := broken_rule(prepared, start)):
        return broken
    if min(row[UNDERKEEL], row[OVERHEAD]) >= 0.0 and (chance := _touching_binding(prepared, start)):
        return chance
    if row[UNDERKEEL] <= row[OVERHEAD]:
        return _underkeel_binding(prepared, start, int(row[UNDERKEEL_AT]))
    return _overhead_binding(prepared, start, int(row[OVERHEAD_AT]))


def _underkeel_binding(prepared: Prepared, start: datetime, station: int) -> Binding:
    passed, level = _passing(prepared, start, station)
    least = prepared.underkeel.least(np.array([level]), np.array([station]))
    part = int(least.part[0])
    distance = float(prepared.passage.distance[station])
    return Binding(
        limit="underkeel",
        place=_area_name(prepared, part, station),
        distance=distance,
        time=prepared.water.time(passed),
        value=float(least.net[0]),
        required=prepared.underkeel.required,
        part=parts.NAMES[part],
    )


def _overhead_binding(prepared: Prepared, start: datetime, station: int) -> Binding:
    passed, level = _passing(prepared, start, station)
    over = min((item for item in prepared.overheads if station in item.stations), key=lambda item: item.ceiling)
    return Binding(
        limit="overhead",
        place=over.gate.name,
        distance=over.distance,
        time=prepared.water.time(passed),
        value=float(over.clearance(np.array([level]))[0]),
        required=over.required,
    )


def _touching_binding(prepared: Prepared, start: datetime) -> Binding | None:
    """The chance of touching where it is more than the call allows."""
    if prepared.call.margins.touching is None:
        return None
    found = touching(prepared.chances, prepared.levels(prepared.water.elapsed(start)))
    if found.allowed:
        return None
    worst = int(np.argmax([reach.probability for reach in found.reaches]))
    station = int(np.flatnonzero(prepared.passage.reach == worst)[0])
    return Binding(
        limit="touching",
        place=found.reaches[worst].reach,
        distance=float(prepared.passage.distance[station]),
        time=_passing_time(prepared, start, station),
        value=found.to_spare or 0.0,
        required=0.0,
        rule="Chance of touching",
        words=f"{text.chance(found.probability)}, at most {text.chance(found.limit or 0.0)} is allowed",
    )


def _passing_time(prepared: Prepared, start: datetime, station: int) -> datetime:
    return prepared.water.time(float(prepared.passed(start)[station]))


def touching_findings(found: Touching, source: str) -> list[Finding]:
    """A stop where the chance is more than allowed."""
    if found.allowed or found.limit is None:
        return []
    return [
        Finding(
            grade=Grade.STOP,
            subject="touching",
            sentence=f"The chance of touching on the passage is {text.chance(found.probability)}; at most "
            f"{text.chance(found.limit)} is allowed.",
            value=found.probability,
            limit=found.limit,
            source=source,
        )
    ]


def _passing(prepared: Prepared, start: datetime, station: int) -> tuple[float, float]:
    """(when she passes the station, water level there then)."""
    passed = float(prepared.passed(start)[station])
    return passed, float(prepared.water.level.level(prepared.passage.distance[station], passed))


def _area_name(prepared: Prepared, part: int, station: int) -> str:
    """The depth area that binds has the name a pilot knows."""
    return prepared.call.waterway.areas[int(prepared.underkeel.depth.area[part, station])].name


def verdict(binding: Binding, findings: tuple[Finding, ...], windows: tuple[Window, ...], start: datetime) -> Verdict:
    """Go or not, in one sentence with the number that decides."""
    if binding.rule:
        sentence = f"{binding.rule}, {binding.place}: {binding.words}. "
        return Verdict(go=False, word="no go", sentence=sentence + _next_window(windows, start), binding=binding)
    words = LIMIT_WORDS[binding.limit] + (f" ({binding.part})" if binding.part else "")
    has = f"{text.clearance(binding.value)} {words} at {binding.place} at {text.clock(binding.time)}"
    stops = [finding for finding in findings if finding.grade is Grade.STOP]
    cautions = any(finding.grade is Grade.CAUTION for finding in findings)
    if binding.margin < 0.0:
        lacking = text.requirement(-binding.margin)
        sentence = f"She has {has}; {text.requirement(binding.required)} is required: {lacking} short. "
        return Verdict(go=False, word="no go", sentence=sentence + _next_window(windows, start), binding=binding)
    if stops:
        return Verdict(go=False, word="no go", sentence=stops[0].sentence, binding=binding)
    sentence = f"Least is {has}, {text.clearance(binding.margin)} more than required."
    word = "go with cautions" if cautions else "go"
    return Verdict(go=True, word=word, sentence=sentence, binding=binding)


def _next_window(windows: tuple[Window, ...], start: datetime) -> str:
    later = next((window for window in windows if window.opens > start), None)
    if later is None:
        return "No window opens later in the time searched."
    opens, closes, _ = text.window(later.opens, later.closes)
    return f"The next window opens on {opens} and closes on {closes}."


def findings(
    prepared: Prepared,
    found: Account,
    gates: tuple[GatePassage, ...],
    legs: tuple[Leg, ...],
    after: Alongside | None,
    start: datetime,
) -> list[Finding]:
    """Facts about this start."""
    return [
        *_broken_underkeel(prepared, found, start),
        *_broken_gates(gates),
        *_room(prepared, legs),
        *_speeds(prepared, found, legs),
        *_alongside(after),
        *_method_limits(prepared, found),
        *_unknown_survey(prepared),
    ]


def heaviest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops, then cautions, then notes; in their own order within."""
    order = {Grade.STOP: 0, Grade.CAUTION: 1, Grade.NOTE: 2}
    return tuple(sorted(findings, key=lambda finding: order[finding.grade]))


def _broken_underkeel(prepared: Prepared, found: Account, start: datetime) -> list[Finding]:
    """One finding for each depth area in which the net clearance is less than required."""
    made = []
    broken = found.margin < 0.0
    for area in dict.fromkeys(int(index) for index in found.area[broken]):
        inside = broken & (found.area == area)
        worst = int(np.flatnonzero(inside)[np.argmin(found.margin[inside])])
        time = start + timedelta(seconds=float(found.elapsed[worst]))
        name = prepared.call.waterway.areas[area].name
        made.append(
            Finding(
                grade=Grade.STOP,
                subject="underkeel",
                sentence=f"Under the {found.part[worst]} at {name}: {text.clearance(found.net[worst])} net at "
                f"{text.clock(time)}, {text.requirement(found.required[worst])} required.",
                value=float(found.net[worst]),
                limit=float(found.required[worst]),
                unit="m",
                place=name,
                time=time,
                source=prepared.call.margins.source,
            )
        )
    return made


def _broken_gates(gates: tuple[GatePassage, ...]) -> list[Finding]:
    return [
        Finding(
            grade=Grade.STOP,
            subject="width" if gate.kind == "narrows" else "overhead",
            sentence=f"{gate.name}: {text.clearance(gate.value)} at {text.clock(gate.time)}, "
            f"{text.requirement(gate.required)} required.",
            value=gate.value,
            limit=gate.required,
            unit="m",
            place=gate.name,
            time=gate.time,
        )
        for gate in gates
        if gate.value < gate.required
    ]


def _room(prepared: Prepared, legs: tuple[Leg, ...]) -> list[Finding]:
    required = prepared.call.margins.width
    if required is None:
        return []
    made = []
    for leg in legs:
        room = min(leg.room_port, leg.room_starboard)
        if room < required:
            made.append(
                Finding(
                    grade=Grade.STOP,
                    subject="width",
                    sentence=f"{leg.reach}: {text.clearance(room, 0)} from what she sweeps to the edge, "
                    f"{text.requirement(required, 0)} required.",
                    value=room,
                    limit=required,
                    unit="m",
                    place=leg.reach,
                )
            )
    return made


def _speeds(prepared: Prepared, found: Account, legs: tuple[Leg, ...]) -> list[Finding]:
    made = []
    if any(leg.order for leg in legs):
        made.append(
            Finding(
                grade=Grade.NOTE,
                subject="speed",
                sentence="Speeds by engine order are the card's, for deep water; where it is shallow she makes less "
                "and comes later than told.",
            )
        )
    steering = prepared.call.ship.steering.minimum_steering_speed
    for index, leg in enumerate(legs):
        inside = prepared.passage.reach == index
        limit = prepared.passage.reaches[index].maximum_speed
        fastest = float(np.max(found.speed_over_ground[inside]))
        slowest = float(np.min(found.speed_over_ground[inside]))
        if limit is not None and fastest > limit:
            made.append(
                _speed(
                    leg,
                    f"{text.knots_above(fastest)} over the ground, the local limit is {text.knots(limit)}",
                    fastest,
                    limit,
                )
            )
        if steering is not None and leg.speed < steering:
            made.append(
                _speed(
                    leg,
                    f"{text.knots(leg.speed)} through the water is below her least steering speed of the card, "
                    f"{text.knots(steering)}",
                    leg.speed,
                    steering,
                )
            )
        if slowest < 0.5 * KNOT:
            made.append(
                _speed(leg, "the stream stops her: less than half a knot is made over the ground", slowest, 0.5 * KNOT)
            )
    return made


def _speed(leg: Leg, what: str, value: float, limit: float) -> Finding:
    return Finding(
        grade=Grade.CAUTION,
        subject="speed",
        sentence=f"{leg.reach}: {what}.",
        value=value,
        limit=limit,
        unit="m/s",
        place=leg.reach,
    )


def _alongside(after: Alongside | None) -> list[Finding]:
    if after is None or after.static >= after.required:
        return []
    when, less = text.day_clock(after.time), text.requirement(-after.static)
    if not after.aground_allowed:
        grade = Grade.STOP
        words = f"{text.clearance(after.static)} under her at {when}, {text.requirement(after.required)} required"
    elif after.static < 0.0:
        grade = Grade.CAUTION
        words = f"she takes the ground, as this berth allows; at {when} the water stands {less} too low to float her"
    else:
        grade = Grade.NOTE
        words = f"{text.clearance(after.static)} under her at {when}; she may take the ground there"
    return [
        Finding(
            grade=grade,
            subject="alongside",
            sentence=f"Alongside {after.berth}: {words}.",
            value=after.static,
            limit=after.required,
            unit="m",
            place=after.berth,
            time=after.time,
        )
    ]


def _method_limits(prepared: Prepared, found: Account) -> list[Finding]:
    """Squat methods that govern somewhere outside their published limits, folded to one finding a method."""
    squats = prepared.underkeel.least(found.water_level).squats
    columns = np.arange(len(found.distance))
    outside = squats.outside[squats.method, columns]
    made = []
    for row, count in Counter(int(row) for row in squats.method[outside]).items():
        inside = outside & (squats.method == row)
        worst = int(np.flatnonzero(inside)[np.argmax(found.squat[inside])])
        name = squat.NAMES[row]
        limits = ", ".join(
            f"{_quantity(quantity)} {low:g}" + (" and more" if high == np.inf else f" to {high:g}")
            for quantity, (low, high) in squat.METHODS[name].limits.items()
        )
        made.append(
            Finding(
                grade=Grade.NOTE,
                subject="method_limits",
                sentence=f"Squat by {name.replace('_', ' ').capitalize()} governs at {count} of {len(columns)} places "
                f"outside its published limits ({limits}); up to {text.metres(float(found.squat[worst]))}, taken as "
                "indicative.",
                value=float(found.squat[worst]),
                unit="m",
                place=prepared.passage.place(float(found.distance[worst])),
                source=squat.METHODS[name].source,
            )
        )
    return made


def _quantity(name: str) -> str:
    """A quantity of a method's limits as it is spoken."""
    return name.replace("froude_depth", "depth Froude number").replace("_to_", " over ").replace("_", " ")


def _unknown_survey(prepared: Prepared) -> list[Finding]:
    """Areas under the track whose survey says nothing of its uncertainty: their depths count as exact."""
    under = dict.fromkeys(int(index) for index in prepared.underkeel.depth.area.ravel())
    areas = prepared.call.waterway.areas
    names = list(dict.fromkeys(areas[index].name for index in under if areas[index].uncertainty is None))
    if not names:
        return []
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return [
        Finding(
            grade=Grade.CAUTION,
            subject="survey",
            sentence=f"No survey uncertainty is given for {', '.join(names[:3])}{more}: depths there count as exact.",
            place=names[0],
        )
    ]

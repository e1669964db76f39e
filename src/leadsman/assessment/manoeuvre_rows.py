"""The trials of a ship as rows of figures, one after another as a mariner reads them."""

import math
from collections.abc import Iterator

from leadsman import format as text
from leadsman.assessment.manoeuvres_result import Manoeuvre
from leadsman.simulation.setting import speed_of
from leadsman.simulation.slow import Swing
from leadsman.simulation.stopping import Stop
from leadsman.simulation.trials import Trials
from leadsman.simulation.turning import TurningCircle

BY = {"full_astern": "full astern", "stop": "engine stopped"}
WIND = "wind 10 m/s"
TWIST = "Twist on two screws, half ahead and astern"


def rows(found: Trials) -> list[Manoeuvre]:
    """Every figure of a set of trials; the order and names are the same for every variant of a ship."""
    return [*_way(found), *_turning(found), *_yaw(found), *_stopping(found), *_slow(found), *_criteria(found)]


def _way(found: Trials) -> Iterator[Manoeuvre]:
    for order in found.aground:
        yield _row(f"Speed, {order}: she touches the bottom", "speed", None, "m/s")
    for speed in found.speeds:
        if speed.speed > 0.0:
            yield _row("Speed", speed.order, speed.speed, "m/s")
    for gathering in found.accelerations:
        trial = f"From rest, {gathering.order}"
        yield _row(trial, "to nine tenths of the speed", gathering.time, "s")
        yield _row(trial, "in a distance of", gathering.distance, "m", found.length)


def _turning(found: Trials) -> Iterator[Manoeuvre]:
    for circle in found.circles:
        angle = abs(math.degrees(circle.rudder))
        yield from _circle(f"Turn {angle:.0f}° {text.side(circle.side)}, {circle.order}", circle, found.length)
    for circle in found.accelerating_turns:
        trial = f"Turn from rest {text.side(circle.side)}, {circle.order}"
        yield _row(trial, "advance", circle.advance, "m", found.length)
        yield _row(trial, "tactical diameter", circle.tactical_diameter, "m", found.length)
        yield _row(trial, "time to 90°", circle.time_90, "s")


def _circle(trial: str, circle: TurningCircle, length: float) -> Iterator[Manoeuvre]:
    yield _row(trial, "advance", circle.advance, "m", length)
    yield _row(trial, "transfer", circle.transfer, "m", length)
    yield _row(trial, "tactical diameter", circle.tactical_diameter, "m", length)
    yield _row(trial, "time to 90°", circle.time_90, "s")
    yield _row(trial, "speed after 180°", circle.speed_180, "m/s")
    yield _row(trial, "steady rate of turn", abs(circle.steady_rate), "rad/s")


def _yaw(found: Trials) -> Iterator[Manoeuvre]:
    for zigzag in found.zigzags:
        degrees = math.degrees(zigzag.angle)
        trial = f"Zig-zag {degrees:.0f}/{degrees:.0f}, first to {text.side(zigzag.side)}"
        for number in (1, 2):
            value = zigzag.overshoots[number - 1] if len(zigzag.overshoots) >= number else None
            yield _row(trial, f"overshoot {number}", value, "rad")
    yield _row("Spiral", "rudder angles with two answers", found.spiral.loop_width, "rad")
    yield _row("Spiral", "rates of turn apart, rudder amidships", found.spiral.loop_height, "rad/s")
    trial = "Pull-out, rate of turn left"
    yield _row(trial, "from starboard", found.pull_out.starboard, "rad/s")
    yield _row(trial, "from port", found.pull_out.port, "rad/s")


def _stopping(found: Trials) -> Iterator[Manoeuvre]:
    for stop in found.stops:
        trial = f"Stop from {stop.order} by {BY[stop.stopped_by]}"
        yield from _stop(trial if stop.stopped_by != "stop" else f"{trial}, to 1 kn", stop, found.length)


def _stop(trial: str, stop: Stop, length: float) -> Iterator[Manoeuvre]:
    done = stop.stopped
    yield _row(trial, "track reach", stop.track_reach if done else None, "m", length)
    yield _row(trial, "time", stop.time if done else None, "s")
    if done and stop.stopped_by != "stop":
        yield _row(trial, "heading change, starboard positive", stop.heading_change, "rad")
    if not done:
        yield _row(trial, f"speed after {stop.time / 60.0:.0f} min", speed_of(stop.track[-1]), "m/s")


def _slow(found: Trials) -> Iterator[Manoeuvre]:
    kick = found.kick
    trial = f"Kick {kick.order} for {kick.duration:.0f} s, rudder hard over, from rest"
    yield _row(trial, "heading change, engine stopped again", kick.heading_change, "rad")
    yield _row(trial, "heading change a minute later", kick.later_heading_change, "rad")
    yield _row(trial, "speed gathered", kick.speed, "m/s")
    if found.thruster_swing is not None:
        yield from _swing("On the bow thruster, at rest", found.thruster_swing)
    if found.twist is not None:
        yield from _swing(TWIST, found.twist)
        yield _row(TWIST, "astern order that gives no headway", found.twist_astern_share, "of ahead")
    yield _row("Steering", f"least speed, engine stopped, {WIND}", found.minimum_steering_speed, "m/s")
    if found.drift is not None:
        trial = f"Adrift, {WIND}"
        yield _row(trial, "lies to the wind at", abs(found.drift.heading_to_wind), "rad")
        yield _row(trial, "drifts at", found.drift.speed, "m/s")


def _swing(trial: str, swing: Swing) -> Iterator[Manoeuvre]:
    yield _row(trial, "rate of turn", abs(swing.rate), "rad/s")
    yield _row(trial, "time to 90°", swing.time_90, "s")
    yield _row(trial, "she shifts meanwhile", swing.shift, "m")


def _criteria(found: Trials) -> Iterator[Manoeuvre]:
    for criterion in found.criteria:
        yield Manoeuvre(
            trial="MSC.137(76)",
            quantity=criterion.name,
            value=criterion.value,
            unit=criterion.unit,
            lengths=None,
            limit=criterion.limit,
            kept=criterion.kept,
        )


def _row(trial: str, quantity: str, value: float | None, unit: str, length: float | None = None) -> Manoeuvre:
    return Manoeuvre(
        trial=trial.replace("_", " "),
        quantity=quantity.replace("_", " "),
        value=value,
        unit=unit,
        lengths=None if length is None or value is None else value / length,
        limit=None,
        kept=None,
    )

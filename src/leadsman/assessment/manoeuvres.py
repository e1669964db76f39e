"""The standard trials of a ship from her card alone: what the model says she does, marked as estimated."""

import math

from leadsman import format as text
from leadsman.assessment.estimates import particulars as estimated_figures
from leadsman.assessment.own_figures import with_own_figures
from leadsman.assessment.result import Manoeuvre, Manoeuvres
from leadsman.errors import CannotCompute
from leadsman.ship import Loading, Ship
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.from_ship import particulars, thruster
from leadsman.simulation.state import deep_calm, even_depth
from leadsman.simulation.trials import Trials, trials
from leadsman.units import SEA_WATER_DENSITY

LEAST_DEPTH_TO_DRAUGHT = 1.05  # shallower than this the model's shallow-water factors have no source


def manoeuvres(ship: Ship, loading: Loading, depth_to_draught: float | None = None) -> Manoeuvres:
    """Turning, yaw checking, stopping, speeds and low-speed work; deep water unless a depth by draught is given.

    `CannotCompute` where the card leaves out, or records as defective, what the model cannot do without.
    """
    if depth_to_draught is not None and not depth_to_draught >= LEAST_DEPTH_TO_DRAUGHT:
        raise CannotCompute(
            f"depth by draught {depth_to_draught:g} is too shallow for the model; expected at least "
            f"{LEAST_DEPTH_TO_DRAUGHT:g}"
        )
    density = loading.water_density or SEA_WATER_DENSITY
    around = (
        deep_calm(density) if depth_to_draught is None else even_depth(depth_to_draught * loading.mean_draught, density)
    )
    model, assumed = model_of(ship, loading)
    try:
        found = trials(model.setting(around), thruster(with_own_figures(ship, loading)[0]))
    except ValueError as error:
        raise _untried(ship, error) from error
    return Manoeuvres(
        ship=ship.name,
        depth_to_draught=depth_to_draught,
        rows=tuple(_rows(found)),
        assumed=assumed,
    )


def model_of(ship: Ship, loading: Loading) -> tuple[Estimate, tuple[str, ...]]:
    """The model of a ship so loaded, the handler's own figures first, and what had to be taken for granted.

    `CannotCompute` where the card leaves out, or records as defective, what the model cannot do without.
    """
    ship, loading = with_own_figures(ship, loading)
    known = estimated_figures(ship, loading)

    def value(name: str) -> float | None:
        return known[name].value if name in known else None

    try:
        reading = particulars(
            ship,
            loading,
            length=value("length_between_perpendiculars"),
            displacement=value("displacement"),
            lateral_windage=value("lateral_windage"),
            frontal_windage=value("frontal_windage"),
            windage_centroid=value("windage_forward") or 0.0,
        )
        return estimate(reading.particulars), reading.assumed
    except ValueError as error:
        raise _untried(ship, error) from error


def _untried(ship: Ship, error: ValueError) -> CannotCompute:
    return CannotCompute(f"{ship.name} cannot be tried: {error}")


def _rows(found: Trials) -> list[Manoeuvre]:
    rows = [_row("Speed", speed.order, speed.speed, "m/s") for speed in found.speeds if speed.speed > 0.0]
    for circle in found.circles:
        trial = f"Turn {abs(math.degrees(circle.rudder)):.0f}° {text.side(circle.side)}, {circle.order}"
        for name, value in (
            ("advance", circle.advance),
            ("transfer", circle.transfer),
            ("tactical diameter", circle.tactical_diameter),
        ):
            rows.append(_row(trial, name, value, "m", found.length))
        rows.append(_row(trial, "speed after 180°", circle.speed_180, "m/s"))
    for zigzag in found.zigzags:
        degrees = math.degrees(zigzag.angle)
        trial = f"Zig-zag {degrees:.0f}/{degrees:.0f}, first to {text.side(zigzag.side)}"
        for number, overshoot in enumerate(zigzag.overshoots[:2], start=1):
            rows.append(_row(trial, f"overshoot {number}", overshoot, "rad"))
    for stop in found.stops:
        trial = f"Stop from {stop.order} by {'full astern' if stop.stopped_by == 'full_astern' else 'engine stopped'}"
        if stop.stopped:
            rows.append(_row(trial, "track reach", stop.track_reach, "m", found.length))
            rows.append(_row(trial, "time", stop.time, "s"))
        else:
            rows.append(_row(trial, "speed when the trial ended", stop.end_speed, "m/s"))
    if found.thruster_swing is not None:
        rows.append(_row("On the bow thruster, at rest", "rate of turn", found.thruster_swing.rate, "rad/s"))
    if found.twist is not None:
        rows.append(_row("Twist on two screws", "rate of turn", found.twist.rate, "rad/s"))
    rows.append(_row("Steering", "least speed, engine stopped, wind 10 m/s", found.minimum_steering_speed, "m/s"))
    rows += [
        Manoeuvre(
            trial="MSC.137(76)",
            quantity=criterion.name,
            value=criterion.value,
            unit=criterion.unit,
            lengths=None,
            limit=criterion.limit,
            kept=criterion.kept,
        )
        for criterion in found.criteria
    ]
    return rows


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

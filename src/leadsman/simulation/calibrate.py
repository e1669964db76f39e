"""Fit the uncertain factors of a ship to the manoeuvres her card, poster or trials state: most probable values and
their bands.

Maximum a posteriori: the squares of how far each figure is missed, in its own deviation, and of how far each factor
leaves 1, in its prior deviation, are made least together. A factor is freed only if a figure speaks of it, and never
more factors than figures; the others stay at 1. The bands are those of all factors together: a figure also ties those
that were not freed to those that were, so that ships drawn from the bands show the figure as narrowly as it was stated.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.optimize import least_squares

from leadsman.simulation import slow, stopping, turning
from leadsman.simulation.estimate import Estimate
from leadsman.simulation.factors import Factors, applied
from leadsman.simulation.parameters import Array, Parameters, packed
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Surroundings, deep_calm


class Figure(StrEnum):
    """What a figure of card, poster or booklet measures."""

    ADVANCE = "advance"
    TRANSFER = "transfer"
    TACTICAL_DIAMETER = "tactical_diameter"
    TIME_TO_90 = "time_to_90"
    STEADY_SPEED = "steady_speed"
    FIRST_OVERSHOOT = "first_overshoot"
    SECOND_OVERSHOOT = "second_overshoot"
    TRACK_REACH = "track_reach"
    HEAD_REACH = "head_reach"
    STOPPING_TIME = "stopping_time"
    COASTING_REACH = "coasting_reach"
    COASTING_TIME = "coasting_time"
    THRUSTER_RATE = "thruster_rate"


INFORMS: dict[Figure, tuple[str, ...]] = {  # sheet section 11: which figure fixes which coefficient, most telling first
    Figure.TACTICAL_DIAMETER: ("rudder_force", "asymmetry"),
    Figure.ADVANCE: ("yaw_inertia", "rudder_force"),
    Figure.TRANSFER: ("yaw_damping", "rudder_force"),
    Figure.TIME_TO_90: ("yaw_inertia", "turning_drag"),
    Figure.STEADY_SPEED: ("turning_drag",),
    Figure.FIRST_OVERSHOOT: ("yaw_damping", "yaw_by_drift"),
    Figure.SECOND_OVERSHOOT: ("yaw_by_drift", "yaw_damping"),
    Figure.TRACK_REACH: ("astern_thrust", "reversal_time"),
    Figure.HEAD_REACH: ("astern_thrust", "reversal_time"),
    Figure.STOPPING_TIME: ("astern_thrust", "reversal_time"),
    Figure.COASTING_REACH: ("resistance",),
    Figure.COASTING_TIME: ("resistance",),
    Figure.THRUSTER_RATE: ("lateral_drag",),
}


@dataclass(frozen=True, kw_only=True)
class Observation:
    """One stated figure: SI and radians, positive. `deviation` is one standard deviation as a share of the value.

    `order` is the engine order it began from; `rudder` the angle held or the zig-zag angle, positive to starboard,
    negative to port; `by` the order she was stopped with; `thrust` and `position` of the thruster.
    """

    figure: Figure
    value: float
    deviation: float
    order: str = "full_sea_speed"
    rudder: float = 0.0
    by: str = "full_astern"
    thrust: float = 0.0
    position: float = 0.0

    def __post_init__(self) -> None:
        if not (np.isfinite(self.value) and self.value > 0.0):
            raise ValueError(f"{self.figure}: {self.value} is no measured figure; a number above zero is needed")
        if not (np.isfinite(self.deviation) and self.deviation > 0.0):
            raise ValueError(f"deviation of {self.figure}: {self.deviation}; a share above zero is needed")


@dataclass(frozen=True, kw_only=True)
class Residual:
    """A figure as stated, as the estimate had it and as the calibrated ship has it; None where she never got that
    far."""

    observation: Observation
    estimated: float | None
    calibrated: float | None

    @property
    def missed_by(self) -> float | None:
        """What is left between calibrated and stated, in deviations of the figure."""
        if self.calibrated is None:
            return None
        return float(np.log(self.calibrated / self.observation.value)) / self.observation.deviation


@dataclass(frozen=True, kw_only=True)
class Calibration:
    """Most probable factors, covariance of their logarithms [factors, factors], the calibrated ship, and what is left
    unexplained."""

    factors: Factors
    covariance: Array
    free: tuple[str, ...]
    parameters: Parameters
    residuals: tuple[Residual, ...]

    @property
    def deviation(self) -> Factors:
        """Posterior standard deviation of the logarithm of each factor."""
        return Factors(*np.sqrt(np.diag(self.covariance)).tolist())


SLOPE_STEP = 0.02  # of the logarithms, either way, for the slopes of the figures
NOT_REACHED = 3.0  # deviations charged for a figure the simulated ship never reaches


def freed(observations: Sequence[Observation]) -> tuple[str, ...]:
    """The factors to free: those the figures speak of, most telling first, never more than there are figures.

    Asymmetry is freed only where circles to both sides are stated.
    """
    sides = {np.sign(found.rudder) for found in observations if found.figure is Figure.TACTICAL_DIAMETER}
    chosen: list[str] = []
    ranks = max(len(names) for names in INFORMS.values())
    for rank in range(ranks):
        for found in observations:
            names = INFORMS[found.figure]
            if rank < len(names) and names[rank] not in chosen and len(chosen) < len(observations):
                if names[rank] == "asymmetry" and len(sides) < 2:
                    continue
                chosen.append(names[rank])
    return tuple(name for name in Factors._fields if name in chosen)


@dataclass(frozen=True)
class _Problem:
    """The least-squares problem: figures stated, factors freed (their places), prior deviations, the water."""

    estimate: Estimate
    observations: Sequence[Observation]
    places: list[int]
    prior: Array
    around: Surroundings

    def all_logs(self, free_logs: Array) -> Array:
        logs = np.zeros(len(self.prior))
        logs[self.places] = free_logs
        return logs

    def predicted(self, logs: Array) -> list[float | None]:
        ship = applied(self.estimate.parameters, Factors(*np.exp(logs).tolist()))
        setting = Setting(fleet=packed(ship), orders=self.estimate.orders, around=self.around)
        return predicted(setting, self.observations)

    def missed(self, logs: Array) -> Array:
        """By how many of its deviations each figure is missed."""
        return np.array(
            [
                NOT_REACHED if value is None else float(np.log(value / stated.value)) / stated.deviation
                for value, stated in zip(self.predicted(logs), self.observations, strict=True)
            ]
        )

    def residuals(self, shifted: Array) -> Array:
        """Figures and prior together; shifted by one, because the solver takes its difference step as a share of the
        variable, which is nil at the prior.
        """
        free_logs = shifted - 1.0
        return np.concatenate([self.missed(self.all_logs(free_logs)), free_logs / self.prior[self.places]])

    def covariance(self, logs: Array) -> Array:
        """Of the logarithms of all factors at the solution, from the slopes of the figures and the prior."""
        slopes = np.empty((len(self.observations), len(self.prior)))
        for place in range(len(self.prior)):
            aside = np.zeros(len(self.prior))
            aside[place] = SLOPE_STEP
            slopes[:, place] = (self.missed(logs + aside) - self.missed(logs - aside)) / (2.0 * SLOPE_STEP)
        found: Array = np.linalg.inv(slopes.T @ slopes + np.diag(self.prior**-2.0)).astype(np.float64)
        return found


def calibrate(
    estimate: Estimate, observations: Sequence[Observation], around: Surroundings | None = None
) -> Calibration:
    """Fit a ship's uncertain factors to stated figures.

    Source: the order of identification of the manoeuvring sheet, section 11; least squares in the logarithms with the
    prior of `factors.PRIOR`.

    Raises
    ------
    ValueError
        If no figure is given.
    """
    if not observations:
        raise ValueError("calibration: no figure is given; one is needed at least")
    free = freed(observations)
    places = [Factors._fields.index(name) for name in free]
    problem = _Problem(estimate, observations, places, np.array(estimate.spread), around or deep_calm())
    start = np.ones(len(free))
    fit = least_squares(problem.residuals, start, jac="3-point", diff_step=0.02, xtol=1e-4, ftol=1e-5)
    best = problem.all_logs(fit.x - 1.0)
    factors = Factors(*np.exp(best).tolist())
    before, after = problem.predicted(np.zeros_like(best)), problem.predicted(best)
    return Calibration(
        factors=factors,
        covariance=problem.covariance(best),
        free=free,
        parameters=applied(estimate.parameters, factors),
        residuals=tuple(
            Residual(observation=stated, estimated=first, calibrated=last)
            for stated, first, last in zip(observations, before, after, strict=True)
        ),
    )


def predicted(setting: Setting, observations: Sequence[Observation]) -> list[float | None]:
    """What the simulated ship gives for each figure; a manoeuvre several figures speak of is run once."""
    runs: dict[tuple[object, ...], object] = {}

    def once(key: tuple[object, ...], make: Callable[[], object]) -> object:
        if key not in runs:
            runs[key] = make()
        return runs[key]

    return [_predicted(setting, stated, once) for stated in observations]


def _predicted(
    setting: Setting,
    stated: Observation,
    once: Callable[[tuple[object, ...], Callable[[], object]], object],
) -> float | None:
    figure, order, rudder = stated.figure, stated.order, stated.rudder
    if figure in (Figure.FIRST_OVERSHOOT, Figure.SECOND_OVERSHOOT):
        side = 1 if rudder > 0.0 else -1
        zigzag = once(("zigzag", order, rudder), lambda: turning.zigzag(setting, order, abs(rudder), side))
        assert isinstance(zigzag, turning.ZigZag)
        index = 0 if figure is Figure.FIRST_OVERSHOOT else 1
        return zigzag.overshoots[index] if len(zigzag.overshoots) > index else None
    if figure in (Figure.TRACK_REACH, Figure.HEAD_REACH, Figure.STOPPING_TIME):
        stop = once(("stop", order, stated.by), lambda: stopping.stop(setting, order, stated.by))
        assert isinstance(stop, stopping.Stop)
        if not stop.stopped:
            return None
        return {
            Figure.TRACK_REACH: stop.track_reach,
            Figure.HEAD_REACH: max(stop.head_reach, 1.0),
            Figure.STOPPING_TIME: stop.time,
        }[figure]
    if figure in (Figure.COASTING_REACH, Figure.COASTING_TIME):
        coast = once(("stop", order, "stop"), lambda: stopping.stop(setting, order, "stop"))
        assert isinstance(coast, stopping.Stop)
        return coast.track_reach if figure is Figure.COASTING_REACH else coast.time
    if figure is Figure.THRUSTER_RATE:
        key = ("thruster", stated.thrust, stated.position)
        swing = once(key, lambda: slow.thruster_swing(setting, stated.thrust, stated.position))
        assert isinstance(swing, slow.Swing)
        return abs(swing.rate)
    circle = once(("circle", order, rudder), lambda: turning.turning_circle(setting, order, rudder))
    assert isinstance(circle, turning.TurningCircle)
    return {
        Figure.ADVANCE: circle.advance,
        Figure.TRANSFER: circle.transfer,
        Figure.TACTICAL_DIAMETER: circle.tactical_diameter,
        Figure.TIME_TO_90: circle.time_90,
        Figure.STEADY_SPEED: circle.steady_speed,
    }[figure]

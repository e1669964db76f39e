"""The uncertain parts of a ship's model as positive factors on it: what calibration finds and ensembles draw."""

from typing import NamedTuple

import numpy as np

from leadsman.simulation.parameters import Array, Parameters


class Factors(NamedTuple):
    """Each 1 for the ship as estimated. `asymmetry` above 1 makes her turn tighter to port and wider to starboard."""

    rudder_force: float = 1.0
    yaw_by_drift: float = 1.0
    yaw_damping: float = 1.0
    turning_drag: float = 1.0
    asymmetry: float = 1.0
    resistance: float = 1.0
    thrust: float = 1.0
    astern_thrust: float = 1.0
    lateral_drag: float = 1.0
    yaw_inertia: float = 1.0
    reversal_time: float = 1.0
    wind_force: float = 1.0
    shallow_turning: float = 1.0
    thruster_force: float = 1.0
    tug_force: float = 1.0


PRIOR = Factors(  # standard deviations of the logarithms
    rudder_force=0.20,  # sheet 11: prior sigma 0.2 to 0.3 towards the regression; 13: advance and diameter -8 to +25 %
    yaw_by_drift=0.10,  # sheet 11: the biggest regression error lies in Nv, Nr and lR'
    yaw_damping=0.15,  # the same
    turning_drag=0.25,  # sheet 11, speed loss in the turn
    asymmetry=0.10,  # KVLCC2: port 4 to 8 % tighter than starboard
    resistance=0.10,  # sheet 5: fitted to the engine-order table
    thrust=0.03,  # tied to the resistance by the table
    astern_thrust=0.20,  # sheet 4.4, 5
    lateral_drag=0.20,  # sheet 4.3
    yaw_inertia=0.08,  # sheet 3.4, 3.5
    reversal_time=0.30,  # sheet 6
    wind_force=0.15,  # forces sheet 1.1: methods differ by 10 to 20 %
    shallow_turning=0.20,  # sheet 13: growth of the circle on the low side, state 20 %
    thruster_force=0.10,  # forces sheet 3.1: makers' range 0.11 to 0.14 kN/kW about the planning figure of 0.12
    tug_force=0.10,  # forces sheet 4.2: 80 to 85 % usable, and the scatter of the two sets of figures
)


def applied(ship: Parameters, factors: Factors) -> Parameters:
    """The ship with its uncertain parts multiplied.

    Resistance and thrust act alike on the polynomial's constant and slopes; the turning drag on all surge terms by
    drift and turning; asymmetry on the straightening, up on one side and down on the other; shallow turning on the yaw
    damping by draught over depth squared.
    """
    hull = ship.hull
    drag, turn = factors.resistance, factors.turning_drag
    body = hull._replace(
        R0=hull.R0 * drag,
        R1=hull.R1 * drag,
        R2=hull.R2 * drag,
        Xvv=hull.Xvv * turn,
        Xvr=hull.Xvr * turn,
        Xrr=hull.Xrr * turn,
        Nv=hull.Nv * factors.yaw_by_drift,
        Nr=hull.Nr * factors.yaw_damping,
        cross_flow_drag=hull.cross_flow_drag * factors.lateral_drag,
        windage=hull.windage * factors.wind_force,
        shallow_yaw=hull.shallow_yaw + (factors.shallow_turning - 1.0),
        yaw_inertia=hull.yaw_inertia * factors.yaw_inertia,
        yaw_added_inertia=hull.yaw_added_inertia * factors.yaw_inertia,
    )
    rudders = tuple(
        blade._replace(
            force_factor=blade.force_factor * factors.rudder_force,
            straightening_starboard=blade.straightening_starboard * factors.asymmetry,
            straightening_port=blade.straightening_port / factors.asymmetry,
        )
        for blade in ship.rudders
    )
    screws = tuple(
        screw._replace(
            thrust_factor=screw.thrust_factor * factors.thrust,
            astern_factor=screw.astern_factor * factors.astern_thrust,
        )
        for screw in ship.propellers
    )
    engines = tuple(
        machine._replace(
            delay=machine.delay * factors.reversal_time,
            reverse_time=machine.reverse_time * factors.reversal_time,
            pitch_rate=machine.pitch_rate / factors.reversal_time,
        )
        for machine in ship.engines
    )
    return ship._replace(
        hull=body,
        propellers=screws,
        rudders=rudders,
        engines=engines,
        thrusters=tuple(unit._replace(thrust=unit.thrust * factors.thruster_force) for unit in ship.thrusters),
        tugs=tuple(
            work._replace(line_pull=work.line_pull * factors.tug_force, push_pull=work.push_pull * factors.tug_force)
            for work in ship.tugs
        ),
    )


def drawn(centre: Factors, spread: Factors, runs: int, generator: np.random.Generator) -> list[Factors]:
    """Independent draws about a centre, log-normal; the first is the centre itself."""
    deviations = np.exp(generator.standard_normal((runs, len(centre))) * np.array(spread)) * np.array(centre)
    deviations[0] = centre
    return [Factors(*row.tolist()) for row in deviations]


def drawn_together(centre: Factors, covariance: Array, runs: int, generator: np.random.Generator) -> list[Factors]:
    """Draws about a centre with the covariance of the logarithms [factors, factors]; the first is the centre itself."""
    logs = generator.multivariate_normal(np.log(np.array(centre)), covariance, size=runs, method="eigh")
    logs[0] = np.log(np.array(centre))
    return [Factors(*row.tolist()) for row in np.exp(logs)]

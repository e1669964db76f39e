"""A tunnel thruster as the moving ship feels it: force and moment at an order, at her speed."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import by_speed, thruster
from leadsman.units import KNOT

LEADING_FORCE, LEADING_MOMENT, TRAILING = 0, 1, 2  # rows of `shares`


class Tunnel(NamedTuple):
    """One tunnel thruster; SI.

    `position` forward of midships; `thrust` at rest, to either side [N]; `ramp` of the order it follows, in full
    thrusts a second [1/s]; `immersion` as `thruster.immersion_factor`, nil with the tunnel out of the water;
    `greatest_speed` above which the card says that it has no effect, infinite where it says nothing [m/s].
    """

    position: float
    thrust: float
    ramp: float
    immersion: float
    greatest_speed: float


def shares() -> Real:
    """What is left by speed: force and moment of a thruster at the end that leads, either of one at the end that
    follows. [3, KNOTS]

    Source: [KMW1967], as `thruster.force_factor` and `thruster.moment_factor`.
    """
    speeds = by_speed.speeds()
    return np.stack(
        [
            thruster.force_factor(speeds, 1.0),
            thruster.moment_factor(speeds, 1.0),
            np.concatenate([[1.0], thruster.force_factor(-speeds[1:], 1.0)]),
        ]
    )


@formula
def push(tunnel: Tunnel, share: float, table: Real, speed: float, little_water: bool) -> tuple[float, float]:
    """Force to starboard and moment of one thruster. Scalars only. [N, N m]

    Parameters
    ----------
    share : float
        Of its thrust at rest, positive to starboard. [-]
    table : array
        `shares`.
    speed : float
        Through the water along the hull, ahead positive. [m/s]
    little_water : bool
        The keel has less than a fifth of the draught under it, as `thruster.bed_factor`.

    Source: [KMW1967] for speed; immersion, bed and the fading to the card's greatest speed over the last knot below it
    are common practice, no source.
    """
    full = share * tunnel.thrust * tunnel.immersion
    if little_water:
        full *= thruster.LITTLE_WATER
    fading = min(max((tunnel.greatest_speed - np.abs(speed)) / KNOT, 0.0), 1.0)
    if speed * tunnel.position >= 0.0:
        force = by_speed.read(table, LEADING_FORCE, speed)
        moment = by_speed.read(table, LEADING_MOMENT, speed)
    else:
        force = by_speed.read(table, TRAILING, speed)
        moment = force
    return full * min(force, fading), full * tunnel.position * min(moment, fading)

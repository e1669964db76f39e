"""Bank effect: the near bank draws the stern in and throws the bow off."""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.hull_force import Force
from leadsman.physics.method import Method
from leadsman.units import GRAVITY

SIDE_FORCE = 0.05  # [-] judgement, to meet the published check-helm anchor within about 30 %
BOW_AWAY = 0.015  # [-] judgement, likewise


@formula
def reach(speed: Real, depth: Real, beam: Real) -> Real:
    """Distance from the ship's side beyond which a bank is not felt. [m]

    Source: [LataireVantorre2008], from memory.
    Limits: depth Froude number below 0.7.
    """
    return beam * (5.0 + 5.0 * np.minimum(speed / np.sqrt(GRAVITY * depth), 1.0))


@formula
def nearness(distance: Real, speed: Real, depth: Real, beam: Real) -> Real:
    """Half beam over the distance of a bank from the centreline, faded to nothing at the reach of its effect. [-]

    `distance` from the centreline to the equivalent vertical wall at half depth, infinite where there is none; nearer
    than 0.7 beam it counts as 0.7 beam. [m]

    Source: [BankStandIn].
    Limits: distance/beam 0.7 upwards.
    """
    held = np.maximum(distance, 0.7 * beam)
    fade = 1.0 - (held - 0.5 * beam) / reach(speed, depth, beam)
    return np.maximum(fade, 0.0) * 0.5 * beam / held


@formula
def stand_in(
    surge: Real,
    depth: Real,
    length: Real,
    beam: Real,
    draught: Real,
    density: Real,
    distance_port: Real,
    distance_starboard: Real,
) -> Force:
    """Indicative bank force: towards the nearer bank, bow away from it.

    Parameters
    ----------
    surge : float or array
        Through the water; going astern there is the same suction and no yaw. [m/s]
    depth, length, beam, draught : float or array
        [m]
    density : float or array
        Of the water. [kg/m³]
    distance_port, distance_starboard : float or array
        As `nearness`. [m]

    Source: [BankStandIn], judgement built on the structure of published regressions; not a published regression.
    Limits: depth/draught 1.1 upwards, depth Froude number below 0.7, distance/beam 0.7 upwards.
    """
    speed = np.abs(surge)
    closer = nearness(distance_starboard, speed, depth, beam) - nearness(distance_port, speed, depth, beam)
    gap = np.maximum(depth - draught, 0.1 * draught)
    blockage = np.minimum(2.2, np.sqrt(draught / gap))
    froude = speed / np.sqrt(GRAVITY * depth)
    rise = 1.0 / np.sqrt(np.maximum(0.25, 1.0 - froude * froude))
    pressure = 0.5 * density * length * draught * speed * speed * rise * blockage * closer
    return Force(
        surge=0.0 * pressure,
        sway=SIDE_FORCE * pressure,
        yaw=-BOW_AWAY * length * pressure * np.sign(np.maximum(surge, 0.0)),
    )


METHODS = {
    "stand_in": Method(
        function=stand_in,
        source="BankStandIn",
        limits={
            "depth_to_draught": (1.1, float("inf")),
            "froude_depth": (0.0, 0.7),
            "bank_distance_to_beam": (0.7, float("inf")),
        },
        note="indicative only",
    ),
}

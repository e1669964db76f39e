"""What engine and rudder give a ship that lies stopped: kick ahead, thrust astern and its throw of the stern.

These are the trade's simple figures for a balance of forces; the manoeuvring model has its own propeller and rudder.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.published import published
from leadsman.physics.rudder import fujii


class RudderType(NamedTuple):
    """What a rudder hard over makes of the bollard thrust ahead."""

    side_share: float
    """Lateral force over thrust. [-]"""
    ahead_share: float
    """Thrust ahead left over thrust amidships. [-]"""


def rudder_type(name: str) -> RudderType:
    """The figures of a type: "conventional", "spade", "flap" or "fishtail".

    Raises ValueError for another.
    Source: common practice, no source; fishtail from memory, low confidence.
    """
    rows = published("static_rudder")["rudder"]
    if name not in rows:
        raise ValueError(f"rudder type {name!r} is not known; known: {', '.join(rows)}")
    return RudderType(float(rows[name]["side_share"]), float(rows[name]["ahead_share"]))


@formula
def bollard_thrust(power: Real, revolutions_share: Real, thrust_per_power: Real) -> Real:
    """Thrust ahead at rest, with power going as the cube of the revolutions. [N]

    Parameters
    ----------
    power : float
        At full revolutions. [W]
    revolutions_share : float
        Revolutions over full revolutions. [-]
    thrust_per_power : float
        0.10 to 0.15 N/W. [N/W]

    Source: common practice, no source. Thrust at rest truly goes as the square, so this is careful at low revolutions.
    """
    return thrust_per_power * power * revolutions_share**3


@formula
def astern_share(astern_power_share: Real) -> Real:
    """Bollard thrust astern over bollard thrust ahead, from the power astern over the power ahead. [-]

    Source: B4-70 screw, pitch ratio 0.8: thrust 0.74 and torque 0.92 of ahead at equal revolutions; computed from the
    four-quadrant series (manoeuvring sheet 5).
    """
    return 0.74 * (astern_power_share / 0.92) ** (2.0 / 3.0)


@formula
def transverse_thrust(astern_thrust: Real, share: Real, handedness: Real) -> Real:
    """Sideways force at the stern of a screw that drives astern, to starboard positive. [N]

    Parameters
    ----------
    astern_thrust : float
        Its size. [N]
    share : float
        0.05 to 0.15; 0.10 for planning, half for a fine stern. [-]
    handedness : float
        +1 right-handed fixed pitch, -1 left-handed; a controllable pitch screw keeps its turning, so the sign changes.

    Source: common practice, no source; handbook figure of 10 to 15 % from a compilation [seen].
    """
    return -handedness * share * np.abs(astern_thrust)


@formula
def free_stream_rudder(speed: Real, area: Real, aspect_ratio: Real, angle: Real, density: Real) -> Real:
    """Lateral force of a rudder outside any race, to port for a rudder to starboard. [N]

    Parameters
    ----------
    speed : float
        Of the water at the rudder, from ahead. [m/s]
    angle : float
        Rudder angle, to starboard positive, short of stall. [rad]

    Source: slope after Fujii 1960 (manoeuvring sheet 3.6) [seen: transcription].
    """
    return -0.5 * density * area * speed**2 * fujii(aspect_ratio) * np.sin(angle) * np.cos(angle)


PLANNING_THRUST = 0.10  # N/W: careful end of 0.10 to 0.15 (forces sheet 3.3), tool setting
PLANNING_TRANSVERSE = 0.10  # share of thrust astern, 0.05 to 0.15 (manoeuvring sheet 4.6) [seen: compilation]

"""Thrust and torque of a propeller ahead, astern, stopped, or dragged, and what it does sideways.

The advance angle beta = atan2(VA, 0.7 pi n D) runs through all four quadrants: 0 to 90° ahead on ahead, 90 to 180°
moving ahead with the shaft astern, 180 to 270° astern on astern, 270 to 360° moving astern with the shaft ahead.
Because VA² + (0.7 pi n D)² takes the place of n², nothing is divided by the shaft speed or by the speed of advance.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where

STEPS = (
    360  # of the advance angle, one degree each: the cubic between them is exact to 1e-5 of the greatest coefficient
)
PER_DEGREE = STEPS / (2.0 * np.pi)  # 1/rad
BLADE = 0.7 * np.pi  # the section at 0.7 of the radius stands for the blade in four-quadrant tables


class Propeller(NamedTuple):
    """One screw and its place in the hull; SI.

    `row`, `rows`: its lines in the table of coefficients (one for a fixed pitch, several for a controllable one).
    `hand`: +1 right-handed, -1 left-handed. `controllable`, `azimuthing`: 1 or 0. `rudder`: the index of the steering
    angle that turns an azimuthing unit. `wake_loss`, `wake_gain_*`: C1 and C2 of the wake in a turn.
    """

    row: float
    rows: float
    diameter: float
    pitch_ratio: float
    hand: float
    controllable: float
    azimuthing: float
    rudder: float
    position: float
    offset: float
    wake: float
    wake_loss: float
    wake_gain_starboard: float
    wake_gain_port: float
    wake_astern: float
    thrust_deduction: float
    thrust_deduction_astern: float
    transverse_ahead: float
    transverse_astern: float
    thrust_factor: float
    astern_factor: float


@formula
def cubic(before: Real, left: Real, right: Real, after: Real, share: Real) -> Real:
    """Smooth curve through four even points, between the middle two (Catmull and Rom)."""
    return left + 0.5 * share * (
        right
        - before
        + share * (2.0 * before - 5.0 * left + 4.0 * right - after + share * (3.0 * (left - right) + after - before))
    )


@formula
def read_quadrants(table: Real, row: int, beta: float) -> Real:
    """Coefficient at an advance angle [rad] from one line of a table made by `propeller_series.padded`."""
    place = beta * PER_DEGREE
    place = place - STEPS * np.floor(place / STEPS)
    index = min(int(place), STEPS - 1)
    return cubic(table[row, index], table[row, index + 1], table[row, index + 2], table[row, index + 3], place - index)


@formula
def read_pitched(table: Real, pitches: Real, row: int, rows: int, pitch_ratio: float, beta: float) -> Real:
    """Coefficient at an advance angle and a pitch, linear between the pitches of the table and held at its ends."""
    if rows == 1:
        return read_quadrants(table, row, beta)
    upper = row + 1
    while upper < row + rows - 1 and pitches[upper] < pitch_ratio:
        upper += 1
    share = (pitch_ratio - pitches[upper - 1]) / (pitches[upper] - pitches[upper - 1])
    share = min(max(share, 0.0), 1.0)
    return (1.0 - share) * read_quadrants(table, upper - 1, beta) + share * read_quadrants(table, upper, beta)


@formula
def blade_speed_square(advance: Real, shaft_speed: Real, diameter: Real) -> Real:
    """Square of the velocity at 0.7 of the radius. [m²/s²]"""
    around = BLADE * shaft_speed * diameter
    return advance * advance + around * around


@formula
def advance_angle(advance: Real, shaft_speed: Real, diameter: Real) -> Real:
    """Four-quadrant advance angle, 0 at rest with the shaft ahead. [rad]"""
    return np.arctan2(advance, BLADE * shaft_speed * diameter)


@formula
def thrust(coefficient: Real, advance: Real, shaft_speed: Real, diameter: Real, density: Real) -> Real:
    """Thrust from CT*. [N]

    Source: [RoddyHessFaller2006].
    Limits: all four quadrants.
    """
    square = blade_speed_square(advance, shaft_speed, diameter)
    return coefficient * 0.125 * density * square * np.pi * diameter**2


@formula
def torque(coefficient: Real, advance: Real, shaft_speed: Real, diameter: Real, density: Real) -> Real:
    """Torque from CQ*. [N m]

    Source: [RoddyHessFaller2006].
    Limits: all four quadrants.
    """
    square = blade_speed_square(advance, shaft_speed, diameter)
    return coefficient * 0.125 * density * square * np.pi * diameter**3


@formula
def wake_factor(inflow: Real, loss: Real, gain_starboard: Real, gain_port: Real) -> Real:
    """(1 - wP)/(1 - wP0) of a ship that drifts and turns.

    Parameters
    ----------
    inflow : float or array
        Geometric inflow angle at the propeller, drift angle less x' r', positive in a starboard turn. [rad]
    loss, gain_starboard, gain_port : float or array
        C1, and C2 for positive and negative inflow. [-]

    Source: [YasukawaYoshimura2015].
    Limits: inflow up to about 1 rad.
    """
    gain = where(inflow > 0.0, gain_starboard, gain_port)
    return 1.0 + (1.0 - np.exp(-loss * np.abs(inflow))) * (gain - 1.0)


@formula
def transverse_share(speed: Real, shaft_speed: Real, diameter: Real) -> Real:
    """How much of the transverse thrust is left at a speed: all at rest, a tenth at J = 0.9. [-]

    Written without dividing by the shaft speed.

    Source: [TransverseThrust], low confidence.
    Limits: none published.
    """
    turning = np.square(0.3 * shaft_speed * diameter)
    return turning / np.maximum(turning + speed * speed, 1e-12)


@formula
def transverse_thrust(
    axial: Real, shaft_speed: Real, hand: Real, share_ahead: Real, share_astern: Real, fading: Real
) -> Real:
    """Sideways force of the turning screw at the stern, positive to starboard. [N]

    Parameters
    ----------
    axial : float or array
        Thrust, positive ahead. [N]
    shaft_speed : float or array
        Positive turning ahead; a controllable pitch going astern keeps it positive. [1/s]
    hand : float or array
        +1 right-handed. [-]
    share_ahead, share_astern : float or array
        Of the axial thrust, when it drives ahead and astern. [-]
    fading : float or array
        `transverse_share`. [-]

    A right-handed fixed pitch going astern sets the stern to port; one of controllable pitch to starboard.

    Source: [TransverseThrust], low confidence.
    Limits: share_astern 0.05 to 0.15 for single screws.
    """
    share = where(axial >= 0.0, share_ahead, share_astern)
    return hand * np.sign(shaft_speed) * share * np.abs(axial) * fading

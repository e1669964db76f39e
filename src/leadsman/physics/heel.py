"""Heel in a turn and by wind, and how much deeper the bilge goes for it."""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.channel import unbounded
from leadsman.units import GRAVITY

# Share of the half beam at which a rounded bilge is deepest: [PIANC121], memory; 1 is the conservative choice.
BILGE_SHARES = {"square": 1.0, "tanker": 0.90, "bulk_carrier": 0.90, "container_ship": 0.76}


@formula
def in_turn(speed: Real, radius: Real, lever: Real, metacentric_height: Real) -> Real:
    """Heel in a steady turn, outwards. [rad]

    `lever` is the height of the centre of gravity above the centre of lateral resistance (about half the draught). [m]
    A metacentric height that is not positive gives pi/2. Source: [BarrassDerrett2006], memory; mechanics.
    """
    return np.arctan(unbounded(speed**2 * lever, GRAVITY * np.abs(radius) * metacentric_height))


@formula
def by_wind(
    wind_speed: Real,
    lateral_area: Real,
    lever: Real,
    displacement: Real,
    metacentric_height: Real,
    drag_coefficient: Real,
    air_density: Real,
) -> Real:
    """Heel by a steady beam wind, to leeward. [rad]

    `lever` from the centre of the windage to half the draught [m]; the drag coefficient is 1.0 to 1.2. A metacentric
    height that is not positive gives pi/2. Source: mechanics.
    """
    moment = 0.5 * air_density * drag_coefficient * lateral_area * wind_speed**2 * lever
    return np.arctan(unbounded(moment, displacement * GRAVITY * metacentric_height))


@formula
def together(list_angle: Real, turn: Real, wind: Real) -> Real:
    """List, heel in the turn and heel by wind, all to the same side: the worst that can meet. [rad]"""
    return np.abs(list_angle) + np.abs(turn) + np.abs(wind)


@formula
def bilge_sinkage(beam: Real, heel: Real, bilge_share: Real) -> Real:
    """How much deeper than the keel the bilge goes, the keel staying where it is. [m]

    `bilge_share`: 1 for a square bilge, see `BILGE_SHARES`. Source: [PIANC121], memory; geometry.
    """
    return 0.5 * bilge_share * beam * np.sin(np.abs(heel))


@formula
def bilge_sinkage_of_box(beam: Real, draught: Real, heel: Real) -> Real:
    """The same of a box that heels about the waterline: less than `bilge_sinkage`, never below zero. [m]

    Source: geometry.
    """
    angle = np.abs(heel)
    return np.maximum(0.5 * beam * np.sin(angle) - draught * (1.0 - np.cos(angle)), 0.0)

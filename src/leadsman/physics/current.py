"""Current loads on a ship that is held, by the mooring design manual, with the effect of depth.

The current is the water's velocity past the ship: stream less her own movement. Its angle counts from the bow to
where it comes FROM, to starboard positive, as for the wind. Loads are in ship axes.
"""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.physics.wind import Loads, off_bow
from leadsman.units import DEGREE

SEA_VISCOSITY = 1.19e-6  # m²/s, sea water at 15 °C [memory]
STREAM_EXPONENT = 1.0 / 7.0  # velocity profile over the depth (forces sheet 2.4) [derived from the 1/7 law]


@formula
def deep_coefficient(length_waterline: Real, beam: Real, midship_section_area: Real, displaced_volume: Real) -> Real:
    """Lateral coefficient in deep water, C0. [-]

    Parameters
    ----------
    midship_section_area : float
        Under water. [m²]
    displaced_volume : float
        [m³]

    Source: [UFC4-159-03], equations 11-13. The text seen has lost the square root; with it the manual's own
    table 4-6 is met, without it not.
    """
    return 0.22 * np.sqrt(length_waterline**2 * midship_section_area / (beam * displaced_volume))


@formula
def lateral_coefficient(deep: Real, shallow: Real, draught: Real, water_depth: Real, exponent: Real) -> Real:
    """Lateral coefficient at a depth of water, growing from deep to where she touches. [-]

    Parameters
    ----------
    deep, shallow : float
        C0 of `deep_coefficient`, and C1 where the draught equals the depth. [-]
    exponent : float
        K. [-]

    Source: [UFC4-159-03], equations 9-13.
    Limits: current up to 1.5 m/s for C1 = 3.2; draught not over the depth of water.
    """
    return deep + (shallow - deep) * (draught / water_depth) ** exponent


def coefficient_at_depth(deep: Real, draught: Real, water_depth: Real) -> Real:
    """Lateral coefficient with the shallow coefficient and the exponent that fit most ships. [-]

    Source: [UFC4-159-03], equations 9-13, seen.
    """
    row = published("current")["lateral"]
    return lateral_coefficient(deep, row["shallow_coefficient"], draught, water_depth, row["depth_exponent"])


@formula
def lateral_force(
    speed: Real, angle: Real, coefficient: Real, length_waterline: Real, draught: Real, density: Real
) -> Real:
    """Lateral force, to starboard positive. [N]

    Source: [UFC4-159-03], equation 9; its form from memory.
    """
    return -0.5 * density * speed**2 * length_waterline * draught * coefficient * np.sin(angle)


@formula
def form_drag(speed: Real, angle: Real, beam: Real, draught: Real, density: Real) -> Real:
    """Longitudinal form drag, forward positive. [N]

    Source: [UFC4-159-03], equations 15-16.
    """
    return -0.5 * density * speed**2 * beam * draught * 0.1 * np.cos(angle)


@formula
def wetted_surface(length_waterline: Real, draught: Real, displaced_volume: Real) -> Real:
    """Wetted surface of the hull. [m²]

    Source: [UFC4-159-03], equation 18 (Denny and Mumford).
    """
    return 1.7 * draught * length_waterline + displaced_volume / draught


@formula
def friction_drag(
    speed: Real, angle: Real, length_waterline: Real, surface: Real, density: Real, viscosity: Real
) -> Real:
    """Longitudinal friction, forward positive; nil for a current abeam. [N]

    Source: [UFC4-159-03], equations 17-20 (the friction line of the ITTC 1957).
    """
    # The line has no meaning below a Reynolds number of some thousands; kept off its pole at 100.
    reynolds = np.maximum(speed * length_waterline * np.abs(np.cos(angle)) / viscosity, 1.0e4)
    coefficient = 0.075 / (np.log10(reynolds) - 2.0) ** 2
    return -0.5 * density * speed**2 * surface * coefficient * np.cos(angle)


@formula
def propeller_area(length_waterline: Real, beam: Real, area_ratio: Real) -> Real:
    """Expanded area of the blades of a stopped propeller. [m²]

    Source: [UFC4-159-03], equations 22-23; area ratios from memory.
    """
    return length_waterline * beam / area_ratio / 0.838


@formula
def propeller_drag(speed: Real, angle: Real, area: Real, density: Real) -> Real:
    """Drag of one stopped propeller, forward positive. [N]

    Source: [UFC4-159-03], equation 21.
    """
    return -0.5 * density * speed**2 * area * np.cos(angle)


@formula
def lever(angle: Real, length_waterline: Real, intercept: Real, slope: Real) -> Real:
    """Where the lateral force acts, forward of midships. [m]

    Towards the end that meets the current, so that a current from ahead of the beam pushes the bow down-stream; the
    manual's own sign could not be checked.

    Parameters
    ----------
    intercept, slope : float
        Of the type of ship; the slope per degree. [-]

    Source: [UFC4-159-03], equations 24-25; coefficients from memory.
    """
    return -length_waterline * (intercept + slope * off_bow(angle) / DEGREE)


@formula
def profile(surface_speed: Real, below_surface: Real, water_depth: Real, exponent: Real) -> Real:
    """Stream at a distance below the surface, by a power law. [m/s]

    Source: derived: power law of a stream slowed by the bed.
    """
    return surface_speed * (1.0 - below_surface / water_depth) ** exponent


@formula
def mean_over_draught(surface_speed: Real, draught: Real, water_depth: Real, exponent: Real) -> Real:
    """Mean stream over the draught from the stream at the surface. [m/s]

    Source: derived: mean of `profile` from the surface to the keel.
    """
    ratio = draught / water_depth
    return surface_speed * (1.0 - (1.0 - ratio) ** (1.0 + exponent)) / ((1.0 + exponent) * ratio)


def ufc(
    speed: Real,
    angle: Real,
    length_waterline: float,
    beam: float,
    draught: float,
    block_coefficient: float,
    midship_coefficient: float,
    water_depth: float,
    propeller: str,
    propellers: int,
    form: str,
    density: float,
) -> Loads:
    """Current loads in ship axes on a ship that does not yield.

    Parameters
    ----------
    speed, angle : float or array
        Of the water past the ship; from the bow to where it comes from, to starboard positive. [m/s, rad]
    block_coefficient : float
        On the waterline length. [-]
    propeller : str
        "cargo", "tanker", "destroyer", "cruiser" or "carrier": whose propeller stands still in the current.
    form : str
        "merchant", "frigate" or "carrier": whose lever the lateral force has.

    Returns
    -------
    loads : surge [N], sway [N], yaw [N m]

    Source: [UFC4-159-03], equations 9-25.
    Limits: speed up to 1.5 m/s; draught/water depth up to 1.
    """
    tables = published("current")
    volume = length_waterline * beam * draught * block_coefficient
    deep = deep_coefficient(length_waterline, beam, midship_coefficient * beam * draught, volume)
    coefficient = coefficient_at_depth(deep, draught, water_depth)
    sway = lateral_force(speed, angle, coefficient, length_waterline, draught, density)
    surface = wetted_surface(length_waterline, draught, volume)
    area = propellers * propeller_area(length_waterline, beam, tables["propeller"]["area_ratio"][propeller])
    surge = (
        form_drag(speed, angle, beam, draught, density)
        + friction_drag(speed, angle, length_waterline, surface, density, SEA_VISCOSITY)
        + propeller_drag(speed, angle, area, density)
    )
    row = tables["yaw"][form]
    return Loads(surge, sway, sway * lever(angle, length_waterline, row["intercept"], row["slope"]))


@formula
def drift_speed(force: Real, length_waterline: Real, draught: Real, coefficient: Real, density: Real) -> Real:
    """Speed sideways through the water at which the hull's drag equals a force left over. [m/s]

    Source: derived: [UFC4-159-03], equation 9, turned round.
    """
    return np.sqrt(2.0 * np.abs(force) / (density * length_waterline * draught * coefficient))


@formula
def drift_speed_after(
    distance: Real,
    force: Real,
    mass: Real,
    length_waterline: Real,
    draught: Real,
    coefficient: Real,
    density: Real,
) -> Real:
    """Speed sideways that a steady force gives her over a distance from rest. [m/s]

    Parameters
    ----------
    mass : float
        With the water that moves with her. [kg]

    Source: derived: m v dv/dx = F - c v², the drag of [UFC4-159-03], equation 9.
    """
    drag = 0.5 * density * length_waterline * draught * coefficient
    return np.sqrt(np.abs(force) / drag * -np.expm1(-2.0 * drag * distance / mass))


METHODS = {
    "ufc": Method(
        function=ufc,
        source="UFC4-159-03",
        limits={"stream_rate": (0.0, 1.5), "draught_to_depth": (0.0, 1.0)},
        note="ship held still; force about threefold in shallow water",
    )
}

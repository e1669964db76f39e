"""The form of a hull from the few figures a card gives: coefficients, areas, what an inch of draught weighs, stability.

These are the estimates of the ship-design and stability textbooks: good to a few hundredths, and only for the
ordinary displacement hulls they were drawn from. `length` is between perpendiculars and `draught` the mean everywhere.
"""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method


@formula
def block_coefficient(volume: Real, length: Real, beam: Real, draught: Real) -> Real:
    """Displaced volume as a share of the box around it. [-]

    `volume` [m³]; `length`, `beam`, `draught` [m]. Source: definition.
    """
    return volume / (length * beam * draught)


@formula
def block_at_draught(block_coefficient: Real, waterplane_coefficient: Real, draught: Real, new_draught: Real) -> Real:
    """Block coefficient of the same hull at another draught. [-]

    Volume grows as draught to the power waterplane by block coefficient, so that the waterplane is right at `draught`.
    Source: [DerivedForm]. Limits: new draught 0.4 to 1.1 of the draught it is known for.
    """
    return block_coefficient * (new_draught / draught) ** (waterplane_coefficient / block_coefficient - 1.0)


@formula
def waterplane_one_third(block_coefficient: Real) -> Real:
    """Waterplane coefficient, (1 + 2 C_B)/3. [-]

    Source: [SchneekluthBertram1998], from memory. Limits: block coefficient 0.5 to 0.88, loaded.
    """
    return (1.0 + 2.0 * block_coefficient) / 3.0


@formula
def waterplane_prismatic(block_coefficient: Real, midship_coefficient: Real) -> Real:
    """Waterplane coefficient of full ships from the prismatic coefficient, 0.763 (C_P + 0.34). [-]

    Source: [HoltropMennen1982], card default of full ships, from memory. Limits: block coefficient 0.75 to 0.87.
    """
    return 0.763 * (block_coefficient / midship_coefficient + 0.34)


@formula
def midship_kerlen(block_coefficient: Real) -> Real:
    """Midship section coefficient. [-]

    Source: [Kerlen1970], as quoted in design textbooks, from memory. Limits: block coefficient 0.5 to 0.87.
    """
    return 1.006 - 0.0056 * block_coefficient**-3.56


@formula
def immersion(length: Real, beam: Real, waterplane_coefficient: Real, density: Real) -> Real:
    """Mass that sinks her by one metre; 1 t/cm (TPC) is 1e5 kg/m. [kg/m]

    `density` [kg/m³]. Source: definition.
    """
    return density * length * beam * waterplane_coefficient


@formula
def centre_of_buoyancy(draught: Real, block_coefficient: Real, waterplane_coefficient: Real) -> Real:
    """Height of the centre of buoyancy above the keel. [m]

    Source: [Morrish1892], as quoted in stability textbooks, from memory. Limits: ordinary displacement hulls.
    """
    return draught * (5.0 / 6.0 - block_coefficient / (3.0 * waterplane_coefficient))


@formula
def metacentric_radius(beam: Real, draught: Real, block_coefficient: Real, waterplane_coefficient: Real) -> Real:
    """Transverse metacentre above the centre of buoyancy, BM. [m]

    Inertia of the waterplane 0.1216 C_W - 0.0410 times length times beam cubed.
    Source: [SchneekluthBertram1998], from memory. Limits: waterplane coefficient 0.65 to 0.95.
    """
    return (0.1216 * waterplane_coefficient - 0.0410) * beam**2 / (block_coefficient * draught)


@formula
def trimming_moment(length: Real, beam: Real, waterplane_coefficient: Real, density: Real) -> Real:
    """Moment in kilogram metres that trims her by one metre; 1 t m/cm (MCTC) is 1e5. [kg m/m]

    Inertia of the waterplane 0.350 C_W² - 0.405 C_W + 0.146 times beam times length cubed; the centre of buoyancy is
    neglected against the longitudinal metacentre. Source: [SchneekluthBertram1998], from memory. Limits: waterplane
    coefficient 0.65 to 0.95.
    """
    inertia = (0.350 * waterplane_coefficient**2 - 0.405 * waterplane_coefficient + 0.146) * beam * length**3
    return density * inertia / length


@formula
def roll_period(length: Real, beam: Real, draught: Real, metacentric_height: Real) -> Real:
    """Natural roll period, 2 c B / sqrt(GM). [s]

    Source: [ISCode2008] weather criterion. Limits: ordinary ships; not loaded on deck far above.
    """
    constant = 0.373 + 0.023 * beam / draught - 0.043 * length / 100.0
    return 2.0 * constant * beam / np.sqrt(metacentric_height)


@formula
def metacentric_height_from_roll(length: Real, beam: Real, draught: Real, roll_period: Real) -> Real:
    """Metacentric height that gives this natural roll period, the inverse of `roll_period`. [m]

    Source: [ISCode2008] weather criterion. Limits: as `roll_period`.
    """
    constant = 0.373 + 0.023 * beam / draught - 0.043 * length / 100.0
    return (2.0 * constant * beam / roll_period) ** 2


@formula
def draught_along(draught_aft: Real, draught_forward: Real, share_from_stern: Real) -> Real:
    """Draught of a straight keel at a share of the length from the stern, 0 aft to 1 forward. [m]

    Source: geometry.
    """
    return draught_aft + (draught_forward - draught_aft) * share_from_stern


@formula
def list_from_draughts(draught_port: Real, draught_starboard: Real, beam: Real) -> Real:
    """List from the two midships marks, to starboard positive. [rad]

    Source: geometry.
    """
    return np.arctan((draught_starboard - draught_port) / beam)


WATERPLANE_METHODS = {
    "one_third": Method(
        function=waterplane_one_third, source="SchneekluthBertram1998", limits={"block_coefficient": (0.5, 0.88)}
    ),
    "prismatic": Method(
        function=waterplane_prismatic, source="HoltropMennen1982", limits={"block_coefficient": (0.75, 0.87)}
    ),
}
"""Waterplane coefficient."""
MIDSHIP_METHODS = {
    "kerlen": Method(function=midship_kerlen, source="Kerlen1970", limits={"block_coefficient": (0.5, 0.87)}),
}
"""Midship section coefficient."""
ROLL_METHODS = {"weather_criterion": Method(function=roll_period, source="ISCode2008")}
"""Natural roll period."""

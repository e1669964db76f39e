"""Resistance of the hull straight ahead, and what wind and waves apart it costs to drive her."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.method import Method
from leadsman.units import GRAVITY

SEA_WATER_VISCOSITY = 1.19e-6  # m²/s at 15 °C ([UFC4-159-03])
HULL_FORM_DRAG = 0.1  # [-] of the midship section, [UFC4-159-03]


class Form(NamedTuple):
    """Form coefficients a resistance regression needs beyond length, beam, draught and volume.

    `midship` CM, `waterplane` CWP [-]; `buoyancy_centre` lcb in per cent of the length forward of midships; `bulb_area`
    ABT and `transom_area` AT [m²]; `bulb_height` hB above the keel [m]; `stern` Cstern (V -10, normal 0, U +10).
    """

    midship: Real
    waterplane: Real
    buoyancy_centre: Real
    bulb_area: Real
    bulb_height: Real
    transom_area: Real
    stern: Real


@formula
def ittc_1957(speed: Real, length: Real, viscosity: Real) -> Real:
    """Frictional resistance coefficient of the model-ship correlation line. [-]

    Source: [ITTC1957].
    Limits: Reynolds number 1e5 upwards; below, the value there.
    """
    reynolds = np.maximum(np.abs(speed) * length / viscosity, 1e5)
    return 0.075 / (np.log10(reynolds) - 2.0) ** 2


@formula
def denny_mumford(length: Real, draught: Real, volume: Real) -> Real:
    """Wetted surface. [m²]

    Source: [UFC4-159-03], equation 18.
    Limits: merchant hulls.
    """
    return 1.7 * length * draught + volume / draught


@formula
def holtrop_surface(
    length: Real, beam: Real, draught: Real, block_coefficient: Real, midship: Real, waterplane: Real, bulb_area: Real
) -> Real:
    """Wetted surface with bulb. [m²]

    Source: [HoltropMennen1982], from memory.
    Limits: as `holtrop_mennen`.
    """
    shape = 0.453 + 0.4425 * block_coefficient - 0.2862 * midship - 0.003467 * beam / draught + 0.3696 * waterplane
    return length * (2.0 * draught + beam) * np.sqrt(midship) * shape + 2.38 * bulb_area / block_coefficient


@formula
def holtrop_form_factor(length: Real, beam: Real, draught: Real, volume: Real, form: Form) -> Real:
    """1 + k1: viscous resistance over that of a flat plate. [-]

    Source: [HoltropMennen1982], from memory.
    Limits: prismatic coefficient 0.55 to 0.85, length/beam 3.9 to 15.
    """
    prismatic = volume / (length * beam * draught * form.midship)
    run = length * (1.0 - prismatic + 0.06 * prismatic * form.buoyancy_centre / (4.0 * prismatic - 1.0))
    c14 = 1.0 + 0.011 * form.stern
    return (
        0.93
        + 0.487118
        * c14
        * (beam / length) ** 1.06806
        * (draught / length) ** 0.46106
        * (length / run) ** 0.121563
        * (length**3 / volume) ** 0.36486
        * (1.0 - prismatic) ** -0.604247
    )


@formula
def holtrop_wave(speed: Real, length: Real, beam: Real, draught: Real, volume: Real, form: Form, density: Real) -> Real:
    """Wave-making resistance. [N]

    Source: [HoltropMennen1982], from memory.
    Limits: Froude number below 0.4; prismatic coefficient 0.55 to 0.85, length/beam 3.9 to 15.
    """
    froude = np.maximum(np.abs(speed), 1e-3) / np.sqrt(GRAVITY * length)
    slenderness = length / beam
    prismatic = volume / (length * beam * draught * form.midship)
    run = length * (1.0 - prismatic + 0.06 * prismatic * form.buoyancy_centre / (4.0 * prismatic - 1.0))
    narrow = 0.229577 * (beam / length) ** (1.0 / 3.0)
    c7 = where(slenderness > 1.0 / 0.11, narrow, where(slenderness < 4.0, 0.5 - 0.0625 * slenderness, beam / length))
    entrance = 1.0 + 89.0 * np.exp(
        -(slenderness**0.80856)
        * (1.0 - form.waterplane) ** 0.30484
        * (1.0 - prismatic - 0.0225 * form.buoyancy_centre) ** 0.6367
        * (run / beam) ** 0.34574
        * (100.0 * volume / length**3) ** 0.16302
    )
    bulb = form.bulb_area
    c3 = 0.56 * bulb**1.5 / (beam * draught * (0.31 * np.sqrt(bulb) + np.maximum(draught - form.bulb_height, 0.1)))
    c2 = np.exp(-1.89 * np.sqrt(c3))
    c5 = 1.0 - 0.8 * form.transom_area / (beam * draught * form.midship)
    c1 = 2223105.0 * c7**3.78613 * (draught / beam) ** 1.07961 * (90.0 - entrance) ** -1.37565
    full = 1.73014 - 0.7067 * prismatic
    c16 = where(prismatic < 0.8, 8.07981 * prismatic - 13.8673 * prismatic**2 + 6.984388 * prismatic**3, full)
    m1 = 0.0140407 * length / draught - 1.75254 * volume ** (1.0 / 3.0) / length - 4.79323 * beam / length - c16
    fineness = length**3 / volume
    between = -1.69385 + (length / volume ** (1.0 / 3.0) - 8.0) / 2.36
    c15 = where(fineness < 512.0, -1.69385, where(fineness > 1726.91, 0.0, between))
    m4 = 0.4 * c15 * np.exp(-0.034 * froude**-3.29)
    wave_length = 1.446 * prismatic - where(slenderness < 12.0, 0.03 * slenderness, 0.36)
    return (
        c1 * c2 * c5 * volume * density * GRAVITY * np.exp(m1 * froude**-0.9 + m4 * np.cos(wave_length * froude**-2.0))
    )


@formula
def holtrop_roughness(length: Real, draught: Real, block_coefficient: Real) -> Real:
    """Model-ship correlation allowance CA, bulb neglected. [-]

    Source: [HoltropMennen1982], from memory.
    Limits: as `holtrop_mennen`.
    """
    immersion = np.minimum(draught / length, 0.04)
    return (
        0.006 * (length + 100.0) ** -0.16
        - 0.00205
        + 0.003 * np.sqrt(length / 7.5) * block_coefficient**4 * (0.04 - immersion)
    )


@formula
def holtrop_mennen(
    speed: Real, length: Real, beam: Real, draught: Real, volume: Real, form: Form, density: Real, viscosity: Real
) -> Real:
    """Calm-water resistance of a displacement ship in trial condition. [N]

    Parameters
    ----------
    speed : float or array
        [m/s]
    length, beam, draught : float or array
        Waterline length; mean draught. [m]
    volume : float or array
        Displaced. [m³]
    form : Form
    density, viscosity : float
        Of the water. [kg/m³, m²/s]

    Source: [HoltropMennen1982], from memory.
    Limits: Froude number below 0.4, prismatic coefficient 0.55 to 0.85, length/beam 3.9 to 15.
    """
    block = volume / (length * beam * draught)
    surface = holtrop_surface(length, beam, draught, block, form.midship, form.waterplane, form.bulb_area)
    viscous = holtrop_form_factor(length, beam, draught, volume, form) * ittc_1957(speed, length, viscosity)
    viscous = viscous + holtrop_roughness(length, draught, block)
    wave = holtrop_wave(speed, length, beam, draught, volume, form, density)
    return 0.5 * density * speed**2 * surface * viscous + wave


@formula
def bollard_thrust(
    power: Real, diameter: Real, thrust_coefficient: Real, torque_coefficient: Real, density: Real
) -> Real:
    """Thrust of a screw at rest that takes a given delivered power [W]. [N]

    Source: [derived]: power = 2 pi n Q and the definitions of KT and KQ.
    Limits: the pitch for which the coefficients hold.
    """
    merit = thrust_coefficient / torque_coefficient ** (2.0 / 3.0)
    return merit * density ** (1.0 / 3.0) * (power * diameter / (2.0 * np.pi)) ** (2.0 / 3.0)


@formula
def astern_speed_ratio(power_ratio: Real, efficiency_ratio: Real, resistance_ratio: Real) -> Real:
    """Astern speed over ahead speed when astern power is a share of ahead power: power goes with the cube of speed. [-]

    Source: [derived]: equal power balance either way.
    Limits: resistance in proportion to the square of the speed.
    """
    return (power_ratio * efficiency_ratio / resistance_ratio) ** (1.0 / 3.0)


METHODS = {
    "holtrop_mennen": Method(
        function=holtrop_mennen,
        source="HoltropMennen1982",
        limits={"froude_length": (0.0, 0.4), "prismatic_coefficient": (0.55, 0.85), "length_to_beam": (3.9, 15.0)},
    ),
}
FRICTION_METHODS = {"ittc_1957": Method(function=ittc_1957, source="ITTC1957")}
SURFACE_METHODS = {
    "denny_mumford": Method(function=denny_mumford, source="UFC4-159-03"),
    "holtrop": Method(function=holtrop_surface, source="HoltropMennen1982"),
}

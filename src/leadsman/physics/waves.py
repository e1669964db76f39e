"""Motion of the keel in waves: closed form of Jensen, Mansour and Olsen; spectra, moments, extremes; roll.

`angle_to_waves` is the angle between her heading and the direction the waves go to: 0 following, pi head seas. [rad]
`frequency` is that of the waves, not of encounter. [rad/s]
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.units import GRAVITY

LEAST_ENCOUNTER = 0.1  # of the wave frequency: in following seas the method has no answer near zero; our sheet's floor


class Response(NamedTuple):
    """Amplitudes for each metre of wave amplitude; heave and pitch are a quarter of a period apart. [m/m], [rad/m]"""

    heave: Real
    pitch: Real


@formula
def wave_number_in_deep_water(frequency: Real) -> Real:
    """Wave number. [1/m]

    Source: linear wave theory.
    """
    return frequency**2 / GRAVITY


@formula
def wave_number(frequency: Real, water_depth: Real) -> Real:
    """Wave number of frequency² = g k tanh(k depth), to rounding by Newton's method from a near start. [1/m]

    Source: linear wave theory; the start is that of Eckart.
    """
    deep = frequency**2 * water_depth / GRAVITY
    phase = deep / np.sqrt(np.tanh(deep))
    for _ in range(6):
        tanh = np.tanh(phase)
        phase = phase - (phase * tanh - deep) / (tanh + phase * (1.0 - tanh**2))
    return phase / water_depth


@formula
def encounter_ratio(frequency: Real, wave_number: Real, speed: Real, angle_to_waves: Real) -> Real:
    """Frequency of encounter / wave frequency, at least `LEAST_ENCOUNTER`. [-]

    Source: kinematics.
    """
    return np.maximum(1.0 - wave_number * speed / frequency * np.cos(angle_to_waves), LEAST_ENCOUNTER)


@formula
def _sine_over(angle: Real) -> Real:
    """sin(x)/x, 1 at zero."""
    safe = where(np.abs(angle) < 1e-4, 1e-4, angle)
    return np.sin(safe) / safe


@formula
def _pitch_shape(angle: Real) -> Real:
    """(sin x - x cos x)/x², x/3 near zero, where the difference would lose its figures."""
    safe = where(np.abs(angle) < 1e-3, 1e-3, angle)
    return where(np.abs(angle) < 1e-3, angle / 3.0, (np.sin(safe) - safe * np.cos(safe)) / safe**2)


@formula
def response(
    frequency: Real,
    wave_number: Real,
    angle_to_waves: Real,
    speed: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
) -> Response:
    """Heave and pitch of a box of the ship's length, draught and reduced beam (beam x block coefficient).

    A method for deep water; with the `wave_number` of the depth the waves are right, the cushion of water under the
    keel is still not in it. Source: [Jensen2004], seen in two independent public programs. Limits: an estimate, +-30 %.
    """
    length, breadth = length_between_perpendiculars, beam * block_coefficient
    ratio = encounter_ratio(frequency, wave_number, speed, angle_to_waves)
    along = np.abs(wave_number * np.cos(angle_to_waves))
    depth_number = wave_number * draught
    breadth_number = wave_number * breadth
    radiated = 2.0 * np.sin(0.5 * breadth_number * ratio**2) * np.exp(-depth_number * ratio**2)
    smith = np.exp(-along * draught)
    forcing = smith * np.sqrt((1.0 - depth_number) ** 2 + (radiated**2 / (breadth_number * ratio**3)) ** 2)
    answer = 1.0 / np.sqrt(
        (1.0 - 2.0 * depth_number * ratio**2) ** 2 + (radiated**2 / (breadth_number * ratio**2)) ** 2
    )
    half = 0.5 * along * length
    return Response(
        heave=answer * forcing * np.abs(_sine_over(half)),
        pitch=answer * forcing * 6.0 / length * np.abs(_pitch_shape(half)),
    )


@formula
def vertical_motion(heave: Real, pitch: Real, forward_of_midships: Real) -> Real:
    """Amplitude of the vertical motion at a place of the keel, of the same kind as heave. [m/m or m]

    Source: [Jensen2004], seen.
    """
    return np.sqrt(heave**2 + (forward_of_midships * pitch) ** 2)


@formula
def roll_period(length: Real, beam: Real, draught: Real, metacentric_height: Real) -> Real:
    """Natural period of roll. [s]

    Source: [IS2008], weather criterion, memory.
    """
    coefficient = 0.373 + 0.023 * beam / draught - 0.043 * length / 100.0
    return 2.0 * coefficient * beam / np.sqrt(metacentric_height)


@formula
def roll_damping_of_section(frequency: Real, section_area: Real, beam: Real, draught: Real, density: Real) -> Real:
    """Roll damping by radiated waves for each metre of length, `frequency` that of encounter. [N s]

    Source: [Jensen2004], seen in code. Limits: beam/draught 1 to 6.
    """
    ratio = beam / draught
    wide = ratio >= 3.0
    a = where(wide, 0.256 * ratio - 0.286, -3.94 * ratio + 13.69)
    b = where(wide, -0.11 * ratio - 2.55, -2.12 * ratio - 1.89)
    d = where(wide, 0.033 * ratio - 1.419, 1.16 * ratio - 7.97)
    shape = a * np.exp(b * frequency**-1.3) * frequency**d
    return density * section_area * beam**2 * np.sqrt(2.0 * GRAVITY / beam) * shape


@formula
def roll_response(
    frequency: Real,
    wave_number: Real,
    angle_to_waves: Real,
    speed: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    metacentric_height: Real,
    viscous_damping: Real,
    density: Real,
) -> Real:
    """Roll amplitude for each metre of wave amplitude, of one prism. [rad/m]

    `viscous_damping` is a share of the critical damping, 0.05 to 0.2. The bilge moves by half the beam times the roll.
    In long waves the excitation of this form dies out, where in truth the ship rolls with the slope of the water: take
    the greater of this and `roll_by_slope`. Source: [Jensen2004], seen in code; no worked value was at hand.
    """
    length = length_between_perpendiculars
    encounter = frequency * encounter_ratio(frequency, wave_number, speed, angle_to_waves)
    section_area = block_coefficient * beam * draught
    by_waves = roll_damping_of_section(encounter, section_area, beam, draught, density)
    period = roll_period(length, beam, draught, metacentric_height)
    stiffness = GRAVITY * density * section_area * length * metacentric_height
    damping = length * by_waves + viscous_damping * stiffness * period / np.pi
    half = 0.5 * np.abs(wave_number * np.cos(angle_to_waves)) * length
    moment = (
        np.abs(np.sin(angle_to_waves) * _sine_over(half))
        * length
        * np.sqrt(density * GRAVITY**2 / encounter * by_waves)
    )
    spring = (1.0 - (encounter * period / (2.0 * np.pi)) ** 2) * stiffness
    return moment / np.sqrt(spring**2 + (encounter * damping) ** 2)


@formula
def roll_by_slope(
    frequency: Real,
    wave_number: Real,
    angle_to_waves: Real,
    speed: Real,
    length_between_perpendiculars: Real,
    period: Real,
    damping: Real,
) -> Real:
    """Roll amplitude for each metre of wave amplitude, driven by the slope of the water along the ship. [rad/m]

    One degree of freedom of natural `period` [s]; `damping` is the share of the critical one. Source: mechanics.
    """
    encounter = frequency * encounter_ratio(frequency, wave_number, speed, angle_to_waves)
    half = 0.5 * wave_number * np.abs(np.cos(angle_to_waves)) * length_between_perpendiculars
    slope = wave_number * np.abs(np.sin(angle_to_waves) * _sine_over(half))
    tuning = encounter * period / (2.0 * np.pi)
    return slope / np.sqrt((1.0 - tuning**2) ** 2 + (2.0 * damping * tuning) ** 2)


@formula
def bretschneider(frequency: Real, significant_height: Real, peak_period: Real) -> Real:
    """Spectrum of a fully developed sea. [m² s]

    Source: [ITTC2002], memory.
    """
    peak = 2.0 * np.pi / peak_period
    return 0.3125 * significant_height**2 * peak**4 * frequency**-5 * np.exp(-1.25 * (peak / frequency) ** 4)


@formula
def jonswap(frequency: Real, significant_height: Real, peak_period: Real, peakedness: Real) -> Real:
    """Spectrum of a growing sea, scaled to the significant height by 1 - 0.287 ln γ; γ is 3.3 on average. [m² s]

    Source: [Hasselmann1973], memory; the scale is the usual approximation.
    """
    peak = 2.0 * np.pi / peak_period
    width = where(frequency <= peak, 0.07, 0.09)
    raised = peakedness ** np.exp(-0.5 * ((frequency - peak) / (width * peak)) ** 2)
    scale = 1.0 - 0.287 * np.log(peakedness)
    return scale * raised * bretschneider(frequency, significant_height, peak_period)


def moment(spectrum: Real, frequency: Real, order: float) -> Real:
    """Moment of a spectrum over its last axis; for encounter moments give the spectrum times the ratio to the power.

    Source: definition.
    """
    return np.trapezoid(spectrum * frequency**order, frequency, axis=-1)


def deviation(amplitude: Real, spectrum: Real, frequency: Real) -> Real:
    """Standard deviation of a motion from its amplitude per metre and the spectrum of the waves, over the last axis.

    Twice it is the significant single amplitude. Source: linear theory of random seas.
    """
    return np.sqrt(moment(amplitude**2 * spectrum, frequency, 0.0))


def zero_crossing_period(amplitude: Real, spectrum: Real, frequency: Real, encounter_ratio: Real) -> Real:
    """Mean period between upward zero crossings of a motion as met by the ship. [s]

    Source: linear theory of random seas.
    """
    energy = amplitude**2 * spectrum
    by_square = moment(energy * encounter_ratio**2, frequency, 2.0)
    return 2.0 * np.pi * np.sqrt(moment(energy, frequency, 0.0) / by_square)


@formula
def exceeded_with(probability: Real, deviation: Real, cycles: Real) -> Real:
    """Amplitude that the greatest of so many cycles exceeds with this probability. [unit of the deviation]

    Source: Rayleigh distribution.
    """
    return deviation * np.sqrt(-2.0 * np.log(-np.expm1(np.log1p(-probability) / cycles)))


@formula
def most_probable_greatest(deviation: Real, cycles: Real) -> Real:
    """Most probable greatest amplitude of so many cycles, zero for a single one. [unit of the deviation]

    Source: Rayleigh distribution.
    """
    return deviation * np.sqrt(2.0 * np.log(np.maximum(cycles, 1.0)))

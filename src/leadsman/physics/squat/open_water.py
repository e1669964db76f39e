"""Squat formulas for unrestricted water. `squat` is the sinkage of the deeper end, positive down. [m]

All take SI numbers or arrays: speed through the water [m/s], lengths [m]; all answer with infinity where the formula
has none because the speed is critical.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.channel import froude_depth, unbounded
from leadsman.units import GRAVITY, KNOT


class Ends(NamedTuple):
    """Sinkage of the two ends by her own speed, positive down. [m]"""

    bow: Real
    stern: Real


@formula
def slender_body(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    coefficient: float,
) -> Real:
    """Coefficient x (volume / length²) x F² / sqrt(1 - F²): the common form of the slender-body formulas. [m]

    Source: [Tuck1966], form seen, coefficients memory.
    """
    froude_squared = froude_depth(speed, water_depth) ** 2
    bulk = block_coefficient * beam * draught / length_between_perpendiculars
    return unbounded(coefficient * bulk * froude_squared, np.sqrt(np.maximum(1.0 - froude_squared, 0.0)))


@formula
def tuck(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
) -> Ends:
    """Midship sinkage and trim of a slender body in shallow water.

    The sinkage coefficient is quoted as 1.4 to 1.53; the greatest is taken. Source: [Tuck1966], constants memory.
    Limits: depth Froude number below 0.7.
    """
    midship = slender_body(speed, water_depth, length_between_perpendiculars, beam, draught, block_coefficient, 1.53)
    half_trim = slender_body(speed, water_depth, length_between_perpendiculars, beam, draught, block_coefficient, 0.5)
    # A difference would be undefined where both are infinite; the shares 1.53 - 0.5 and 1.53 + 0.5 are not.
    return Ends(bow=midship + half_trim, stern=midship * (1.03 / 1.53))


@formula
def hooft(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
) -> Ends:
    """As `tuck` with sinkage coefficient 1.46 and trim coefficient 1.0.

    Source: [Hooft1974], memory. Limits: none printed; depth Froude number below 0.7 as for the theory it rests on.
    """
    bow = slender_body(speed, water_depth, length_between_perpendiculars, beam, draught, block_coefficient, 1.96)
    return Ends(bow=bow, stern=bow * (0.96 / 1.96))


@formula
def icorels(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
) -> Real:
    """Squat by the commission's formula with its coefficient 2.4, the greatest in use.

    Source: [ICORELS1980], memory. Limits: depth Froude number up to 0.7.
    """
    return slender_body(speed, water_depth, length_between_perpendiculars, beam, draught, block_coefficient, 2.4)


@formula
def eryuzlu_hausser(speed: Real, water_depth: Real, beam: Real, draught: Real) -> Real:
    """Squat of very large tankers in open shallow water.

    Source: [EryuzluHausser1978], memory. Limits: block coefficient from 0.8, depth/draught 1.08 to 2.75.
    """
    return 0.113 * beam * (draught / water_depth) ** 0.27 * froude_depth(speed, water_depth) ** 1.8


@formula
def millward_1990(
    speed: Real, water_depth: Real, length_between_perpendiculars: Real, beam: Real, block_coefficient: Real
) -> Real:
    """Squat from model tests, usually the greatest of all.

    A hull so slender that the bracket turns negative gets zero. Source: [Millward1990], seen. Limits: depth Froude
    number below 0.6 (0.7 in some printings).
    """
    froude = froude_depth(speed, water_depth)
    bracket = np.maximum(15.0 * block_coefficient * beam / length_between_perpendiculars - 0.55, 0.0)
    return unbounded(0.01 * length_between_perpendiculars * bracket * froude**2, 1.0 - 0.9 * froude)


@formula
def millward_1992(
    speed: Real, water_depth: Real, length_between_perpendiculars: Real, draught: Real, block_coefficient: Real
) -> Real:
    """Midship sinkage from model tests; the trim is not in it.

    A draught so light that the bracket turns negative gets zero. Source: [Millward1992], memory. Limits: depth/draught
    1.25 to 6.
    """
    froude_squared = froude_depth(speed, water_depth) ** 2
    bracket = np.maximum(61.7 * block_coefficient * draught / length_between_perpendiculars - 0.6, 0.0)
    return unbounded(
        0.01 * length_between_perpendiculars * bracket * froude_squared,
        np.sqrt(np.maximum(1.0 - froude_squared, 0.0)),
    )


@formula
def norrbin(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
) -> Real:
    """Squat in open shallow water, published in knots.

    Source: [Norrbin1986], memory. Limits: depth Froude number below 0.4.
    """
    form = block_coefficient * beam / length_between_perpendiculars
    return form / 15.0 * draught / water_depth * (speed / KNOT) ** 2


@formula
def yoshimura(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    blockage: Real,
) -> Real:
    """Squat as used in Japan; in a channel the speed is raised by the return flow, with `blockage` 0 it is open water.

    Source: [Yoshimura1986], memory. Limits: block coefficient 0.55 to 0.80, depth/draught from 1.2, beam/draught 2.5 to
    5.5, length/beam 3.7 to 6, length/draught 16 to 30.
    """
    past_hull = unbounded(speed, 1.0 - blockage)
    form = block_coefficient * beam / length_between_perpendiculars
    shallowness = draught / water_depth
    return ((0.7 + 1.5 * shallowness) * form + 15.0 * shallowness * form**3) * past_hull**2 / GRAVITY

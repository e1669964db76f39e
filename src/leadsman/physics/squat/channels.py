"""Squat formulas that know the sides of the channel. `squat` is the sinkage of the deeper end, positive down. [m]

`blockage` is midship section / cross-section, the cross-section of open water being that of the width of influence in
the formulas of Barrass and without bound (blockage 0) in the others.
"""

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.channel import return_factor, unbounded
from leadsman.physics.squat.open_water import slender_body
from leadsman.units import GRAVITY, KNOT


@formula
def barrass_1979(speed: Real, block_coefficient: Real, blockage: Real) -> Real:
    """Squat by velocity return factor, published in knots.

    Source: [Barrass1979], seen with numbers. Limits: blockage 0.1 to 0.3, depth Froude number below 0.7.
    """
    return block_coefficient * return_factor(blockage) ** (2.0 / 3.0) * (speed / KNOT) ** 2.08 / 30.0


@formula
def barrass_short(speed: Real, block_coefficient: Real, confined: Real) -> Real:
    """The one-line formulas, published in knots: C_B V²/100 in open water, twice that where the channel is `confined`.

    Source: [Barrass2004], open form seen with numbers, confined form memory. Limits: depth/draught 1.1 to 1.4, block
    coefficient 0.5 to 0.9, blockage of the confined form up to 0.27.
    """
    return block_coefficient * (speed / KNOT) ** 2 / where(confined, 50.0, 100.0)


@formula
def barrass_2002(speed: Real, block_coefficient: Real, blockage: Real) -> Real:
    """Squat by blockage to the power 0.81, published in knots.

    Source: [Barrass2004], memory. Limits: depth/draught 1.1 to 1.4.
    """
    return block_coefficient * blockage**0.81 * (speed / KNOT) ** 2.08 / 20.0


@formula
def barrass_channel_factor(blockage: Real) -> Real:
    """K of `barrass_2004`: from 1, open water, to 2, fully confined. [-]

    Source: [Barrass2004], memory.
    """
    return np.minimum(np.maximum(5.74 * blockage**0.76, 1.0), 2.0)


@formula
def barrass_2004(speed: Real, block_coefficient: Real, channel_factor: Real) -> Real:
    """Squat by a channel factor, published in knots; the factor is 1 in unrestricted water.

    Source: [Barrass2004], taken up in [PIANC121]; memory. Limits: block coefficient 0.5 to 0.85, depth/draught 1.1 to
    1.4, blockage up to 0.25.
    """
    return channel_factor * block_coefficient * (speed / KNOT) ** 2 / 100.0


@formula
def huuska_channel_factor(corrected_blockage: Real) -> Real:
    """K_s of `huuska` from the blockage already divided by the trench's K₁. [-]

    As printed, 7.45 s + 0.76 from s = 0.03 is below 1 up to s = 0.0322; there 1 is kept, so that more blockage never
    means less squat. Source: [Huuska1976], figures seen in a public program text.
    """
    return where(corrected_blockage > 0.03, np.maximum(7.45 * corrected_blockage + 0.76, 1.0), 1.0)


@formula
def huuska(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    channel_factor: Real,
) -> Real:
    """Squat by Huuska and Guliev; `channel_factor` 1 is unrestricted water.

    K₁ for trenches is a chart that is not at hand: K_s = 1 is the lower bound, K₁ = 1 the upper one. Source:
    [Huuska1976], form seen, limits memory. Limits: block coefficient 0.60 to 0.80, beam/draught 2.19 to 3.5,
    length/beam 5.5 to 8.5, trench height/depth 0.1 to 0.81, depth Froude number up to 0.7.
    """
    open_water = slender_body(speed, water_depth, length_between_perpendiculars, beam, draught, block_coefficient, 2.4)
    return open_water * channel_factor


@formula
def eryuzlu(speed: Real, water_depth: Real, beam: Real, draught: Real, bottom_width: Real) -> Real:
    """Squat of bulk carriers in open water and dredged channels, not canals; `bottom_width` infinite in open water.

    Source: [Eryuzlu1994], memory. Limits: block coefficient from 0.8, depth/draught 1.1 to 2.5, beam/draught 2.4 to
    2.9, length/beam 6.7 to 6.8.
    """
    narrow = np.maximum(3.1 / np.sqrt(np.maximum(bottom_width / beam, 1e-3)), 1.0)
    by_speed = (speed / np.sqrt(GRAVITY * draught)) ** 2.289
    return 0.298 * water_depth**2 / draught * by_speed * (water_depth / draught) ** -2.972 * narrow


@formula
def norrbin_channel(speed: Real, blockage: Real, mean_depth: Real) -> Real:
    """Sinkage in a canal by linearised one-dimensional flow, low speeds only.

    h S F² / (1 - S - (h W₀ / A) F²), written with the mean depth A / W₀. Source: [Norrbin1986], seen.
    """
    velocity_head = speed**2 / GRAVITY
    return unbounded(blockage * velocity_head, 1.0 - blockage - velocity_head / mean_depth)

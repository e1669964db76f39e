"""Squat formulas that give bow and stern each, and the rule for the other end where a formula gives the deeper only."""

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.channel import froude_depth, limiting_froude
from leadsman.physics.squat.open_water import Ends
from leadsman.units import GRAVITY


@formula
def roemisch_critical_speed(
    water_depth: Real,
    mean_depth: Real,
    trench_share: Real,
    blockage: Real,
    draught: Real,
    length_between_perpendiculars: Real,
    beam: Real,
) -> Real:
    """Critical speed of `roemisch`: open water for `trench_share` 0, canal for 1, dredged trench between. [m/s]

    Source: [Roemisch1989], memory.
    """
    length_to_beam = length_between_perpendiculars / beam
    in_open_water = 0.58 * (water_depth / draught * length_to_beam) ** 0.125
    in_canal = limiting_froude(blockage)
    factor = in_open_water * (1.0 - trench_share) + in_canal * trench_share
    return factor * np.sqrt(GRAVITY * (water_depth - trench_share * (water_depth - mean_depth)))


@formula
def roemisch(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    critical_speed: Real,
) -> Ends:
    """Bow and stern squat by the share of the critical speed.

    Source: [Roemisch1989], memory. Limits: depth/draught 1.19 to 2.25, block coefficient 0.6 to 0.8, speed up to the
    critical speed; from models of beam/draught 2.6 and length/beam 8.7.
    """
    share = speed / critical_speed
    by_speed = 8.0 * share**2 * ((share - 0.5) ** 4 + 0.0625)
    stern = by_speed * 0.155 * np.sqrt(water_depth / draught) * draught
    fullness = (10.0 * block_coefficient * beam / length_between_perpendiculars) ** 2
    return Ends(bow=fullness * stern, stern=stern)


@formula
def ankudinov(
    speed: Real,
    water_depth: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    trim: Real,
    block_coefficient: Real,
    channel_blockage: Real,
    propellers: Real,
    bulbous_bow: Real,
    transom_stern: Real,
) -> Ends:
    """Bow and stern squat by mean sinkage and trim, with propellers, bulb, transom and static trim.

    `channel_blockage` is block coefficient x blockage x trench height / depth, 0 in open water. Source: [CHETNIX19],
    memory. Limits: depth Froude number up to 0.6, depth/draught from 1.1, block coefficient 0.5 to 0.9, channel
    blockage up to 0.2.
    """
    depth_to_draught = water_depth / draught
    froude = froude_depth(speed, water_depth)
    propulsion_sinkage = where(propellers > 1, 0.13, 0.15)
    propulsion_trim = where(propellers > 1, 0.20, 0.15)
    hull = 1.7 * block_coefficient * beam * draught / length_between_perpendiculars**2 + 0.004 * block_coefficient**2
    by_speed = froude ** (1.8 + 0.4 * froude)
    channel = 1.0 + 10.0 * channel_blockage - 1.5 * (1.0 + channel_blockage) * np.sqrt(channel_blockage)
    sinkage = (1.0 + propulsion_sinkage) * hull * by_speed * (1.0 + 0.35 / depth_to_draught**2) * channel

    # As printed the trim fades to nothing where the keel meets the bed, and a depth growing from there would add squat.
    # Below the formula's own limit of depth/draught 1.1 the trim therefore fades no further.
    fading = np.exp(2.5 * (1.0 - np.maximum(depth_to_draught, 1.1)) / np.maximum(froude, 1e-9))
    exponent = 2.0 + 0.8 * channel / block_coefficient
    trim_factor = (
        block_coefficient**exponent
        - (0.15 * propulsion_sinkage + propulsion_trim)
        - (where(bulbous_bow, 0.1, 0.0) + where(transom_stern, 0.04, 0.0) + 0.5 * trim / draught)
    )
    dynamic_trim = -1.7 * hull * by_speed * (1.0 - fading) * trim_factor * (1.0 - 5.0 * channel_blockage)
    return Ends(
        bow=length_between_perpendiculars * (sinkage - 0.5 * dynamic_trim),
        stern=length_between_perpendiculars * (sinkage + 0.5 * dynamic_trim),
    )


@formula
def other_end(squat: Real, block_coefficient: Real) -> Real:
    """Sinkage of the end that squats less, negative where it rises. [m]

    Source: [BarrassDerrett2006], memory.
    """
    return (1.0 - 40.0 * (0.7 - block_coefficient) ** 2) * squat


@formula
def mean_sinkage(squat: Real, block_coefficient: Real) -> Real:
    """Sinkage amidships that belongs to the greatest squat. [m]

    Source: [BarrassDerrett2006], memory.
    """
    return (1.0 - 20.0 * (0.7 - block_coefficient) ** 2) * squat


@formula
def ends(squat: Real, block_coefficient: Real, trim: Real) -> Ends:
    """Bow and stern from the greatest squat: full ships (C_B > 0.7) go down by the bow, fine ones by the stern.

    A ship trimmed at rest squats further at the end already deeper (`trim` positive by the stern); where that is not
    the end of the rule, both ends get the greatest squat, since neither rule excuses its end. No credit is taken for an
    end that rises. Source: [BarrassDerrett2006], memory; the two cautions are ours.
    """
    # An unbounded squat is unbounded at both ends: times a share of zero it would be undefined.
    lesser = where(squat < np.inf, np.maximum(other_end(np.minimum(squat, 1e9), block_coefficient), 0.0), squat)
    bow_spared = (block_coefficient <= 0.7) & (trim >= 0.0)
    stern_spared = (block_coefficient >= 0.7) & (trim <= 0.0)
    return Ends(bow=where(bow_spared, lesser, squat), stern=where(stern_spared, lesser, squat))

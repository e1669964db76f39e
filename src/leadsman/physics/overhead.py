"""Room under bridges and cables. Squat lowers the ship, and no credit is taken for it."""

from leadsman.compiled import Real, formula, where


@formula
def air_draught(keel_to_highest_point: Real, draught: Real) -> Real:
    """Water to highest point; `draught` at the mast's own place and in today's water. [m]

    Source: geometry.
    """
    return keel_to_highest_point - draught


@formula
def available(charted_clearance: Real, datum_level: Real, water_level: Real) -> Real:
    """Height of the underside above the water.

    `datum_level` is the level above chart datum to which the charted clearance is referred (HAT, MHWS, ...), read from
    the title of the chart and never assumed. [m] Source: geometry.
    """
    return charted_clearance + datum_level - water_level


@formula
def clearance(charted_clearance: Real, datum_level: Real, water_level: Real, air_draught: Real) -> Real:
    """Overhead clearance: underside less the highest point of the ship. [m]

    Source: geometry.
    """
    return charted_clearance + datum_level - water_level - air_draught


@formula
def greatest_water_level(charted_clearance: Real, datum_level: Real, air_draught: Real, required: Real) -> Real:
    """The highest water level above chart datum that leaves the required clearance. [m]

    Source: geometry.
    """
    return datum_level + charted_clearance - air_draught - required


@formula
def pianc_clearance(air_draught: Real, draught: Real, outer: Real) -> Real:
    """Clearance recommended for design: 5 % of the air draught, and 0.4 draught more in an `outer` channel. [m]

    Source: [PIANC121], memory.
    """
    return 0.05 * air_draught + where(outer, 0.4, 0.0) * draught

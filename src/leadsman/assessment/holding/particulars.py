"""Her particulars for holding, from the one home of estimates: each at the unfavourable end of its band.

Thrust is taken one standard deviation less, areas and the height of the windage one larger; the centroid of the lateral
area, which may turn her either way, a deviation forward and a deviation aft: two windages, of which the heavier counts.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from leadsman.assessment.estimates import particulars as estimated
from leadsman.errors import CannotCompute
from leadsman.figure import Figure
from leadsman.physics import wind_profile
from leadsman.ship import Loading, Ship

MAST = 8.0  # m from the bridge's top to the mast's (forces sheet 1.6), tool setting, geometric
NEEDED = (
    *("length_between_perpendiculars", "mean_draught", "displacement", "block_coefficient", "midship_coefficient"),
    *("lateral_windage", "frontal_windage", "windage_height", "windage_forward"),
)


@dataclass(frozen=True, kw_only=True)
class Particulars:
    """Figures the card may leave out, given or estimated elsewhere with their provenance."""

    length_between_perpendiculars: float
    draught: float
    """Mean. [m]"""
    displacement: float
    block_coefficient: float
    midship_coefficient: float
    engine_power: float | None
    """At full revolutions, all screws together; None: not on the card, no thrust is reckoned with. [W]"""
    lateral_area: float
    transverse_area: float
    windage_centroid: float
    """Forward of midships. [m]"""
    windage_height: float
    """Top of house or stacks above water. [m]"""
    bollard_thrust: float | None = None
    """At rest at full ahead of the card, all screws together; None: by the planning figure for the power. [N]"""
    astern_thrust_share: float | None = None
    """Of the thrust ahead, at equal power or revolutions; None: from the power astern. [-]"""
    windage_centroid_deviation: float = 0.0
    """How far the centroid may lie off, either way. [m]"""
    windage_centroid_height: float | None = None
    bridge_height: float | None = None
    deck_house_area: float | None = None


def holding_particulars(ship: Ship, loading: Loading) -> Particulars:
    """What statics need of her; `CannotCompute` names what the card leaves no way to know."""
    known = estimated(ship, loading)
    missing = [name.replace("_", " ") for name in NEEDED if name not in known]
    if missing:
        raise CannotCompute(f"the card leaves no way to know her {', '.join(missing)}")
    lateral = _upper(known, "lateral_windage")
    height = _upper(known, "windage_height")
    bridge = None if loading.air_draught is None else max(loading.air_draught - MAST, height)
    return Particulars(
        length_between_perpendiculars=known["length_between_perpendiculars"].value,
        draught=known["mean_draught"].value,
        displacement=known["displacement"].value,
        block_coefficient=known["block_coefficient"].value,
        midship_coefficient=known["midship_coefficient"].value,
        engine_power=ship.engine.power,
        bollard_thrust=_lower(known, "bollard_thrust_full_ahead"),
        astern_thrust_share=_lower(known, "astern_thrust_share"),
        lateral_area=lateral,
        transverse_area=_upper(known, "frontal_windage"),
        windage_centroid=known["windage_forward"].value,
        windage_centroid_deviation=_deviation(known["windage_forward"]),
        windage_height=float(wind_profile.top_of(height)),
        windage_centroid_height=height,
        bridge_height=bridge,
        deck_house_area=_deck_house(ship, loading, lateral),
    )


def _upper(known: Mapping[str, Figure], name: str) -> float:
    return known[name].value + _deviation(known[name])


def _lower(known: Mapping[str, Figure], name: str) -> float | None:
    return max(known[name].value - _deviation(known[name]), 0.0) if name in known else None


def _deviation(figure: Figure) -> float:
    return figure.band.deviation or 0.0 if figure.band else 0.0


def _deck_house(ship: Ship, loading: Loading, lateral: float) -> float | None:
    """What of the lateral area stands above the upper deck; None where her depth is not known. [m²]"""
    if ship.moulded_depth is None:
        return None
    side = ship.length_overall * (ship.moulded_depth - loading.mean_draught)
    above = lateral - side
    return above if math.isfinite(above) and above > 0.0 else None

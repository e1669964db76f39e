"""From the things of a port call to a case of holding: thin, and every assumption told as a finding."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from leadsman.assessment.holding.case import (
    PLANNING,
    HoldingCase,
    HullInStream,
    Planning,
    Quay,
    Situation,
    Windage,
)
from leadsman.assessment.holding.own_means import Say, screws, tell, thrusters
from leadsman.assessment.holding.particulars import Particulars
from leadsman.assessment.holding.windage import Profile, windages
from leadsman.figure import Finding, Grade
from leadsman.physics import wind_profile
from leadsman.ship import Loading, Ship, ShipType
from leadsman.simulation.from_ship import wind_type
from leadsman.units import AIR_DENSITY, signed


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """Where and in what weather; directions true, as the forecast has them."""

    situation: Situation
    heading: float
    wind_speed: float
    """Ten-minute mean. [m/s]"""
    wind_from: float
    stream_rate: float
    stream_towards: float
    water_depth: float
    """Bed to surface at the time. [m]"""
    water_density: float
    quay: Quay | None = None
    speed: float = 0.0
    """Through the water; nil unless under way. [m/s]"""


def holding_case(
    ship: Ship,
    loading: Loading,
    particulars: Particulars,
    surroundings: Surroundings,
    order: str,
    planning: Planning = PLANNING,
    forecast_gust: float | None = None,
) -> tuple[HoldingCase, tuple[Finding, ...]]:
    """The ship as she is today in these surroundings, without tugs, and what had to be assumed.

    `order` is the engine order of the card that kicks are given with, or that she runs under way with.
    """
    findings: list[Finding] = []
    say = findings.append
    found = HoldingCase(
        situation=surroundings.situation,
        length_overall=ship.length_overall,
        beam=ship.beam,
        displacement=particulars.displacement,
        windages=_windages(_profile(ship, loading, particulars, say), particulars.windage_centroid_deviation),
        hull=_hull(ship, particulars, surroundings.water_density),
        screws=screws(ship, particulars, order, surroundings.speed, surroundings.water_density, say),
        thrusters=thrusters(ship, loading, particulars.length_between_perpendiculars, surroundings.speed, say),
        tugs=(),
        water_depth=surroundings.water_depth,
        wind_speed=surroundings.wind_speed,
        wind_from=signed(surroundings.wind_from - surroundings.heading),
        current_speed=surroundings.stream_rate,
        current_from=signed(surroundings.stream_towards + math.pi - surroundings.heading),
        speed=surroundings.speed,
        quay=surroundings.quay,
        planning=planning,
        forecast_gust=forecast_gust,
    )
    findings.extend(
        Finding(grade=Grade.CAUTION, subject="method_limits", sentence=f"Holding: {breach}; the answer is indicative.")
        for breach in found.breaches
    )
    return found, tuple(findings)


def _profile(ship: Ship, loading: Loading, particulars: Particulars, say: Say) -> Profile:
    if ship.kind is ShipType.OTHER:
        tell(say, Grade.CAUTION, "Her kind is not known; wind loads are those of a car carrier, the greatest abeam.")
    return Profile(
        ship_type=wind_type(ship, loading),
        length_overall=ship.length_overall,
        beam=ship.beam,
        lateral_area=particulars.lateral_area,
        transverse_area=particulars.transverse_area,
        centroid_forward=particulars.windage_centroid,
        height=particulars.windage_height,
        centroid_height=particulars.windage_centroid_height,
        bridge_height=particulars.bridge_height,
        deck_house_area=particulars.deck_house_area,
    )


@lru_cache(maxsize=32)
def _windages(profile: Profile, deviation: float) -> tuple[Windage, ...]:
    """By every method that suits her; with the lateral area further forward and further aft where that is not sure."""
    if deviation == 0.0:
        return windages(profile, wind_profile.OPEN_SEA_EXPONENT, AIR_DENSITY)
    return tuple(
        replace(each, method=f"{each.method}, area further {where}")
        for where, shift in (("forward", deviation), ("aft", -deviation))
        for each in windages(
            replace(profile, centroid_forward=profile.centroid_forward + shift),
            wind_profile.OPEN_SEA_EXPONENT,
            AIR_DENSITY,
        )
    )


def _hull(ship: Ship, particulars: Particulars, water_density: float) -> HullInStream:
    full = ship.kind in (ShipType.TANKER, ShipType.BULK_CARRIER, ShipType.GAS_CARRIER)
    return HullInStream(
        length_waterline=particulars.length_between_perpendiculars,
        beam=ship.beam,
        draught=particulars.draught,
        block_coefficient=particulars.block_coefficient,
        midship_coefficient=particulars.midship_coefficient,
        propeller="tanker" if full else "cargo",
        propellers=max(1, len(ship.propellers)),
        form="merchant",
        density=water_density,
    )

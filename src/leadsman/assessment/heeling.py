"""How far each bilge goes down by list, by heel in the bends and by wind: bounds that hold for every start.

Figures the card does not give are those of her particulars (estimates.py), taken at their unfavourable end. A list on
the card is a list to starboard where positive. Heel in a bend is outwards, by her greatest speed over the ground there;
heel by wind is to leeward, by the gust, over all headings she may lay off.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from leadsman.assessment.drift import Drift
from leadsman.assessment.estimates import particulars
from leadsman.assessment.parts import PARTS
from leadsman.assessment.passage import Passage
from leadsman.errors import CannotCompute
from leadsman.figure import Band, Figure, Finding, Grade, Origin
from leadsman.geometry import Array
from leadsman.physics import heel, wind_profile
from leadsman.portcall import PortCall
from leadsman.units import AIR_DENSITY, DEGREE

ONE_SIDED_95 = 1.645  # standard deviations of a normal distribution below which 95 % lie
DRAG = 1.2  # of the profile in a beam wind, the upper end of 1.0 to 1.2: water.md 3.2, derived
HEADING_UNCERTAINTY = 10.0 * DEGREE  # of wind and waves to her heading, either way. Ours, no source
NEEDED = (
    "metacentric_height",
    "centre_of_gravity_height",
    "lateral_windage",
    "windage_height",
    "displacement",
    "list_angle",
    "draught_midships",
)
"""Of her particulars."""
HEADINGS = 5  # looked at between the ends of what she may lay off


@dataclass(frozen=True, kw_only=True, eq=False)
class Stability:
    """What heel and roll need of her, each at its unfavourable end."""

    metacentric_height: float
    """Least. [m]"""
    metacentric_heights: tuple[float, ...]
    """Least, likely and greatest: roll is worst where her period meets the waves. [m]"""
    gravity_height: float
    """Greatest, above the keel. [m]"""
    lateral_windage: float
    windage_height: float
    """Centroid above water. [m]"""
    displacement: float
    """[kg]"""
    list_angle: float
    """To starboard positive. [rad]"""
    draught_midships: float
    figures: Mapping[str, Figure]


def stability(call: PortCall) -> Stability:
    """From card and particulars; `CannotCompute` where even her particulars leave no way to know."""
    known = particulars(call.ship, call.loading, names=NEEDED)
    if "windage_height" not in known and "lateral_windage" in known:
        known = {**known, "windage_height": _assumed_windage_height(call, known["lateral_windage"].value)}
    missing = [name for name in NEEDED if name not in known]
    if missing:
        raise CannotCompute(
            f"heel cannot be reckoned without {', '.join(name.replace('_', ' ') for name in missing)} of "
            f"{call.ship.name}; give it on the card"
        )
    used = {name: known[name] for name in NEEDED}
    least, most = _bounds(used["metacentric_height"])
    likely = used["metacentric_height"].value
    worst = Figure(
        name="metacentric_height_least",
        value=max(least, 0.25 * likely),
        unit="m",
        origin=Origin.COMPUTED,
        method="metacentric height less what it may lack (95 %), not below a quarter of it",
        source=used["metacentric_height"].source,
        inputs={"metacentric_height": likely},
    )
    return Stability(
        metacentric_height=worst.value,
        metacentric_heights=(worst.value, likely, most),
        gravity_height=_bounds(used["centre_of_gravity_height"])[1],
        lateral_windage=_bounds(used["lateral_windage"])[1],
        windage_height=_bounds(used["windage_height"])[1],
        displacement=used["displacement"].value,
        list_angle=used["list_angle"].value,
        draught_midships=used["draught_midships"].value,
        figures={**used, worst.name: worst},
    )


def _assumed_windage_height(call: PortCall, area: float) -> Figure:
    """Where nothing tells how high her profile reaches: twice that of a profile of even height."""
    return Figure(
        name="windage_height",
        value=area / call.ship.length_overall,
        unit="m",
        origin=Origin.ASSUMED,
        method="mean height of her profile, twice its centroid's",
        source="common practice, no source",
    )


def _bounds(figure: Figure) -> tuple[float, float]:
    """What the figure is with 95 % at least, and at most."""
    band = figure.band or Band(deviation=0.0)
    spread = ONE_SIDED_95 * (band.deviation or 0.0)
    return figure.value - spread, figure.value + spread


@dataclass(frozen=True, kw_only=True, eq=False)
class Heel:
    """How much deeper the bilges are than the keel, parts by stations. [m]"""

    sinkage: Array
    in_turn: Array
    """Heel in bends, station by station, nought on straights. [rad]"""
    by_wind: Array
    """Greatest heel by wind to either side. [rad]"""
    findings: tuple[Finding, ...]


def heeling(passage: Passage, drift: Drift, stability: Stability) -> Heel:
    """Heel at every station, whatever the start."""
    call = passage.call
    turn = _turn_heel(passage, drift, stability)  # positive to starboard
    to_port, to_starboard = _wind_heel(passage, drift, stability)
    still = stability.list_angle
    port = np.maximum(-still, 0.0) + np.maximum(-turn, 0.0) + to_port
    starboard = np.maximum(still, 0.0) + np.maximum(turn, 0.0) + to_starboard
    by_side = {-1.0: port, 0.0: np.zeros_like(port), 1.0: starboard}
    share = heel.BILGE_SHARES["square"]
    return Heel(
        sinkage=np.array([heel.bilge_sinkage(call.ship.beam, by_side[part.bilge], share) for part in PARTS]),
        in_turn=np.abs(turn),
        by_wind=np.maximum(to_port, to_starboard),
        findings=() if call.forecast.wind_speed is not None else (_no_wind(),),
    )


def _turn_heel(passage: Passage, drift: Drift, stability: Stability) -> Array:
    """Outward heel in the bends, to starboard positive; the greater of the speeds through water and over ground."""
    found = np.zeros_like(passage.distance)
    lever = max(stability.gravity_height - 0.5 * passage.call.loading.mean_draught, 0.0)
    speed = np.maximum(drift.fastest, passage.speed)
    reach = 0.5 * passage.call.ship.length_overall
    for bend in passage.track.bends:
        inside = (passage.distance >= bend.begin - reach) & (passage.distance <= bend.end + reach)
        angle = heel.in_turn(speed[inside], bend.radius, lever, stability.metacentric_height)
        found[inside] = -np.sign(bend.deflection) * np.maximum(np.abs(found[inside]), angle)
    return found


def _wind_heel(passage: Passage, drift: Drift, stability: Stability) -> tuple[Array, Array]:
    """Greatest heel by wind to port and to starboard, by the wind's part across her and the wind felt aboard. [rad]"""
    forecast = passage.call.forecast
    if forecast.wind_speed is None or forecast.wind_from is None:
        return np.zeros_like(passage.distance), np.zeros_like(passage.distance)
    gust = forecast.gust_speed or forecast.wind_speed * float(
        wind_profile.gust_factor(wind_profile.SHIP_GUST, wind_profile.FORECAST_MEAN)
    )
    low = passage.course + drift.crab_least - HEADING_UNCERTAINTY
    high = passage.course + drift.crab_most + HEADING_UNCERTAINTY
    heading = low + np.linspace(0.0, 1.0, HEADINGS)[:, None] * (high - low)
    from_bow = forecast.wind_from - heading
    across = gust * np.sin(from_bow)  # from starboard positive
    felt = np.hypot(across, gust * np.cos(from_bow) + passage.speed)
    angle = heel.by_wind(
        np.sqrt(felt * np.abs(across)),
        stability.lateral_windage,
        stability.windage_height + 0.5 * passage.call.loading.mean_draught,
        stability.displacement,
        stability.metacentric_height,
        DRAG,
        AIR_DENSITY,
    )
    to_port = np.max(np.where(across > 0.0, angle, 0.0), axis=0)
    to_starboard = np.max(np.where(across < 0.0, angle, 0.0), axis=0)
    return to_port, to_starboard


def _no_wind() -> Finding:
    return Finding(
        grade=Grade.CAUTION,
        subject="wind",
        sentence="The forecast gives no wind: heel by wind is not in the clearances.",
        source="forecast.toml",
    )

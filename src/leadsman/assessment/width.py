"""The concept width of the guidelines read backwards: what there is, what she asks, which rows weigh."""

import math
from collections.abc import Mapping
from typing import get_args

import numpy as np

from leadsman import format as text
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.assessment.room_result import ReachWidth, WidthRow
from leadsman.assessment.swept import Swept, edges
from leadsman.figure import Finding, Grade
from leadsman.physics import width
from leadsman.portcall import Direction
from leadsman.ship import ShipType
from leadsman.waterway import ChannelKind, Reach

MANOEUVRABILITY: Mapping[ShipType, width.Manoeuvrability] = {
    ShipType.TANKER: "poor",
    ShipType.BULK_CARRIER: "poor",
    ShipType.FERRY: "good",
    ShipType.CRUISE: "good",
    ShipType.TUG: "good",
}
"""As the guideline sorts ships, others moderate: [PIANC121], memory."""
SOFT = ("mud", "silt", "clay", "sand", "ooze", "soft")  # beds that count as smooth and soft; ours, no source
GENTLE_SLOPE = 10.0  # metres along for each metre down, from which an under-water slope is gentle: [PIANC121], memory
STEEP_SLOPE = 2.0  # a canal's side steeper than this counts as a hard embankment; ours, no source
QUARTERING = math.radians(165.0)  # from ahead: waves from here on come from right astern; ours, no source
BOW_WAVES = math.radians(60.0)  # from ahead: waves within come on the bow and ask no width; ours, no source


def reach_widths(prepared: Prepared, found: Account, swept: Swept) -> tuple[ReachWidth, ...]:
    """One for each reach in the order sailed."""
    return tuple(_reach_width(prepared, found, swept, index) for index in range(len(prepared.passage.reaches)))


def conditions(prepared: Prepared, found: Account, index: int) -> tuple[width.Conditions, tuple[str, ...]]:
    """What the concept width depends on in a reach, worst along it at her time, and what nobody said."""
    passage, call = prepared.passage, prepared.call
    reach, inside = passage.reaches[index], passage.reach == index
    assumed: list[str] = []
    banks = [_bank(reach, side, assumed) for side in ("port", "starboard")]
    if call.direction is Direction.OUTWARD:
        banks.reverse()
    fairway = reach.fairway
    if fairway.sheltered is None:
        assumed.append("open water, an outer channel")
    if fairway.aids is None:
        assumed.append("moderate aids to navigation")
    depth = np.min((found.depth + found.water_level)[inside])
    aids: width.Aids = next((one for one in get_args(width.Aids) if one == fairway.aids), "moderate")
    return width.Conditions(
        place="inner" if fairway.sheltered else "outer",
        manoeuvrability=MANOEUVRABILITY.get(call.ship.kind, "moderate"),
        speed=float(passage.speed[inside][0]),
        cross_wind=_cross_wind(prepared, index, assumed),
        cross_current=float(np.max(np.abs(found.stream_across[inside]))),
        along_current=float(np.max(np.abs(found.stream_along[inside]))),
        wave_height=_waves(prepared, index, assumed),
        aids=aids,
        bottom=_bottom(prepared, index),
        depth_to_draught=float(depth) / prepared.floating.draught,
        bank_port=banks[0],
        bank_starboard=banks[1],
    ), tuple(assumed)


def _reach_width(prepared: Prepared, found: Account, swept: Swept, index: int) -> ReachWidth:
    passage = prepared.passage
    reach, inside = passage.reaches[index], passage.reach == index
    asked, assumed = conditions(prepared, found, index)
    needed = width.two_way(asked) if reach.fairway.two_way else width.one_way(asked)
    port, starboard = edges(passage)
    widest = np.flatnonzero(inside)[int(np.argmax(swept.width[inside]))]
    farthest = np.flatnonzero(inside)[int(np.argmax(np.abs(swept.offset[inside])))]
    balance = swept.balances[index]
    known = balance is not None and math.isfinite(balance.rudder)
    return ReachWidth(
        reach=reach.name,
        available=float(np.min((port + starboard)[inside])),
        needed=needed.metres(prepared.call.ship.beam),
        two_way=reach.fairway.two_way,
        rows=tuple(WidthRow(**row._asdict()) for row in needed.rows),
        assumed=assumed,
        cross_wind=None if prepared.call.forecast.wind_speed is None else asked.cross_wind,
        cross_stream=asked.cross_current,
        along_stream=asked.along_current,
        swept=float(swept.width[widest]),
        heading_offset=float(swept.offset[farthest]),
        rudder=balance.rudder if balance is not None and known else None,
        held=balance.held if balance is not None else None,
    )


def _bank(reach: Reach, side: str, assumed: list[str]) -> width.Bank:
    """As the waterway says, else from the slope of a trench or canal, else sloping: nothing says it is gentle."""
    said = reach.fairway.bank_port if side == "port" else reach.fairway.bank_starboard
    for known in get_args(width.Bank):
        if known == said:
            return known  # type: ignore[no-any-return]
    if reach.channel is ChannelKind.OPEN or reach.side_slope is None:
        assumed.append(f"sloping edges to {side}")
        return "sloping"
    if reach.side_slope >= GENTLE_SLOPE:
        return "gentle"
    return "steep" if reach.channel is ChannelKind.CANAL and reach.side_slope < STEEP_SLOPE else "sloping"


def _bottom(prepared: Prepared, index: int) -> width.Bottom:
    """Hard unless every area under the reach is said to be soft."""
    under = np.unique(prepared.passage.bed.area[prepared.passage.reach == index])
    words = [prepared.call.waterway.areas[int(area)].bottom.lower() for area in under]
    return "soft" if all(any(soft in word for soft in SOFT) for word in words) else "hard"


def _cross_wind(prepared: Prepared, index: int, assumed: list[str]) -> float:
    """Without a forecast, strong: nothing missing is assumed calm. [m/s]"""
    forecast = prepared.call.forecast
    if forecast.wind_speed is None or forecast.wind_from is None:
        assumed.append("a strong wind across, for none is forecast")
        return UNKNOWN_WIND
    return abs(forecast.wind_speed * math.sin(forecast.wind_from - float(prepared.passage.track.courses[index])))


UNKNOWN_WIND = 20.0  # m/s: in the last class of the table, 33 to 48 kn


def _waves(prepared: Prepared, index: int, assumed: list[str]) -> float:
    """Significant height of waves from abeam to the quarter; from ahead or right astern they ask no width. [m]"""
    forecast, reach = prepared.call.forecast, prepared.passage.reaches[index]
    if reach.wave_share == 0.0:
        return 0.0
    if forecast.wave_height is None:
        assumed.append(f"waves of {text.metres_between(1.0, 3.0, 0)}, for none are forecast")
        return UNKNOWN_WAVES
    if forecast.wave_from is not None:
        bearing = abs(math.remainder(forecast.wave_from - float(prepared.passage.track.courses[index]), 2.0 * math.pi))
        if not BOW_WAVES <= bearing < QUARTERING:
            return 0.0
    return forecast.wave_height * reach.wave_share


UNKNOWN_WAVES = 2.0  # m: in the middle class of the table


def width_findings(widths: tuple[ReachWidth, ...], helped: bool) -> list[Finding]:
    """Where the concept width lacks, with the rows that weigh most; where the wheel cannot hold her in the wind.

    `helped`: she has tugs, thrusters, pods or twin screws, which can hold her where the wheel does not.
    """
    made = []
    for one in widths:
        if one.margin < 0.0:
            made.append(_too_narrow(one))
        if one.held is False:
            made.append(_not_held(one, helped))
    return made


def _not_held(one: ReachWidth, helped: bool) -> Finding:
    others = "tugs, thrusters or screws must" if helped else "more speed, or a tug, must"
    return Finding(
        grade=Grade.NOTE if helped else Grade.CAUTION,
        subject="steering",
        sentence=f"{one.reach}: by her estimated model the wheel alone does not hold her in this wind at the planned "
        f"speed; {others}.",
        place=one.reach,
        source="docs/methods/width.md",
    )


def _too_narrow(one: ReachWidth) -> Finding:
    heaviest = sorted((row for row in one.rows if row.beams > 0.0), key=lambda row: -row.beams)[:3]
    weigh = ", ".join(f"{row.name} {text.number(row.beams, 1)}" for row in heaviest if math.isfinite(row.beams))
    ways = "two ships" if one.two_way else "one ship"
    if math.isinf(one.needed):
        forbidden = next(row.name for row in one.rows if math.isinf(row.beams))
        return Finding(
            grade=Grade.CAUTION,
            subject="concept_width",
            sentence=f"{one.reach}: the guideline for channels allows no passage here in this {forbidden} "
            f"({text.knots(one.cross_stream)} across).",
            place=one.reach,
            source="PIANC121",
        )
    return Finding(
        grade=Grade.NOTE,
        subject="concept_width",
        sentence=f"{one.reach}: {text.metres(one.available, 0)} wide; a channel laid out for {ways} like her in these "
        f"conditions would have {text.metres(one.needed, 0)}. Most is asked, in beams, by {weigh}.",
        value=one.available,
        limit=one.needed,
        unit="m",
        place=one.reach,
        source="PIANC121",
    )

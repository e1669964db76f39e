"""Room to the sides and ahead, for one start: widths, bends, basins, where to begin to slow; with findings."""

from dataclasses import dataclass
from datetime import datetime

from leadsman.assessment.basin import basin_findings, swing_rooms
from leadsman.assessment.bends import bend_findings, bend_turns
from leadsman.assessment.moored import drawn, moored_findings
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.assessment.room_result import BendTurn, ReachWidth, SwingRoom, WayOff
from leadsman.assessment.stopping_room import stopping_findings, ways_off
from leadsman.assessment.swept import SweptPath, swept_path_of
from leadsman.assessment.width import reach_widths, width_findings
from leadsman.figure import Finding, Grade
from leadsman.portcall import PortCall


@dataclass(frozen=True, kw_only=True)
class SideRoom:
    """All of it."""

    widths: tuple[ReachWidth, ...]
    bends: tuple[BendTurn, ...]
    basins: tuple[SwingRoom, ...]
    way_off: tuple[WayOff, ...]
    findings: tuple[Finding, ...]


def side_room(prepared: Prepared, found: Account, start: datetime) -> SideRoom:
    """Widths, bends, basins and stopping of one start."""
    path = swept_path_of(prepared.passage)
    swept = path.swept(found.stream_across, found.depth + found.water_level)
    widths = reach_widths(prepared, found, swept)
    bends = bend_turns(prepared, path, found, swept)
    basins = swing_rooms(prepared, found, prepared.water.elapsed(start))
    ways = ways_off(prepared, path, found)
    tugs = bool(prepared.call.tugs)
    return SideRoom(
        widths=widths,
        bends=bends,
        basins=basins,
        way_off=ways,
        findings=(
            *width_findings(widths, _helped(prepared.call)),
            *bend_findings(bends, prepared.call.ship.length_overall, tugs),
            *basin_findings(basins, tugs),
            *stopping_findings(ways),
            *moored_findings(drawn(prepared, found)),
            *_unknown(path),
        ),
    )


def _helped(call: PortCall) -> bool:
    """Whether anything but the wheel can hold her head."""
    ship = call.ship
    pods = any(propeller.podded for propeller in ship.propellers)
    return bool(call.tugs or ship.thrusters or pods or len(ship.propellers) > 1)


def _unknown(path: SweptPath) -> list[Finding]:
    forecast = path.passage.call.forecast
    why = path.why_not or ("no wind is forecast" if forecast.wind_speed is None else "")
    if not why:
        return []
    return [
        Finding(
            grade=Grade.CAUTION,
            subject="width",
            sentence=f"What she sweeps is told without her drift in the wind: {why}.",
            source="docs/methods/width.md",
        )
    ]

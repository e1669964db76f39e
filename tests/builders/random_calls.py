"""Random port calls made from the examples, and their windows by brute force: every second, with none of the solver.

The march is written out again, start by start. The levels are compared with those each station needs, and these
in turn are checked against the account itself on both sides of each (`needs_hold`).
"""

import math
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path

import numpy as np

from leadsman.assessment.prepare import Prepared, prepare
from leadsman.compiled import kernel
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.errors import CannotCompute, Impossible
from leadsman.files.call_files import read_call
from leadsman.portcall import Direction, PortCall, ReachPlan
from leadsman.units import KNOT

EXAMPLES = Path(__file__).parents[2] / "examples"
FROM = ("1-river-coaster", "2-bar-bulk-carrier", "4-ferry-corner-berth", "5-podded-cruise", "3-container-basin")
ONE_MILLIMETRE = 0.001
ONE_SECOND = 1.0


def without_rules(call: PortCall) -> PortCall:
    """The water alone: rules of the port have brute force of their own (tests/assessment/rules)."""
    return replace(call, rules=(), waterway=replace(call.waterway, rules=()))


def random_call(seed: int, hours: float) -> PortCall:
    """A call of some example's ship and waterway, all else drawn; only ones that can be computed are given."""
    random = np.random.default_rng(seed)
    while True:
        base = without_rules(read_call(EXAMPLES / FROM[int(random.integers(len(FROM)))]))
        try:
            call = _changed(base, random, hours)
            prepare(call)
        except (Impossible, CannotCompute):
            continue
        return call


def _changed(call: PortCall, random: np.random.Generator, hours: float) -> PortCall:
    waterway, loading, forecast = call.waterway, call.loading, call.forecast
    stretch, lag = random.uniform(0.6, 1.3), random.uniform(0.0, 2.0 * math.pi)
    tides = tuple(
        replace(
            station,
            constituents=tuple((name, stretch * high, late + lag) for name, high, late in station.constituents),
            table=station.table,
        )
        for station in waterway.tide_stations
    )
    streams = tuple(
        replace(
            station,
            rows=tuple((hour, towards, rate * spring, rate * neap) for hour, towards, spring, neap in station.rows),
        )
        for rate in (random.uniform(0.0, 1.6),)
        for station in waterway.stream_stations
    )
    deeper = random.uniform(-1.5, 0.5)
    areas = tuple(
        replace(area, depth=None if area.depth is None else area.depth + deeper + random.normal(0.0, 0.2))
        for area in waterway.areas
    )
    gates = tuple(
        replace(gate, clearance=None if gate.clearance is None else gate.clearance + random.uniform(-1.5, 1.5))
        for gate in waterway.gates
    )
    change = random.uniform(-0.6, 0.3)
    slower = random.uniform(0.7, 1.1)
    begin = call.search_begin + timedelta(hours=float(random.uniform(0.0, 60.0)))
    return replace(
        call,
        waterway=replace(waterway, tide_stations=tides, stream_stations=streams, areas=areas, gates=gates, rules=()),
        rules=(),
        loading=replace(
            loading,
            draught_forward=loading.draught_forward + change + random.uniform(-0.3, 0.1),
            draught_aft=loading.draught_aft + change,
        ),
        forecast=replace(forecast, residual_low=forecast.residual - random.uniform(0.0, 0.4)),
        direction=Direction.INWARD if random.random() < 0.6 else Direction.OUTWARD,
        plans=tuple(
            ReachPlan(reach=plan.reach, speed=slower * (plan.speed or random.uniform(4.0, 9.0) * KNOT))
            for plan in call.plans
        ),
        start=begin,
        search_begin=begin,
        search_end=begin + timedelta(hours=hours),
    )


@kernel
def _holds(starts, distance, course, speed, need, ceiling, level, stream):
    """Whether every station has its level, start by start: the march written out again, with nothing left out."""
    good = np.ones(starts.size, dtype=np.bool_)
    for j in range(starts.size):
        elapsed = starts[j]
        for i in range(distance.size):
            height = level_at(level, distance[i], elapsed)
            if not need[i] <= height <= ceiling[i]:
                good[j] = False
                break
            if i + 1 < distance.size:
                north, east = stream_at(stream, distance[i], elapsed)
                across = east * math.cos(course[i]) - north * math.sin(course[i])
                along = north * math.cos(course[i]) + east * math.sin(course[i])
                ground = max(math.sqrt(max(speed[i] ** 2 - across**2, 0.0)) + along, 0.1)
                elapsed += (distance[i + 1] - distance[i]) / ground
    return good


def scan(prepared: Prepared) -> list[tuple[float, float]]:
    """(first, last) second of every span of starts that holds, by looking at every second."""
    passage, water = prepared.passage, prepared.water
    begin, end = water.elapsed(prepared.call.search_begin), water.elapsed(prepared.call.search_end)
    starts = np.arange(begin, end + 0.5 * ONE_SECOND, ONE_SECOND)
    good = _holds(
        starts,
        passage.distance,
        passage.course,
        passage.speed,
        prepared.stations.need,
        prepared.stations.ceiling,
        water.level.grid,
        water.stream.grid,
    )
    edge = np.flatnonzero(np.diff(np.concatenate([[False], good, [False]]).astype(np.int8)))
    return [(float(starts[a]), float(starts[b - 1])) for a, b in zip(edge[::2], edge[1::2], strict=True)]


def needs_hold(prepared: Prepared) -> bool:
    """Whether the account itself has enough a millimetre above every needed level, and too little as much below."""
    account, need = prepared.underkeel, prepared.underkeel.needed_levels
    reached = need < 29.9
    above = np.min(account.net(need + ONE_MILLIMETRE), axis=0) >= account.required
    below = np.min(account.net(need - ONE_MILLIMETRE), axis=0) < account.required
    return bool(np.all((above & below)[reached]))


@dataclass(frozen=True)
class Agreement:
    """The solver's windows against the scan's."""

    windows: int
    edges: int
    missed: int
    """Spans of the scan of two seconds or more without a window, or windows without a span."""
    worst: float
    """Greatest difference of an edge. [s]"""


def compare(prepared: Prepared) -> Agreement:
    """Every span of the scan beside the window it should be."""
    scanned, found = scan(prepared), list(prepared.search.spans)
    missed, worst, edges = 0, 0.0, 0
    for first, last in scanned:
        near = [one for one in found if one.opens <= last + ONE_SECOND and one.closes >= first - ONE_SECOND]
        if not near:
            missed += last - first >= 2.0 * ONE_SECOND
            continue
        edges += 2
        worst = max(worst, abs(near[0].opens - first), abs(near[-1].closes - last))
    for one in found:
        if one.closes - one.opens >= 2.0 * ONE_SECOND:
            missed += not any(first <= one.closes and last >= one.opens for first, last in scanned)
    return Agreement(windows=len(found), edges=edges, missed=int(missed), worst=worst)

"""The track cut into stations in the order sailed: what of the passage does not depend on when she starts."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from leadsman.environment.depth import Bed, Depths
from leadsman.errors import CannotCompute
from leadsman.geometry import Array, Track, rectangle, reversed_track
from leadsman.portcall import Direction, PortCall, ReachPlan
from leadsman.ship import Loading, Ship
from leadsman.waterway import Gate, Reach

STEP = 25.0  # m between stations; her outline is stretched by half of it at each end, so nothing lies between
MOST_STATIONS = 4000
LANE = 2.0  # beams: the width about the track whose depths count, for she never lies exactly on it. Ours, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class Passage:
    """Stations of one call; arrays of one entry a station unless they say otherwise."""

    call: PortCall
    track: Track
    """In the direction sailed."""
    reaches: tuple[Reach, ...]
    """In the order sailed."""
    plans: tuple[ReachPlan, ...]
    """In the order sailed."""
    distance: Array
    x: Array
    y: Array
    course: Array
    reach: NDArray[np.int64]
    speed: Array
    """Through the water, as planned. [m/s]"""
    depths: Depths
    bed: Bed
    gate_distances: tuple[tuple[Gate, float], ...]
    """Gates with their place along the track, in the order passed."""

    @cached_property
    def depth(self) -> Array:
        """Below chart datum under her lane, sills included. [m]"""
        depth = np.array([self.call.waterway.areas[index].depth for index in self.bed.area], dtype=np.float64)
        for gate, at in self.gate_distances:
            if gate.depth is not None:
                over = np.abs(self.distance - at) <= 0.5 * (self.call.ship.length_overall + STEP)
                depth[over] = np.minimum(depth[over], gate.depth)
        return depth

    @cached_property
    def survey_uncertainty(self) -> Array:
        """Of the survey, 95 %; zero where none is stated, which is told in a finding. [m]"""
        areas = self.call.waterway.areas
        return np.array([areas[index].uncertainty or 0.0 for index in self.bed.area])

    @cached_property
    def siltation(self) -> Array:
        """[m]"""
        return np.array([self.call.waterway.areas[index].siltation for index in self.bed.area])

    @cached_property
    def room(self) -> tuple[Array, Array]:
        """From her side to the edge of the fairway, port and starboard as sailed. [m]"""
        half = 0.5 * self.call.ship.beam
        port = np.array([reach.width_port for reach in self.reaches])[self.reach] - half
        starboard = np.array([reach.width_starboard for reach in self.reaches])[self.reach] - half
        return (port, starboard) if self.call.direction is Direction.INWARD else (starboard, port)

    def place(self, distance: float) -> str:
        """How a person names this place: the gate there, else the reach and how far along."""
        for gate, at in self.gate_distances:
            if abs(at - distance) < 0.5 * self.call.ship.length_overall:
                return gate.name
        return self.reaches[int(self.reach[int(np.argmin(np.abs(self.distance - distance)))])].name


def passage(call: PortCall) -> Passage:
    """The stations of a call; `CannotCompute` where no depth is known under her, or an order has no speed."""
    inward = call.direction is Direction.INWARD
    track = call.waterway.track if inward else reversed_track(call.waterway.track)
    reaches = call.waterway.reaches if inward else call.waterway.reaches[::-1]
    plans = tuple(next(plan for plan in call.plans if plan.reach == reach.name) for reach in reaches)
    gates = sorted(
        ((gate, track.nearest(*_point(call, gate))[0]) for gate in call.waterway.gates), key=lambda item: item[1]
    )
    distance = _stations(track, [at for _, at in gates])
    x, y, course = track.at(distance)
    turns = np.round(track.waypoint_distances, 3)  # as stations are: one at a waypoint belongs to the reach it begins
    reach = np.clip(np.searchsorted(turns, distance, side="right") - 1, 0, len(reaches) - 1)
    speeds = np.array([planned_speed(call.ship, call.loading, plan) for plan in plans])
    half_length = 0.5 * (call.ship.length_overall + STEP)
    outlines = rectangle(x, y, course, half_length, half_length, 0.5 * LANE * call.ship.beam)
    depths = Depths(call.waterway.areas, call.waterway.plane)
    made = Passage(
        call=call,
        track=track,
        reaches=reaches,
        plans=plans,
        distance=distance,
        x=x,
        y=y,
        course=course,
        reach=reach,
        speed=speeds[reach],
        depths=depths,
        bed=depths.under(outlines),
        gate_distances=tuple(gates),
    )
    _refuse_unknown_depth(made)
    return made


def planned_speed(ship: Ship, loading: Loading, plan: ReachPlan) -> float:
    """Speed through the water of a reach's plan; `CannotCompute` if the card has none for the order. [m/s]"""
    if plan.speed is not None:
        return plan.speed
    line = ship.engine.order(plan.order or "")
    speed = None
    if line is not None:
        speed = line.speed_loaded if loading.condition == "loaded" else line.speed_ballast
    if speed is None:
        raise CannotCompute(
            f"reach '{plan.reach}' is to be run at {(plan.order or '').replace('_', ' ')}, but the card of "
            f"{ship.name} gives no {loading.condition} speed for it; give speed_kn for the reach, or the speed in the "
            "engine order table"
        )
    if speed <= 0.0:
        raise CannotCompute(
            f"reach '{plan.reach}' is to be run at {plan.order}, which makes no way; give speed_kn for it"
        )
    return speed


def _point(call: PortCall, gate: Gate) -> tuple[float, float]:
    x, y = call.waterway.plane.to_plane(gate.position.latitude, gate.position.longitude)
    return float(x), float(y)


def _stations(track: Track, gates: list[float]) -> Array:
    count = math.ceil(track.length / STEP) + 1
    if count > MOST_STATIONS:
        raise CannotCompute(
            f"the track is {track.length / 1852.0:.0f} nm long; expected at most {MOST_STATIONS * STEP / 1852.0:.0f} nm"
        )
    even = np.linspace(0.0, track.length, count)
    bends = [place for bend in track.bends for place in (bend.begin, bend.end)]
    return np.unique(np.round(np.concatenate([even, track.waypoint_distances, gates, bends]), 3))


def _refuse_unknown_depth(made: Passage) -> None:
    """Nothing missing is ever assumed deep: the places without depth are named, and nothing is computed."""
    unknown = (made.bed.area < 0) | ~made.bed.covered | made.bed.unsurveyed
    if not np.any(unknown):
        return
    first = int(np.argmax(unknown))
    latitude, longitude = made.call.waterway.plane.to_earth(made.x[first], made.y[first])
    why = (
        "touches water said to be unsurveyed" if made.bed.unsurveyed[first] else "lies over water without a depth area"
    )
    raise CannotCompute(
        f"at {made.distance[first] / 1852.0:.2f} nm along the track ({float(latitude):.5f}, {float(longitude):.5f}), "
        f"in reach '{made.reaches[int(made.reach[first])].name}', her outline {why} ({int(np.sum(unknown))} of "
        f"{len(unknown)} places); expected depth areas under {LANE:g} beams along the whole track: a missing depth is "
        "never assumed"
    )

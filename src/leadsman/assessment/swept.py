"""What she sweeps along the way, crabbing and drifting, straight and in bends, and the room left each side."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from leadsman.assessment.handling import Balance, Handling, Model, model
from leadsman.assessment.passage import Passage
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.physics import swept_path, turn
from leadsman.portcall import Direction


@dataclass(frozen=True, kw_only=True, eq=False)
class Swept:
    """Station by station, for one start."""

    offset: Array
    """From the track to her heading, starboard positive: crab and drift in the wind. [rad]"""
    port: Array
    """How far she reaches to port of the track. [m]"""
    starboard: Array
    balances: tuple[Balance | None, ...]
    """Held straight in the wind, reach by reach in the order sailed; None: not known."""
    turns: tuple[Balance | None, ...]
    """Held in each bend."""

    @property
    def width(self) -> Array:
        """[m]"""
        return self.port + self.starboard


@dataclass(frozen=True, kw_only=True, eq=False)
class SweptPath:
    """What the swept path of a passage needs to know, whenever she starts."""

    passage: Passage
    made: Model | None
    why_not: str
    """Why there is no model; empty where there is."""

    def handling(self, depth: float) -> Handling | None:
        """She in water of a depth; None without a model."""
        return None if self.made is None else self.made.in_depth(depth)

    def swept(self, across: Array, water_depth: Array) -> Swept:
        """With the stream across at each station, to starboard positive [m/s], and the water there [m]."""
        passage = self.passage
        ship = passage.call.ship
        balances = tuple(self._straight(index, water_depth) for index in range(len(passage.reaches)))
        turns = tuple(self._turning(index, water_depth) for index in range(len(passage.track.bends)))
        drift = np.array([0.0 if one is None else np.nan_to_num(one.drift_angle) for one in balances])[passage.reach]
        offset = np.asarray(turn.crab_angle(across, passage.speed)) + drift
        half = 0.5 * np.asarray(swept_path.width(ship.length_overall, ship.beam, offset))
        port, starboard = half.copy(), half.copy()
        for bend, held in zip(passage.track.bends, turns, strict=True):
            inside = (passage.distance >= bend.begin) & (passage.distance <= bend.end)
            side = math.copysign(1.0, bend.deflection)
            inward = 0.0 if held is None else abs(np.nan_to_num(held.drift_angle))
            outer, inner = swept_path.sides_in_turn(
                ship.length_overall, ship.beam, inward + side * offset[inside], bend.radius
            )
            port[inside] = outer if side > 0.0 else inner
            starboard[inside] = inner if side > 0.0 else outer
        return Swept(offset=offset, port=port, starboard=starboard, balances=balances, turns=turns)

    def room(self, found: Swept) -> tuple[Array, Array]:
        """From what she sweeps to the edges of the fairway, port and starboard as sailed. [m]"""
        port, starboard = edges(self.passage)
        return port - found.port, starboard - found.starboard

    def _straight(self, index: int, water_depth: Array) -> Balance | None:
        passage, forecast = self.passage, self.passage.call.forecast
        inside = passage.reach == index
        she = self.handling(float(np.min(water_depth[inside])))
        if she is None or forecast.wind_speed is None or forecast.wind_from is None:
            return None
        relative = forecast.wind_from - float(passage.track.courses[index])
        relative = (relative + math.pi) % (2.0 * math.pi) - math.pi
        return she.straight(float(passage.speed[inside][0]), forecast.wind_speed, relative)

    def _turning(self, index: int, water_depth: Array) -> Balance | None:
        passage, bend = self.passage, self.passage.track.bends[index]
        inside = (passage.distance >= bend.begin) & (passage.distance <= bend.end)
        she = self.handling(float(np.min(water_depth[inside])))
        if she is None:
            return None
        return she.turning(speed_into(passage, index), bend.radius, math.copysign(1.0, bend.deflection))


def speed_into(passage: Passage, index: int) -> float:
    """Through the water where a bend begins. [m/s]"""
    return float(passage.speed[np.searchsorted(passage.distance, passage.track.bends[index].begin + 0.01) - 1])


def edges(passage: Passage) -> tuple[Array, Array]:
    """From the track to the edges of the fairway, port and starboard as sailed. [m]"""
    port = np.array([reach.width_port for reach in passage.reaches])[passage.reach]
    starboard = np.array([reach.width_starboard for reach in passage.reaches])[passage.reach]
    return (port, starboard) if passage.call.direction is Direction.INWARD else (starboard, port)


@lru_cache(maxsize=16)
def swept_path_of(passage: Passage) -> SweptPath:
    """The swept path of a passage; without a model she is drawn without drift in wind and bends, and it is said."""
    call = passage.call
    try:
        return SweptPath(passage=passage, made=model(call.ship, call.loading, call.forecast.water_density), why_not="")
    except CannotCompute as error:
        return SweptPath(passage=passage, made=None, why_not=str(error))

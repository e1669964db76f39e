"""Width a ship sweeps: crabbing, in bends; what bends and swinging basins need."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.published import published

_BEND = published("width")["bend"]
LEAST_RADIUS = float(_BEND["least_radius_lengths"])  # lengths overall: [PIANC121], memory
PREFERRED_RADIUS = float(_BEND["preferred_radius_lengths"])  # lengths overall, without tugs: [PIANC121], memory
STRAIGHT_BETWEEN = float(_BEND["straight_between_lengths"])  # lengths, between opposite bends: [PIANC121], memory
_NORMAL = float(_BEND["drift_divisor"]["normal"])
_FULL = float(_BEND["drift_divisor"]["full_form"])
_FULL_FROM = float(_BEND["full_form_from"])
_RESPONSE = float(_BEND["response_beams"])


class BendWidth(NamedTuple):
    """More width in a bend, in beams, and the range of radius in lengths it is meant for."""

    beams: float
    radius_from: float
    radius_to: float
    mark: str


class Basin(NamedTuple):
    """Diameter of a swinging basin in lengths overall."""

    lengths: float
    source: str
    mark: str
    note: str


BASINS = {name: Basin(**row) for name, row in published("width")["basin"].items()}


@formula
def width(length_overall: Real, beam: Real, drift_angle: Real) -> Real:
    """Width swept at a drift or crab angle. [m]

    Source: geometry.
    """
    return beam * np.abs(np.cos(drift_angle)) + length_overall * np.abs(np.sin(drift_angle))


@formula
def sagitta(length: Real, radius: Real) -> Real:
    """How far the middle of a chord of the ship's length lies from the arc; infinite where the arc is too tight. [m]

    Source: geometry.
    """
    turn = np.abs(radius)
    half = 0.5 * length
    return where(turn > half, turn - np.sqrt(np.maximum(turn**2 - half**2, 0.0)), np.inf)


@formula
def sides_in_turn(length_overall: Real, beam: Real, drift_angle: Real, radius: Real) -> tuple[Real, Real]:
    """How far she reaches outside and inside the arc her middle runs on, at a drift angle measured there. [m], [m]

    The outer corner runs on the greatest radius, the nearest point of the inner side on the least; which way she drifts
    does not matter, for bow and stern are alike in a box. Source: geometry.
    """
    turn, drift = np.abs(radius), np.abs(drift_angle)
    half, side = 0.5 * length_overall, 0.5 * beam
    outer = np.sqrt((half + turn * np.sin(drift)) ** 2 + (turn * np.cos(drift) + side) ** 2)
    # The inner side is nearest the centre at turn x sin(drift) from its middle, or at its end where that is past it.
    past_end = np.maximum(turn * np.sin(drift) - half, 0.0)
    inner = np.sqrt(past_end**2 + np.maximum(turn * np.cos(drift) - side, 0.0) ** 2)
    return outer - turn, turn - inner


@formula
def width_in_turn(length_overall: Real, beam: Real, drift_angle: Real, radius: Real) -> Real:
    """Width swept in a steady turn by a ship that drifts: a box whose middle runs on the arc, drift measured there. [m]

    Source: geometry, `sides_in_turn`.
    """
    outer, inner = sides_in_turn(length_overall, beam, drift_angle, radius)
    return outer + inner


@formula
def bend_drift_width(length_overall: Real, radius: Real, block_coefficient: Real) -> Real:
    """More width in a bend for the drift angle: length² / (a radius), a 8, or 4.5 for full forms in shallow water. [m]

    Full is a block coefficient from 0.8. Source: [PIANC121], memory.
    """
    divisor = where(block_coefficient >= _FULL_FROM, _FULL, _NORMAL)
    return length_overall**2 / (divisor * np.abs(radius))


@formula
def bend_response_width(beam: Real) -> Real:
    """More width in a bend for the time it takes to see and answer: 0.4 beam. [m]

    Source: [PIANC121], memory.
    """
    return _RESPONSE * beam


def bend_width_by_deflection(deflection: float) -> BendWidth:
    """More width by the angle turned [rad] in beams, each with the radius it goes with; nothing up to 10 degrees.

    Source: [EM1613], memory.
    """
    degrees = round(abs(np.degrees(deflection)), 6)
    row = next(one for one in _BEND["corps"]["class"] if degrees <= one.get("upto", np.inf))
    least, greatest = row["radius_lengths"]
    return BendWidth(row["beams"], least, greatest, _BEND["corps"]["mark"])


@formula
def basin_drift(stream_rate: Real, swing_time: Real) -> Real:
    """How far a ship is set while she swings, tugs not holding her: the basin is longer by this along the stream. [m]

    Source: kinematics.
    """
    return np.abs(stream_rate) * swing_time


def basin_diameter(rule: str, length_overall: float) -> float:
    """Diameter of a swinging basin by one of the rules of `BASINS`; raises `KeyError` that lists them. [m]"""
    if rule not in BASINS:
        raise KeyError(f"no rule for swinging basins is called {rule!r}; known are {', '.join(BASINS)}")
    return BASINS[rule].lengths * length_overall

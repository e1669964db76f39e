"""Bridges and cables: the greatest water level at which her highest point passes, and the clearance at her time."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.floating import Floating
from leadsman.assessment.passage import Passage
from leadsman.errors import CannotCompute
from leadsman.figure import Figure, Origin
from leadsman.geometry import Array
from leadsman.waterway import Gate


@dataclass(frozen=True, kw_only=True, eq=False)
class Overhead:
    """One gate with something hanging over the track."""

    gate: Gate
    distance: float
    underside: float
    """Above chart datum, electrical distance taken off. [m]"""
    rise: float
    """How much higher than the best forecast the level may be. [m]"""
    air_draught: float
    required: float
    stations: NDArray[np.intp]
    """Indices of the stations at which any part of her is under it."""

    @property
    def ceiling(self) -> float:
        """The water level by the best forecast up to which she passes with the margin required. [m]"""
        return self.underside - self.rise - self.air_draught - self.required

    def clearance(self, level: Array) -> Array:
        """What is left between her highest point and the underside at these levels. [m]"""
        return self.underside - self.rise - level - self.air_draught

    def figures(self, level: float) -> dict[str, Figure]:
        """The figures the clearance is made of."""
        given = Origin.GIVEN
        return {
            "clearance": Figure(
                name="clearance",
                value=self.gate.clearance or 0.0,
                unit="m",
                origin=given,
                source=self.gate.source or "waterway.toml",
            ),
            "underside": Figure(
                name="underside",
                value=self.underside,
                unit="m",
                origin=Origin.COMPUTED,
                method=f"clearance above {self.gate.clearance_datum}, and that datum above chart datum",
                source="water.md 5, derived",
                inputs={"clearance": self.gate.clearance or 0.0, "electrical": self.gate.electrical_distance or 0.0},
            ),
            "water_level": Figure(
                name="water_level", value=level, unit="m", origin=Origin.COMPUTED, method="tide and best residual"
            ),
            "rise": Figure(
                name="rise",
                value=self.rise,
                unit="m",
                origin=given,
                source="forecast.toml: residual_high_m less residual_m",
            ),
            "air_draught": Figure(
                name="air_draught",
                value=self.air_draught,
                unit="m",
                origin=Origin.COMPUTED,
                method="keel to highest point less draught at the mast; no credit for squat",
            ),
        }


def overheads(passage: Passage, floating: Floating) -> tuple[Overhead, ...]:
    """All bridges and cables over the track; `CannotCompute` if her height is unknown and there is one."""
    call = passage.call
    found = []
    for gate, distance in passage.gate_distances:
        if gate.clearance is None or gate.clearance_datum is None:
            continue
        if floating.air_draught is None:
            raise CannotCompute(
                f"the track passes under {gate.name}, but the card gives neither keel_to_highest_point_m nor "
                "air_draught_m; a missing height is never assumed low"
            )
        reach = 0.5 * call.ship.length_overall
        under = np.abs(passage.distance - distance) <= reach
        found.append(
            Overhead(
                gate=gate,
                distance=distance,
                underside=gate.clearance
                + call.waterway.datum_height(gate.clearance_datum)
                - (gate.electrical_distance or 0.0),
                rise=call.forecast.residual_high - call.forecast.residual,
                air_draught=floating.air_draught,
                required=call.margins.overhead,
                stations=np.flatnonzero(under),
            )
        )
    return tuple(found)


def ceilings(passage: Passage, found: tuple[Overhead, ...]) -> Array:
    """Greatest level station by station, infinite where nothing hangs over the track. [m]"""
    ceiling = np.full(len(passage.distance), np.inf)
    for overhead in found:
        ceiling[overhead.stations] = np.minimum(ceiling[overhead.stations], overhead.ceiling)
    return ceiling

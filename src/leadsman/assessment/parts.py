"""Where she can touch: bow, stern and both bilges, and the real depth under each of them.

Her outline, two beams wide for she never lies exactly on the track, is cut in four. The bilges are the middle of her
length, port and starboard of the centreline; bow and stern are what lies before and abaft of it, where the bilges rise.
Each is turned to the course and to every angle that the stream of the time searched can make her lay off, so that the
depths do not depend on the start.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.drift import Drift
from leadsman.assessment.passage import LANE, STEP, Passage
from leadsman.environment.depth import Bed
from leadsman.errors import CannotCompute
from leadsman.geometry import Array

BILGE_REACH = 0.3  # of her length, fore and aft of midships: bilges as deep as the keel amidships. Ours, no source


class Part(NamedTuple):
    """A part of her bottom: its name, and its outline in shares of her length forward and of the lane to starboard."""

    name: str
    ahead: float
    astern: float
    port: float
    starboard: float
    bilge: float
    """-1 port, +1 starboard, 0 neither."""


PARTS = (
    Part("bow", 0.5, -BILGE_REACH, 0.5, 0.5, 0.0),
    Part("stern", -BILGE_REACH, 0.5, 0.5, 0.5, 0.0),
    Part("port bilge", BILGE_REACH, BILGE_REACH, 0.5, 0.0, -1.0),
    Part("starboard bilge", BILGE_REACH, BILGE_REACH, 0.0, 0.5, 1.0),
)
BOW, STERN, PORT_BILGE, STARBOARD_BILGE = range(4)
NAMES = tuple(part.name for part in PARTS)


@dataclass(frozen=True, kw_only=True, eq=False)
class Depth:
    """What lies under each part at each station; arrays of shape (parts, stations)."""

    passage: Passage
    drift: Drift
    area: NDArray[np.int64]
    """Index of the depth area that counts."""

    @cached_property
    def depth(self) -> Array:
        """Below chart datum, sills included. [m]"""
        depth = np.array([area.depth for area in self.passage.call.waterway.areas], dtype=np.float64)[self.area]
        for gate, at in self.passage.gate_distances:
            if gate.depth is not None:
                over = np.abs(self.passage.distance - at) <= 0.5 * (self.passage.call.ship.length_overall + STEP)
                depth[:, over] = np.minimum(depth[:, over], gate.depth)
        return depth

    @cached_property
    def survey(self) -> Array:
        """Uncertainty of the survey, 95 %; zero where none is stated, which is told in a finding. [m]"""
        return np.array([area.uncertainty or 0.0 for area in self.passage.call.waterway.areas])[self.area]

    @cached_property
    def siltation(self) -> Array:
        """[m]"""
        return np.array([area.siltation for area in self.passage.call.waterway.areas])[self.area]


def depths(passage: Passage, drift: Drift, before: Depth | None = None) -> Depth:
    """The depths under her parts; `CannotCompute` where a part can lie over water of no known depth.

    `before`: depths of the same stations under other speeds, kept where the angles laid off are the same.
    """
    new = np.ones(len(passage.distance), dtype=np.bool_)
    area = np.empty((len(PARTS), len(passage.distance)), dtype=np.int64)
    if before is not None:
        old = before.drift
        new = (drift.crab_least != old.crab_least) | (drift.crab_most != old.crab_most)
        area[:] = before.area
    if np.any(new):
        for row, part in enumerate(PARTS):
            bed = passage.depths.under(_swept(passage, drift, part)[new])
            _refuse_unknown(passage, bed, np.flatnonzero(new), part.name)
            area[row, new] = bed.area
    return Depth(passage=passage, drift=drift, area=area)


def depths_known(passage: Passage, drift: Drift) -> NDArray[np.bool_]:
    """At which stations a depth is known under every part."""
    known = np.ones(len(passage.distance), dtype=np.bool_)
    for part in PARTS:
        known &= ~_unknown(passage.depths.under(_swept(passage, drift, part)))
    return known


def _unknown(bed: Bed) -> NDArray[np.bool_]:
    return np.asarray((bed.area < 0) | ~bed.covered | bed.unsurveyed)


def _swept(passage: Passage, drift: Drift, part: Part) -> Array:
    """Corners of a part at every station, at all angles laid off: their convex hull is what it sweeps."""
    length, lane = passage.call.ship.length_overall, LANE * passage.call.ship.beam
    ahead, astern = part.ahead * length + 0.5 * STEP, part.astern * length + 0.5 * STEP
    forward = np.array([ahead, ahead, -astern, -astern])
    starboard = lane * np.array([-part.port, part.starboard, part.starboard, -part.port])
    half, middle = 0.5 * (drift.crab_most - drift.crab_least), 0.5 * (drift.crab_most + drift.crab_least)
    corners = []
    for share in (-1.0, 0.0, 1.0):
        heading = (passage.course + middle + share * half)[:, None]
        # Between two directions a corner runs on an arc; one farther out by the secant of half the way covers it.
        outward = 1.0 / np.cos(0.5 * half)[:, None]
        x = passage.x[:, None] + outward * (forward * np.cos(heading) - starboard * np.sin(heading))
        y = passage.y[:, None] + outward * (forward * np.sin(heading) + starboard * np.cos(heading))
        corners.append(np.stack([x, y], axis=-1))
    return np.concatenate(corners, axis=1)


def _refuse_unknown(passage: Passage, bed: Bed, stations: NDArray[np.intp], name: str) -> None:
    """Nothing missing is ever assumed deep."""
    unknown = _unknown(bed)
    if not np.any(unknown):
        return
    first = int(stations[np.argmax(unknown)])
    latitude, longitude = passage.call.waterway.plane.to_earth(passage.x[first], passage.y[first])
    place = f"{passage.distance[first] / 1852.0:.2f} nm along the track ({float(latitude):.5f}, {float(longitude):.5f})"
    raise CannotCompute(
        f"at {place}, in reach '{passage.reaches[int(passage.reach[first])].name}', her {name} can lie over water "
        f"without a known depth when she lays off against the stream ({int(np.sum(unknown))} of "
        f"{len(passage.distance)} places); expected depth areas as wide as she sweeps: a missing depth is never assumed"
    )

"""How she lies to one cable in wind and stream: the heading at which it leads straight from the hawse."""

from dataclasses import dataclass

import numpy as np

from leadsman.simulation import kernel, sail, state
from leadsman.simulation.parameters import Records
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Motion, Surroundings

STEP = np.radians(2.0)  # between headings looked at
NOTHING = 100.0  # N: less than this pulls no ship anywhere


@dataclass(frozen=True, kw_only=True)
class Lying:
    """A heading [rad], and the steady pull at the hawse [N]."""

    heading: float
    pull: float


def lies_to(setting: Setting, around: Surroundings, hawse: float) -> Lying | None:
    """Where she comes to rest on a cable from the hawse `hawse` metres forward of midships; None in a calm.

    All forces about the hawse balance there, and turn her back when she sheers either way; of several such headings the
    one with the steadiest.

    Source: derived: balance of moments about the hawse.
    """
    headings = np.arange(0.0, 2.0 * np.pi, STEP)
    gear = state.gear(setting.fleet, setting.variant, 0.0)
    record = state.record_of(around)
    loads = np.array([_load(setting, gear, record, around, float(heading)) for heading in headings])
    pulls = np.hypot(loads[:, 0], loads[:, 1])
    if float(pulls.max()) < NOTHING:
        return None
    turning = loads[:, 2] - hawse * loads[:, 1]
    after = np.roll(turning, -1)
    steady = np.flatnonzero((turning >= 0.0) & (after < 0.0) & (loads[:, 0] < 0.0))
    if steady.size == 0:
        return None
    best = int(steady[np.argmax(turning[steady] - after[steady])])
    share = float(turning[best] / (turning[best] - after[best]))
    return Lying(heading=float((headings[best] + share * STEP) % (2.0 * np.pi)), pull=float(pulls[best]))


def _load(setting: Setting, gear: Records, record: Records, around: Surroundings, heading: float) -> tuple[float, ...]:
    cosine, sine = np.cos(heading), np.sin(heading)
    surge = -(around.stream_north * cosine + around.stream_east * sine)
    sway = -(around.stream_east * cosine - around.stream_north * sine)
    motion = Motion(0.0, 0.0, heading, float(surge), float(sway), 0.0)
    return tuple(kernel.pushed(setting.fleet, setting.variant, gear, motion, record, sail.NO_FORCE))

"""An anchor and its cable as the moving ship feels them: slack, lifting cable, holding, or dredged along the bed."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import anchor as rules


class Anchor(NamedTuple):
    """One bower with its cable; SI.

    `position` and `offset` of the hawse pipe, `hawse` its height above the water [m]; `mass` of the anchor; `weight` of
    the chain in water [N/m]; `holding` well set in the bottom at hand [N]; `drag_ratio` its drag over its weight while
    dredged at short stay; `brake` the pull the windlass brake holds [N]; `most` cable there is [m]; `veer`, `heave`
    rates of the cable running out and coming in [m/s].
    """

    position: float
    offset: float
    hawse: float
    mass: float
    weight: float
    holding: float
    drag_ratio: float
    brake: float
    most: float
    veer: float
    heave: float


@formula
def rise(stiffness: float) -> Real:
    """How much farther than straight up and down a pull draws the cable out, over the height; from 0 towards 1. [-]

    `stiffness` is the horizontal pull over the weight of a cable as long as the height. [-]

    Source: derived: the catenary.
    """
    if stiffness < 1e-12:
        return 0.0
    return 1.0 + stiffness * np.arccosh(1.0 + 1.0 / stiffness) - np.sqrt(1.0 + 2.0 * stiffness)


@formula
def stiffness_at(reach: float) -> Real:
    """The inverse of `rise`: Newton on the logarithm from the taut end, where rise = 1 - 0.4714 / sqrt(stiffness). [-]

    Scalars only. Source: derived: the catenary.
    """
    if reach <= 0.0:
        return 0.0
    held = min(reach, 1.0 - 1e-6)
    stiff = (0.4714 * held / (1.0 - held)) ** 2
    for _ in range(8):
        # d rise / d stiffness = arccosh(1 + 1/s) - 2 / sqrt(1 + 2 s), by differentiating `rise`
        slope = np.arccosh(1.0 + 1.0 / stiff) - 2.0 / np.sqrt(1.0 + 2.0 * stiff)
        change = (held - rise(stiff)) / (slope * stiff)
        stiff *= np.exp(min(max(change, -1.5), 1.5))
    return stiff


@formula
def greatest_pull(anchor: Anchor, height: float, out: float) -> Real:
    """Horizontal pull at which the anchor comes home, or the brake renders. Scalars only. [N]

    With cable enough on the bed it holds as set; with less it holds what leaves the last link on the bed, and no less
    than what an anchor dredged at short stay drags with; never more than the bottom gives.

    Parameters
    ----------
    height : float
        From the bed to the hawse. [m]
    out : float
        Cable from hawse to anchor, more than the height. [m]

    Source: derived: the catenary; [TradeForces] for dredging, as `anchor.dragging_force`.
    """
    lifts = rules.pull_that_lifts(height, out, anchor.weight)
    dredged = rules.dragging_force(anchor.mass, height, anchor.weight, anchor.drag_ratio)
    most = min(anchor.holding, max(dredged, lifts))
    return max(min(most, anchor.brake - anchor.weight * height), 0.0)


@formula
def greatest_reach(anchor: Anchor, height: float, out: float) -> Real:
    """Horizontal distance from hawse to anchor at which the anchor comes home. Scalars only. [m]"""
    most = greatest_pull(anchor, height, out)
    if most <= rules.pull_that_lifts(height, out, anchor.weight):
        return out - height + height * rise(most / (anchor.weight * height))
    return np.sqrt(out * out - height * height)


@formula
def pull(anchor: Anchor, height: float, out: float, distance: float) -> Real:
    """Horizontal pull of the cable on the ship. Scalars only. [N]

    A catenary until the last link lifts; from there, for an anchor dredged at short stay, it grows in a straight line
    to the drag of the anchor with the cable taut.

    Parameters
    ----------
    distance : float
        In plan from hawse to anchor. [m]

    Source: derived: the catenary.
    """
    slack = out - height
    if distance <= slack:
        return 0.0
    most = greatest_pull(anchor, height, out)
    lifts = rules.pull_that_lifts(height, out, anchor.weight)
    scale = anchor.weight * height
    lifted = slack + height * rise(lifts / scale)
    if distance <= lifted or most <= lifts:
        return min(scale * stiffness_at((distance - slack) / height), most)
    taut = np.sqrt(out * out - height * height)
    return lifts + (most - lifts) * min((distance - lifted) / (taut - lifted), 1.0)

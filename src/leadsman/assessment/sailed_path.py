"""A log laid along the track: when she passed each station, where she was then, how she headed and how fast.

Positions are brought to midships where the log says where the antenna stands and how she heads. Speeds are those of the
positions, evened out over half a minute, not those the log states: both then hang together.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leadsman.errors import CannotCompute
from leadsman.geometry import Array, LocalPlane, Track
from leadsman.sailed import SailedTrack

EVENED = 30.0  # s, either way: position fixes scatter by metres, a ship's speed does not. Ours, no source
FAR_OFF = 1852.0  # m off the track: farther off she is on another way. Ours
FEWEST = 10  # positions along the track; fewer tell nothing of a passage
GRAIN = 5.0  # m between the places of the track a position is compared with first
LEAST_SPEED = 0.05  # m/s; slower than that she lies still


@dataclass(frozen=True, kw_only=True, eq=False)
class SailedPath:
    """One entry a station passed, on the local plane."""

    stations: NDArray[np.intp]
    """Of the passage."""
    elapsed: Array
    """From the beginning of the log. [s]"""
    x: Array
    y: Array
    off_track: Array
    """To starboard positive. [m]"""
    heading: Array
    """[rad]"""
    velocity: tuple[Array, Array]
    """Over the ground, north and east. [m/s]"""
    rate_of_turn: Array
    """To starboard positive. [rad/s]"""
    headings_known: bool
    """Else the course over the ground stands for them, and what she laid off is not seen."""
    antenna_known: bool
    longest_gap: float
    """Between two positions used. [s]"""
    positions: int


def sailed_path(
    log: SailedTrack, track: Track, plane: LocalPlane, stations: Array, length: float, antenna_to_bow: float | None
) -> SailedPath:
    """The log at the stations (distances along the track) between her first and last; `CannotCompute` if none."""
    x, y = plane.to_plane(log.latitude, log.longitude)
    north, east = _slope(log.elapsed, x), _slope(log.elapsed, y)
    course = np.asarray(np.unwrap(np.arctan2(east, north)))
    headings = _reported(log.elapsed, log.heading)
    known, heading = headings is not None, course if headings is None else headings
    to_bow = antenna_to_bow if antenna_to_bow is not None else log.particulars.get("antenna_to_bow")
    if isinstance(to_bow, int | float) and known:
        forward = float(to_bow) - 0.5 * length  # how far midships lies before the antenna
        x, y = x + forward * np.cos(heading), y + forward * np.sin(heading)
    along, off = nearest_places(track, x, y)
    used = (np.abs(off) < FAR_OFF) & (along > 0.0) & (along < track.length)
    used |= _ends(used)
    if np.sum(used) < FEWEST:
        raise CannotCompute(
            f"{int(np.sum(used))} positions of the log lie along the track; expected {FEWEST} or more within "
            f"{FAR_OFF:.0f} m of it: is it this passage, sailed this way?"
        )
    reached = np.maximum.accumulate(along[used])
    if reached[-1] - along[used][0] < 0.5 * (np.max(along[used]) - np.min(along[used])):
        raise CannotCompute("the log runs against the track; expected it sailed the way the call says")
    ahead = np.concatenate([[True], np.diff(reached) > 1e-6])
    times, places = log.elapsed[used][ahead], reached[ahead]
    passed = np.flatnonzero((stations >= places[0]) & (stations <= places[-1]))
    moment = np.interp(stations[passed], places, times)

    def then(values: Array) -> Array:
        return np.asarray(np.interp(moment, log.elapsed, values))

    return SailedPath(
        stations=passed,
        elapsed=moment,
        x=then(x),
        y=then(y),
        off_track=then(off),
        heading=then(heading) % (2.0 * np.pi),
        velocity=(then(north), then(east)),
        rate_of_turn=then(_slope(log.elapsed, heading)),
        headings_known=known,
        antenna_known=isinstance(to_bow, int | float) and known,
        longest_gap=float(np.max(np.diff(log.elapsed[used]))),
        positions=int(np.sum(used)),
    )


def nearest_places(track: Track, x: Array, y: Array) -> tuple[Array, Array]:
    """(distance along the track, off it to starboard) of many points at once, as `Track.nearest` has it for one. [m]

    The nearest of places every five metres, and from it twice along the tangent: a few centimetres in a bend.
    """
    from scipy.spatial import cKDTree

    places = np.linspace(0.0, track.length, int(track.length / GRAIN) + 2)
    _, nearest = cKDTree(np.column_stack(track.at(places)[:2])).query(np.column_stack([x, y]))
    along = places[nearest]
    for _ in range(2):
        at_x, at_y, course = track.at(along)
        along = np.clip(along + (x - at_x) * np.cos(course) + (y - at_y) * np.sin(course), 0.0, track.length)
    at_x, at_y, course = track.at(along)
    return along, (y - at_y) * np.cos(course) - (x - at_x) * np.sin(course)


def _ends(used: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The last position before and the first after those along the track, so that its ends are reached."""
    wider = np.zeros_like(used)
    inside = np.flatnonzero(used)
    if len(inside):
        wider[max(inside[0] - 1, 0)] = wider[min(inside[-1] + 1, len(used) - 1)] = True
    return wider


def _slope(elapsed: Array, values: Array) -> Array:
    """How fast values change at each moment: the straight line of least squares through those about it."""
    found = np.empty_like(values)
    low = np.searchsorted(elapsed, elapsed - EVENED)
    high = np.searchsorted(elapsed, elapsed + EVENED, side="right")
    for i, (first, last) in enumerate(zip(low, high, strict=True)):
        here = slice(max(0, min(first, i - 1)), min(len(values), max(last, i + 2)))
        about = elapsed[here] - np.mean(elapsed[here])
        found[i] = float(np.sum(about * values[here])) / float(np.sum(about**2))
    return found


def _reported(elapsed: Array, angles: Array | None) -> Array | None:
    """Angles without turns of a whole circle, straight over what was not reported; None where most was not. [rad]"""
    if angles is None or np.mean(np.isfinite(angles)) < 0.5:
        return None
    known = np.isfinite(angles)
    return np.asarray(np.interp(elapsed, elapsed[known], np.unwrap(angles[known])))

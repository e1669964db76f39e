"""Where on the way she sails a rule holds, as spans of distance along the track."""

from dataclasses import dataclass

from leadsman.assessment.passage import Passage
from leadsman.portcall import Direction


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """A part of the way: she is in it from the moment her bow comes to its beginning until her stern leaves its end."""

    place: str
    """As a person names it."""
    begin: float
    """Along the track, where her middle is when her bow enters. [m]"""
    end: float
    """Where her middle is when her stern leaves. [m]"""
    middle: float
    """Of the place itself, for what is asked there. [m]"""
    before: float = 0.0
    """How long she is there before she passes `begin`. [s]"""
    after: float = 0.0
    """How long she stays after she has passed `end`. [s]"""


def stretches(
    passage: Passage, name: str | None, reaches: tuple[str, ...], lasting: float = 0.0, whole_ship: bool = True
) -> tuple[Stretch, ...]:
    """Where she meets a place or reaches; neighbours among the reaches are one stretch; neither: the whole way.

    With `whole_ship` she is in a reach while any part of her is; else while her middle is, as befits her speed.
    """
    length = passage.track.length
    half = 0.5 * passage.call.ship.length_overall if name is not None or whole_ship else 0.0
    if name is not None:
        at = place_distance(passage, name)
        leaving = passage.call.direction is Direction.OUTWARD and at - half <= 0.0
        return (
            Stretch(
                place=name,
                begin=max(at - half, 0.0),
                end=min(at + half, length),
                middle=at,
                before=lasting if leaving else 0.0,
                after=0.0 if leaving else lasting,
            ),
        )
    if not reaches:
        return (Stretch(place="the whole passage", begin=0.0, end=length, middle=0.5 * length),)
    return tuple(_reaches(passage, run, half) for run in _runs(passage, reaches))


def place_distance(passage: Passage, name: str) -> float:
    """Where along the track as sailed a named place lies: a waypoint at its own, others where the track is nearest."""
    waterway = passage.call.waterway
    names = [point.name for point in waterway.waypoints]
    position = waterway.places[name]
    if name in names and position == waterway.waypoints[names.index(name)].position:
        index = names.index(name)
        inward = passage.call.direction is Direction.INWARD
        return float(passage.track.waypoint_distances[index if inward else len(names) - 1 - index])
    x, y = waterway.plane.to_plane(position.latitude, position.longitude)
    return float(passage.track.nearest(float(x), float(y))[0])


def _runs(passage: Passage, reaches: tuple[str, ...]) -> list[list[int]]:
    """Indices of the reaches named, in the order sailed, neighbours together."""
    runs: list[list[int]] = []
    for index, reach in enumerate(passage.reaches):
        if reach.name not in reaches:
            continue
        if runs and runs[-1][-1] == index - 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    return runs


def _reaches(passage: Passage, run: list[int], half: float) -> Stretch:
    places, length = passage.track.waypoint_distances, passage.track.length
    begin, end = float(places[run[0]]), float(places[run[-1] + 1])
    return Stretch(
        place=" and ".join(passage.reaches[index].name for index in run),
        begin=max(begin - half, 0.0),
        end=min(end + half, length),
        middle=0.5 * (begin + end),
    )

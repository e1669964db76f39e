"""Where she can still wait or turn back, until when, and what she must be sure of before she passes it.

Such places are those the waterway names, and every basin wide enough to turn her. Between one and the next she is
committed: what has least left there is what must be known to hold when she passes the last of them.
"""

from datetime import datetime, timedelta

import numpy as np

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account, GatePassage, TurnBack

WITH_TUGS = 1.5  # lengths: least diameter with tugs, wind and stream not critical: [UFC4-150-06], seen
UNAIDED = 4.0  # lengths: diameter of a circle two lengths in radius, comfortable unaided: [UFC4-150-06], seen


def turn_backs(
    prepared: Prepared, found: Account, gates: tuple[GatePassage, ...], start: datetime
) -> tuple[TurnBack, ...]:
    """One row for each such place and, first, for the moment before she starts."""
    places = [("", 0.0), *_places(prepared)]
    ends = [distance for _, distance in places[1:]] + [float(found.distance[-1]) + 1.0]
    made = []
    for (name, begin), end in zip(places, ends, strict=True):
        inside = np.flatnonzero((found.distance >= begin) & (found.distance < end))
        if not len(inside):
            continue
        worst = int(inside[np.argmin(found.margin[inside])])
        limit, ahead, margin = "underkeel", _area(prepared, found, worst), float(found.margin[worst])
        when = start + timedelta(seconds=float(found.elapsed[worst]))
        for gate in gates:
            if begin <= gate.distance < end and gate.value - gate.required < margin:
                limit, ahead, margin, when = gate.kind, gate.name, gate.value - gate.required, gate.time
        made.append(
            TurnBack(
                place=name,
                distance=begin,
                time=start + timedelta(seconds=float(np.interp(begin, found.distance, found.elapsed))),
                limit=limit,
                ahead=ahead,
                ahead_time=when,
                margin=margin,
            )
        )
    return tuple(made)


def _places(prepared: Prepared) -> list[tuple[str, float]]:
    """(name, distance along the track) in the order sailed, without those at the very end."""
    call, track = prepared.call, prepared.passage.track
    least = (WITH_TUGS if call.tugs else UNAIDED) * call.ship.length_overall
    named = [(place.name, place.position) for place in call.waterway.waiting_places]
    named += [(basin.name, basin.centre) for basin in call.waterway.basins if basin.diameter >= least]
    found = []
    for name, position in named:
        x, y = call.waterway.plane.to_plane(position.latitude, position.longitude)
        found.append((name, track.nearest(float(x), float(y))[0]))
    end = float(prepared.passage.distance[-1]) - call.ship.length_overall
    return sorted((place for place in found if 0.0 < place[1] < end), key=lambda place: place[1])


def _area(prepared: Prepared, found: Account, station: int) -> str:
    return prepared.call.waterway.areas[int(found.area[station])].name

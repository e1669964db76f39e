"""The log of a passage up the river of the first example: where she was is set here by plain sums, nothing is simulated.

`python tests/builders/river_log.py` writes `examples/log-of-a-river` anew. RMC and HDT every five seconds, as a receiver
aboard gives them; she starts seven minutes late, goes a little faster at slow ahead than her card says, and is set to
port of the track in the middle of the river.
"""

import math
from datetime import datetime, timedelta
from functools import reduce
from pathlib import Path

import numpy as np

from leadsman.files.call_files import read_call
from leadsman.geometry import Array
from leadsman.units import KNOT, NAUTICAL_MILE

EXAMPLES = Path(__file__).parents[2] / "examples"
CALL, LOG = EXAMPLES / "1-river-coaster", EXAMPLES / "log-of-a-river" / "inward.nmea"
LATE = timedelta(minutes=7)
EVERY = 5.0  # s
LIES = 60.0  # s at the end of the track, before the log is closed
GROUND_SPEED = ((0.0, 9.4), (1.1, 9.4), (1.4, 7.9), (4.6, 8.0), (5.0, 5.4), (5.7, 5.2), (6.0, 3.6), (6.39, 0.6))
"""Over the ground: (nautical miles along, knots), straight between."""
OFF_TRACK = ((0.0, 4.0), (1.3, -6.0), (2.9, -28.0), (4.2, 12.0), (5.0, 3.0), (6.39, 0.0))
"""(nautical miles along, metres to starboard)."""
LEEWAY = ((0.0, -2.0), (2.9, -3.0), (4.0, 4.0), (6.39, 2.0))
"""(nautical miles along, degrees that she heads to starboard of the track)."""


def along(pairs: tuple[tuple[float, float], ...], distance: Array | float) -> Array:
    """A value that goes straight from place to place, at distances in metres."""
    places, values = zip(*pairs, strict=True)
    return np.interp(np.asarray(distance) / NAUTICAL_MILE, places, values)


def sailed() -> tuple[datetime, Array, Array]:
    """(start, seconds from it, metres along the track at them)."""
    call = read_call(CALL)
    length = call.waterway.track.length
    fine = np.append(np.arange(0.0, length, 1.0), length)
    middle = 0.5 * (fine[1:] + fine[:-1])
    seconds = np.concatenate([[0.0], np.cumsum(1.0 / (along(GROUND_SPEED, middle) * KNOT))])
    moments = np.arange(0.0, seconds[-1] + LIES, EVERY)
    return call.start + LATE, moments, np.interp(moments, seconds, fine)


def sentences() -> str:
    """The whole log."""
    call = read_call(CALL)
    start, moments, distance = sailed()
    x, y, course = call.waterway.track.at(distance)
    off = along(OFF_TRACK, distance)
    latitude, longitude = call.waterway.plane.to_earth(x - off * np.sin(course), y + off * np.cos(course))
    heading = np.degrees(course) + along(LEEWAY, distance)
    lines = []
    for i, seconds in enumerate(moments):
        time = start + timedelta(seconds=float(seconds))
        place = f"{_degrees(latitude[i], 2, 'NS')},{_degrees(longitude[i], 3, 'EW')}"
        speed = float(along(GROUND_SPEED, distance[i]))
        lines.append(
            f"GPRMC,{time:%H%M%S}.00,A,{place},{speed:.1f},{math.degrees(course[i]) % 360.0:.1f},{time:%d%m%y},,,A"
        )
        lines.append(f"HEHDT,{heading[i] % 360.0:.1f},T")
    return "".join(f"${line}*{reduce(lambda total, byte: total ^ byte, line.encode(), 0):02X}\r\n" for line in lines)


def _degrees(value: float, width: int, letters: str) -> str:
    whole, part = divmod(abs(float(value)), 1.0)
    return f"{int(whole):0{width}d}{part * 60.0:08.5f},{letters[int(value < 0.0)]}"


def write_log() -> None:
    """The file of the example."""
    LOG.parent.mkdir(exist_ok=True)
    LOG.write_bytes(sentences().encode())


if __name__ == "__main__":
    write_log()

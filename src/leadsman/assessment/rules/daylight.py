"""Passing in the light only: from sunrise to sunset, or with the twilight, at the place itself."""

import math

import numpy as np

from leadsman import format as text
from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.spans import TimeLimit, joined
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.geometry import Array
from leadsman.physics import sun
from leadsman.rule import Daylight, Light, Rule
from leadsman.units import DAY, DEGREE

HEIGHTS = {
    Light.SUN: sun.RISE_AND_SET,
    Light.CIVIL_TWILIGHT: sun.CIVIL_TWILIGHT,
    Light.NAUTICAL_TWILIGHT: sun.NAUTICAL_TWILIGHT,
}
_LIGHTS = {
    Light.SUN: "sunrise to sunset",
    Light.CIVIL_TWILIGHT: "light with civil twilight",
    Light.NAUTICAL_TWILIGHT: "light with nautical twilight",
}


def daylight(passage: Passage, water: Water, rule: Rule, asked: Daylight, stretch: Stretch) -> TimeLimit:
    """The limit: she comes and goes while it is light."""
    x, y, _ = passage.track.at(stretch.middle)
    latitude, longitude = passage.call.waterway.plane.to_earth(x[0], y[0])
    lit = light(water, float(latitude) * DEGREE, float(longitude) * DEGREE, HEIGHTS[asked.light])
    spans = [
        (begin + asked.after_light_begins, end - asked.before_light_ends)
        for begin, end in lit
        if end - begin > asked.after_light_begins + asked.before_light_ends
    ]

    def words(passing: Passing, margin: float) -> str:
        there = f"she is there {_clock(water, passing.enters[0])} to {_clock(water, passing.leaves[0])}"
        if not len(lit):
            return f"{there}; it is never light enough in the time searched"
        near = lit[int(np.argmin(np.maximum(lit[:, 0] - passing.enters[0], passing.enters[0] - lit[:, 1])))]
        told = f"{_LIGHTS[asked.light]} is {_clock(water, near[0])} to {_clock(water, near[1])}"
        return f"{there}; {told if np.all(np.isfinite(near)) else 'the light lasts all day'}"

    return TimeLimit(rule=rule, stretch=stretch, spans=joined(spans), words=words)


def light(water: Water, latitude: float, longitude: float, height: float) -> Array:
    """Spans of the water's time in which the sun stands above a height, on its clock, shape (n, 2). [s]"""
    first, days = water.begin.timestamp(), math.ceil((water.level.end - water.begin).total_seconds() / DAY) + 2
    noons = np.asarray(sun.culmination(first + DAY * np.arange(-1, days), longitude))
    rises, sets = sun.crossings(noons, latitude, longitude, height)
    spans = []
    for noon, begin, end in zip(noons, np.asarray(rises), np.asarray(sets), strict=True):
        if np.isfinite(begin) and np.isfinite(end):
            spans.append((begin - first, end - first))
        elif sun.altitude(noon, latitude, longitude) > height:
            spans.append((noon - 0.501 * DAY - first, noon + 0.501 * DAY - first))  # so that neighbours meet
    return joined(spans)


def _clock(water: Water, elapsed: float) -> str:
    return text.clock(water.time(elapsed))

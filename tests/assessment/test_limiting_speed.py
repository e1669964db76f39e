"""Speeds too near what shallow and narrow water lets any ship make.

Expected: Schijf 1949 solved here anew with a root finder from its own equation (water sheet 2.6, memory and computed;
checked there against 10.67 kn for case C), and the wave's speed sqrt(g h); the ceilings 0.8, 0.9, 0.6, 0.7 are the
sheet's [memory: PIANC].
"""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from leadsman.assessment.account import account
from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import prepare
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall
from leadsman.units import KNOT

EXAMPLES = Path(__file__).parents[2] / "examples"
GRAVITY = 9.80665


def schijf(blockage: float, mean_depth: float) -> float:
    """The limiting speed by the equation itself. [m/s]"""
    froude = brentq(lambda f: 1.0 - blockage + 0.5 * f * f - 1.5 * f ** (2.0 / 3.0), 1e-9, 1.0)
    return float(froude) * math.sqrt(GRAVITY * mean_depth)


def test_the_root_here_is_the_sheets_case_c() -> None:
    section, width = 100.0 * 15.0 + 3.0 * 15.0**2, 100.0 + 2.0 * 3.0 * 15.0
    assert schijf(0.98 * 32.2 * 11.5 / section, section / width) == pytest.approx(10.67 * KNOT, abs=0.01 * KNOT)


def at_speed(call: PortCall, reach: str, speed: float) -> PortCall:
    plans = [replace(plan, order=None, speed=speed) if plan.reach == reach else plan for plan in call.plans]
    return replace(call, plans=tuple(plans))


def told(call: PortCall, reach: str) -> list[str]:
    found = assess(call).findings
    return [
        one.sentence
        for one in found
        if one.place == reach and one.grade is Grade.CAUTION and ("Schijf" in one.sentence or "wave" in one.sentence)
    ]


@pytest.fixture(scope="module")
def river() -> PortCall:
    return read_call(EXAMPLES / "1-river-coaster")


def limiting_in(call: PortCall, name: str) -> float:
    """Least over the reach, with the levels of the call's start. [m/s]"""
    found = account(prepare(call), call.start)
    index = [reach.name for reach in call.waterway.reaches].index(name)
    reach = call.waterway.reaches[index]
    assert reach.bottom_width is not None
    assert reach.side_slope is not None
    draught = call.loading.mean_draught
    speeds = []
    for depth in (found.depth + found.water_level)[found.reach == index]:
        section = reach.bottom_width * depth + reach.side_slope * depth**2
        width = reach.bottom_width + 2.0 * reach.side_slope * depth
        speeds.append(schijf(0.98 * call.ship.beam * draught / section, section / width))
    return min(speeds)


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.70, None), (0.85, "practice keeps below 80 % of it"), (0.96, "no merchant ship gets past 90 % of it")],
)
def test_a_canal_by_schijf(river: PortCall, share: float, words: str | None) -> None:
    speed = share * limiting_in(river, "Mill Reach")
    sentences = told(at_speed(river, "Mill Reach", speed), "Mill Reach")
    if words is None:
        assert sentences == []
    else:
        (sentence,) = sentences
        assert words in sentence
        assert f"{speed / KNOT:.1f} kn is " in sentence


@pytest.mark.parametrize(
    ("example", "reach", "most"),
    [("2-bar-bulk-carrier", "Bar Channel", 0.6), ("5-podded-cruise", "Harbour Reach", 0.7)],
)
def test_wide_shallow_water_by_its_long_wave(example: str, reach: str, most: float) -> None:
    call = read_call(EXAMPLES / example)
    found = account(prepare(call), call.start)
    index = [one.name for one in call.waterway.reaches].index(reach)
    wave = math.sqrt(GRAVITY * float(np.min((found.depth + found.water_level)[found.reach == index])))
    assert told(at_speed(call, reach, (most - 0.06) * wave), reach) == []
    (sentence,) = told(at_speed(call, reach, (most + 0.06) * wave), reach)
    assert f"below {round(100 * most)} %" in sentence

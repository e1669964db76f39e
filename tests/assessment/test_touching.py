"""The chance of touching: against a plain Monte Carlo of its own, against closed forms, and as a limit of windows."""

import math
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest
from tests.conftest import EXAMPLES

from leadsman import format as text
from leadsman.assessment.account import account
from leadsman.assessment.assess import assess
from leadsman.assessment.parts import PARTS
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.touching import touching
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.physics import touching as formulas
from leadsman.portcall import PortCall

RUNS = 40_000


@pytest.fixture(scope="module")
def bar_call() -> PortCall:
    """Example 2, in the swell over the bar, an hour and a half too early: touching is no longer out of the question."""
    call = read_call(EXAMPLES / "2-bar-bulk-carrier")
    return call.starting(call.start - timedelta(minutes=100))


@pytest.fixture(scope="module")
def bar(bar_call: PortCall) -> Prepared:
    return prepare(bar_call)


def plainly(prepared: Prepared, level: np.ndarray, runs: int, seed: int) -> float:
    """Share of drawn passages that touch: every component drawn, nothing integrated, another generator and order."""
    random = np.random.default_rng(seed)
    account_of, call = prepared.underkeel, prepared.call
    squats = prepared.chances.squats(level)
    shift = random.normal(0.0, prepared.chances.common, runs)
    squat_factor = np.maximum(1.0 + 0.25 * random.normal(size=runs), 0.05)
    wave_factor = np.maximum(1.0 + 0.30 * random.normal(size=runs), 0.05)
    survey = random.normal(size=(runs, len(call.waterway.areas)))
    touched = np.zeros(runs, dtype=bool)
    for part in range(len(PARTS)):
        for station in range(len(level)):
            mean = (
                account_of.depth.depth[part, station]
                + level[station]
                - account_of.draught[part]
                - account_of.depth.siltation[part, station]
                - account_of.heel.sinkage[part, station]
            )
            if mean - squats[part, station] > 5.0:
                continue
            area = account_of.depth.area[part, station]
            clear = mean + shift - squats[part, station] * squat_factor
            clear = clear + account_of.depth.survey[part, station] / 1.96 * survey[:, area]
            deviation = account_of.seaway.deviation[part, station]
            if deviation > 0.0:
                cycles = account_of.seaway.cycles_here[part, station]
                greatest = np.sqrt(-2.0 * np.log(1.0 - random.random(runs) ** (1.0 / cycles)))
                clear = clear - wave_factor * deviation * greatest
            touched |= clear < 0.0
    return float(np.mean(touched))


def test_it_agrees_with_plain_monte_carlo(bar: Prepared, bar_call: PortCall) -> None:
    """water.md 3.6: components drawn, correlated ones once a passage. Within three standard errors of both samples."""
    level = account(bar, bar_call.start).water_level
    found = touching(bar.chances, level).probability
    drawn = plainly(bar, level, RUNS, seed=7)
    error = math.sqrt(drawn * (1.0 - drawn) / RUNS)
    assert drawn > 20.0 / RUNS, "else the comparison would show nothing"
    assert found == pytest.approx(drawn, abs=3.0 * math.hypot(error, 0.05 * drawn))


def test_without_squat_waves_and_survey_it_is_the_closed_form(first_call: PortCall) -> None:
    """One shoal, nothing but level and reading uncertain: Phi(-clearance / deviation), water.md 3.6 and row 47."""
    still = replace(
        first_call,
        waterway=replace(
            first_call.waterway, areas=tuple(replace(area, uncertainty=0.0) for area in first_call.waterway.areas)
        ),
        forecast=replace(first_call.forecast, wave_height=0.0),
    )
    prepared = prepare(still)
    chances = prepared.chances
    level = account(prepared, still.start).water_level - 1.2
    squats = np.zeros_like(prepared.underkeel.depth.depth)
    least = chances.least(level, squats)
    lowest = float(np.min(chances._still + level))
    assert np.ptp(least) < 1e-12
    assert float(chances.probability(least)) == pytest.approx(float(formulas.calm(lowest, chances.common)), rel=1e-9)


def test_it_lies_between_the_bounds_of_its_reaches(bar: Prepared, bar_call: PortCall) -> None:
    """water.md 3.6: the greatest of the parts is a lower bound, their sum an upper one."""
    found = touching(bar.chances, account(bar, bar_call.start).water_level)
    parts = [reach.probability for reach in found.reaches]
    assert max(parts) <= found.probability <= sum(parts) + 1e-12


def test_more_water_never_makes_it_likelier(bar: Prepared, bar_call: PortCall) -> None:
    level = account(bar, bar_call.start).water_level
    chances = [touching(bar.chances, level + rise).probability for rise in np.linspace(-0.5, 1.0, 7)]
    assert all(one >= other for one, other in pairwise(chances))
    assert chances[0] > 10.0 * chances[-1] > 0.0


def test_the_same_call_has_the_same_chance(bar: Prepared, bar_call: PortCall) -> None:
    level = account(bar, bar_call.start).water_level
    assert touching(bar.chances, level) == touching(prepare(bar_call).chances, level)


def test_a_limit_binds_windows_verdict_and_remedies(bar_call: PortCall) -> None:
    """Under a weak rule of metres the chance is what holds her: each edge stands where it reaches the limit."""
    limit = 1e-3
    weak = replace(bar_call.margins, underkeel=0.0, underkeel_share=0.0, touching=limit)
    call = replace(bar_call, margins=weak, search_end=bar_call.search_begin + timedelta(days=0.8))
    loose = prepare(replace(call, margins=replace(weak, touching=None)))
    prepared = prepare(call)
    assert prepared.search.spans

    def chance(seconds: float) -> float:
        return touching(prepared.chances, prepared.levels(seconds)).probability

    held: list[float] = []
    for span in prepared.search.spans:
        assert any(one.opens <= span.opens and span.closes <= one.closes for one in loose.search.spans)
        for edge, outward in ((span.opens, -1.0), (span.closes, 1.0)):
            assert chance(edge) <= limit * 1.0001
            if outward < 0.0 and chance(edge + outward) > limit:
                held.append(edge)
    assert held
    answer = assess(call.starting(prepared.water.time(held[0] - 60.0)), prepared)
    assert not answer.verdict.go
    assert answer.verdict.binding.limit == "touching"
    assert any(finding.subject == "touching" and finding.grade is Grade.STOP for finding in answer.findings)
    assert {"later", "slower", "less_draught"} <= {remedy.kind for remedy in answer.remedies}
    assert assess(call.starting(prepared.water.time(held[0] + 60.0)), prepared).verdict.go


@pytest.mark.parametrize(
    ("probability", "written"),
    [(0.9, "90 in 100"), (0.5, "1 in 2"), (0.00294, "1 in 340"), (1e-9, "less than 1 in 1 000 000")],
)
def test_a_chance_is_never_written_smaller_than_it_is(probability: float, written: str) -> None:
    assert text.chance(probability).replace("\u202f", " ") == written

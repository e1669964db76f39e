"""What a run is said to ask of the machinery, against its own track and its own log of orders."""

import itertools

import numpy as np
import pytest
from tests.builders.open_water import COLUMN, made

from leadsman.assessment.rehearse_prepare import Ready
from leadsman.conning import demands
from leadsman.conning.bridge import KIND, THRUSTER_ORDER, TIME, UNIT, VALUE
from leadsman.conning.run import Runs, rehearse, undisturbed
from leadsman.geometry import Array

STARTING = 20.0  # s for a thruster to come to its thrust or to nothing: twice the slow end of manoeuvring sheet 6


@pytest.fixture(scope="module")
def container_ship() -> tuple[Ready, Runs]:
    ready = made("3-container-basin")
    return ready, rehearse(ready.case, ready.case.mind, undisturbed(), kept=True)


def longest(flags: Array) -> int:
    """Moments of the longest unbroken stretch."""
    return max(sum(1 for _ in group) for flag, group in itertools.groupby(flags) if flag)


@pytest.mark.parametrize("name", ["1-river-coaster", "2-bar-bulk-carrier", "5-podded-cruise"])
def test_stopped_is_not_astern_and_the_least_order_astern_is(name: str) -> None:
    """Blades that neither drive nor brake her stand a little astern: of the coaster at -0.05 of the diameter."""
    known = made(name).case.known
    assert demands.driven(known, known.stop - 1) < demands.astern_from(known) < 0.0
    assert demands.driven(known, known.stop) > demands.astern_from(known)


def test_time_astern_is_that_of_the_track(container_ship: tuple[Ready, Runs]) -> None:
    """Her one shaft, whose speed the track keeps: a fixed pitch runs astern from half of dead slow astern's speed."""
    ready, runs = container_ship
    known, track, outcome = ready.case.known, runs.track(0)[1:], runs.outcomes[0]
    astern = track[:, COLUMN["shaft_speed"]] < 0.5 * known.speeds[known.stop - 1]
    assert outcome["astern_all"] == astern.sum()
    assert outcome["astern_longest"] == longest(astern)
    last = int(outcome["astern_until"])
    assert astern[last - int(outcome["astern_longest"]) : last].all()
    assert not astern[last]


def test_power_is_the_greatest_of_the_track(container_ship: tuple[Ready, Runs]) -> None:
    _, runs = container_ship
    driven = runs.track(0)[1:, COLUMN["shaft_speed"]] * runs.track(0)[1:, COLUMN["pitch"]]
    assert runs.outcomes[0]["driven_ahead"] == driven.max()
    assert runs.outcomes[0]["driven_astern"] == -driven.min()


def test_a_thruster_runs_as_long_as_it_is_told_to(container_ship: tuple[Ready, Runs]) -> None:
    _, runs = container_ship
    outcome, log = runs.outcomes[0], runs.log(0)
    told = log[(log[:, KIND] == THRUSTER_ORDER) & (log[:, UNIT] == 0.0)]
    begun: float | None = None
    stretches = []
    for time, quarters in np.vstack([told[:, [TIME, VALUE]], [outcome["time"], 0.0]]):
        if quarters != 0.0 and begun is None:
            begun = time
        elif quarters == 0.0 and begun is not None:
            stretches.append(time - begun)
            begun = None
    assert outcome["thruster_longest"] == pytest.approx(max(stretches), abs=STARTING)
    assert outcome["thruster_all"] == pytest.approx(sum(stretches), abs=STARTING * len(stretches))


def test_starts_made_and_left_are_those_there_were_and_what_was_made_up(container_ship: tuple[Ready, Runs]) -> None:
    """Without a compressor nothing is made up; with one, no more than the time it ran gives."""
    ready, runs = container_ship
    first, recharge = 14.0, 240.0  # her card; manoeuvring sheet 6 [memory: 3 to 5 min]
    outcome = runs.outcomes[0]
    assert outcome["starts_made"] + outcome["starts_left"] <= first + outcome["time"] / recharge
    assert outcome["starts_left"] <= first - 1.0
    mind = ready.case.mind._replace(ships=ready.case.mind.ships.copy())
    mind.ships["engines"]["recharge"] = np.inf
    bare = rehearse(ready.case, mind, undisturbed(), kept=False).outcomes[0]
    assert bare["starts_made"] + bare["starts_left"] == first
    assert bare["starts_refused"] == 0.0


def test_no_starts_are_counted_of_an_engine_that_keeps_running() -> None:
    ready = made("5-podded-cruise")
    outcome = rehearse(ready.case, ready.case.mind, undisturbed(), kept=False).outcomes[0]
    assert outcome["starts_left"] == np.inf
    assert outcome["starts_made"] == outcome["starts_refused"] == 0.0

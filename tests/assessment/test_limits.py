"""Limits of wind and stream: how the boundary is searched for, when a step is settled, that a search goes on where it
was stopped, and the limits of the first example."""

import math
from collections.abc import Callable
from concurrent.futures import CancelledError
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from leadsman.assessment.limits import GREATEST, STEPS, rehearsed_limits
from leadsman.assessment.limits_search import SURE, Tried, boundary, in_threads, settled
from leadsman.assessment.limits_stream import states_of, stream_limits
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_many import wilson
from leadsman.conning.outcome import AGROUND, ALONGSIDE, OUT_OF_TIME
from leadsman.documents.rehearsal_limits import limits_data, print_limits
from leadsman.documents.stream_limits import print_stream_limits, stream_limits_data
from leadsman.files.rehearsal_store import RehearsalStore
from leadsman.portcall import PortCall

RUNS = 4
DIRECTIONS = 2


def ended(reason: int, place: float = 100.0) -> Any:
    return {"reason": reason, "place": place}


@given(some.integers(1, 40), some.data())
def test_the_boundary_is_found_from_any_guess(last: int, data: some.DataObject) -> None:
    limit = data.draw(some.integers(-1, last))
    guess = data.draw(some.integers(-5, last + 5))
    asked: list[int] = []

    def goes(step: int) -> bool:
        asked.append(step)
        return step <= limit

    assert boundary(goes, last, guess) == limit
    assert len(asked) == len(set(asked)), "no step is asked for twice"
    assert all(0 <= step <= last for step in asked)


def test_a_good_guess_asks_for_two_steps_only() -> None:
    asked: list[int] = []

    def goes(step: int) -> bool:
        asked.append(step)
        return step <= 7

    boundary(goes, 16, 7)
    assert asked == [7, 8]


def row(good: int, bad: int, size: int) -> np.ndarray:
    found = np.full(size, np.nan)
    found[:good] = ALONGSIDE
    found[good : good + bad] = AGROUND
    return found


SETTLED = [  # succeed, fail, runs, settled, origin
    (17, 0, 20, None, "18 of 20 are needed for 90 %, three are to come"),
    (18, 0, 20, True, "18 of 20 are 90 %"),
    (0, 2, 20, None, "18 may still succeed"),
    (0, 3, 20, False, "17 at most can succeed"),
    (9, 1, 10, True, "9 of 10 are 90 %"),
    (100, 0, 1000, True, "Wilson 99 %: low end n/(n + z2) = 100/106.63 = 0.938, by hand"),
    (50, 0, 1000, None, "low end 50/56.63 = 0.883, by hand"),
    (10, 10, 1000, False, "high end of a half in 20 is 0.75, by hand"),
]


@pytest.mark.parametrize(("good", "bad", "runs", "verdict", "origin"), SETTLED)
def test_a_step_is_settled_when_no_run_can_change_it(
    good: int, bad: int, runs: int, verdict: bool | None, origin: str
) -> None:
    assert settled(row(good, bad, runs), 0.9) is verdict, origin


def test_the_interval_that_settles_is_the_score_interval() -> None:
    low, high = wilson(10, 20, SURE)
    half = SURE / (1.0 + SURE**2 / 20.0) * math.sqrt(0.25 / 20.0 + SURE**2 / 1600.0)
    assert (low, high) == pytest.approx((0.5 - half, 0.5 + half), abs=1e-12), "Wilson 1927, by hand for a half"


def test_no_run_is_sailed_twice_and_no_more_than_needed() -> None:
    tried = Tried.of(None, "", 1, 1, 20)
    sailed: list[int] = []

    def sail(run: int) -> Any:
        sailed.append(run)
        return ended(AGROUND if run % 2 else ALONGSIDE, 10.0 * run)

    assert not tried.goes(0, 0, 0.9, sail)
    assert sailed == [0, 1, 2, 3, 4, 5], "the third failure settles it"
    assert not tried.goes(0, 0, 0.9, sail)
    assert len(sailed) == 6
    assert tried.reasons(0, 0) == {"alongside": 3, "aground": 3}
    assert tried.broken(0, 0) == ("aground", 30.0)


def test_a_stopped_search_keeps_its_runs_and_goes_on(tmp_path: Path) -> None:
    store = RehearsalStore(tmp_path)

    def sail_until(last: int) -> Callable[[int], Any]:
        def sail(run: int) -> Any:
            if run > last:
                raise KeyboardInterrupt
            return ended(ALONGSIDE)

        return sail

    first = Tried.of(store, "one", 1, 1, 20)
    with pytest.raises(KeyboardInterrupt):
        in_threads(lambda _: first.goes(0, 0, 0.9, sail_until(6)), 1, first)
    with pytest.raises(CancelledError):
        first.goes(0, 0, 0.9, sail_until(99))
    again = Tried.of(store, "one", 1, 1, 20)
    assert np.count_nonzero(~np.isnan(again.reason)) == 7
    sailed: list[int] = []

    def sail(run: int) -> Any:
        sailed.append(run)
        return ended(OUT_OF_TIME if run > 30 else ALONGSIDE)

    assert again.goes(0, 0, 0.9, sail)
    assert sailed == list(range(7, 18))
    assert np.isnan(Tried.of(store, "one", 1, 1, 21).reason).all(), "another number of runs is another table"


@pytest.fixture(scope="module")
def winds(first_call: PortCall, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, RehearsalStore]:
    store = RehearsalStore(tmp_path_factory.mktemp("limits"))
    return rehearsed_limits(first_call, RUNS, directions=DIRECTIONS, store=store), store


def test_the_first_example_goes_in_calm_and_breaks_in_some_wind(winds: tuple[Any, RehearsalStore]) -> None:
    found, _ = winds
    assert found.tugs == ((),)
    for one in found.winds[0]:
        assert one.wind_speed is not None
        assert not one.beyond
        assert one.too_much == pytest.approx(one.wind_speed + GREATEST / STEPS)
        assert one.broken not in ("", "alongside")
        assert one.place
        assert sum(one.reasons.values()) <= RUNS


def test_asked_again_nothing_is_sailed(winds: tuple[Any, RehearsalStore], first_call: PortCall) -> None:
    found, store = winds
    before = {path: path.stat().st_mtime_ns for path in store.folder.iterdir()}
    told: list[tuple[int, int]] = []
    again = rehearsed_limits(
        first_call, RUNS, directions=DIRECTIONS, progress=lambda done, of: told.append((done, of)), store=store
    )
    assert limits_data(again) == limits_data(found)
    assert told == [(1, 2), (2, 2)]
    assert {path: path.stat().st_mtime_ns for path in store.folder.iterdir()} == before


def test_the_states_of_the_stream(first_prepared: Prepared) -> None:
    _, states = states_of(first_prepared)
    planned, with_her, slack, against = states
    assert [one.name for one in states] == ["as planned", "with her", "slack", "against her"]
    assert planned.later == 0.0
    assert with_her.rate > abs(slack.rate)
    assert against.rate < -abs(slack.rate)
    assert with_her.rate >= planned.rate >= against.rate


def test_streams_are_searched_and_print(first_call: PortCall, capsys: pytest.CaptureFixture[str]) -> None:
    found = stream_limits(first_call, RUNS)
    assert stream_limits_data(found)["states"][0]["state"] == "as planned"
    for one in found.states:
        assert one.beyond or one.broken
    print_stream_limits(found)
    assert "against her" in capsys.readouterr().out


def test_winds_print(winds: tuple[Any, RehearsalStore], capsys: pytest.CaptureFixture[str]) -> None:
    print_limits(winds[0])
    assert "What breaks it" in capsys.readouterr().out

"""What a rehearsal says of air and of running astern: a run fails for want of starts where with more it does not."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call, relied_on
from leadsman.assessment.rehearse_machinery import longest_thrust
from leadsman.assessment.rehearse_many import starts_left
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_result import Run
from leadsman.assessment.rehearse_run import findings, told
from leadsman.conning.bridge import TIME, VALUE
from leadsman.conning.run import rehearse, undisturbed
from leadsman.figure import Grade
from leadsman.files.call_files import read_call

EXAMPLES = Path(__file__).parents[2] / "examples"


def made(*, starts: int | None = 12, time_limit_astern: float | None = 900.0) -> Ready:
    """The bulk carrier with another engine on her card; 12 starts and 15 minutes are her own."""
    call = read_call(EXAMPLES / "2-bar-bulk-carrier")
    engine = replace(call.ship.engine, consecutive_starts=starts, time_limit_astern=time_limit_astern)
    call = replace(call, ship=replace(call.ship, engine=engine))
    return ready(prepare(call), call.start)


def sailed(ship: Ready, *, compressor: bool = True) -> Run:
    if not compressor:
        ship.case.mind.ships["engines"]["recharge"] = np.inf
    return told(ship, rehearse(ship.case, ship.case.mind, undisturbed(), kept=True), 0)


def of_machinery(ship: Ready, run: Run) -> list[tuple[Grade, str]]:
    return [(one.grade, one.sentence) for one in findings(ship, run) if one.subject == "machinery"]


@pytest.fixture(scope="module")
def short_of_air() -> tuple[Ready, Run]:
    ship = made(starts=3)
    return ship, sailed(ship, compressor=False)


def test_three_starts_fail_for_want_of_air_where_twelve_do_not(short_of_air: tuple[Ready, Run]) -> None:
    """In her forecast wind, the compressor giving nothing in either."""
    _, run = short_of_air
    enough = sailed(made(), compressor=False)
    assert enough.success, enough.why
    assert not run.success
    assert run.machinery.air is not None
    assert (run.machinery.air.made, run.machinery.air.left) == (3, 0)
    assert run.machinery.air.refused > 0
    assert run.machinery.air.waited > 0.0


def test_the_run_says_which_order_found_no_air_and_what_to_do(short_of_air: tuple[Ready, Run]) -> None:
    ship, run = short_of_air
    assert run.machinery.air is not None
    first = run.machinery.air.first_refused
    assert first is not None
    given = [one for one in run.orders if one.kind == "engine" and one.time < first.time]
    assert given[-1].words == first.order
    assert f"found no air to start on: {first.order} at " in run.why
    assert run.advice[0].startswith("Her air was used up after 3 starts: fewer reversals")
    ((grade, sentence),) = of_machinery(ship, run)
    assert grade is Grade.STOP
    assert first.order in sentence
    assert first.place in sentence
    found = next(one for one in findings(ship, run) if one.subject == "machinery")
    assert found.time is not None
    assert (found.time - ship.start).total_seconds() == first.time


def test_few_starts_left_are_told(short_of_air: tuple[Ready, Run]) -> None:
    """With a compressor three starts are enough, by none to spare."""
    ship = made(starts=3)
    run = sailed(ship)
    assert run.success
    ((grade, sentence),) = of_machinery(ship, run)
    assert grade is Grade.CAUTION
    assert sentence.startswith("The rehearsed run leaves air for 0 starts of 3")
    assert of_machinery(made(), sailed(made())) == []


def test_longer_astern_than_the_card_allows_is_told() -> None:
    ship = made(time_limit_astern=60.0)
    run = sailed(ship)
    assert run.machinery.astern_longest > 60.0
    assert [sentence for _, sentence in of_machinery(ship, run) if "where the card allows 1 min 00 s" in sentence]
    assert of_machinery(made(time_limit_astern=None), run) == []


STRETCHES = [  # orders (s, quarters), end, longest stretch, origin
    ([], 900.0, 0.0, "by hand: never told to run"),
    (
        [(10.0, 2.0), (100.0, -1.0), (160.0, 0.0)],
        900.0,
        150.0,
        "by hand: 10 to 160 s, from side to side without a stop",
    ),
    ([(10.0, 2.0), (60.0, 0.0), (70.0, 1.0), (150.0, 0.0)], 900.0, 80.0, "by hand: 70 to 150 s"),
    ([(10.0, 2.0), (60.0, 0.0), (700.0, 4.0)], 900.0, 200.0, "by hand: 700 s to the end"),
]


@pytest.mark.parametrize(("orders", "end", "expected", "origin"), STRETCHES)
def test_longest_thrust(orders: list[tuple[float, float]], end: float, expected: float, origin: str) -> None:
    log = np.zeros((len(orders), 6))
    log[:, [TIME, VALUE]] = np.reshape(orders, (-1, 2))
    begin, until = longest_thrust(log, end)
    assert until - begin == expected, origin


def test_a_thruster_run_for_longer_than_its_card_allows_is_told() -> None:
    call = read_call(EXAMPLES / "3-container-basin")

    def limited(minutes: float) -> list[str]:
        thruster = replace(call.ship.thrusters[0], time_limit=60.0 * minutes)
        ship = ready(prepare(replace(call, ship=replace(call.ship, thrusters=(thruster,)))), call.start)
        return [sentence for _, sentence in of_machinery(ship, sailed(ship))]

    (told_of,) = limited(5.0)
    assert told_of.startswith("The rehearsed run has the bow thruster give thrust for ")
    assert "the card allows 5 min 00 s" in told_of
    assert limited(600.0) == []


def test_on_what_number_of_starts_it_relied_is_told() -> None:
    by_card = relied_on(made())
    assert any("to have air for 12 starts when the run begins, its bottles full" in one for one in by_card)
    assert not any(one.startswith("Consecutive starts") for one in by_card)
    silent = relied_on(made(starts=None))
    assert any(one.startswith("Consecutive starts: not on the card; 12 are taken") for one in silent)


def test_drawn_runs_without_air_are_told_though_the_planned_one_has_enough() -> None:
    """The bulk carrier with three starts: as planned none is refused, in gusts some are."""
    found = rehearse_call(made(starts=3).prepared.call, 10, 1)
    assert found.ensemble is not None
    assert found.ensemble.starts_left == 0
    assert found.planned.machinery.air is not None
    assert found.planned.machinery.air.refused == 0
    drawn = [one.sentence for one in found.findings if "drawn runs" in one.sentence]
    assert drawn == [f"In {found.ensemble.without_air} of 10 drawn runs an order to the engine finds no air."]
    assert not found.stops


def test_the_least_of_all_runs_is_kept(short_of_air: tuple[Ready, Run]) -> None:
    ship, _ = short_of_air
    outcomes = rehearse(ship.case, ship.case.mind, undisturbed(), kept=False).outcomes
    assert starts_left(outcomes) == 0
    outcomes["starts_left"] = np.inf
    assert starts_left(outcomes) is None

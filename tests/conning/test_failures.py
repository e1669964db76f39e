"""What fails on the way and the answers to it: a run paused and gone on with, what is lost, what anchors and engines
do about it."""

import numpy as np
import pytest

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_draws import Spread, draw
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.conning import failures
from leadsman.conning.in_turn import in_turn
from leadsman.conning.orders import anchor
from leadsman.conning.outcome import COLUMNS, HELD, UNHURT
from leadsman.conning.run import Runs, at_the_start, no_failures, rehearse, undisturbed
from leadsman.simulation.parameters import Records


@pytest.fixture(scope="module")
def first(first_prepared: Prepared) -> Ready:
    return ready(first_prepared, first_prepared.call.start)


def lost(kind: int, time: float, **answer: float) -> Records:
    """One failure, with an answer where one is told."""
    found = no_failures(1)
    found["kind"], found["time"] = kind, time
    found["answered"] = float(bool(answer))
    for name, value in answer.items():
        found[name] = value
    return found


def sailed(made: Ready, failing: Records) -> Runs:
    return rehearse(made.case, made.case.mind, undisturbed(), kept=True, failing=failing)


def column(runs: Runs, name: str) -> np.ndarray:
    return runs.track(0)[:, COLUMNS.index(name)]


def test_a_run_paused_and_gone_on_with_is_the_run_itself(first: Ready) -> None:
    case, draws = first.case, undisturbed()
    whole = rehearse(case, case.mind, draws, kept=False).outcomes
    now = at_the_start(case, draws)
    for pause in (60.0, 1200.0, 4000.0, np.inf):
        rehearse(case, case.mind, draws, kept=False, states=now, pause=pause)
        if pause < np.inf:
            assert now.seconds[0] == pause
            now = now.taken([0])
    assert now.outcomes.tobytes() == whole.tobytes()


def test_runs_in_turn_are_the_runs_of_the_parallel_kernel(first: Ready) -> None:
    drawn = draw(first, 3, 5, Spread())
    together = rehearse(first.case, drawn.fleet, drawn.draws, kept=False).outcomes
    assert in_turn(first.case, drawn.fleet, drawn.draws).tobytes() == together.tobytes()


def test_without_an_answer_the_bridge_goes_on_with_what_is_left(first: Ready) -> None:
    """A thruster lost under way changes nothing until it is wanted: the conn steers on as in the undisturbed run."""
    plain = sailed(first, no_failures(1))
    without = sailed(first, lost(failures.THRUSTERS, 600.0))
    assert without.outcomes["reason"][0] == UNHURT
    assert without.outcomes["time"][0] == 600.0 + failures.WATCHED
    end = without.track(0).shape[0]
    assert np.array_equal(without.track(0), plain.track(0)[:end])


def test_an_engine_lost_gives_no_more_thrust_and_she_loses_her_way(first: Ready) -> None:
    speed = column(sailed(first, lost(failures.ENGINE, 300.0)), "surge")
    assert speed[-1] < 0.6 * speed[300]


def test_full_astern_takes_her_way_off_and_then_holds_her(first: Ready) -> None:
    found = sailed(first, lost(failures.RUDDER, 300.0, engines=failures.TAKEN_OFF, helpers=failures.STEERING))
    assert found.outcomes["reason"][0] == HELD
    surge = column(found, "surge")
    assert (surge[330:] < surge[330] + 0.1).all()
    telegraph = column(found, "telegraph")
    assert telegraph[345] == 0.0
    assert telegraph[-1] in (first.case.known.stop, first.case.known.stop + 1)


def test_a_rudder_stuck_hard_over_is_there_at_once(first: Ready) -> None:
    rudder = column(sailed(first, lost(failures.RUDDER_PORT, 300.0)), "rudder")
    stuck = min(first.case.known.hard_over, failures.HARD_OVER)
    assert (np.abs(rudder[302:] + stuck) < 1e-9).all()


def test_anchors_go_below_four_knots_and_hold_by_their_cable(first: Ready) -> None:
    assert first.parameters.anchors, "the card tells of anchors"
    cable = 41.25  # m, one and a half shackles
    found = sailed(first, lost(failures.BLACKOUT, 1000.0, anchors=2.0, cable=cable))
    log = found.log(0)
    told = log[log[:, 2] == 5.0]  # anchor orders
    assert sorted(told[:, 3]) == [0.0, 1.0]
    assert (told[:, 4] == cable).all()
    at = int(told[0, 0])
    speed = np.hypot(column(found, "surge"), column(found, "sway"))
    assert speed[at] < failures.ANCHOR_SPEED <= speed[at - 2]
    drifting = sailed(first, lost(failures.BLACKOUT, 1000.0))
    later = min(at + 120, drifting.track(0).shape[0] - 1, found.track(0).shape[0] - 1)
    assert speed[later] < np.hypot(column(drifting, "surge"), column(drifting, "sway"))[later]


def test_nothing_is_answered_before_it_is_seen(first: Ready) -> None:
    asked = lost(failures.RUDDER, 300.0, engines=failures.TAKEN_OFF)
    first_order = sailed(first, asked).track(0)[:, COLUMNS.index("telegraph")]
    changed = np.flatnonzero(np.diff(first_order[300:]) != 0.0)
    assert changed[0] >= failures.SEEN


ANCHORS = [  # unit, cable, words, origin
    (
        0,
        27.5,
        "Let go port anchor, 1 shackle",
        "SMCP A3/3 'let go port anchor' (from memory); 27.5 m, forces sheet 6.2",
    ),
    (1, 41.25, "Let go starboard anchor, 1.5 shackles", "the same"),
]


@pytest.mark.parametrize(("unit", "cable", "words", "origin"), ANCHORS)
def test_an_anchor_order_in_words(unit: int, cable: float, words: str, origin: str) -> None:
    assert anchor(unit, cable) == words, origin

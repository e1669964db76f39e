"""A sweep of failures: which answer is best where, points of no return, and that it goes on where it was stopped."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from leadsman.assessment import failures_answers as ways
from leadsman.assessment.failures import choose, failures_of
from leadsman.assessment.failures_answers import Answer, Lost
from leadsman.assessment.failures_result import Failures
from leadsman.assessment.failures_sail import Swept, worth
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.conning import failures as does
from leadsman.conning.outcome import AGROUND, ALONGSIDE, HELD, UNHURT
from leadsman.documents.rehearsal_limits import failures_data, print_failures
from leadsman.errors import CannotCompute
from leadsman.files.rehearsal_store import RehearsalStore
from leadsman.portcall import PortCall
from leadsman.units import KNOT

EVERY = 600.0  # s


@pytest.fixture(scope="module")
def first(first_prepared: Prepared) -> Ready:
    return ready(first_prepared, first_prepared.call.start)


@pytest.fixture(scope="module")
def found(first_call: PortCall, tmp_path_factory: pytest.TempPathFactory) -> tuple[Failures, Path]:
    folder = tmp_path_factory.mktemp("swept")
    return failures_of(first_call, EVERY, store=RehearsalStore(folder)), folder


def test_every_loss_of_the_ship_is_swept_at_every_moment(found: tuple[Failures, Path]) -> None:
    names = [one.name for one in found[0].failing]
    assert names == [
        "engine lost",
        "rudder stuck as it stands",
        "rudder stuck to starboard",
        "rudder stuck to port",
        "thrusters lost",
        "blackout",
    ]
    for one in found[0].failing:
        assert [moment.time for moment in one.moments] == [EVERY * (k + 1) for k in range(len(one.moments))]
        assert len(one.moments) == 8, "every 10 minutes of a passage of 85"


def test_with_the_best_answer_no_place_is_worse_than_going_on(found: tuple[Failures, Path]) -> None:
    for one in found[0].failing:
        for moment in one.moments:
            assert moment.answered or moment.danger is not None, (one.name, moment)
            if not moment.answered:
                assert moment.answered_time_left is not None
                assert moment.time_left is not None
                assert moment.answered_time_left > 0.0


def test_stretches_cover_the_passage_and_end_where_the_answer_changes(found: tuple[Failures, Path]) -> None:
    for one in found[0].failing:
        assert one.stretches[0].begin_time == one.moments[0].time
        assert one.stretches[-1].end_time == one.moments[-1].time
        for before, here in pairwise(one.stretches):
            assert here.begin_time == before.end_time + EVERY
            assert (before.answer, before.answered) != (here.answer, here.answered)


def test_points_of_no_return_follow_the_answers(found: tuple[Failures, Path]) -> None:
    for one in found[0].failing:
        turns = [here.distance for before, here in pairwise(one.moments) if before.answered and not here.answered]
        assert [at for at, _ in one.no_return] == turns
        assert len(one.abort) == len(turns)


def test_a_sweep_that_was_stopped_goes_on_with_what_it_has(first_call: PortCall, found: tuple[Failures, Path]) -> None:
    """All that was sailed is taken from the store; spoilt of one loss, only that one is sailed again."""

    class Spoilt(RehearsalStore):
        saved = 0

        def load(self, key: str) -> dict[str, Any]:
            kept = super().load(key)
            kept.pop("5", None)
            return kept

        def save(self, key: str, arrays: Mapping[str, Any]) -> None:
            self.saved += 1
            super().save(key, arrays)

    whole = Spoilt(found[1])
    again = failures_of(first_call, EVERY, store=whole)
    assert failures_data(again) == failures_data(found[0])
    assert whole.saved > 0
    told: list[tuple[int, int]] = []
    kept = RehearsalStore(found[1])
    assert failures_data(
        failures_of(first_call, EVERY, lambda done, of: told.append((done, of)), kept)
    ) == failures_data(found[0])
    assert len(told) == 1
    assert told[0][0] == told[0][1], "nothing was left to sail"


def test_two_moments_are_a_sweep_too(first_call: PortCall) -> None:
    assert [len(one.moments) for one in failures_of(first_call, 2400.0).failing] == [2] * 6


def test_a_passage_that_fails_by_itself_is_not_swept(first_call: PortCall) -> None:
    gale = replace(first_call.forecast, wind_speed=45.0 * KNOT, wind_from=5.0, gust_speed=45.0 * KNOT)
    with pytest.raises(CannotCompute, match="expected a passage that succeeds"):
        failures_of(replace(first_call, forecast=gale))


def test_it_prints(found: tuple[Failures, Path], capsys: pytest.CaptureFixture[str]) -> None:
    print_failures(found[0])
    printed = capsys.readouterr().out
    assert "The best answer, place by place" in printed
    assert "Blackout" in printed


def swept(kind: int, *rows: list[float], anchors: tuple[int, ...] = ()) -> Swept:
    """Ways by their reasons; a run ends 100 s after the failure."""
    tried = tuple(Answer(does.TAKEN_OFF, 0, 0, count, 2.0) for count in anchors)
    moments = len(rows[0])
    found = np.full((len(rows), moments, 4), np.nan)
    times = 60.0 * np.arange(moments)
    for way, row in enumerate(rows):
        found[way, :, 0] = row
        found[way, :, 1] = times + 100.0
        found[way, :, 3] = 10.0
    return Swept(Lost(kind, 0, "lost"), tried, found, times, np.full(moments, 10.0))


def test_what_is_safe_is_chosen_before_what_is_not() -> None:
    one = swept(does.ENGINE, [AGROUND, AGROUND, HELD], [HELD, AGROUND, HELD], anchors=(1,))
    assert choose(one)[0] == 1
    one.found[0, 1, 1] += 50.0
    assert choose(one)[1] == 0, "both end aground; the first leaves more time"


def test_a_worse_answer_is_not_kept_to_save_a_change() -> None:
    one = swept(does.ENGINE, [HELD, AGROUND, HELD], [AGROUND, HELD, AGROUND], anchors=(1,))
    assert list(choose(one)) == [0, 1, 0]


def test_one_answer_serves_where_it_serves_as_well() -> None:
    one = swept(does.ENGINE, [HELD, AGROUND, HELD, AGROUND], [HELD, HELD, HELD, HELD], anchors=(1,))
    assert list(choose(one)) == [1, 1, 1, 1]


def test_going_on_is_enough_where_she_is_under_command_only() -> None:
    rows = [[UNHURT], [HELD]]
    assert list(worth(swept(does.THRUSTERS, *rows, anchors=(0,)))[0]) == list(
        worth(swept(does.ENGINE, *rows, anchors=(0,)))[1]
    )
    assert choose(swept(does.THRUSTERS, *rows, anchors=(0,)))[0] == 0
    assert choose(swept(does.ENGINE, *rows, anchors=(0,)))[0] == 1


def test_the_end_of_the_passage_is_as_good_as_being_stopped() -> None:
    assert worth(swept(does.ENGINE, [ALONGSIDE]))[0, 0] == worth(swept(does.ENGINE, [HELD]))[0, 0]


WORDS = [  # kind, answer, words
    (does.RUDDER, Answer(does.TAKEN_OFF, 0, does.STEERING, 0, 0.0), "Engine full astern until she is stopped, then hold her; steer by thruster"),
    (does.ENGINE, Answer(does.STOPPED, does.HARD_PORT, 0, 1, 2.0), "Hard-a-port; below 4 knots let go one anchor, 1 shackle"),
    (does.BLACKOUT, Answer(does.STOPPED, 0, 0, 2, 5.0), "Below 4 knots let go both anchors, 1 shackle each"),
    (does.THRUSTERS, Answer(does.STOPPED, 0, 0, 0, 0.0), "Stop engine; steer on"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "answer", "words"), WORDS)
def test_answers_in_words(first: Ready, kind: int, answer: Answer, words: str) -> None:
    assert answer.words(first, Lost(kind, 0, "lost"), (1.0, 1.0)) == words


def test_shackles_are_rounded_up_to_the_half(first: Ready) -> None:
    hawse = first.parameters.anchors[0].hawse
    depth = (27.5 - hawse) / 2.0  # m, in which two depths and the hawse are one shackle
    assert ways.shackles(first, 2.0, depth) == 1.0
    assert ways.shackles(first, 2.0, depth + 0.1) == 1.5
    assert ways.shackles(first, 5.0, 1000.0) == 8.0, "no more than there is: 8 shackles, ship.toml"
    assert ways.shackles(first, 0.0, depth) == 0.0


def test_no_anchor_is_let_go_under_an_engine_going_ahead(first: Ready) -> None:
    for lost in ways.losses(first):
        for answer in ways.answers(first, lost):
            assert not (answer.anchors and answer.engines == does.AS_PLANNED)
            assert answer.wheel == does.STEERED or lost.kind == does.ENGINE

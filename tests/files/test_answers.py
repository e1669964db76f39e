"""What is answered, what stays open, and what is said of an answer that is none."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from leadsman.errors import InputErrors
from leadsman.files.answers import Answers
from leadsman.geometry import Position


def test_an_answer_for_a_place_goes_before_the_one_for_all() -> None:
    answers = Answers({"width_m": "80", "width_m@Narrow Reach": " 40 "})
    assert answers.number("width_m", "", 5, 500, place="Wide Reach") == 80.0
    assert answers.number("width_m", "", 5, 500, place="Narrow Reach") == 40.0
    assert answers.open == ()
    answers.check()


def test_one_question_for_all_places_without_an_answer() -> None:
    answers = Answers({"width_m@Narrow Reach": "40", "berth": ""})
    for place in ("Wide Reach", "Narrow Reach", "Long Reach", "Wide Reach"):
        answers.number("width_m", "how wide", 5, 500, place=place)
    answers.text("berth", "which", choices=("A", "B"), other=True)
    answers.number("extra", "not needed", 0, 1, needed=False)
    width, berth = answers.open
    assert (width.key, width.places, width.asked_of) == (
        "width_m", ("Wide Reach", "Long Reach"), "width_m of Wide Reach, Long Reach",
    )  # fmt: skip
    assert (berth.asked_of, berth.choices, berth.other) == ("berth", ("A", "B"), True)


def test_times_and_positions() -> None:
    answers = Answers({"start": "2031-05-04T07:00+01:00", "begin": "-30.5, 120.25"})
    assert answers.time("start", "") == datetime(2031, 5, 4, 6, 0, tzinfo=UTC)
    assert answers.position("begin", "") == Position(-30.5, 120.25)
    answers.check()


@pytest.mark.parametrize(
    ("given", "ask", "sentence"),
    [
        ("twelve", lambda a: a.number("key", "", 0, 10), "'twelve'; expected a number, 0 to 10"),
        ("12", lambda a: a.number("key", "", 0, 10), "'12'; expected a number, 0 to 10"),
        ("nan", lambda a: a.number("key", "", 0, 10), "'nan'; expected a number, 0 to 10"),
        ("up", lambda a: a.text("key", "", choices=("port", "starboard")), "'up'; expected one of port, starboard"),
        ("2031-05-04T06:00", lambda a: a.time("key", ""), "has no zone"),
        ("12.5", lambda a: a.position("key", ""), "'12.5'; expected degrees as latitude, longitude"),
        ("95, 12", lambda a: a.position("key", ""), "expected degrees north"),
        ("12", lambda a: a.text("kye", ""), "answers nothing that is asked here; did you mean 'kye'?"),
        ("12", lambda a: a.text("unlike", ""), "answers nothing that is asked here; expected the key of a question"),
    ],
)
def test_an_answer_that_is_none_is_told(given: str, ask: Callable[[Answers], object], sentence: str) -> None:
    answers = Answers({"key": given})
    assert ask(answers) is None
    with pytest.raises(InputErrors) as caught:
        answers.check()
    (error,) = caught.value.errors
    assert (error.file, error.field) == ("answers", "key")
    assert sentence in error.problem


def test_a_key_may_wait_while_questions_are_still_to_come() -> None:
    answers = Answers({"later": "1"})
    answers.check(complete=False)
    with pytest.raises(InputErrors, match="answers: later: answers nothing"):
        answers.check()

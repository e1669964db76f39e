"""Side by side on paper and at the terminal: what differs is marked by a sign, and computes nothing anew."""

from pathlib import Path

import pytest

from leadsman.assessment.beside import beside
from leadsman.assessment.checked_card import checked_card
from leadsman.documents.beside_data import beside_data, print_beside
from leadsman.files.call_files import read_ship

EXAMPLES = Path(__file__).parents[2] / "examples"
TWO = beside(
    *(checked_card(*read_ship(EXAMPLES / name)) for name in ("2-bar-bulk-carrier", "3-container-basin")),
)


def test_every_line_of_both_cards_stands_once() -> None:
    data = beside_data(TWO)
    titles = [group["title"] for group in data["groups"]]
    assert titles[:4] == ["The ship today", "Particulars", "Engine", "Steering"]
    for group in data["groups"]:
        labels = [row["label"] for row in group["rows"]]
        assert len(labels) == len(set(labels))
        assert all((row["mark"] == "≠") == (row["one"] != row["other"]) for row in group["rows"])
    assert {row["name"] for row in data["figures"]} == set(TWO.one.figures) | set(TWO.other.figures)


def test_marks_are_signs_and_tell_certain_from_unsure() -> None:
    marks = {row["name"]: row["mark"] for row in beside_data(TWO)["figures"]}
    assert marks["displacement"] == "≠"  # 44 650 t and 99 500 t
    assert marks["astern_speed_share"] == "~"  # 0.68 and 0.66, each within 0.05
    assert marks["list_angle"] == ""


def test_the_terminal_shows_what_differs_and_counts_the_rest(capsys: pytest.CaptureFixture[str]) -> None:
    print_beside(TWO)
    short = capsys.readouterr().out
    print_beside(TWO, everything=True)
    long = capsys.readouterr().out
    assert "≠ differs; ~ differs by less than its bands" in short
    assert "lines are equal and not" in short
    assert "List angle" not in short
    assert "List angle" in long
    assert "For planning only" in short

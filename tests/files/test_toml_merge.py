"""New figures in a mariner's own text: what is read back is what was given, and remarks stay."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.files.toml_merge import merged

EXAMPLES = Path(__file__).parents[2] / "examples"

TEXT = """# The head.
name = "River"          # what it is called

[origin]
latitude = -31.5        # invented
longitude = -17.5

[[gate]]                # the first
name = "Bridge"
clearance_m = 27.1      # above HAT

[[gate]]
name = "Cable"
clearance_m = 40

[last]
row = [
  { hour = -1, rate = 0.5 },   # flood
  { hour = 1, rate = 0.7 },
]
"""


def data() -> dict[str, Any]:
    return tomllib.loads(TEXT)


def test_the_same_figures_change_no_letter() -> None:
    assert merged(TEXT, data()) == TEXT
    for file in EXAMPLES.rglob("*.toml"):
        assert merged(file.read_text(), tomllib.loads(file.read_text())) == file.read_text(), file


CHANGES = [
    (lambda d: d["origin"].update(latitude=-31.6), 'latitude = -31.6        # invented'),
    (lambda d: d["gate"][0].update(clearance_m=26.8), "clearance_m = 26.8      # above HAT"),
    (lambda d: d["gate"][0].update(name="High Bridge"), 'name = "High Bridge"'),
    (lambda d: d["gate"].reverse(), "clearance_m = 27.1      # above HAT"),
    (lambda d: d["gate"].insert(0, {"name": "Sill", "depth_m": -1.0}), 'name = "Sill"\ndepth_m = -1.0'),
    (lambda d: d["gate"].pop(0), 'name = "Cable"'),
    (lambda d: d["last"]["row"][1].update(rate=0.9), "{ hour = -1, rate = 0.5 },   # flood"),
    (lambda d: d["last"]["row"].append({"hour": 2, "rate": 0.1}), "hour = 2"),
    (lambda d: d.pop("gate"), "[last]"),
    (lambda d: d.update(caution="Shifts."), 'caution = "Shifts."'),
]


@pytest.mark.parametrize(("change", "expected"), CHANGES)
def test_a_change_is_made_in_place(change: Any, expected: str) -> None:
    wanted = data()
    change(wanted)
    found = merged(TEXT, wanted)
    assert tomllib.loads(found) == wanted
    assert expected in found
    assert found.startswith("# The head.\nname = \"River\"          # what it is called\n")


def test_a_key_left_open_is_left_out() -> None:
    assert "clearance_m = 40" not in merged(TEXT, data() | {"gate": [{"name": "Cable", "clearance_m": None}]})


def test_true_is_not_one() -> None:
    assert merged("x = 1\n", {"x": True}) == "x = true\n"


def test_what_is_no_toml_is_written_anew() -> None:
    assert tomllib.loads(merged("name = \n[[", {"name": "x"})) == {"name": "x"}


WORDS = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_categories=("Cc", "Cs")), max_size=8)
VALUES = st.one_of(WORDS, st.booleans(), st.integers(-(10**9), 10**9), st.floats(allow_nan=False, allow_infinity=False))
ROWS = st.lists(st.dictionaries(WORDS, VALUES, max_size=3), min_size=1, max_size=3)
TREES = st.dictionaries(WORDS, st.one_of(VALUES, st.dictionaries(WORDS, VALUES, max_size=3), ROWS), max_size=5)


@given(before=TREES, after=TREES)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_what_is_read_back_is_what_was_given(before: dict[str, Any], after: dict[str, Any]) -> None:
    found = tomllib.loads(merged(merged(TEXT, before), after))
    assert found == after

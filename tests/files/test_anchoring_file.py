"""`[anchoring]` of call.toml: read, refused with its line, and passed over by an assessment that has none."""

import shutil
from pathlib import Path

import pytest

from leadsman.errors import InputErrors
from leadsman.files.call_files import read_call

EXAMPLE = Path(__file__).parents[2] / "examples" / "5-podded-cruise"
GOOD = """
[anchoring]
at = "Mirrow Roads Anchorage"
anchor = "port"
bottom = "firm sand"
shackles = 6
"""


def folder(tmp_path: Path, words: str) -> Path:
    there = tmp_path / "call"
    shutil.copytree(EXAMPLE, there, ignore=shutil.ignore_patterns(".*"))
    file = there / "call.toml"
    kept = file.read_text("utf-8").partition("[anchoring]")[0]
    file.write_text(kept + words, "utf-8")
    return there


def test_an_anchoring_is_read(tmp_path: Path) -> None:
    call = read_call(folder(tmp_path, GOOD))
    assert call.anchoring is not None
    assert (call.anchoring.at, call.anchoring.anchor) == ("Mirrow Roads Anchorage", "port")
    assert call.anchoring.shackles == 6.0
    assert read_call(folder(tmp_path / "without", "")).anchoring is None


@pytest.mark.parametrize(
    ("line", "wrong", "why"),
    [
        ('anchor = "port"', 'anchor = "bow"', "anchor"),
        ('bottom = "firm sand"', "", "bottom: is missing"),
        ("shackles = 6", "shackles = 60", "60 is no length of cable; expected shackles in the water, 1 to 16"),
        ('at = "Mirrow Roads Anchorage"', 'at = "Mirow Roads"', "'Mirow Roads' is no basin or waiting place"),
    ],
)
def test_a_faulty_anchoring_is_refused_with_its_line(tmp_path: Path, line: str, wrong: str, why: str) -> None:
    with pytest.raises(InputErrors) as refused:
        read_call(folder(tmp_path, GOOD.replace(line, wrong)))
    words = str(refused.value)
    assert "call.toml:" in words
    assert why in words

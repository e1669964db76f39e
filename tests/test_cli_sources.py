"""The commands between a port call and files of others, as typed."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests/builders"))

import small_port  # noqa: E402

COMMAND = [sys.executable, "-c", "from leadsman.cli import main; main()"]
ENVIRONMENT = os.environ | {"PYTHONPATH": str(ROOT / "src"), "COLUMNS": "100"}


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [*COMMAND, *map(str, words)],
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=False,
        stdin=subprocess.DEVNULL,
    )
    assert "Traceback" not in done.stderr + done.stdout
    return done


@pytest.fixture
def new(tmp_path: Path) -> list[str | Path]:
    paths = small_port.write_sources(tmp_path)
    return ["new", tmp_path / "call", *(word for name, path in paths.items() for word in (f"--{name}", path))]


def test_a_call_without_any_hand_written_file(new: list[str | Path], tmp_path: Path) -> None:
    options = {"berth": "--berth", "start": "--start", "speed_kn": "--speed"}
    words = [
        word
        for key, value in small_port.ANSWERS.items()
        for word in ((options[key], value) if key in options else ("--say", f"{key}={value}"))
    ]
    done = run(*new, *words)
    assert done.returncode == 0, done.stderr
    assert "caution: shore and moorings" in done.stdout
    done = run("assess", tmp_path / "call")
    assert done.returncode == 0, done.stderr
    assert "GO WITH CAUTIONS" in done.stdout


def test_what_the_files_do_not_say_is_asked(new: list[str | Path], tmp_path: Path) -> None:
    done = run(*new)
    assert done.returncode == 2
    assert "  berth: the berth she goes to or leaves" in done.stderr
    assert "Grain Quay, West Dolphin" in done.stderr
    assert not (tmp_path / "call").exists()
    done = run(*new, "--json")
    assert done.returncode == 2
    shape = json.loads(done.stdout)
    assert shape["schema"] == "leadsman.open-questions/1"
    assert {"key": "side_to", "places": [], "sentence": "which side of the ship lies to the berth",
            "choices": ["port", "starboard"], "other": False, "needs_file": False} in shape["questions"]  # fmt: skip
    assert "channel" in {question["key"] for question in shape["questions"]}


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--chart", "x.000"], "--tide: is missing; expected --chart, --tide and --ship together"),
        (["--speed", "6"], "--chart: is missing; expected it with --tide and --ship"),
        (["--say", "berth"], "--say: 'berth' is no answer; expected KEY=VALUE"),
    ],
)
def test_commands_half_said(words: list[str], sentence: str, tmp_path: Path) -> None:
    done = run("new", tmp_path / "call", *words)
    assert (done.returncode, done.stderr.strip()) == (2, sentence)

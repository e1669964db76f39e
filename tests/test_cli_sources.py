"""The commands between a port call and files of others, as typed."""

import json
import os
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests/builders"))

import bar_papers  # noqa: E402
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


def test_import_tells_and_writes(new: list[str | Path], tmp_path: Path) -> None:
    done = run("import", tmp_path / "tides.csv", "-o", tmp_path / "pieces")
    assert done.returncode == 0, done.stderr
    assert "tides.csv: table of high and low waters" in done.stdout
    assert sorted(path.name for path in (tmp_path / "pieces").iterdir()) == ["stations.toml", "tide.csv"]
    shape = json.loads(run("import", tmp_path / "inward.rtz", "--json").stdout)
    assert (shape["schema"], shape["files"]) == ("leadsman.import/1", ["track.toml"])
    done = run("import", tmp_path / "tides.csv", "-o", tmp_path / "pieces")
    assert (done.returncode, "exists already" in done.stderr) == (2, True)
    (tmp_path / "nothing.bin").write_bytes(b"\x00\x01\x02" * 100)
    done = run("import", tmp_path / "nothing.bin")
    assert (done.returncode, "is in no format that is read" in done.stderr) == (2, True)


def test_export_with_times(tmp_path: Path) -> None:
    example = ROOT / "examples/1-river-coaster"
    done = run("export", example, "--to", "csv", "-o", tmp_path / "out.csv", "--times")
    assert done.returncode == 0, done.stderr
    lines = (tmp_path / "out.csv").read_text().splitlines()
    assert lines[1].endswith("2031-05-06T14:12:00Z,")  # the start of the example
    assert len(lines) == 1 + 6
    shape = json.loads(run("export", example, "--to", "rtz", "-o", tmp_path / "out.rtz", "--json").stdout)
    assert shape == {"schema": "leadsman.export/1", "file": str(tmp_path / "out.rtz"), "format": "rtz"}
    done = run("export", example, "--to", "dxf", "-o", tmp_path / "out.dxf")
    assert (done.returncode, done.stderr.strip()) == (
        2, "--to: 'dxf' is no format; expected one of rtz, gpx, geojson, geopackage, csv",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("name", "write"),
    [("files-of-a-harbour", small_port.write_sources), ("papers-of-a-bar", bar_papers.write_papers)],
)
def test_the_files_of_an_example_are_those_of_its_builder_and_make_the_call(
    tmp_path: Path, name: str, write: Callable[[Path], dict[str, Path]]
) -> None:
    """What its `README.md` says to type, typed."""
    folder = ROOT / "examples" / name
    for path in write(tmp_path).values():
        if path.name != "ship.toml":
            assert (folder / path.name).read_bytes() == path.read_bytes(), path.name
    text = (folder / "README.md").read_text()
    typed = text[text.index("leadsman new") : text.index("leadsman assess")].replace("\\\n", " ")
    words = shlex.split(typed)[1:]
    words[1] = str(tmp_path / "call")
    done = run(*(ROOT / word if word.startswith("examples/") else word for word in words))
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "call/waterway/areas.geojson").is_file()

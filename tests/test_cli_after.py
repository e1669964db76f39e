"""`leadsman after` as typed: what its example's README says, as data, and what it refuses."""

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "examples/log-of-a-river"
CALL, LOG = "examples/1-river-coaster", "examples/log-of-a-river/inward.nmea"
ENVIRONMENT = os.environ | {"PYTHONPATH": str(ROOT / "src"), "COLUMNS": "100"}


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "from leadsman.cli import main; main()", "after", *map(str, words)]
    done = subprocess.run(command, env=ENVIRONMENT, capture_output=True, text=True, check=False, cwd=ROOT)
    assert "Traceback" not in done.stderr + done.stdout
    return done


def test_what_the_readme_of_the_example_says_to_type() -> None:
    text = (FOLDER / "README.md").read_text()
    (typed,) = (line for line in text.splitlines() if line.startswith("leadsman after"))
    done = run(*shlex.split(typed)[2:])
    assert done.returncode == 0, done.stderr
    assert "Water level: the prediction and +0.10 m, as the gauge showed." in done.stdout
    assert "Ambry Roads    0.00 nm     14:12    14:19    7 min late   4 m to starboard" in done.stdout
    assert "Slow ahead in Lych Reach:" in done.stdout
    assert "For planning only, not for navigation." in done.stdout
    assert max(len(line.rstrip()) for line in done.stdout.splitlines()) <= 100


def test_as_data_it_has_every_station_and_its_sentences() -> None:
    done = run(CALL, LOG, "--json")
    data = json.loads(done.stdout)
    assert data["schema"] == "leadsman.after/1"
    assert {len(column) for column in data["stations"].values()} == {len(data["stations"]["time"])}
    assert len(data["stations"]["time"]) > 400
    assert [one["place"] for one in data["passings"]][-1] == "Tannery Quay"
    assert any("antenna" in one["sentence"] for one in data["findings"])


def test_a_file_that_is_no_log_and_a_vessel_that_is_not_in_it(tmp_path: Path) -> None:
    done = run(CALL, "examples/files-of-a-harbour/tides.csv")
    assert done.returncode == 2
    assert "expected the log of a passage: AIS or NMEA, GPX with times, GeoJSON" in done.stderr
    done = run(CALL, LOG, "--vessel", "Kittiwake")
    assert done.returncode == 2
    assert "holds 0 tracks of 'Kittiwake'; it has: own ship" in done.stderr
    log = (ROOT / LOG).read_text().splitlines(keepends=True)
    (tmp_path / "short.nmea").write_text("".join(log[:8]))
    done = run(CALL, tmp_path / "short.nmea")
    assert done.returncode == 2
    assert "4 positions of the log lie along the track; expected 10 or more" in done.stderr

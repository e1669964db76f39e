"""Ship cards on the command line: checked and completed, asked for on the terminal, printed alone."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from leadsman.files.ask_card import ask_card

ROOT = Path(__file__).parents[1]
COMMAND = [sys.executable, "-c", "from leadsman.cli import main; main()"]
ENVIRONMENT = os.environ | {"PYTHONPATH": str(ROOT / "src"), "COLUMNS": "100"}
CLEAN, SLIPS = "examples/4-ferry-corner-berth/ship.toml", "examples/card-with-slips/ship.toml"


def run(*words: str, folder: Path = ROOT, typed: str = "") -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [*COMMAND, *words], cwd=folder, env=ENVIRONMENT, input=typed, capture_output=True, text=True, check=False
    )
    assert "Traceback" not in done.stderr + done.stdout
    return done


def test_every_example_card_is_checked_in_one_go() -> None:
    """Only the card with slips has any finding above a note, and it has the four its first lines promise."""
    files = sorted(str(file.relative_to(ROOT)) for file in (ROOT / "examples").glob("*/ship.toml"))
    done = run("check", *files, "--json")
    reports = json.loads(done.stdout)["cards"]
    assert done.returncode == 1
    found = {
        file: {one["subject"] for one in report["findings"] if one["grade"] != "note"}
        for file, report in zip(files, reports, strict=True)
    }
    slips = found.pop(SLIPS)
    assert len(found) >= 5
    assert set().union(*found.values()) == set()
    assert slips >= {"bridge_distances", "second_readings", "speeds_rise", "steering_gear"}
    assert all(report["findings"] and report["figures"] for report in reports)


def test_a_card_is_completed_below_its_findings() -> None:
    done = run("check", CLEAN)
    assert done.returncode == 0, done.stderr
    for words in ("metric horsepower", "Not on the card", "Waterplane coefficient", "estimated", "[DerivedForm]"):
        assert words in done.stdout
    assert done.stdout.index("metric horsepower") < done.stdout.index("Not on the card")
    assert "For planning only, not for navigation." in done.stdout


def test_estimates_as_data_have_band_source_and_meaning() -> None:
    (report,) = json.loads(run("check", CLEAN, "--json").stdout)["cards"]
    estimated = [one for one in report["figures"] if one["origin"] == "estimated"]
    assert len(estimated) > 10
    assert all(one["band"] and one["method"] and one["source"] and one["meaning"] for one in estimated)


def test_an_own_figure_is_tried_and_what_it_changes_is_told() -> None:
    done = run("check", "examples/2-bar-bulk-carrier", "--own", "displacement_t=46000")
    assert done.returncode == 0, done.stderr
    for words in ("What your own figures change", "Displacement (own)", "44 650 t", "46 000 t", "+3.0 %"):
        assert words in done.stdout.replace("\u202f", " ")
    report = json.loads(run("check", CLEAN, "--own", "roll_period_s=14", "--json").stdout)["cards"][0]
    assert [one["name"] for one in report["changes"]] == ["roll_period"]
    assert "changes" in json.loads(run("check", CLEAN, "--json").stdout)["cards"][0]


def test_an_own_figure_that_is_none_is_a_fault() -> None:
    done = run("check", CLEAN, "--own", "displacement=46000")
    assert done.returncode == 2
    assert "did you mean 'displacement_t'?" in done.stderr


def test_an_own_figure_is_kept_in_the_card_when_asked(tmp_path: Path) -> None:
    file = tmp_path / "ship.toml"
    file.write_text((ROOT / "examples/2-bar-bulk-carrier/ship.toml").read_text())
    assert run("check", str(tmp_path), "--own", "displacement_t=46000 loading computer", "--keep").returncode == 0
    assert 'displacement_t = "loading computer"' in file.read_text()
    assert "What your own figures change" in run("check", str(tmp_path)).stdout
    done = run("check", str(tmp_path), "--keep")
    assert done.returncode == 2
    assert "expected one card and at least one --own" in done.stderr


def test_two_cards_are_set_side_by_side() -> None:
    done = run("compare", "examples/2-bar-bulk-carrier", "examples/3-container-basin")
    assert done.returncode == 0, done.stderr
    for words in ("Stormlapwing needs 2.60 m more water", "≠", "What computation takes"):
        assert words in done.stdout
    data = json.loads(run("compare", "examples/2-bar-bulk-carrier", "examples/3-container-basin", "--json").stdout)
    assert data["schema"] == "leadsman.beside/1"


def test_one_card_is_set_beside_her_other_condition() -> None:
    done = run("compare", "examples/2-bar-bulk-carrier")
    assert "Ballast: bulk carrier, ballast, 4.59 m forward, 6.33 m aft (draughts estimated" in done.stdout.replace(
        "\n", " "
    )


def test_the_steering_time_of_the_card_with_slips_is_what_its_comment_says() -> None:
    """65/90 of 45 s, against the 28 s of SOLAS II-1/29: plain arithmetic."""
    (report,) = json.loads(run("check", SLIPS, "--json").stdout)["cards"]
    sentence = next(one["sentence"] for one in report["findings"] if one["subject"] == "steering_gear")
    assert f"{45 * 65 / 90:.1f} s" in sentence


def test_faults_of_all_cards_are_told_at_once(tmp_path: Path) -> None:
    for name in ("a.toml", "b.toml"):
        (tmp_path / name).write_text("name = 3\n")
    done = run("check", "a.toml", "b.toml", str(ROOT / CLEAN), folder=tmp_path)
    assert done.returncode == 2
    assert "a.toml:1: name" in done.stderr
    assert "b.toml:1: name" in done.stderr


ANSWERS = {
    "Name": "Petrel Sound",
    "Kind (needed)": "coaster",
    "Length overall, m": "88.0",
    "Beam, m": "12.6",
    "Bridge to bow, m": "70",
    "Bridge to stern, m": "10",
    "Condition": "loaded",
    "Draught forward, m": "5.30",
    "Draught aft, m": "5.40",
}


def typed_card() -> str:
    """What a person types, one line for each question, as `ask_card` puts them."""
    lines: list[str] = []
    kinds = iter(("coaster", "geared_diesel"))
    revolutions = iter(("190", "150"))

    def ask(question: str) -> str:
        words = question.strip()
        if words.startswith("Kind (needed)"):
            answer = next(kinds)
        elif words.startswith("Revolutions, rpm"):
            answer = next(revolutions, "")
        else:
            answer = next((value for name, value in ANSWERS.items() if words.startswith(name)), "")
        lines.append(answer)
        return answer

    ask_card(ask, lambda words: None)
    return "\n".join(lines) + "\n"


def test_a_card_is_asked_for_written_and_checked(tmp_path: Path) -> None:
    done = run("card", "ship.toml", folder=tmp_path, typed=typed_card())
    assert done.returncode == 1, done.stderr
    assert "make 80.0 m, but length overall is 88.0 m" in " ".join(done.stdout.split())
    assert 'name = "Petrel Sound"' in (tmp_path / "ship.toml").read_text()
    again = run("check", "ship.toml", folder=tmp_path)
    assert (again.returncode, again.stdout) == (1, done.stdout)


def test_a_card_left_half_way_writes_nothing(tmp_path: Path) -> None:
    done = run("card", "ship.toml", folder=tmp_path, typed="Petrel Sound\ncoaster\n")
    assert done.returncode == 130
    assert done.stderr.endswith("stopped\n")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "problem"),
    [
        ("there.toml", "exists already"),
        ("ship", "is no name for a ship card"),
        ("none/ship.toml", "lies in a folder that does not exist"),
    ],
)
def test_a_file_that_cannot_be_begun_is_told_before_the_first_question(
    name: str, problem: str, tmp_path: Path
) -> None:
    (tmp_path / "there.toml").write_text("kept")
    done = run("card", name, folder=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith(f"{name}: {problem}")
    assert (tmp_path / "there.toml").read_text() == "kept"


def test_a_clean_card_is_printed_with_her_manoeuvres(tmp_path: Path) -> None:
    done = run("print", CLEAN, "-o", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert [Path(line).name for line in done.stdout.splitlines()] == ["card.pdf", "poster.pdf", "booklet.pdf"]


def test_a_card_alone_is_printed_as_card_and_poster(tmp_path: Path) -> None:
    done = run("print", SLIPS, "-o", str(tmp_path), "--json")
    files = [Path(file) for file in json.loads(done.stdout)["files"]]
    assert done.returncode == 1  # the sheets name the stops; the card must still not be trusted
    assert [file.name for file in files] == ["card.pdf", "poster.pdf"]
    assert all(file.read_bytes().startswith(b"%PDF") for file in files)
    poster = " ".join(pypdf.PdfReader(files[1]).pages[0].extract_text().split())
    assert "could not be estimated: the card cannot be true as it stands" in poster
    done = run("print", SLIPS, "--start", "2031-05-04T06:00Z")
    assert done.returncode == 2
    assert "a ship card has no start" in done.stderr

"""A call zipped reads back as the same call, and gives the same answer to the digit."""

import json
import shutil
import zipfile
from pathlib import Path

import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.rehearse import rehearse_call
from leadsman.documents.data import assessment_data
from leadsman.documents.rehearsal_data import rehearsal_data
from leadsman.files.call_files import read_call
from leadsman.files.record_file import NAME, add_entry
from leadsman.files.zip_call import zip_call
from leadsman.record import Role, State

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("name", ["1-river-coaster", "5-podded-cruise"])
def test_the_same_answer_elsewhere(name: str, tmp_path: Path) -> None:
    folder = EXAMPLES / name
    target = tmp_path / "call.zip"
    target.write_bytes(zip_call(folder))
    here, there = (json.dumps(assessment_data(assess(read_call(path)))) for path in (folder, target))
    assert there.replace(f"{target}/", f"{folder}/") == here


def test_the_same_rehearsal_elsewhere_to_the_digit(tmp_path: Path) -> None:
    folder, target = EXAMPLES / "1-river-coaster", tmp_path / "call.zip"
    target.write_bytes(zip_call(folder))
    here, there = (json.dumps(rehearsal_data(rehearse_call(read_call(path), runs=3))) for path in (folder, target))
    assert there == here


def test_equal_files_give_equal_bytes_and_a_zip_zips_to_itself(tmp_path: Path) -> None:
    source = EXAMPLES / "1-river-coaster"
    shutil.copytree(source, tmp_path / "other")
    first = zip_call(source)
    assert zip_call(tmp_path / "other") == first
    (tmp_path / "call.zip").write_bytes(first)
    assert zip_call(tmp_path / "call.zip") == first


def test_the_record_goes_along_and_hidden_files_stay(tmp_path: Path) -> None:
    folder = tmp_path / "call"
    shutil.copytree(EXAMPLES / "1-river-coaster", folder)
    add_entry(folder, by="A. Name", role=Role.PILOT, item="", state=State.NOTED, words="fog", plan="p")
    (folder / ".hidden").mkdir()
    (folder / ".hidden" / "old.toml").write_text("")
    target = tmp_path / "call.zip"
    target.write_bytes(zip_call(folder))
    names = zipfile.ZipFile(target).namelist()
    assert NAME in names
    assert not [name for name in names if "hidden" in name]

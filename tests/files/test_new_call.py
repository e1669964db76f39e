"""What `leadsman new` writes can be read, assessed, and is never half there."""

from pathlib import Path

import pytest

from leadsman.assessment.assess import assess
from leadsman.errors import InputErrors
from leadsman.files.call_files import read_call
from leadsman.files.new_call import write_new_call


def test_a_new_call_can_be_assessed(tmp_path: Path) -> None:
    written = write_new_call(tmp_path / "call")
    assert {path.relative_to(tmp_path / "call").as_posix() for path in written} == {
        "call.toml", "ship.toml", "forecast.toml", "waterway/waterway.toml", "waterway/areas.geojson",
    }  # fmt: skip
    answer = assess(read_call(tmp_path / "call"))
    assert answer.windows
    assert [path.name for path in tmp_path.iterdir()] == ["call"]


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "call").mkdir()
    with pytest.raises(InputErrors, match="exists already; expected a folder that does not"):
        write_new_call(tmp_path / "call")
    with pytest.raises(InputErrors, match="lies in a folder that does not exist"):
        write_new_call(tmp_path / "nowhere/call")

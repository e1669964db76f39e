"""What many tests share: the first example, and a copy of it that a test may spoil."""

import shutil
from pathlib import Path

import pytest

from leadsman.assessment.prepare import Prepared, prepare
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall

EXAMPLES = Path(__file__).parents[1] / "examples"
FIRST = EXAMPLES / "1-river-coaster"


@pytest.fixture(scope="session")
def first_call() -> PortCall:
    return read_call(FIRST)


@pytest.fixture(scope="session")
def first_prepared(first_call: PortCall) -> Prepared:
    return prepare(first_call)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the first example."""
    copy = tmp_path / "call"
    shutil.copytree(FIRST, copy)
    return copy

"""What many tests share: the first example, and a copy of it that a test may spoil."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

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


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The one browser of all tests: its library allows a single loop in a process."""
    found = shutil.which("chromium")
    if found is None:
        pytest.fail("chromium is not installed; run: make browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield browser
        browser.close()

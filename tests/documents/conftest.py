"""The builder of synthetic assessments, for every test of layout."""

import importlib.util
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from leadsman.assessment.result import Assessment


def beside(name: str) -> ModuleType:
    """A module of these tests: they are not a package, so it is loaded from its file."""
    spec = importlib.util.spec_from_file_location(f"synthetic_{name}", Path(__file__).parent / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def build() -> Callable[..., Assessment]:
    """`builder.assessment`."""
    found: Callable[..., Assessment] = beside("builder").assessment
    return found


@pytest.fixture(scope="session")
def sailed() -> ModuleType:
    """`sailed.rehearsal` and `sailed.failures`."""
    return beside("sailed")


@pytest.fixture(scope="session")
def held() -> ModuleType:
    """`held.answer`."""
    return beside("held")

"""The builder of synthetic assessments, for every test of layout."""

import importlib.util
from collections.abc import Callable
from pathlib import Path

import pytest

from leadsman.assessment.result import Assessment


@pytest.fixture(scope="session")
def build() -> Callable[..., Assessment]:
    """`builder.assessment`: tests are not a package, so the module is loaded from its file."""
    spec = importlib.util.spec_from_file_location("synthetic_builder", Path(__file__).parent / "builder.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    found: Callable[..., Assessment] = module.assessment
    return found

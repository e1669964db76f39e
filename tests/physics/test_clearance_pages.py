"""The tables on the pages of methods are those of the code."""

import tomllib
from pathlib import Path

import numpy as np

import leadsman
from leadsman.physics.method import Method
from leadsman.physics.squat import METHODS
from leadsman.physics.uncertainty import DEFAULTS

PAGES = Path(__file__).parents[2] / "docs" / "methods"


def limit(quantity: str, low: float, high: float) -> str:
    words = quantity.replace("_to_", "/").replace("_", " ")
    if high == np.inf:
        return f"{words} from {low:g}"
    return f"{words} to {high:g}" if low == 0.0 else f"{words} {low:g} to {high:g}"


def row(name: str, method: Method, mark: str) -> str:
    limits = "; ".join(limit(quantity, *bounds) for quantity, bounds in method.limits.items()) or "none printed"
    return f"| `{name}` | [{method.source}], {mark} | {', '.join(method.applies_to)} | {limits} | {method.note} |"


def test_the_page_of_squat_tells_every_method_with_source_and_limits() -> None:
    page = (PAGES / "squat.md").read_text().splitlines()
    sources = tomllib.loads((Path(leadsman.__file__).parent / "sources/clearance.toml").read_text())
    for name, method in METHODS.items():
        assert row(name, method, sources[method.source]["mark"]) in page, name
        assert any(line.startswith(f"| {name} | ") for line in page), f"{name} has no formula on the page"
    assert sum(line.startswith("| `") for line in page) == len(METHODS)


def test_the_page_of_underkeel_tells_every_default_uncertainty() -> None:
    page = (PAGES / "underkeel.md").read_text().splitlines()
    for name, default in DEFAULTS.items():
        assert f"| `{name}` | {default.value:.3g} {default.unit} | {default.mark} |" in page, name

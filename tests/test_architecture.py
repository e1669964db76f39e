"""Imports go down only. The arrows are those of docs/architecture.md; this test is what holds them."""

import ast
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "leadsman"

BASE = {"units", "errors", "compiled", "geometry"}
THINGS = {"figure", "ship", "equipment", "poster", "rule", "station", "waterway", "forecast", "portcall", "record", "sailed"}
MAY = {
    "units": set(),
    "errors": set(),
    "compiled": set(),
    "geometry": {"errors"},
    "figure": BASE,
    "equipment": BASE,
    "ship": BASE | THINGS,
    "poster": BASE | THINGS,
    "rule": BASE | THINGS,
    "station": BASE | THINGS,
    "waterway": BASE | THINGS,
    "forecast": BASE | THINGS,
    "portcall": BASE | THINGS,
    "record": BASE | THINGS,
    "sailed": BASE,
    "manner": BASE,
    "format": BASE | {"figure", "manner"},
    "physics": {"compiled", "units"},
    "environment": BASE | THINGS | {"physics"},
    "simulation": BASE | THINGS | {"physics", "environment"},
    "conning": BASE | THINGS | {"physics", "environment", "simulation"},
    "assessment": BASE | THINGS | {"physics", "environment", "simulation", "conning", "format", "manner"},
    "files": BASE | THINGS,
    "documents": BASE | THINGS | {
        "format",
        "manner",
        "assessment.result",
        "assessment.room_result",
        "assessment.manoeuvres_result",
        "assessment.after_result",
        "assessment.card_result",
        "assessment.posted_result",
        "assessment.holding.result",
        "assessment.rehearse_result",
        "assessment.failures_result",
    },
    "store": BASE | THINGS | {"files", "assessment.result", "assessment.posted_result"},
}
FREE = {"cli", "web", "__init__"}  # know every part, compute nothing


def part_of(file: Path) -> str:
    return file.relative_to(SRC).parts[0].removesuffix(".py")


def imported(file: Path) -> set[str]:
    """Modules of ours that a file imports, as dotted names below the package."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text())):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "leadsman":
            below = node.module.split(".")[1:]
            found |= {".".join(below)} if below else {alias.name for alias in node.names}
        elif isinstance(node, ast.Import):
            found |= {
                alias.name.removeprefix("leadsman.") for alias in node.names if alias.name.startswith("leadsman.")
            }
    return found


FILES = sorted(file for file in SRC.rglob("*.py") if part_of(file) not in FREE)


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(SRC)))
def test_imports_go_down(file: Path) -> None:
    part = part_of(file)
    assert part in MAY, f"{part} has no place in the layout; give it one in docs/architecture.md and here"
    for name in imported(file):
        top = name.split(".")[0]
        allowed = (
            top == part or top in MAY[part] or any(name == deep or name.startswith(f"{deep}.") for deep in MAY[part])
        )
        assert allowed, f"{file.relative_to(SRC)} imports leadsman.{name}, which is not below it"


def test_every_module_says_what_it_is() -> None:
    silent = [file for file in SRC.rglob("*.py") if not ast.get_docstring(ast.parse(file.read_text()))]
    assert silent == []


def test_the_public_face_holds_what_it_names() -> None:
    import leadsman

    for name in leadsman.__all__:
        assert getattr(leadsman, name).__name__ == name
    with pytest.raises(AttributeError, match="has no attribute 'nonsense'"):
        leadsman.nonsense  # noqa: B018

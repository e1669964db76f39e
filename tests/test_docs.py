"""Documents made from the code are those the code makes; links lead somewhere; every method has its page."""

import importlib.util
import re
import tomllib
from pathlib import Path

import pytest

from leadsman.documents.caution import SHORT_CAUTION

ROOT = Path(__file__).parents[1]
spec = importlib.util.spec_from_file_location("write_docs", ROOT / "studies/write_docs.py")
assert spec is not None
assert spec.loader is not None
write_docs = importlib.util.module_from_spec(spec)
spec.loader.exec_module(write_docs)

PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


@pytest.mark.parametrize("name", write_docs.PAGES)
def test_made_documents_are_fresh(name: str) -> None:
    assert (ROOT / name).read_text() == write_docs.PAGES[name](), "run studies/write_docs.py"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", page.read_text()):
        if not target.startswith("http"):
            assert (page.parent / target).exists(), target


def test_readme_ends_with_the_caution() -> None:
    words = " ".join((ROOT / "README.md").read_text().split())
    assert SHORT_CAUTION in words
    assert "make run" in words
    assert "make test" in words


def test_source_keys_are_unique_and_marked() -> None:
    marks = {"seen", "memory", "derived", "computed", "common practice, no source"}
    seen: dict[str, str] = {}
    for file in sorted((ROOT / "src/leadsman/sources").glob("*.toml")):
        for key, row in tomllib.loads(file.read_text()).items():
            assert key not in seen, f"{key} stands in {seen[key]} and {file.name}"
            seen[key] = file.name
            assert row["title"], key
            assert any(mark in row["mark"] for mark in marks), f"{file.name}: {key}: {row['mark']}"


def test_cited_keys_are_in_the_bibliography() -> None:
    known = {
        key for file in (ROOT / "src/leadsman/sources").glob("*.toml") for key in tomllib.loads(file.read_text())
    }
    for file in sorted((ROOT / "src/leadsman").rglob("*.py")):
        for sentence in re.findall(r"Source:[^\n]*", file.read_text()):
            for key in re.findall(r"\[([A-Z][A-Za-z]*[0-9]*[A-Za-z0-9]*)\]", sentence):
                assert key in known, f"{file.name} cites [{key}]"

"""The view of a passage as it was: a log chosen, its answer read, a place looked at, the gauge typed in."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
LOG = ROOT / "examples/log-of-a-river/inward.nmea"
VIEW = "main[aria-busy=false]"


def drawn(page: Page) -> bytes:
    """The plan as it is seen."""
    page.wait_for_timeout(200)
    return page.locator(".stage").screenshot()


def chosen(page: Page) -> None:
    page.set_input_files("#log", LOG)
    expect(page.get_by_role("heading", name="When she passed")).to_be_visible(timeout=60_000)


def test_a_log_is_read_and_a_place_looked_at(opened: Callable[..., Page]) -> None:
    page = opened("?sailed=1-river-coaster", wait=VIEW)
    bare = drawn(page)
    chosen(page)
    expect(page.locator("header [role=status]")).to_have_text(re.compile("Sedgewren as sailed, Tue 6 May 14:19 UTC"))
    first = page.get_by_role("row").filter(has_text="Ambry Roads")
    expect(first).to_contain_text("7 min late")  # as the log was made, tests/builders/river_log.py
    whole = drawn(page)
    assert whole != bare, "the line she made is on the plan"
    page.get_by_role("button", name="Heron Point").click()
    assert "place=Heron+Point" in page.url
    assert drawn(page) != whole
    page.get_by_role("button", name="Whole way").click()
    assert "place" not in page.url


def test_what_the_gauge_showed_is_typed_and_reckoned_again(opened: Callable[..., Page]) -> None:
    page = opened("?sailed=1-river-coaster", wait=VIEW)
    chosen(page)
    findings = page.locator("section", has=page.get_by_role("heading", name="Findings"))
    expect(findings).to_contain_text("Where the antenna stands is not known")
    page.get_by_label("Gauge over prediction, m").fill("0,30")
    page.get_by_label("Bow to antenna, m").fill("62 ft")
    page.get_by_role("button", name="Reckon again").click()
    expect(page.get_by_role("alert")).to_contain_text("'62 ft' is no number; expected metres")
    page.get_by_label("Bow to antenna, m").fill("62")
    page.get_by_role("button", name="Reckon again").click()
    expect(findings).to_contain_text("+0.30 m, as the gauge showed")
    expect(findings).not_to_contain_text("antenna")
    page.get_by_role("radio", name="feet", exact=True).click()
    expect(findings).to_contain_text("+1.0 ft, as the gauge showed")


def test_what_is_no_log_is_told_in_place(opened: Callable[..., Page], tmp_path: Path) -> None:
    page = opened("?sailed=1-river-coaster", wait=VIEW)
    (tmp_path / "notes.txt").write_text("no log at all")
    page.set_input_files("#log", tmp_path / "notes.txt")
    expect(page.get_by_role("alert")).to_contain_text("is in no format that is read")
    page.set_input_files("#log", LOG)
    expect(page.get_by_role("heading", name="When she passed")).to_be_visible(timeout=60_000)
    expect(page.get_by_role("alert")).to_have_count(0)

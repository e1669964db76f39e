"""The page read in feet, kilonewtons and by another clock: switched, kept in the address, nowhere mixed."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

EXAMPLE = "1-river-coaster"
SHEET = ".sheet[aria-busy=false]"
OTHER = "lengths=feet&forces=kilonewtons&zone=%2B01:00"
TABLET = {"width": 800, "height": 1100}

METRES = re.compile(r"\d\s?(m|m/s)(?![\w²³])|(?<!in )\bmetres?\b")
TONNES = re.compile(r"\d\s?t\b(?! m/cm|/cm)")
UTC = re.compile(r"\bUTC(?![+−])")

EXCEPTED = (
    r"\d\u202f\d{3}\st\b( ± [\d\u202f]+\st\b)?|\d\st ± \d+\st\b",  # masses, in thousands or with a band, stay tonnes
    r"above 9 m",  # SOLAS V/23 in its own words
)
"""What is told in its own unit on purpose."""

RECORD = """
window.drawn = new Set()
for (const name of ['fillText', 'strokeText']) {
  const draw = CanvasRenderingContext2D.prototype[name]
  CanvasRenderingContext2D.prototype[name] = function (text, ...more) {
    window.drawn.add(String(text))
    return draw.call(this, text, ...more)
  }
}
"""
"""Notes every word drawn on a canvas."""

READ = """(root) => {
  const found = []
  const shown = (element) => !element.closest('.manner, script, style')
  for (const element of document.querySelectorAll(root + ' *')) {
    if (!shown(element)) continue
    for (const node of element.childNodes) if (node.nodeType === 3 && node.data.trim()) found.push(element.innerText?.trim() || node.data.trim())
    for (const name of ['aria-label', 'aria-valuetext', 'title', 'placeholder']) if (element.getAttribute(name)) found.push(element.getAttribute(name))
    if (element instanceof HTMLInputElement && element.type === 'text') found.push(element.value)
  }
  return [...new Set(found)]
}"""
"""Everything on the page that is read or heard, the switch itself left out."""


def mixed(words: list[str]) -> list[str]:
    for exception in EXCEPTED:
        words = [re.sub(exception, "", one) for one in words]
    return [one for one in words if any(unit.search(one) for unit in (METRES, TONNES, UTC))]


def test_it_is_switched_kept_and_taken_along(opened: Callable[..., Page]) -> None:
    page = opened()
    verdict = page.locator(".verdict")
    expect(verdict).to_contain_text(re.compile(r"\d m\b"))
    page.get_by_role("radio", name="feet").click()
    expect(verdict).to_contain_text(re.compile(r"\d ft\b"))
    page.get_by_role("radio", name="kilonewtons").click()
    page.get_by_role("combobox", name="Times by the clock of").select_option("UTC+05:30")
    expect(page.locator(".when")).to_contain_text("UTC+05:30")
    page.wait_for_selector(SHEET)
    for part in ("lengths=feet", "forces=kilonewtons", "zone=%2B05:30"):
        assert part in page.url
    page.reload()
    page.wait_for_selector(SHEET)
    expect(page.get_by_role("radio", name="feet")).to_be_checked()
    assert mixed(page.evaluate(READ, ".verdict")) == []
    address = page.get_by_role("link", name="Exchange").get_attribute("href") or ""
    assert "lengths=feet" in address
    page.get_by_text("Papers", exact=True).click()
    paper = page.get_by_role("link", name="sheets, PDF").get_attribute("href") or ""
    assert "zone=%2B05%3A30" in paper
    page.get_by_role("radio", name="metres").click()
    expect(verdict).to_contain_text(re.compile(r"\d m\b"))
    assert "lengths" not in page.url


def test_by_key(opened: Callable[..., Page]) -> None:
    page = opened()
    page.get_by_role("radio", name="metres").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio", name="feet")).to_be_focused()
    expect(page.get_by_role("radio", name="feet")).to_be_checked()
    page.keyboard.press("Tab")
    expect(page.get_by_role("radio", name="tonnes of force")).to_be_focused()


def test_a_time_is_typed_by_the_clock_read_by(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&zone=%2B01:00")
    field = page.get_by_label("Start", exact=True)
    field.fill("6 May 15:00")
    field.press("Enter")
    page.wait_for_url(re.compile(r"start=2031-05-06T14:00Z"))
    expect(field).to_have_value("Tue 6 May 15:00")
    field.fill("6 May 13:30 UTC")
    field.press("Enter")
    page.wait_for_url(re.compile(r"start=2031-05-06T13:30Z"))
    expect(field).to_have_value("Tue 6 May 14:30")


@pytest.mark.parametrize("viewport", [{"width": 1280, "height": 800}, TABLET], ids=["desk", "tablet"])
def test_nothing_on_the_sheet_is_mixed(opened: Callable[..., Page], viewport: Any) -> None:
    page = opened("", wait="main h1", viewport=viewport)
    page.add_init_script(RECORD)
    page.goto(f"{page.url}?call={EXAMPLE}&{OTHER}&origin=line:squat")
    page.wait_for_selector(SHEET)
    read = page.evaluate(READ, "body")
    assert sum(" ft" in one for one in read) > 20
    assert mixed(read) == []
    drawn = page.evaluate("() => [...window.drawn]")
    assert any(one.endswith(" ft") for one in drawn)
    assert mixed(drawn) == []


@pytest.mark.parametrize(("view", "wait"), [("exchange", "#entries-title"), ("rehearsal", "form")])
def test_nothing_on_the_other_views_is_mixed(
    opened: Callable[..., Page], own_call: Path, view: str, wait: str
) -> None:
    page = opened(f"?{view}={own_call.name}&{OTHER}", wait=wait)
    page.wait_for_timeout(500)
    assert mixed(page.evaluate(READ, "body")) == []


def test_what_is_computed_of_a_card_follows_and_its_fields_say_metres(opened: Callable[..., Page]) -> None:
    page = opened(f"?card={EXAMPLE}&{OTHER}", wait=".card[aria-busy=false]")
    figures = page.locator("aside dd .value").all_inner_texts()
    assert sum(" ft" in one for one in figures) > 8
    assert mixed([one for one in figures if "t/cm" not in one]) == []
    expect(page.get_by_label("Beam, m", exact=True)).to_have_value(re.compile(r"14\.4"))
    expect(page.locator("header")).to_contain_text("is typed in metres")

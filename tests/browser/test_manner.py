"""The page read in feet, kilonewtons and by another clock: switched, kept in the address, nowhere mixed."""

import re
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdf
import pytest
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.browser

EXAMPLE = "1-river-coaster"
SHEET = ".sheet[aria-busy=false]"
OTHER = "lengths=feet&forces=kilonewtons&zone=%2B01:00"
TABLET: Any = {"width": 800, "height": 1100}

METRES = re.compile(r"\d\s?(m|m/s)(?![\w²³])|(?<!in )\bmetres?\b")
TONNES = re.compile(r"\d\s?t\b(?! m/cm|/cm)")
UTC = re.compile(r"\bUTC(?![+−])")

TYPED_IN_FEET = [  # by hand, 1 ft = 0.3048 m exactly (international foot, 1959)
    ("20", "6.096"),  # 20 x 0.3048
    ("20,5", "6.248"),  # 20.5 x 0.3048 = 6.2484
    ("20 ft 6 in", "6.248"),
    ("20' 4\"", "6.198"),  # 20.3333 x 0.3048 = 6.1976
]

EXCEPTED = (
    r"\d\u202f\d{3}\st\b( ± [\d\u202f]+\st\b)?|\d\st ± \d+\st\b",  # masses, in thousands or with a band, stay tonnes
    r"^± [\d\u202f]+ t$",
    r"One centimetre of draught is [\d.]+ t|\d+ t moved one metre along her trim her one centimetre",
    r"above 9 m",  # SOLAS V/23 in its own words
)
"""What is told in its own unit on purpose."""

WRITTEN_BY_THE_TEST = "Landed at 0.05 m/s."
"""Why the synthetic run of `sailed` ended: the library writes such a sentence so that it can be read in any manner."""

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
    paper = page.get_by_role("link", name="sheets, PDF").first.get_attribute("href") or ""
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


def test_what_is_computed_of_a_card_follows_and_lengths_are_typed_in_feet(opened: Callable[..., Page]) -> None:
    page = opened(f"?card={EXAMPLE}&{OTHER}", wait=".card[aria-busy=false]")
    figures = page.locator("aside dd .value").all_inner_texts()
    assert sum(" ft" in one for one in figures) > 8
    assert mixed([one for one in figures if "t/cm" not in one]) == []
    beam = page.get_by_label("Beam, ft", exact=True)
    expect(beam).to_have_value("47.24")  # by hand: 14.4 / 0.3048 = 47.2441
    expect(page.locator("header")).to_contain_text("Lengths are typed in feet")
    draught = page.locator("[id='loading.draught_forward_m']")
    note = page.locator("[id='loading.draught_forward_m-metres']")
    for typed, kept in TYPED_IN_FEET:
        draught.fill(typed)
        expect(note).to_have_text(f"{kept} m")
        expect(draught).to_have_value(typed)
    page.get_by_role("radio", name="metres").click()
    expect(page.get_by_label("Draught forward, m", exact=True)).to_have_value(TYPED_IN_FEET[-1][1])
    page.get_by_role("radio", name="feet").click()
    expect(draught).to_have_value(TYPED_IN_FEET[-1][0])
    draught.fill("20 ft 14 in")
    expect(page.locator("[id='loading.draught_forward_m-fault']")).to_be_visible()
    draught.fill(TYPED_IN_FEET[-1][0])
    expect(note).to_have_text(f"{TYPED_IN_FEET[-1][1]} m")
    page.reload()
    expect(page.get_by_label("Draught forward, ft", exact=True)).to_have_value(TYPED_IN_FEET[-1][0])


def test_a_rehearsed_pack_is_walked_through_in_one_manner(
    address: str, chromium: Browser, sailed: str, tmp_path: Path
) -> None:
    """The page to carry, moment by moment of both runs, and the sheets: feet, kilonewtons and the reader's clock alone."""
    papers = f"{address}/api/v1/calls/{sailed}/papers"
    for name in ("pack.html", "pack.pdf"):
        with urllib.request.urlopen(f"{papers}/{name}?{OTHER}") as reply:
            (tmp_path / name).write_bytes(reply.read())
    context = chromium.new_context(viewport=TABLET)
    page = context.new_page()
    page.goto((tmp_path / "pack.html").as_uri())
    expect(page.locator("#replay")).to_be_visible()
    seen = set()
    for run in ("planned", "worst"):
        page.locator(f"input[name=run][value={run}]").check()
        moment = page.locator("#moment")
        moment.focus()
        page.keyboard.press("Home")
        for _ in range(8):
            assert mixed([one for one in page.evaluate(READ, "body") if WRITTEN_BY_THE_TEST not in one]) == []
            seen.add(page.locator("#now").inner_text())
            page.keyboard.press("PageUp")
    context.close()
    assert len(seen) >= 8, "the figures of the moment do move"
    assert all(" ft" in one for one in seen)
    for sheet in pypdf.PdfReader(tmp_path / "pack.pdf").pages:
        words = sheet.extract_text().replace("\xa0", " ")
        assert "UTC+01:00" in words
        assert mixed([one for one in re.split(r"\n(?=[A-Z])", words) if WRITTEN_BY_THE_TEST not in one]) == []

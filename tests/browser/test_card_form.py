"""The card's form in a browser: filled by keyboard, checked as one types, readable by day, night and on a tablet."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
EXAMPLE = "1-river-coaster"
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
FORM = ".card[aria-busy=false]"


def card(opened: Callable[..., Page], query: str = f"?card={EXAMPLE}", **more: Any) -> Page:
    return opened(query, wait=FORM, **more)


def finding(page: Page, words: str) -> Any:
    return page.locator("aside li").filter(has_text=words)


def test_a_card_is_shown_with_all_it_says(opened: Callable[..., Page]) -> None:
    page = card(opened)
    expect(page.get_by_label("Name", exact=True)).to_have_value("Sedgewren")
    expect(page.get_by_label("Draught aft, m", exact=True)).to_have_value("6.35")
    expect(page.get_by_label("full ahead, Speed loaded, kn")).not_to_have_value("")
    expect(page.locator("aside")).to_contain_text("metric horsepower")


def test_a_slip_typed_raises_its_finding_and_mending_it_takes_it_away(opened: Callable[..., Page]) -> None:
    page = card(opened)
    bow = page.get_by_label("Bridge to bow, m", exact=True)
    was = bow.input_value()
    expect(finding(page, "one of the three is wrong")).to_have_count(0)
    bow.focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("15.5")
    expect(finding(page, "one of the three is wrong")).to_have_count(1)
    expect(page.locator("footer [role=status]")).to_contain_text("1 stop")
    expect(page.locator(".field", has=bow)).to_contain_text("one of the three is wrong")
    page.keyboard.press("Control+a")
    page.keyboard.type(was)
    expect(finding(page, "one of the three is wrong")).to_have_count(0)


def test_a_finding_leads_to_its_field_by_key(opened: Callable[..., Page]) -> None:
    page = card(opened)
    page.get_by_label("Bridge to bow, m", exact=True).fill("15.5")
    finding(page, "one of the three is wrong").get_by_role("button", name="bridge to stern").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Bridge to stern, m", exact=True)).to_be_focused()


@pytest.mark.parametrize("typed", ["ninety", "10,400", "-3", "1e5", "0x10"])
def test_what_is_no_figure_is_told_at_its_field_and_nothing_is_checked(opened: Callable[..., Page], typed: str) -> None:
    page = card(opened)
    beam = page.get_by_label("Beam, m", exact=True)
    beam.fill(typed)
    expect(page.locator(".field", has=beam)).to_contain_text("expected metres, 1.5 to 90")
    expect(beam).to_have_attribute("aria-invalid", "true")
    expect(page.locator("aside")).to_contain_text("Nothing can be checked yet")
    expect(page.locator("#figures-title")).to_have_count(0)


def test_a_figure_left_out_is_estimated_in_words_and_in_another_ink(opened: Callable[..., Page]) -> None:
    page = card(opened)
    depth = page.get_by_label("Length between perpendiculars, m", exact=True)
    line = page.locator(".field", has=depth)
    expect(line.locator(".estimate")).to_have_count(0)
    depth.fill("")
    estimate = line.locator(".estimate")
    expect(estimate).to_contain_text("estimated")
    expect(estimate).to_contain_text("±")
    ink = "e => getComputedStyle(e).color"
    assert estimate.evaluate(ink) != depth.evaluate(ink)
    row = page.locator("aside dl > div").filter(has_text="Length between perpendiculars")
    expect(row.locator("em")).to_have_text("estimated")
    assert len(row.locator("p").first.inner_text()) > 10, "what it means for handling"


def test_an_empty_card_is_filled_by_keyboard_until_it_is_checked(opened: Callable[..., Page]) -> None:
    """Tab from field to field and type; nothing is touched by pointer."""
    page = card(opened, "?card=")
    answers = {
        "name": "Petrel Sound",
        "kind": "coaster",
        "loading.condition": "loaded",
        "loading.draught_forward_m": "5.3",
        "loading.draught_aft_m": "5,4",
        "length_overall_m": "88",
        "beam_m": "12.6",
        "engine.kind": "geared diesel",
        "engine.order.full_ahead.revolutions_rpm": "190",
        "engine.order.full_ahead.speed_loaded_kn": "9.2",
    }
    expect(page.locator("footer [role=status]")).to_contain_text("to be mended or filled in")
    waiting = dict(answers)
    for _ in range(200):
        page.keyboard.press("Tab")
        words = waiting.pop(page.evaluate("document.activeElement.id"), None)
        if words is not None:
            page.keyboard.type(words)
        if not waiting:
            break
    assert waiting == {}
    expect(page.locator("#figures-title")).to_be_visible()
    row = page.locator("aside dl > div", has=page.get_by_text("Mean draught", exact=True))
    expect(row).to_contain_text("5.35 m")


def test_units_are_added_and_taken_out_by_keyboard(opened: Callable[..., Page]) -> None:
    page = card(opened, "?card=")
    page.get_by_role("button", name="Add a thruster").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("Position, thruster 1")).to_be_focused()
    page.get_by_role("button", name="Add a thruster").press("Enter")
    page.get_by_label("Power, kW, thruster 2").fill("400")
    page.get_by_role("button", name="Take out thruster 1").press("Enter")
    expect(page.get_by_label("Power, kW, thruster 1")).to_have_value("400")
    expect(page.get_by_label("Power, kW, thruster 2")).to_have_count(0)


def test_every_field_is_reached_by_tab_and_seen(opened: Callable[..., Page]) -> None:
    page = card(opened)
    wanted = set(page.evaluate("[...document.querySelectorAll('.groups input, .groups select, .groups textarea')].map(e => e.id)"))
    seen = set()
    for _ in range(len(wanted) + 60):
        page.keyboard.press("Tab")
        name, outline = page.evaluate("[document.activeElement.id, getComputedStyle(document.activeElement).outlineStyle]")
        if name in wanted:
            assert outline == "solid", f"{name}: the focus is not seen"
            seen.add(name)
    assert wanted == seen
    assert len(wanted) > 100


@pytest.mark.parametrize("width", [420, 800, 1180, 1280, 1600])
def test_nothing_is_cut_off(opened: Callable[..., Page], width: int) -> None:
    page = card(opened, viewport={"width": width, "height": 1100})
    page.get_by_label("Bridge to bow, m", exact=True).fill("15.5")
    expect(finding(page, "one of the three is wrong")).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    cut = page.evaluate(
        """() => [...document.querySelectorAll('h1, h2, p, th, td, dd, dt, li, button, input, select, label')]
          .filter((e) => !e.closest('.unseen') && e.getClientRects().length)
          .filter((e) => e.getBoundingClientRect().right > innerWidth + 1)
          .map((e) => e.outerHTML.slice(0, 80))"""
    )
    assert cut == []


@pytest.mark.parametrize("viewport", [DESK, TABLET], ids=["desk", "tablet"])
def test_the_caution_stays_in_sight(opened: Callable[..., Page], viewport: Any) -> None:
    page = card(opened, viewport=viewport)
    for where in ("0", "document.body.scrollHeight / 2", "document.body.scrollHeight"):
        page.evaluate(f"scrollTo(0, {where})")
        box = page.locator("footer p").first.bounding_box()
        assert box is not None
        assert 0 <= box["y"] <= viewport["height"] - box["height"]
    expect(page.locator("footer")).to_contain_text("not for navigation")


@pytest.mark.parametrize("query", [f"?card={EXAMPLE}", "?card="], ids=["a card", "empty"])
@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing(opened: Callable[..., Page], query: str, look: str) -> None:
    page = card(opened, f"{query}&look={look}", viewport=TABLET if look == "dim" else DESK)
    if query != "?card=":
        page.get_by_label("Bridge to bow, m", exact=True).fill("15.5")
        expect(finding(page, "one of the three is wrong")).to_have_count(1)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []


def test_a_server_that_went_away_is_told_and_what_was_typed_stays(opened: Callable[..., Page]) -> None:
    page = card(opened)
    page.route("**/api/**", lambda route: route.abort())
    page.get_by_label("Beam, m", exact=True).fill("14.6")
    expect(page.locator("[role=alert]")).to_contain_text("does not answer")
    page.unroute("**/api/**")
    page.get_by_role("button", name="Ask again").press("Enter")
    expect(page.locator("#figures-title")).to_be_visible()
    expect(page.get_by_label("Beam, m", exact=True)).to_have_value("14.6")


def test_the_form_is_asked_for_only_by_its_view(opened: Callable[..., Page]) -> None:
    page = opened()
    assert not [url for url in loaded(page) if "/open-" in url]
    page.get_by_role("link", name="Ship card").click()
    page.wait_for_selector(FORM)
    assert [url for url in loaded(page) if "/open-" in url]
    assert f"card={EXAMPLE}" in page.url


def loaded(page: Page) -> list[str]:
    found: list[str] = page.evaluate("performance.getEntriesByType('resource').map(e => e.name)")
    return found


def test_an_estimate_is_overruled_by_key_seen_and_taken_back(opened: Callable[..., Page]) -> None:
    page = card(opened)
    roll = page.locator("aside dl > div").filter(has_text="Roll period")
    before = roll.locator(".value").inner_text()
    page.get_by_role("button", name="Overrule metacentric height").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("0.55")
    own = page.locator("aside dl > div.own")
    expect(own).to_contain_text("your own")
    expect(own).to_contain_text("Without your own figures:")
    expect(roll).to_contain_text(f"Without your own figures: {before.split(' ±')[0].strip()}")
    expect(page.locator("aside [role=status]")).to_contain_text("One figure is your own")
    page.keyboard.press("Escape")
    expect(own).to_have_count(0)
    expect(roll.locator(".value")).to_have_text(before)
    expect(page.get_by_role("button", name="Overrule metacentric height")).to_be_focused()


def test_an_own_figure_that_cannot_be_is_told_beside_it_and_the_rest_stays(opened: Callable[..., Page]) -> None:
    page = card(opened)
    page.get_by_role("button", name="Overrule block coefficient", exact=True).click()
    page.keyboard.type("78")
    expect(page.locator("aside .fault")).to_contain_text("78 is outside what is possible; expected at today's draught")
    expect(page.locator("aside dl > div").filter(has_text="Roll period")).to_have_count(1)


def test_another_condition_is_set_beside_and_follows_what_is_typed(opened: Callable[..., Page]) -> None:
    page = card(opened)
    page.get_by_label("Set beside").select_option(label="her other condition, estimated")
    section = page.get_by_role("region", name="Loaded beside Ballast")
    expect(section).to_contain_text("times the way to be taken off")
    expect(section.get_by_role("row", name="differs Displacement").first).to_be_visible()
    expect(section.get_by_role("row", name="equal Breadth")).to_have_count(0)
    section.get_by_role("button", name="Show what is equal too").click()
    expect(section.get_by_role("row", name="equal Breadth")).to_have_count(1)
    page.get_by_label("Beam, m", exact=True).fill("15.1")
    expect(section.get_by_role("row", name="equal Breadth")).to_contain_text("15.1 m")
    assert "beside=" in page.url

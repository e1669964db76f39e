"""The exchange in a browser: said by keyboard, kept when the server goes, told when somebody else spoke first."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
EXAMPLE = "1-river-coaster"
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}


def exchange(opened: Callable[..., Page], query: str = "", by: str = "A. Name", **more: Any) -> Page:
    page = opened(f"?exchange={EXAMPLE}{query}", wait="#entries-title", **more)
    page.get_by_role("textbox", name="Who speaks").fill(by)
    return page


def item(page: Page, words: str) -> Locator:
    return page.locator("li", has=page.get_by_role("group", name=words))


def test_nothing_is_written_without_a_name(opened: Callable[..., Page]) -> None:
    page = exchange(opened, by="")
    expect(item(page, "Window, latest start").get_by_role("button", name="agreed")).to_be_disabled()
    page.get_by_role("textbox", name="Who speaks").fill("A. Name")
    expect(item(page, "Window, latest start").get_by_role("button", name="agreed")).to_be_enabled()


def test_an_agreement_is_written_with_name_and_time_and_stays(opened: Callable[..., Page]) -> None:
    page = exchange(opened)
    line = item(page, "Tracks, speeds")
    line.get_by_role("button", name="agreed").press("Enter")
    expect(line).to_contain_text("agreed; A. Name, pilot,")
    page.reload()
    expect(item(page, "Tracks, speeds")).to_contain_text("agreed; A. Name, pilot,")
    expect(page.get_by_role("textbox", name="Who speaks")).to_have_value("A. Name")


def test_a_change_says_to_what_and_can_be_withdrawn(opened: Callable[..., Page]) -> None:
    page = exchange(opened)
    line = item(page, "Under keel, overhead")
    line.get_by_role("button", name="changed").press("Enter")
    expect(line.get_by_label("To what")).to_be_focused()
    page.keyboard.type("half a metre more at the sill")
    page.keyboard.press("Enter")
    expect(line).to_contain_text("changed: half a metre more at the sill; A. Name, pilot")
    line.get_by_role("button", name="withdraw").press("Enter")
    expect(line).not_to_contain_text("half a metre")
    expect(page.locator("ol")).to_contain_text("half a metre more at the sill")


def test_what_is_said_while_the_server_is_away_is_kept_and_written_later(opened: Callable[..., Page]) -> None:
    page = exchange(opened)
    page.route("**/record", lambda route: route.abort())
    line = item(page, "Languages")
    line.get_by_role("button", name="agreed").click()
    expect(line).to_contain_text("Not yet written: agreed")
    expect(page.locator("footer")).to_contain_text("1 not yet written: kept here until the server answers")
    page.unroute("**/record")
    page.reload()
    expect(item(page, "Languages")).to_contain_text("agreed; A. Name, pilot")
    expect(page.locator("footer")).not_to_contain_text("not yet written")


def test_two_tabs_of_one_browser_say_nothing_twice(opened: Callable[..., Page], own_call: Path) -> None:
    """What waits is shared by the tabs; when the server answers again it is written once."""
    first = opened(f"?exchange={own_call.name}", wait="#entries-title")
    first.get_by_role("textbox", name="Who speaks").fill("A. Name")
    context = first.context
    context.route("**/record", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    item(first, "Languages").get_by_role("button", name="agreed").click()
    expect(item(first, "Languages")).to_contain_text("Not yet written: agreed")
    second = context.new_page()
    second.goto(first.url)
    expect(item(second, "Languages")).to_contain_text("Not yet written: agreed")
    item(second, "Who does what").get_by_role("button", name="agreed").click()
    context.unroute("**/record")
    for page in (first, second):
        for words in ("Languages", "Who does what"):
            expect(item(page, words)).to_contain_text("agreed; A. Name")
            expect(item(page, words)).not_to_contain_text("Not yet written")
        expect(page.get_by_role("alert").filter(has_text="since said")).to_have_count(0)
    assert len((own_call / "record.jsonl").read_text().splitlines()) == 2


def test_two_at_once_are_told_of_each_other(opened: Callable[..., Page]) -> None:
    first, second = exchange(opened), exchange(opened, by="B. Name")
    item(first, "Who does what").get_by_role("button", name="agreed").click()
    expect(item(first, "Who does what")).to_contain_text("A. Name")
    line = item(second, "Who does what")
    line.get_by_role("button", name="refused").click()
    line.get_by_label("Why").fill("no lookout")
    line.get_by_role("button", name="Write down").click()
    expect(second.get_by_role("alert")).to_contain_text("A. Name (pilot) has since said 'agreed' of it")
    expect(line).to_contain_text("agreed; A. Name")


@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing(opened: Callable[..., Page], look: str) -> None:
    page = exchange(opened, f"&look={look}", viewport=TABLET if look == "dim" else DESK)
    line = item(page, "Card explained")
    line.get_by_role("button", name="told").click()
    expect(line).to_contain_text("told; A. Name")
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []


@pytest.mark.parametrize("width", [420, 800, 1280])
def test_nothing_is_cut_off(opened: Callable[..., Page], width: int) -> None:
    page = exchange(opened, viewport={"width": width, "height": 1100})
    item(page, "Weather, depths").get_by_role("button", name="told").click()
    expect(item(page, "Weather, depths")).to_contain_text("told; A. Name")
    assert page.evaluate("document.documentElement.scrollWidth") <= width

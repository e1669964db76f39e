"""Can she be held, on the page: the drawing's words are the server's, handles go by key, everything follows."""

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page, expect

EXAMPLE = "1-river-coaster"


def rose_points(page: Page) -> list[str]:
    return page.eval_on_selector_all(".holding polygon.limit", "all => all.map(one => one.getAttribute('points'))")


def test_the_drawing_tells_what_the_server_says(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}")
    found = answer("")["holding"]
    section = page.locator(".holding")
    for place in found["places"]:
        expect(section.get_by_role("button", name=place["place"], exact=True).first).to_be_visible()
    section.get_by_role("button", name="Tannery Quay", exact=True).click()
    berth = next(place for place in found["places"] if place["key"] == "berth")
    drawn = section.locator("svg[role=img]").first.get_attribute("aria-label") or ""
    for arrow in berth["drawing"]["arrows"]:
        assert arrow["words"] in drawn
        expect(section.locator("svg text", has_text=arrow["words"]).first).to_be_visible()


def test_a_handle_by_key_and_a_defect_move_everything(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}")
    section = page.locator(".holding")
    section.get_by_role("button", name="Tannery Quay", exact=True).click()
    head = section.locator("h3")
    before, reserve = rose_points(page), head.inner_text()
    wind = section.get_by_role("slider", name="Wind", exact=True)
    wind.focus()
    for _ in range(12):
        page.keyboard.press("ArrowRight")
    expect(head).to_contain_text("what if")
    expect(head).not_to_contain_text(reserve.split(";")[0])
    assert wind.get_attribute("aria-valuetext") == "28 kn"
    section.get_by_role("checkbox", name="bow thruster").check()
    page.wait_for_function(
        "before => document.querySelector('.holding polygon.limit')?.getAttribute('points') !== before", arg=before[0]
    )
    section.get_by_role("button", name="As forecast and ordered").press("Enter")
    expect(head).to_have_text(reserve)
    assert rose_points(page) == before

"""What a handler does on the page, by mouse, keyboard and touch; every number compared with the API's own."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

EXAMPLE = "1-river-coaster"
TABLET = {"width": 800, "height": 1100}
SHEET = ".sheet[aria-busy=false]"

SHUT = "2031-05-06T10:00Z"
"""Between two windows of the first example."""


def settled(page: Page) -> None:
    page.wait_for_selector(SHEET)


def account(page: Page) -> dict[str, str]:
    """The account as it stands on the page: label to figure, signs as written."""
    rows = page.locator(".account tbody tr").all()
    return {row.locator("th").inner_text(): row.locator("td").first.inner_text() for row in rows}


def metres(text: str) -> float:
    return float(text.replace("−", "-").replace("+", "").removesuffix(" m"))


def assert_account_agrees(page: Page, answer: Any, station: int) -> None:
    shown = account(page)
    lines = answer["account"]["lines"]
    assert list(shown) == [line["label"] for line in lines]
    for line in lines:
        value = line["values"][station] * (line["effect"] or 1)
        assert metres(shown[line["label"]]) == pytest.approx(value, abs=0.0101), line["label"]  # rounded to the careful side


def station_of(answer: Any, distance: float) -> int:
    along = answer["account"]["distance"]
    return min(range(len(along)), key=lambda i: abs(along[i] - distance))


def start_in_address(page: Page) -> str:
    found = re.search(r"start=([^&]+)", page.url)
    return found.group(1) if found else ""


def test_the_verdict_of_the_example_is_shown(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, expected = opened(), answer()
    verdict = page.locator(".verdict")
    expect(verdict.locator("h2")).to_have_text(expected["verdict"]["word"])
    expect(verdict).to_contain_text(expected["verdict"]["sentence"])
    binding = expected["verdict"]["binding"]
    for figure in (binding["value"], binding["required"], binding["margin"]):
        expect(verdict).to_contain_text(figure["text"])
    expect(page.locator("footer")).to_contain_text("not for navigation")
    assert_account_agrees(page, expected, station_of(expected, binding["distance"]["value"]))


def test_every_leg_gate_window_and_finding_is_on_the_page(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, expected = opened(f"?call={EXAMPLE}&start={SHUT}"), answer(SHUT)
    passage = page.locator(".passage")
    for leg in expected["legs"]:
        row = passage.locator("tbody tr", has_text=f"{leg['number']}. {leg['reach']}")
        for text in (leg["course"]["text"], leg["speed"]["text"], leg["time_begin"]["clock"], leg["least_net"]["text"]):
            expect(row).to_contain_text(text)
    for gate in expected["gates"]:
        expect(passage).to_contain_text(gate["value"]["text"])
    assert page.locator(".windows tbody tr").count() == len(expected["windows"])
    for finding in expected["findings"]:
        expect(page.locator(".findings")).to_contain_text(finding["sentence"])
    for remedy in expected["remedies"]:
        expect(page.locator(".remedies")).to_contain_text(remedy["sentence"])


def test_sliding_the_start_by_key_moves_the_account(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    before = account(page)
    slider = page.get_by_role("slider", name="Start, within the whole time looked over")
    slider.focus()
    for key in ("ArrowRight", "PageUp", "PageUp", "Shift+ArrowRight"):
        page.keyboard.press(key)
    expect(slider).to_have_attribute("aria-valuetext", "Tue 6 May 12:11 UTC")
    settled(page)
    assert start_in_address(page) == "2031-05-06T12:11Z"
    expected = answer("2031-05-06T12:11Z")
    expect(page.locator(".verdict")).to_contain_text(expected["verdict"]["sentence"])
    assert account(page) != before
    assert_account_agrees(page, expected, station_of(expected, expected["verdict"]["binding"]["distance"]["value"]))
    page.keyboard.press("Home")
    expect(slider).to_have_attribute("aria-valuetext", "Mon 5 May 00:00 UTC")
    page.keyboard.press("End")
    expect(slider).to_have_attribute("aria-valuetext", "Mon 12 May 00:00 UTC")


def test_dragging_in_the_day_moves_the_start(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    box = page.locator(".when .u-over").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 0.30 * box["width"], box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + 0.45 * box["width"], box["y"] + 40, steps=6)
    page.mouse.move(box["x"] + 0.55 * box["width"], box["y"] + 40, steps=6)
    page.mouse.up()
    settled(page)
    start = start_in_address(page)
    assert start == "2031-05-06T13:30Z"  # 21:00 the day before, and 0.55 of thirty hours
    expect(page.locator(".verdict")).to_contain_text(answer(start)["verdict"]["sentence"])


TYPED = [
    ("14:05", "2031-05-06T14:05Z"),
    ("1210", "2031-05-06T12:10Z"),
    ("8 May 03:10", "2031-05-08T03:10Z"),
    ("Fri 9 May 03:50", "2031-05-09T03:50Z"),
    ("2031-05-08 03:11", "2031-05-08T03:11Z"),
    ("9 0310 UTC", "2031-05-09T03:10Z"),
]


def test_a_start_can_be_typed(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    for typed, start in TYPED:
        page.get_by_label("Start", exact=True).fill(typed)
        page.keyboard.press("Enter")
        page.wait_for_url(re.compile(re.escape(start)))
        settled(page)
        expect(page.locator(".verdict")).to_contain_text(answer(start)["verdict"]["sentence"])


NOT_A_START = [
    ("half past two", "is no time; expected one such as 13:20"),
    ("25:10", "is no time"),
    ("40 May 13:20", "names no day"),
    ("6 Foo 13:20", "names no day"),
    ("2031-06-08 03:10", "lies outside the time looked over"),
]


def test_what_is_no_start_is_refused_in_words(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    for typed, complaint in NOT_A_START:
        page.get_by_label("Start", exact=True).fill(typed)
        page.keyboard.press("Enter")
        expect(page.locator("#start-complaint")).to_contain_text(complaint)
        assert start_in_address(page) == SHUT


def test_next_window_is_open(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    expect(page.locator(".verdict h2")).to_have_text("no go")
    page.get_by_role("button", name="Next window").click()
    settled(page)
    expected = answer(start_in_address(page))
    assert expected["verdict"]["go"]
    expect(page.locator(".verdict h2")).to_have_text(expected["verdict"]["word"])


def test_windows_of_the_table_are_open_where_their_buttons_lead(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    """The shortest ones above all: a start on the whole minute must still lie inside."""
    page, windows = opened(), answer()["windows"]
    shortest = sorted(range(len(windows)), key=lambda i: windows[i]["length"]["value"])[:4]
    for i in shortest:
        page.locator(".windows tbody button").nth(i).click()
        settled(page)
        start = start_in_address(page)
        assert answer(start)["verdict"]["go"], start


def test_a_remedy_leads_to_a_start_that_goes(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    count = page.locator(".remedies button").count()
    assert count > 0
    for i in range(count):
        page.locator(".remedies button").nth(i).click()
        settled(page)
        assert answer(start_in_address(page))["verdict"]["go"], start_in_address(page)
        page.go_back()
        expect(page.locator(".verdict h2")).to_have_text("no go")


def test_going_back_undoes_and_reloading_keeps(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    page.get_by_role("button", name="+10 min").click()
    page.get_by_role("button", name="+1", exact=True).click()
    page.get_by_role("radio", name="dim").click()
    field = page.get_by_label("Start", exact=True)
    expect(field).to_have_value("Tue 6 May 10:11")
    page.reload()
    settled(page)
    expect(field).to_have_value("Tue 6 May 10:11")
    assert page.evaluate("document.documentElement.dataset.look") == "dim"
    page.go_back()
    expect(field).to_have_value("Tue 6 May 10:10")
    page.go_back()
    expect(field).to_have_value("Tue 6 May 10:00")


def test_the_place_moves_by_key_from_station_to_station(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, expected = opened(f"?call={EXAMPLE}&at=3000"), answer()
    place = page.get_by_role("slider", name="Place along the way")
    place.focus()
    station = station_of(expected, 3000.0)
    for key, step in (("ArrowRight", 1), ("ArrowRight", 1), ("PageUp", 20), ("ArrowLeft", -1)):
        page.keyboard.press(key)
        station += step
        assert_account_agrees(page, expected, station)
    page.keyboard.press("Home")
    assert_account_agrees(page, expected, 0)
    page.keyboard.press("End")
    assert_account_agrees(page, expected, len(expected["account"]["distance"]) - 1)


@pytest.mark.parametrize("drawing", [".profile .u-over", ".room .u-over"])
def test_pointing_in_a_drawing_along_the_way_moves_the_place(
    opened: Callable[..., Page], answer: Callable[..., Any], drawing: str
) -> None:
    page, expected = opened(), answer()
    over = page.locator(drawing)
    box = over.bounding_box()
    assert box is not None
    over.click(position={"x": 0.25 * box["width"], "y": 30})
    assert_account_agrees(page, expected, station_of(expected, 0.25 * expected["account"]["distance"][-1]))


def test_pointing_in_the_plan_moves_the_place(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    expected = answer()
    station = station_of(expected, 3000.0)
    east, north = expected["account"]["y"][station], expected["account"]["x"][station]
    page = opened(f"?call={EXAMPLE}&plan={east:.0f},{north:.0f},2")
    page.locator(".plan .paper").click()
    expect(page.get_by_role("slider", name="Place along the way")).to_have_attribute("aria-valuetext", re.compile(r"^1\.6"))
    assert_account_agrees(page, expected, station)


def test_the_plan_is_moved_by_key_and_its_view_is_in_the_address(opened: Callable[..., Page]) -> None:
    page = opened()
    page.get_by_role("button", name="At the ship").click()
    expect(page.get_by_role("button", name="At the ship")).to_have_attribute("aria-pressed", "true")
    page.wait_for_url(re.compile("plan=ship"))
    page.locator(".plan .paper").focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_url(re.compile(r"plan=-?\d+,-?\d+,[\d.]+"))
    moved = page.url
    page.get_by_role("button", name="Smaller scale").click()
    page.wait_for_url(lambda url: url != moved)
    page.get_by_role("button", name="Whole way").click()
    page.wait_for_url(lambda url: "plan=" not in url)


def test_a_figure_opens_its_origin_and_gives_the_focus_back(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, expected = opened(), answer()
    line = page.locator(".account").get_by_role("button", name="Water level")
    line.focus()
    page.keyboard.press("Enter")
    slip = page.locator("#origin")
    expect(slip).to_be_visible()
    expect(slip).to_be_focused()
    water = next(line for line in expected["account"]["lines"] if line["key"] == "water_level")
    for text in (water["method"], water["source"], water["origin"], "Manual of Harmonic Analysis"):
        expect(slip).to_contain_text(text)
    assert "origin=line:water_level" in page.url
    page.keyboard.press("Escape")
    expect(slip).to_be_hidden()
    expect(line).to_be_focused()


def test_a_figure_leads_back_to_the_figures_it_was_made_from(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, figures = opened(), answer()["figures"]
    page.locator(".figures").get_by_role("button", name="draught", exact=True).click()
    slip = page.locator("#origin")
    expect(slip).to_contain_text(figures["draught"]["method"])
    expect(slip).to_contain_text(figures["draught"]["band"]["text"])
    slip.get_by_role("button", name="draught forward").click()
    expect(slip).to_contain_text(figures["draught_forward"]["source"])
    expect(slip).to_contain_text("given")


def test_everything_can_be_reached_by_key(opened: Callable[..., Page]) -> None:
    page = opened()
    names: list[str] = []
    for _ in range(400):
        page.keyboard.press("Tab")
        name = page.evaluate(
            """(e => e === document.body ? '' : e.getAttribute('aria-label') || e.id || e.textContent.trim()
              || e.labels?.[0]?.textContent.trim() || 'a nameless ' + e.tagName)(document.activeElement)"""
        )
        if name == "":
            break
        outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline == "solid", f"{name}: the focus is not seen"
        names.append(name)
    count = page.locator("button:enabled:not([role=radio]), input, [tabindex='0']:not(button)").count()
    assert len(names) >= count
    assert not [name for name in names if name.startswith("a nameless")]
    for wanted in ("typed-start", "Start, within the whole time looked over", "Place along the way", "look-day", "Squat"):
        assert wanted in names


def test_touch_on_a_tablet_points(opened: Callable[..., Page], answer: Callable[..., Any]) -> None:
    page, expected = opened(viewport=TABLET, has_touch=True), answer()
    over = page.locator(".profile .u-over")
    box = over.bounding_box()
    assert box is not None
    page.touchscreen.tap(box["x"] + 0.4 * box["width"], box["y"] + 60)
    assert_account_agrees(page, expected, station_of(expected, 0.4 * expected["account"]["distance"][-1]))


def test_the_first_visit_lists_the_calls(opened: Callable[..., Page]) -> None:
    page = opened("", wait="main li")
    expect(page.locator("main li button")).to_have_text([EXAMPLE, "broken"])
    expect(page.locator("main li").first).to_contain_text("a laden coaster goes up a tidal river on the flood.")
    page.get_by_role("button", name=EXAMPLE).click()
    settled(page)
    assert f"call={EXAMPLE}" in page.url


def test_faults_of_the_files_are_told_with_file_and_line(opened: Callable[..., Page]) -> None:
    page = opened("?call=broken", wait="main [role=alert]")
    expect(page.locator("main")).to_contain_text(re.compile(r"broken/ship\.toml, line \d+"))
    expect(page.locator("main")).to_contain_text("draught_aft")


def test_a_server_that_went_away_is_told_and_nothing_is_lost(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    page.route("**/api/**", lambda route: route.abort())
    page.get_by_role("button", name="+10 min").click()
    expect(page.locator("main [role=alert]")).to_contain_text("does not answer")
    page.unroute("**/api/**")
    page.get_by_role("button", name="Ask again").click()
    expect(page.get_by_label("Start", exact=True)).to_have_value("Tue 6 May 10:10")


def test_papers_are_of_the_start_shown_and_reached_by_key(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start=2031-05-06T14:20:00Z")
    page.get_by_text("Papers", exact=True).press("Enter")
    link = page.locator("dd", has=page.get_by_role("link", name="sheets, PDF")).get_by_role("link").first
    with page.expect_download() as begun:
        link.press("Enter")
    assert begun.value.suggested_filename == f"{EXAMPLE} pack.pdf"
    assert "start=2031-05-06T14%3A20Z" in begun.value.url
    page.keyboard.press("Escape")
    expect(link).to_be_hidden()


def test_windows_sort_by_key_and_the_address_keeps_it(opened: Callable[..., Page], answer: Callable[[str], Any]) -> None:
    page = opened()
    lengths = page.locator("section[aria-labelledby=windows-title] tbody td:nth-child(3)")
    as_told = lengths.all_inner_texts()
    head = page.locator("thead").get_by_role("button", name="Length")
    head.press("Enter")
    assert "order=windows.length" in page.url
    expect(page.locator("th[aria-sort=ascending]")).to_have_text("Length ↑")
    rising = lengths.all_inner_texts()
    assert sorted(rising) == sorted(as_told)
    told = answer("")["windows"]
    shortest = min(told, key=lambda one: one["length"]["value"])
    assert rising[0] == shortest["length"]["text"]
    head.press("Enter")
    assert lengths.all_inner_texts() == rising[::-1]
    page.reload()
    expect(page.locator("th[aria-sort=descending]")).to_have_text("Length ↓")
    page.locator("thead").get_by_role("button", name="Length").press("Enter")
    assert lengths.all_inner_texts() == as_told


def test_a_table_is_copied_as_a_spreadsheet_takes_it(opened: Callable[..., Page]) -> None:
    page = opened(permissions=["clipboard-read", "clipboard-write"])
    page.locator("section[aria-labelledby=passage-title]").get_by_role("button", name="copy table").press("Enter")
    expect(page.get_by_text("copied")).to_be_visible()
    lines = page.evaluate("navigator.clipboard.readText()").splitlines()
    assert lines[0].split("\t")[:3] == ["Reach", "Course, distance", "Order, speed"]
    assert lines[1].split("\t")[0].startswith("1. Roads")
    assert {len(line.split("\t")) for line in lines} == {8}


def test_early_or_late_is_told_sorts_and_leads_to_its_start(opened: Callable[..., Page], answer: Callable[[str], Any]) -> None:
    page, told = opened(f"?call={EXAMPLE}&start={SHUT}"), answer(SHUT)["around"]
    table = page.locator("section[aria-labelledby=around-title]")
    rows = table.locator("tbody tr")
    assert rows.count() == len(told) > 3
    for row, one in zip(rows.all(), told, strict=True):
        expect(row.locator("th")).to_have_text(one["start"]["clock"])
        expect(row.locator("td").first).to_have_text("all hold" if one["holds"] else "not held")
        expect(row.locator("td").nth(1)).to_have_text(one["binding"]["margin"]["text"])
    expect(table.locator("tr.here")).to_have_count(1)
    table.get_by_role("button", name="To spare").press("Enter")
    least = min(told, key=lambda one: one["binding"]["margin"]["value"])
    expect(rows.first.locator("td").nth(1)).to_have_text(least["binding"]["margin"]["text"])
    assert "order=around.spare" in page.url
    last = told[-1]["start"]
    table.get_by_role("button", name=last["clock"], exact=True).click()
    page.wait_for_url(lambda url: last["value"][:16] in url.replace("%3A", ":"))


def test_where_she_can_turn_back_is_told_and_leads_to_its_place(
    opened: Callable[..., Page], answer: Callable[[str], Any]
) -> None:
    page, told = opened(permissions=["clipboard-read", "clipboard-write"]), answer("")["turn_backs"]
    table = page.locator("section[aria-labelledby=back-title]")
    assert len(told) > 0
    expect(table.locator("tbody tr")).to_have_count(len(told))
    expect(table.locator("tbody tr").first).to_contain_text(told[0]["margin"]["text"])
    table.get_by_role("button", name=told[-1]["place"] or "before she starts").press("Enter")
    page.wait_for_url(re.compile(f"at={told[-1]['distance']['value']:.0f}"))
    table.get_by_role("button", name="copy table").press("Enter")
    expect(table.get_by_text("copied")).to_be_visible()
    lines = page.evaluate("navigator.clipboard.readText()").splitlines()
    assert lines[0].split("\t") == ["Place", "Until", "Least from there on", "At", "To spare"]
    assert len(lines) == len(told) + 1

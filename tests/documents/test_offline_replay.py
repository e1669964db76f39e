"""The replay on the offline page: all of it within the file, its words those of the data, moved by hand and by key."""

import base64
import json
import re
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from leadsman.assessment.result import Assessment
from leadsman.documents.carried import Rehearsed
from leadsman.documents.data import assessment_data
from leadsman.documents.offline import offline_page

Build = Callable[..., Assessment]
Data = dict[str, Any]
THREE_MEGABYTES = 3_000_000


@pytest.fixture(scope="module")
def data(build: Build) -> Data:
    return assessment_data(build())


@pytest.fixture(scope="module")
def run(data: Data, sailed: ModuleType) -> Data:
    found: Data = sailed.rehearsal(data)
    return found


@pytest.fixture(scope="module")
def whole(data: Data, run: Data, sailed: ModuleType) -> str:
    return offline_page(data, rehearsed=Rehearsed(run, sailed.failures(data)))


def told(whole: str) -> Data:
    """What the script is handed."""
    found = re.search(r'<script type="application/json" id="replay-data">(.*?)</script>', whole, re.S)
    assert found is not None
    data: Data = json.loads(found[1])
    return data


def test_the_policy_lets_this_script_run_and_no_other(whole: str) -> None:
    scripts = re.findall(r"<script>(.*?)</script>", whole, re.S)
    assert len(scripts) == 1
    mark = base64.b64encode(sha256(scripts[0].encode()).digest()).decode()
    assert f"default-src 'none'; style-src 'unsafe-inline'; font-src data:; script-src 'sha256-{mark}'" in whole
    for reach in ("fetch(", "XMLHttpRequest", "import(", "WebSocket", "eval(", "innerHTML", "sendBeacon"):
        assert reach not in scripts[0]


def test_the_first_page_says_what_the_rehearsal_came_to(data: Data, run: Data, whole: str) -> None:
    first = whole[: whole.index("Start times by day")]
    assert "200 drawn runs succeed (91 % to 98 % with 95 % confidence)" in first
    assert "Last place to turn back" in first
    assert "Tugs" in first
    once = offline_page(data, rehearsed=Rehearsed(run | {"ensemble": None}))
    assert "not run with anything drawn" in once[: once.index("Start times by day")]
    assert "Rehearsed as planned" not in offline_page(data)


def test_it_is_small_and_equal_for_equal_content(data: Data, run: Data, whole: str, sailed: ModuleType) -> None:
    assert len(whole.encode()) < THREE_MEGABYTES
    assert offline_page(data, rehearsed=Rehearsed(run, sailed.failures(data))) == whole


def test_the_moments_carry_the_figures_of_the_run(run: Data, whole: str) -> None:
    shown = told(whole)["runs"]["planned"]
    track, columns = run["planned"]["track"], run["planned"]["columns"]
    keel = dict(shown["now"])["Under keel"]
    assert len(shown["time"]) == len(track) == len(keel)
    for words, row in zip(keel, track, strict=True):
        value = row[columns.index("keel")]
        assert value - 0.1 < float(words.removesuffix(" m").replace("\u2212", "-")) <= value + 1e-6, "rounded down"
    assert dict(shown["now"])["Wheel"][0] == "5° port"
    assert dict(shown["now"])["Rate of turn"][0] == "10 °/min starboard"
    assert dict(shown["now"])["Room to starboard"][-1] == "–", "not known in the second half"
    assert [one["words"] for one in shown["orders"]] == [one["words"] for one in run["planned"]["orders"]]


def test_a_rehearsal_of_another_plan_is_left_out_and_said_to_be(data: Data, run: Data) -> None:
    page = offline_page(data, rehearsed=Rehearsed(run | {"fingerprint": "another"}))
    assert "<script" not in page
    assert "None: what was rehearsed is of another plan than this one." in page


def test_a_hostile_order_stays_words(data: Data, sailed: ModuleType) -> None:
    words = "</script><script>alert(1)</script>"
    page = offline_page(data, rehearsed=Rehearsed(sailed.rehearsal(data, words)))
    assert page.count("</script>") == 2
    assert told(page)["runs"]["planned"]["orders"][0]["words"] == f"{words} 1"


@pytest.fixture
def shown(chromium: Browser, whole: str, tmp_path: Path) -> Iterator[Page]:
    """The page on a tablet without a network; any request beyond the file, and anything said, is a fault."""
    file = tmp_path / "pack.html"
    file.write_text(whole, encoding="utf-8")
    asked: list[str] = []
    said: list[str] = []
    with chromium.new_context(offline=True, viewport={"width": 800, "height": 1100}) as context:
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(file.as_uri())
        yield page
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), "nothing wider than a tablet"
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    assert said == []


@pytest.mark.browser
def test_the_slider_moves_ship_clock_figures_and_orders(shown: Page, run: Data) -> None:
    start = datetime.fromisoformat(run["start"])
    ship = shown.locator(".ship")
    first = ship.get_attribute("d")
    slider = shown.locator("#moment")
    slider.focus()
    for _ in range(10):
        shown.keyboard.press("PageUp")
    assert shown.locator("#time").inner_text() == f"{start + timedelta(minutes=10):%H:%M:%S} UTC"
    assert ship.get_attribute("d") != first
    assert shown.locator("#orders [aria-current]").inner_text().endswith("Slow ahead 6")
    row = next(row for row in run["planned"]["track"] if row[0] == 600.0)
    miles = row[run["planned"]["columns"].index("along")] / 1852.0
    assert shown.locator(".now dd").first.inner_text() == f"{miles:.2f} nm"
    shown.keyboard.press("ArrowLeft")
    assert slider.get_attribute("aria-valuetext") == f"{start + timedelta(seconds=570):%H:%M:%S} UTC, minute 9"
    shown.locator("#orders button", has_text="Slow ahead 3").click()
    assert shown.locator("#time").inner_text() == f"{start + timedelta(seconds=300):%H:%M:%S} UTC"


@pytest.mark.browser
def test_it_plays_by_key_and_stops(shown: Page) -> None:
    shown.locator("#play").focus()
    shown.keyboard.press("Enter")
    expect(shown.locator("#moment")).not_to_have_value("0")
    assert shown.locator("#play").inner_text() == "Pause"
    shown.keyboard.press("Enter")
    assert shown.locator("#play").inner_text() == "Play"
    stood = shown.locator("#moment").input_value()
    shown.wait_for_timeout(200)
    assert shown.locator("#moment").input_value() == stood


@pytest.mark.browser
def test_the_other_run_and_the_closer_look(shown: Page) -> None:
    stage = shown.locator("#stage svg")
    whole_way = stage.get_attribute("viewBox")
    shown.locator("#near").click()
    assert stage.get_attribute("viewBox") != whole_way
    assert shown.locator("#near").get_attribute("aria-pressed") == "true"
    shown.locator("#near").click()
    assert stage.get_attribute("viewBox") == whole_way
    shown.locator("input[name=run][value=worst]").check()
    assert shown.locator("#replay .why").inner_text() == "Touched the bed in Bar Reach."


@pytest.mark.browser
def test_it_opens_on_the_parts_by_links(shown: Page) -> None:
    for link in shown.locator("nav a").all():
        place = (link.get_attribute("href") or "").removeprefix("#")
        assert shown.locator(f"h1[id='{place}']").count() == 1


@pytest.mark.browser
def test_no_table_is_wider_than_a_tablet(shown: Page) -> None:
    """A column beyond the edge is a column nobody reads."""
    shown.locator("summary", has_text="Orders, minute by minute").click()
    wider = "[...document.querySelectorAll('.wide')].filter(one => one.scrollWidth > one.clientWidth).length"
    assert shown.locator(".wide").count() > 10
    assert shown.evaluate(wider) == 0

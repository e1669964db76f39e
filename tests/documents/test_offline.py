"""The offline page: the same figures as the sheets, in one file that asks for nothing."""

import re
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from leadsman.assessment.assess import assess
from leadsman.assessment.result import Assessment
from leadsman.documents.caution import CAUTIONS, SHORT_CAUTION
from leadsman.documents.data import assessment_data
from leadsman.documents.offline import offline_page
from leadsman.portcall import PortCall

Build = Callable[..., Assessment]
THREE_MEGABYTES = 3_000_000
VOID = {"meta", "input", "br"}


class Page(HTMLParser):
    """Words outside the drawings, tags that are not closed, and every attribute that could fetch something."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.fetching: list[tuple[str, str, str | None]] = []
        self.open: list[str] = []
        self.ids: list[str] = []
        self.tags: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        for name, value in attrs:
            if name in ("src", "href", "srcset", "action", "xlink:href", "data", "poster", "background"):
                self.fetching.append((tag, name, value))
            if name == "id":
                self.ids.append(value or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "svg" not in self.open and "style" not in self.open:
            self.words.append(data)

    @property
    def text(self) -> str:
        return re.sub(r"\s+", " ", " ".join(self.words))


@pytest.fixture(scope="module")
def first(first_call: PortCall) -> Assessment:
    return assess(first_call)


@pytest.fixture(scope="module")
def first_page(first: Assessment) -> str:
    return offline_page(assessment_data(first))


def test_the_page_says_what_the_data_say(first: Assessment, first_page: str) -> None:
    data, text = assessment_data(first), Page(first_page).text
    assert data["verdict"]["word"].upper() in text
    assert data["verdict"]["sentence"] in text
    for leg in data["legs"]:
        here = leg["tightest"]
        depths = (here[key]["text"].removesuffix(" m") for key in ("depth", "water_level", "draught", "static"))
        row = [leg["least_at"]["text"], here["time"]["clock"], *depths]
        assert " ".join(row) in text
        assert leg["order_text"] in text
    for place in data["tightest"]:
        assert f"{place['value']['text']} {place['required']['text']} {place['margin']['text']}" in text
    for found in data["findings"]:
        assert found["sentence"] in text
    for window in data["windows"]:
        assert f"{window['opens']['text']} {window['closes']['text']} {window['length']['text']}" in text
    for index, line in enumerate(data["account"]["lines"]):
        assert f"{line['label']} " + " ".join(leg["tightest"]["lines"][index]["text"] for leg in data["legs"]) in text
    for sentence in (SHORT_CAUTION, *CAUTIONS):
        assert sentence in text
    assert data["fingerprint"] in text
    assert "all times UTC" in text


def test_nothing_on_the_page_can_ask_for_anything(first_page: str) -> None:
    page = Page(first_page)
    assert [found for found in page.fetching if not (found[2] or "").startswith("#")] == [], "but to its own parts"
    assert "script" not in page.tags, "without a rehearsal nothing needs one"
    assert not page.tags & {"iframe", "object", "embed", "link", "form", "img", "image", "use"}
    assert "@import" not in first_page
    assert set(re.findall(r"url\((.)", first_page)) <= {"#", "d"}, "patterns of the drawings and letters within"
    assert set(re.findall(r"url\(d([^;,]*)", first_page)) <= {"ata:font/woff2"}
    assert set(re.findall(r"https?://[^\"' <]*", first_page)) == {"http://www.w3.org/2000/svg"}, "a name, not a place"


def test_the_page_is_well_formed_with_every_id_once(first_page: str) -> None:
    page = Page(first_page)
    assert page.open == []
    assert len(page.ids) == len(set(page.ids))


def test_a_hundred_legs_stay_under_three_megabytes(build: Build) -> None:
    page = offline_page(assessment_data(build(legs=100)))
    assert len(page.encode()) < THREE_MEGABYTES


def test_a_hostile_name_stays_a_name(build: Build) -> None:
    name = "\"><script>alert(1)</script>&amp;'\x07"
    text = offline_page(assessment_data(build(name=name, ship_name=name)))
    assert "<script" not in text
    assert "\"><script>alert(1)</script>&amp;'[U+0007]" in Page(text).text


def test_the_page_stands_without_gates_and_windows(build: Build) -> None:
    text = Page(offline_page(assessment_data(build(gates=False, windows=False, go=False)))).text
    assert "NO GO" in text
    assert "Window, UTC none in the time looked at" in text


def test_the_same_assessment_gives_the_same_page(build: Build) -> None:
    first, second = (offline_page(assessment_data(build())) for _ in range(2))
    assert first == second


@pytest.mark.browser
def test_a_browser_with_the_network_off_shows_it_and_asks_for_nothing(
    chromium: Browser, first_page: str, tmp_path: Path
) -> None:
    file = tmp_path / "pack.html"
    file.write_text(first_page, encoding="utf-8")
    asked: list[str] = []
    said: list[str] = []
    with chromium.new_context(offline=True, viewport={"width": 800, "height": 1100}) as context:
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(file.as_uri())
        assert page.locator("h1").first.inner_text() == "Sedgewren"
        assert page.locator("figure svg").count() == 4 + 2 * 2, "and balance and rose of basin and berth"
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), "nothing wider than a tablet"
        ground = "getComputedStyle(document.body).backgroundColor"
        for look, colour in (("dim", "rgb(35, 33, 29)"), ("night", "rgb(0, 0, 0)"), ("day", "rgb(255, 255, 255)")):
            page.locator(f"#{look}").check()
            assert page.evaluate(ground) == colour
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    assert said == []

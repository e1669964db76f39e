"""The pack read back: what is printed is what the data say, on every page, with any name, of any length.

The assessment is synthetic (builder.py): these tests are about layout, and expected words are the data's own texts,
since a sheet must repeat them to the digit.
"""

import io
import re
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from types import ModuleType
from typing import Any

import pypdf
import pytest
from tests.builders.records import recorded

from leadsman.assessment.assess import assess
from leadsman.assessment.result import Assessment
from leadsman.documents import pack
from leadsman.documents.carried import Rehearsed
from leadsman.documents.caution import CAUTIONS, SHORT_CAUTION
from leadsman.documents.checklists import checklists
from leadsman.documents.data import assessment_data, nearest_window
from leadsman.documents.late_early import late_or_early
from leadsman.documents.pack import pack_pdf, write_pack
from leadsman.portcall import PortCall
from leadsman.record import State

Build = Callable[..., Assessment]


HEADS = (
    *(
        "Alder Tern Town Quay inward:",
        "Passage Leg Reach",
        "Plan in strips",
        "Early or late What",
        "If something fails",
    ),
    *("Exchange Verdict of the plan", "Tests and checks before arrival", "What the plan rests on"),
)
PASSAGE, STRIPS, TIMES, FAILS, EXCHANGE, TESTS, GROUNDS = range(1, 8)


def pages(assessment: Assessment, paper: str = "a4") -> list[str]:
    """The text of each page, runs of blanks made one."""
    reader = pypdf.PdfReader(io.BytesIO(pack_pdf(assessment_data(assessment), paper)))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def after_head(words: str) -> str:
    """A page without its head."""
    return re.split(r"Revision \S+ ", words, maxsplit=1)[1]


def bare(figure: dict[str, str]) -> str:
    """A figure as the tables print it, under a head that says metres."""
    return figure["text"].replace(" m", "")


@pytest.fixture(scope="module")
def usual(build: Build) -> Assessment:
    found: Assessment = build()
    return found


@pytest.fixture(scope="module")
def usual_pages(usual: Assessment) -> list[str]:
    return pages(usual)


def test_an_ordinary_call_is_carried_on_the_two_sides_of_one_sheet(usual_pages: list[str]) -> None:
    begins = [
        number for number, words in enumerate(usual_pages, 1) for head in HEADS if after_head(words).startswith(head)
    ]
    assert begins == [1, 2, 3, 4, 5, 6, 7, 8]


def test_every_page_says_whose_it_is_and_how_far_to_trust_it(usual: Assessment, usual_pages: list[str]) -> None:
    for number, words in enumerate(usual_pages, start=1):
        assert f"Page {number} of {len(usual_pages)}" in words
        assert "Alder Tern · Town Quay inward" in words
        assert f"Revision {usual.fingerprint[:12]}" in words
        assert "Start Sun 4 May 2031 05:28 UTC · all times UTC" in words
        assert SHORT_CAUTION in words


def test_the_brief_says_the_verdict_and_what_binds(usual: Assessment, usual_pages: list[str]) -> None:
    data = assessment_data(usual)
    brief = usual_pages[0]
    binding = data["verdict"]["binding"]
    assert "GO WITH CAUTIONS" in brief
    assert data["verdict"]["sentence"] in brief
    words = f"there is {binding['value']['text']}, required {binding['required']['text']}"
    assert f"{binding['place']}, {binding['distance']['text']}, {binding['time']['clock']}: {words}" in brief
    for place in data["tightest"][:5]:
        row = [place[key]["text"] for key in ("value", "required", "margin")]
        begin = f"{place['letter']} {place['place']} {place['limit_text']} {place['distance']['text']}"
        assert " ".join([begin, place["time"]["clock"], *row]) in brief
    for finding in data["findings"]:
        where = usual_pages[GROUNDS] if finding["grade"] == "note" else brief
        assert f"{finding['grade'].upper()} {finding['sentence']}" in where
    assert "1 note on the sheet What the plan rests on" in brief
    for remedy in data["remedies"]:
        assert f"{'WORKS' if remedy['works'] else 'NOT ENOUGH'} {remedy['sentence']}" in brief


def test_the_drawing_by_day_carries_the_edges_of_every_window(usual: Assessment, usual_pages: list[str]) -> None:
    for window in assessment_data(usual)["windows"]:
        assert window["opens"]["clock"] in usual_pages[0]
        assert window["closes"]["clock"] in usual_pages[0]


def test_the_passage_table_repeats_the_data_to_the_digit(usual: Assessment, usual_pages: list[str]) -> None:
    for leg in assessment_data(usual)["legs"]:
        speed = f"{leg['speed']['text']}, ground {leg['speed_over_ground']['text']}"
        row = [leg["course"]["text"], leg["distance"]["text"], leg["order_text"], speed, leg["time_begin"]["clock"]]
        assert " ".join(row) in usual_pages[1]
        if leg["alteration"] is not None:
            assert f"{leg['alteration']['text']}, radius {leg['bend_radius']['text']}" in usual_pages[1]
            rate = leg["rate_of_turn"]["text"].split(" to ")[0]
            assert f"{rate}, begins {leg['wheel_over_before']['text']} before" in usual_pages[1]


def test_the_account_repeats_the_data_to_the_digit(usual: Assessment, usual_pages: list[str]) -> None:
    for leg in assessment_data(usual)["legs"]:
        here = leg["tightest"]
        figures = [here[key] for key in ("depth", "water_level", "draught", "static", "gross", "squat")]
        figures += [leg["least_net"], here["required"], leg["least_margin"], leg["room_port"], leg["room_starboard"]]
        row = [str(leg["number"]), leg["least_at"]["text"], here["time"]["clock"], *map(bare, figures)]
        assert " ".join(row) in usual_pages[1]
        lines = {line["key"]: line for line in here["lines"]}
        for key in ("depth", "draught", "static", "gross", "squat", "net"):
            same = leg["least_net"] if key == "net" else here[key]
            assert lines[key]["text"] == same["text"]


def test_the_grounds_carry_every_line_of_the_account_with_its_origin(usual: Assessment, usual_pages: list[str]) -> None:
    data = assessment_data(usual)
    grounds = " ".join(usual_pages[TIMES:])
    sign = {1: "add ", 0: "", -1: "less "}
    for index, line in enumerate(data["account"]["lines"]):
        values = [bare(leg["tightest"]["lines"][index]) for leg in data["legs"]]
        assert " ".join([sign[line["effect"]] + line["label"], *values, line["origin"]]) in grounds
    for window in data["windows"]:
        assert f"{window['opens']['text']} {window['closes']['text']} {window['length']['text']}" in grounds
    for figure in data["figures"].values():
        assert f"{figure['name'].replace('_', ' ')} {figure['text']}" in grounds


def test_early_and_late_starts_stand_one_below_the_other(usual: Assessment, usual_pages: list[str]) -> None:
    data = assessment_data(usual)
    rows = late_or_early(data)
    assert len(rows) == len(data["around"]) == 8, "quarters of an hour from 04:30 to 06:15 lie within an hour of 05:28"
    for row, one in zip(rows, data["around"], strict=True):
        words = [row["start"], row["off"], row["underkeel"], row["change"], row["overhead"], row["binds"]]
        assert " ".join([*filter(None, words), "yes" if one["holds"] else "no"]) in usual_pages[TIMES]


def test_what_a_quarter_of_an_hour_changes_is_told_from_the_figures_of_the_brief() -> None:
    def start(clock: str, left: float, limit: str, margin: float) -> dict[str, Any]:
        binding = {
            "limit": limit,
            "limit_text": "under keel",
            "place": "The Bar",
            "time": {"clock": "06:00"},
            "margin": {"value": margin, "text": f"{margin:.2f} m"},
        }
        underkeel = {"value": left, "text": f"{left:.2f} m"}
        time = {"value": f"2031-05-04T{clock}:00Z", "clock": clock}
        return {"start": time, "underkeel": underkeel, "overhead": None, "rule": "", "binding": binding, "holds": True}

    around = [start("05:15", 0.40, "underkeel", 0.41), start("05:30", 0.52, "overhead", 0.10)]
    planned, late = late_or_early({"call": {"start": {"value": "2031-05-04T05:15:00Z"}}, "around": around})
    assert (planned["off"], planned["underkeel"], planned["change"]) == ("as planned", "0.41 m", "")
    assert (late["off"], late["underkeel"], late["change"]) == ("15 min late", "0.52 m", "+0.11 m")


def test_the_exchange_and_the_tests_are_complete_and_fit_the_direction(usual_pages: list[str]) -> None:
    words = checklists()
    for part in ("ship_tells", "pilot_tells", "agreed"):
        for item in words["exchange"][part]:
            assert item["text"] in usual_pages[EXCHANGE]
    for item in words["arrival"]["items"]:
        assert item["text"] in usual_pages[TESTS]
    assert "Tests and checks before departure" not in " ".join(usual_pages)


def test_every_caution_is_printed(usual_pages: list[str]) -> None:
    for caution in CAUTIONS:
        assert caution in " ".join(usual_pages[GROUNDS:])


def test_the_drawings_carry_the_numbers_of_the_tightest_places(usual: Assessment, usual_pages: list[str]) -> None:
    data = assessment_data(usual)
    after_table = usual_pages[1].split("Section along the track")[1]
    section, plan = after_table.split(" Plan ", 1)
    worst = data["tightest"][0]
    assert f"{worst['letter']} {worst['value']['text']}" in section
    gate = data["gates"][0]
    assert f"{gate['name']} {gate['value']['text']} at {gate['time']['clock']}" in section
    for place in data["tightest"]:
        assert f"{place['letter']} {place['value']['text']}" in plan


def test_no_go_is_said_in_words_and_stops_come_first(build: Build) -> None:
    brief = pages(build(go=False))[0]
    assert "NO GO" in brief
    assert "STOP Too little water on The Bar" in brief


def test_without_gates_and_windows_the_sheet_says_so(build: Build) -> None:
    brief, passage = pages(build(gates=False, windows=False))[:2]
    assert "WINDOW, UTC none in the time looked at, Fri 2 May 00:00 to Fri 9 May 00:00" in brief
    assert "overhead" not in passage.split("Section along")[1]


def test_a_hundred_legs_break_over_pages_with_their_head_repeated(build: Build) -> None:
    found = build(legs=100)
    printed = pages(found)
    heads = [words for words in printed if "Leg Reach, from and to Course" in words]
    assert len(heads) >= 3
    joined = " ".join(printed)
    for leg in assessment_data(found)["legs"]:
        assert f"{leg['number']} {leg['reach']} {leg['begins_at']} to {leg['ends_at']}" in joined
        here = leg["tightest"]
        assert f"{leg['number']} {leg['least_at']['text']} {here['time']['clock']} {bare(here['depth'])}" in joined
    assert all(f"Page {number} of {len(printed)}" in words for number, words in enumerate(printed, start=1))


def test_many_findings_flow_on_and_none_is_lost(build: Build) -> None:
    printed = " ".join(pages(build(more_findings=60)))
    for number in range(1, 61):
        assert f"Synthetic note number {number} to fill the sheet." in printed


MARKS = "#strong[x] $y$ </text><script>&amp; \\ ' \""


def test_names_are_printed_as_they_are(usual: Assessment, build: Build) -> None:
    assert MARKS in pages(build(ship_name=MARKS))[0]


def test_a_long_name_stands_in_full_once_and_cut_in_the_head(build: Build) -> None:
    name = "".join(chr(ord("A") + index % 26) for index in range(200))
    printed = pages(build(ship_name=name))
    assert name in printed[0].replace("\u200b", "").replace(" ", "")
    assert "…" in printed[1]


def test_letters_no_font_has_stand_as_code_points_and_the_brief_says_so(build: Build) -> None:
    printed = pages(build(ship_name="Tern \U0001f6a2"))
    assert "Tern [U+1F6A2] · Town Quay inward" in printed[1]
    assert "Letters that cannot be printed here stand as code points: U+1F6A2." in printed[0]


def test_a_name_in_chinese_is_printed_or_spelt_out_and_never_an_empty_box(build: Build) -> None:
    brief = pages(build(ship_name="永安"))[0]
    assert ("永安" in brief) != ("[U+6C38][U+5B89]" in brief)


def test_marks_that_turn_the_order_of_letters_are_shown(build: Build) -> None:
    assert "[U+202E]321" in pages(build(ship_name="Tern \u202e321"))[0]


def test_the_file_is_tagged_for_screen_readers_and_for_keeping(usual: Assessment) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pack_pdf(assessment_data(usual))))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712 (a PDF boolean, not Python's)
    assert root["/Lang"] == "en-GB"
    metadata = root["/Metadata"].get_data().decode()
    assert "<pdfuaid:part>1</pdfuaid:part>" in metadata
    assert "<pdfaid:part>2</pdfaid:part>" in metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in metadata


def test_the_same_assessment_gives_the_same_bytes(build: Build) -> None:
    first, second = (pack_pdf(assessment_data(build())) for _ in range(2))
    assert first == second


def test_another_answer_gives_other_bytes(usual: Assessment, build: Build) -> None:
    assert pack_pdf(assessment_data(usual)) != pack_pdf(assessment_data(build(go=False)))


def test_write_pack_returns_what_it_wrote_and_leaves_nothing_else(usual: Assessment, tmp_path: Path) -> None:
    written = write_pack(usual, tmp_path / "deep" / "out")
    assert written == [tmp_path / "deep" / "out" / name for name in ("pack.pdf", "pack.html")]
    assert sorted((tmp_path / "deep" / "out").iterdir()) == sorted(written)
    assert written[0].read_bytes() == pack_pdf(assessment_data(usual))


def test_a_failed_run_leaves_the_old_pack_as_it_was(
    usual: Assessment, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written = write_pack(usual, tmp_path)
    before = [path.read_bytes() for path in written]

    def fail(*_: object) -> bytes:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr(pack, "pack_pdf", fail)
    with pytest.raises(RuntimeError, match="broken on purpose"):
        write_pack(usual, tmp_path)
    assert sorted(tmp_path.iterdir()) == sorted(written)
    assert [path.read_bytes() for path in written] == before


def test_unknown_paper_is_refused(usual: Assessment) -> None:
    with pytest.raises(ValueError, match="'foolscap' is no paper known here; expected one of a4, us-letter"):
        pack_pdf(assessment_data(usual), "foolscap")


def test_the_window_shown_is_the_one_about_the_start() -> None:
    def window(opens: str, closes: str) -> dict[str, dict[str, str]]:
        return {"opens": {"value": opens}, "closes": {"value": closes}}

    early, late = (
        window("2031-05-04T01:00:00Z", "2031-05-04T02:00:00Z"),
        window("2031-05-04T13:00:00Z", "2031-05-04T14:00:00Z"),
    )

    def choice(start: str, *windows: dict[str, dict[str, str]]) -> object:
        return nearest_window(start, list(windows))

    assert choice("2031-05-04T01:30:00Z", early, late) == {"window": early, "holds": True, "later": False}
    assert choice("2031-05-04T03:00:00Z", early, late) == {"window": late, "holds": False, "later": True}
    assert choice("2031-05-04T15:00:00Z", early, late) == {"window": late, "holds": False, "later": False}
    assert choice("2031-05-04T15:00:00Z") is None


# The first example, really assessed


@pytest.fixture(scope="module")
def first(first_call: PortCall) -> Assessment:
    return assess(first_call)


def test_the_first_example_prints_what_its_data_say(first: Assessment) -> None:
    data, printed = assessment_data(first), pages(first)
    assert data["verdict"]["word"].upper() in printed[0]
    assert data["verdict"]["sentence"] in printed[0]
    for leg in data["legs"]:
        here = leg["tightest"]
        row = [str(leg["number"]), leg["least_at"]["text"], here["time"]["clock"]]
        assert " ".join([*row, bare(here["depth"]), bare(here["water_level"]), bare(here["draught"])]) in printed[1]
    for gate in data["gates"]:
        assert f"{gate['name']} {gate['value']['text']} at {gate['time']['clock']}" in printed[1]
    for found in data["findings"]:
        assert f"{found['grade'].upper()} {found['sentence']}" in " ".join(printed)
    for window in data["windows"]:
        assert f"{window['opens']['text']} {window['closes']['text']}" in " ".join(printed)


def test_the_place_that_binds_stands_first_among_the_tightest(first: Assessment) -> None:
    data = assessment_data(first)
    assert data["tightest"][0]["place"].startswith(data["verdict"]["binding"]["place"])
    assert data["tightest"][0]["margin"] == data["verdict"]["binding"]["margin"]


def test_what_was_said_stands_on_its_sheet_and_the_record_behind_the_tests(usual: Assessment) -> None:
    data = assessment_data(usual)
    said = {
        "agreed.limits": (State.CHANGED, "wind below 18 kn"),
        "arrival.anchors": (State.DEFECT, "port brake slips"),
        "ship_tells.card": (State.TOLD, ""),
    }
    record = recorded((item, *told) for item, told in said.items())
    reader = pypdf.PdfReader(io.BytesIO(pack_pdf(data, record=record)))
    printed = [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]
    assert "wind below 18 kn; Ann Example, pilot, 04:10; of an earlier plan" in printed[EXCHANGE]
    assert "Defect: port brake slips; Ann Example, pilot, 04:10" in printed[TESTS]
    assert "Record of what was said" in printed[TESTS + 1]
    assert record.mark in printed[TESTS + 1]
    assert "What the plan rests on" in printed[TESTS + 2]


def test_what_was_rehearsed_of_this_plan_has_its_sheets_and_of_another_none(
    usual: Assessment, sailed: ModuleType
) -> None:
    data = assessment_data(usual)
    rehearsal, failures = sailed.rehearsal(data), sailed.failures(data)
    reader = pypdf.PdfReader(io.BytesIO(pack_pdf(data, rehearsed=Rehearsed(rehearsal, failures))))
    printed = " ".join(re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages)
    brief = re.sub(r"\s+", " ", reader.pages[0].extract_text())
    assert "95 % of 200 drawn runs succeed (91 % to 98 % with 95 % confidence)." in brief
    start = datetime.fromisoformat(data["call"]["start"]["value"])
    for order in rehearsal["planned"]["orders"]:
        moment = start + timedelta(seconds=order["time"])
        said = order["words"].removeprefix("Alder: ").removeprefix("Bow thrust ")
        row = re.search(
            rf"{moment:%H:%M} {order['distance'] / 1852.0:.2f} (.*?)(?= \d\d:\d\d | For planning only)", printed
        )
        assert row is not None
        assert f"{moment::%S} {said}" in row[1]
    assert "Gannet Bend 300 m port 10° 250 m 50 m" in printed
    assert "Nearest: under keel 0.8 m at Bar Reach." in printed
    assert "95 % of 200 drawn runs succeed (91 % to 98 % with 95 % confidence, seed 7)" in printed
    assert "In one run of twenty less than: room port 12.3 m at Long Reach." in printed
    assert "engine lost 2 of 3 95 s 1 of 3 Mill Reach, 1.00 nm" in printed
    first, *_, last = data["legs"]
    clock = f"{start + timedelta(seconds=60):%H:%M}"
    assert f"engine lost 95 s {clock} aground Stop engine; steer on: aground 1 of 2" in printed
    assert f"Leg {last['number']}: {last['reach']} · no danger within 20 minutes: engine lost" in printed
    assert (
        f"Leg 1: {first['reach']} · no danger within 20 minutes: thrusters lost engine lost 95 s {clock} aground"
        in printed
    )
    assert "Nothing was tried on this leg." in printed
    other = Rehearsed(rehearsal | {"fingerprint": "another"}, failures | {"fingerprint": "another"})
    without = pypdf.PdfReader(io.BytesIO(pack_pdf(data, rehearsed=other)))
    words = " ".join(re.sub(r"\s+", " ", page.extract_text()) for page in without.pages)
    assert "Orders: UTC" not in words
    assert "NOT TRIED: what was rehearsed is of another plan than this one." in words
    assert "Not in it: orders and failures rehearsed (what was rehearsed is of another plan than this one)" in words

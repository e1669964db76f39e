"""Orders, failures, times, holding and the lines of the drawn runs read back from the sheets and compared with the JSON.

Expected words are written here anew from the JSON's own numbers, by the rules of docs/pack.md under "Careful rounding"
and "Names and letters", not by the functions that wrote the sheets; in metres and tonnes, and in feet and kilonewtons.
"""

import io
import json
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from types import ModuleType
from typing import Any

import numpy as np
import pypdf
import pytest

from leadsman.assessment.result import Assessment
from leadsman.documents.carried import Rehearsed
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings.stage import stage
from leadsman.documents.holding_data import holding_data
from leadsman.documents.pack import pack_pdf
from leadsman.manner import Manner, written_in

Data = dict[str, Any]
Build = Callable[..., Assessment]
NEARLY = 1e-6
KNOT, MILE = 1852.0 / 3600.0, 1852.0  # m/s, m: the international nautical mile


@dataclass(frozen=True)
class Units:
    """How the sheets were asked to be written, in this file's own figures."""

    length: float
    length_name: str
    decimals: int
    force: float
    force_name: str
    ahead: timedelta

    def down(self, metres: float, decimals: int | None = None) -> str:
        """What there is, never more."""
        scale = 10 ** (self.decimals if decimals is None else decimals)
        found = math.floor(metres / self.length * scale + NEARLY) / scale
        return minus(f"{found:.{self.decimals if decimals is None else decimals}f} {self.length_name}")

    def tonnes(self, newtons: float) -> str:
        return f"{newtons / self.force:.0f} {self.force_name}"

    def clock(self, moment: str, seconds: float = 0.0, written: str = "%H:%M") -> str:
        return (datetime.fromisoformat(moment) + timedelta(seconds=seconds) + self.ahead).strftime(written)


METRIC = Units(1.0, "m", 2, 9806.65, "t", timedelta(0))  # standard gravity, 3rd CGPM 1901 (from memory)
OTHER = Units(0.3048, "ft", 1, 1000.0, "kN", timedelta(hours=1))  # international foot, 1959 (from memory)
MANNERS = {"metres": (None, METRIC), "feet": (Manner(lengths="feet", forces="kilonewtons", zone=OTHER.ahead), OTHER)}


def minus(words: str) -> str:
    return words.replace("-", "\N{MINUS SIGN}")


def knots_down(speed: float) -> str:
    return f"{math.floor(speed / KNOT + NEARLY)} kn"


def percent_down(share: float) -> str:
    return minus(f"{math.floor(100.0 * share + NEARLY)} %")


def soon(seconds: float) -> str:
    """Rounded down: seconds, and from two minutes on minutes."""
    return f"{math.floor(seconds)} s" if seconds < 120.0 else f"{math.floor(seconds / 60.0)} min"


@dataclass
class ReadBack:
    """The JSON a pack was made from, and the words of its sheets."""

    data: Data
    rehearsal: Data
    failures: Data
    words: str
    units: Units

    def sheet(self, begin: str, end: str) -> str:
        """From one head to the next."""
        found = re.search(rf"{re.escape(begin)}(.*?){re.escape(end)}", self.words)
        assert found is not None, f"{begin} ... {end}"
        return found[1]


@pytest.fixture(scope="module", params=MANNERS.values(), ids=MANNERS.keys())
def back(request: pytest.FixtureRequest, build: Build, held: ModuleType, sailed: ModuleType) -> ReadBack:
    manner, units = request.param
    with written_in(manner or Manner()):
        data = assessment_data(build()) | {"holding": holding_data(held.answer())}
        rehearsal, failures = sailed.rehearsal(data), sailed.failures(data)
        reader = pypdf.PdfReader(io.BytesIO(pack_pdf(data, rehearsed=Rehearsed(rehearsal, failures))))
    pages = (
        re.sub(r".*?Revision \S+ ", "", re.sub(r"\s+", " ", page.extract_text()), count=1) for page in reader.pages
    )
    words = " ".join(page.split(" For planning only, not for navigation.")[0] for page in pages)
    data, rehearsal, failures = (json.loads(json.dumps(part)) for part in (data, rehearsal, failures))
    return ReadBack(data, rehearsal, failures, words, units)


def test_every_order_stands_in_its_minute_with_its_second(back: ReadBack) -> None:
    sheet = back.sheet("Orders, minute by minute", "Holding and tugs Place")
    rows = re.split(r"(?<!\S)(?=\d\d:\d\d -?\d+\.\d\d )", re.sub(r"Leg \d+: .*?(?=\d\d:\d\d)", "", sheet))
    told: dict[str, str] = {}
    for row in rows[1:]:
        told[row[:5]] = told.get(row[:5], "") + row[5:]
    orders, start = back.rehearsal["planned"]["orders"], back.rehearsal["start"]
    for order in orders:
        row = told[back.units.clock(start, order["time"])]
        said = re.sub(r"^(Alder: |Bow thrust )", "", order["words"])
        assert f"{back.units.clock(start, order['time'], ':%S')} {said}" in row
    for minute, row in told.items():
        first = next(one for one in orders if back.units.clock(start, one["time"]) == minute)
        assert row.split()[0] == f"{first['distance'] / MILE:.2f}"
    assert len(re.findall(r" :\d\d ", sheet.replace(" :", "  :"))) == len(orders), "and nothing else is ordered"


def test_what_the_drawn_runs_came_to(back: ReadBack) -> None:
    many = back.rehearsal["ensemble"]
    share, low, high = (percent_down(many[key]) for key in ("rate", "low", "high"))
    outcome = f"{share} of {many['runs']} drawn runs succeed ({low} to {high} with 95 % confidence"
    assert back.words.count(outcome) == 2, "on the brief and on the order sheet"
    tight = many["tight"][0]
    least = back.units.down(tight["one_in_twenty"], 1)
    assert f"less than: {tight['quantity']} {least} at {tight['place']}" in back.words


def test_wheel_overs(back: ReadBack) -> None:
    for one in back.rehearsal["planned"]["wheel_overs"]:
        before, tangent, reach = (
            f"{one[key] / back.units.length:.0f} {back.units.length_name}" for key in ("before", "tangent", "reach")
        )
        wheel = f"{'starboard' if one['wheel'] > 0 else 'port'} {abs(math.degrees(one['wheel'])):.0f}°"
        assert f"{one['waypoint']} {before} {wheel} {tangent} {reach}" in back.words


def test_failures_over_the_passage_and_leg_by_leg(back: ReadBack) -> None:
    whole = back.sheet("As tried over the whole passage", "Leg by leg, each at its worst moment")
    by_leg = back.sheet("Leg by leg, each at its worst moment", "Orders, rehearsed")
    edges = np.cumsum([0.0] + [leg["distance"]["value"] for leg in back.data["legs"]])
    start = back.data["call"]["start"]["value"]
    for one in back.failures["failures"]:
        moments = one["moments"]
        bad = [moment for moment in moments if moment["danger"] is not None]
        lost = sum(not moment["answered"] for moment in moments)
        least = "never" if one["least_time_left"] is None else soon(one["least_time_left"])
        assert f"{one['name']} {len(bad)} of {len(moments)} {least} {lost} of {len(moments)}" in whole
        for begin, end in pairwise(edges):
            here = [moment for moment in moments if begin <= moment["distance"] < end]
            dangers = [moment for moment in here if moment["danger"] is not None]
            if not dangers:
                continue
            worst = min(dangers, key=lambda moment: float(moment["time_left"]))
            averted = sum(moment["answered"] for moment in here)
            row = f"{one['name']} {soon(worst['time_left'])} {back.units.clock(start, worst['time'])} {worst['danger']}"
            row += f" {worst['answer']}: {worst['answered_ends']} {averted} of {len(here)}"
            assert row in by_leg


def test_early_and_late_starts(back: ReadBack) -> None:
    sheet = back.sheet("What each quarter of an hour changes, over the whole passage", "Where she can wait")
    start = datetime.fromisoformat(back.data["call"]["start"]["value"])
    assert len(back.data["around"]) > 4
    for one in back.data["around"]:
        binding = one["binding"]
        left = binding["margin"]["value"] if binding["limit"] == "underkeel" else one["underkeel"]["value"]
        over = binding["margin"]["value"] if binding["limit"] == "overhead" else one["overhead"]["value"]
        off = datetime.fromisoformat(one["start"]["value"]) - start
        late = f"{abs(off) // timedelta(minutes=1)} min {'late' if off > timedelta(0) else 'early'}"
        row = rf"{back.units.clock(one['start']['value'])} {late} {re.escape(back.units.down(left))} (\S+ \S+ )?"
        row += rf"{re.escape(back.units.down(over))} {binding['limit_text']}, {binding['place']}"
        row += rf", {back.units.clock(binding['time']['value'])} {'yes' if one['holds'] else 'no'}"
        assert re.search(row, sheet), row


def test_holding_and_tugs(back: ReadBack) -> None:
    sheet = back.sheet("Wind, at most", "Landing, lines, anchors")
    for place in back.data["holding"]["places"]:
        degrees = {
            key: f"{math.degrees(place[key]['value']):03.0f}°" for key in ("heading", "wind_from", "stream_towards")
        }
        row = f"{back.units.clock(place['time']['value'])} {degrees['heading']} {place['wind']['value'] / KNOT:.0f} kn "
        row += f"{degrees['wind_from']}, {place['stream']['value'] / KNOT:.1f} kn {degrees['stream_towards']}"
        limit = f"{percent_down(place['reserve']['value'])} {knots_down(place['wind_limit']['value'])}"
        assert re.search(rf"{row} [\w, ]+ {limit}", sheet), row
        if place["key"] not in back.data["holding"]["roses"]:
            continue
        for order in place["balance"]["orders"]:
            force = back.units.tonnes(math.hypot(order["force"]["surge"], order["force"]["sway"]))
            assert f"{order['name']}: {order['words']} {force} {100.0 * order['used']:.0f} %" in sheet
    for rose in back.data["holding"]["roses"].values():
        for number, one in enumerate(rose["sets"]):
            assert f"{number} {one['name']}: least {knots_down(min(one['limits']))} from " in sheet


def test_landing_and_anchors(back: ReadBack) -> None:
    sheet = back.sheet("Landing, lines, anchors", "Exchange")
    land, lift, anchor = (back.data["holding"][key] for key in ("landing", "lifting_off", "anchoring"))
    assert f"Landing at {back.units.down(land['speed']['value'], 2)}/s" in sheet
    assert f"{land['energy']['value'] / 1000.0:.0f} kNm to the fenders touched first" in sheet
    assert f"they take {land['allowed_energy']['value'] / 1000.0:.0f} kNm" in sheet
    assert f"{back.units.tonnes(lift['force']['value'])} are left to lift her off" in sheet
    assert f"{lift['lines']} breast lines must be fast, {back.units.tonnes(lift['line_load']['value'])} each" in sheet
    radius = math.ceil(anchor["swing_radius"]["value"] / back.units.length - NEARLY)
    room = math.floor(anchor["room"]["value"] / back.units.length + NEARLY)
    name = back.units.length_name
    assert f"{anchor['shackles_on_deck']} shackles on deck, {anchor['shackles_in_water']:.0f} in the water" in sheet
    assert f"swinging {radius} {name} in {room} {name}" in sheet


def test_the_lines_of_the_drawn_runs_lie_where_the_json_has_them(build: Build) -> None:
    """Read back from the drawing of the page: metres abeam of the track, starboard positive, at every point."""
    data = assessment_data(build())
    reach = {"99": (31.0, 25.0), "95": (20.0, 16.0), "50": (9.0, 7.0)}
    along = [0.0, 500.0, 1000.0]
    envelope = {"distance": along} | {share: [list(sides)] * 3 for share, sides in reach.items()}
    drawn, places = stage(data, {"envelope": envelope}, ["Source Sans 3"], 184.0, 120.0)
    account = {name: np.asarray(data["account"][name]) for name in ("distance", "x", "y", "course")}
    x, y, course = (np.interp(along, account["distance"], account[name]) for name in ("x", "y", "course"))
    to_plane = np.linalg.inv(np.array([places["north"], places["east"]]))
    found = []
    for line in re.findall(r'd="(M[^"Z]+)" fill="none"[^>]*stroke-width="0\.35"', drawn):
        points = np.array(re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", line), dtype=float)
        if len(points) == len(along):
            north, east = ((points - places["origin"]) @ to_plane).T
            found.append((east - y) * np.cos(course) - (north - x) * np.sin(course))
    expected = [
        [side * one] * 3
        for one_share in ("99", "95", "50")
        for side, one in zip((-1, 1), reach[one_share], strict=True)
    ]
    tolerance = 0.02 / places["metre"]  # m: a drawing's points are written to hundredths of a millimetre
    assert np.allclose(found, expected, atol=tolerance)

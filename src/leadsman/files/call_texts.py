"""`call.toml` and `forecast.toml` as texts, from what a person answers; for calls made from files of others."""

import math
import re
from collections.abc import Iterator
from datetime import timedelta

from leadsman.equipment import ORDERS
from leadsman.errors import InputError, InputErrors
from leadsman.files.answers import Answers
from leadsman.files.formats.series import HighLowTable
from leadsman.files.formats.times import shortened, written
from leadsman.files.formats.toml_words import number_line, quoted
from leadsman.files.formats.waterway_draft import BerthDraft
from leadsman.portcall import Direction
from leadsman.ship import Ship

BEFORE = timedelta(hours=1)  # of water that an assessment looks at before the first start
AFTER = timedelta(hours=49)  # after the last start: a passage of at most 24 h, and a lunar day alongside
SHORTEST_SEARCH, LONGEST_SEARCH = timedelta(minutes=30), timedelta(days=7)
WEATHER = (  # key: what it is, least, greatest; what is not said stays unknown, which is not calm
    ("wind_speed_kn", "wind, knots", 0.0, 150.0),
    ("wind_from_deg", "where the wind comes from, degrees true", 0.0, 360.0),
    ("gust_speed_kn", "gusts, knots", 0.0, 200.0),
    ("wave_height_m", "significant wave height, metres", 0.0, 25.0),
    ("wave_period_s", "peak period of the waves, seconds", 1.0, 30.0),
    ("wave_from_deg", "where the waves come from, degrees true", 0.0, 360.0),
    ("visibility_nm", "visibility, nautical miles", 0.0, 50.0),
    ("water_density_kg_m3", "density of the water she sails in, kg/m³", 990.0, 1050.0),
)
MARGINS = (  # key: what is asked, least, greatest
    ("underkeel_m", "net clearance under the keel that port or company requires, metres", 0.0, 20.0),
    ("underkeel_percent_of_draught", "the same in percent of draught; the greater counts", 0.0, 100.0),
    ("overhead_m", "clearance under bridges and cables that port or company requires, metres", 0.0, 20.0),
)
TUG = re.compile(r"(?P<name>\S.*?)\s+(?P<pull>\d{1,3}(\.\d+)?)(\s*t)?(\s+(?P<kind>[^\d\s].*))?", re.ASCII)
TUG_PULL = (1.0, 300.0)  # t, as `call.toml` takes it
RESIDUALS = (
    ("residual_m", "best forecast of the level less the predicted tide, metres; from the port or the weather service"),
    ("residual_low_m", "the lowest the residual may be, metres"),
    ("residual_high_m", "the highest the residual may be, metres"),
)


def call_text(
    ship: Ship,
    berth: BerthDraft | None,
    reaches: list[str],
    as_sailed: Direction,
    tide: HighLowTable,
    answers: Answers,
) -> bytes:
    """`call.toml`; what `answers` lacks is asked there. `as_sailed`: the way the route was given."""
    words = "inward or outward; left out: as the route runs, to the berth or from it"
    said = answers.text("direction", words, choices=tuple(Direction), needed=False, offer=True)
    berth_name = "" if berth is None else berth.name
    name = answers.text("name", "a name for the call", needed=False, offer=True)
    lines = [
        f"name = {quoted(name or f'{ship.name}, {berth_name}')}",
        f"direction = {quoted(said or as_sailed)}",
        f"berth = {quoted(berth_name)}",
        *_times(tide, answers),
        "\n[margins]",
        *(number_line(key, answers.number(key, what, low, high), what) for key, what, low, high in MARGINS),
    ]
    for key, what, high in (
        ("alongside_m", "static clearance at the berth at the lowest water of the next day, metres", 20.0),
        ("width_m", "room from her side to the edge, metres", 500.0),
    ):
        margin = answers.number(key, what, 0.0, high, needed=False, offer=True)
        lines += [] if margin is None else [number_line(key, margin, what)]
    source = answers.text("margins_source", "where the margins are written", needed=False, offer=True)
    lines.append(f"source = {quoted(source or 'as answered when the call was made')}")
    for reach in reaches:
        lines += ["\n[[plan]]", f"reach = {quoted(reach)}", _speed(reach, answers)]
    lines += _tugs(answers)
    return ("\n".join(lines) + "\n").encode()


def _speed(reach: str, answers: Answers) -> str:
    """How a reach is run: an engine order of the card, or a speed."""
    order = answers.text("order", "an engine order for the reach", place=reach, choices=ORDERS, needed=False)
    if order is not None:
        return f"order = {quoted(order)}"
    words = "speed through the water, knots, or an engine order of the card such as half ahead"
    said = (answers.text("speed_kn", words, place=reach) or "").lower().replace(" ", "_")
    if said in ORDERS:
        return f"order = {quoted(said)}"
    return number_line("speed_kn", answers.number("speed_kn", words, 0.2, 39.0, place=reach), words)


def _tugs(answers: Answers) -> Iterator[str]:
    """The tugs ordered; none is put in their place."""
    words = "tugs ordered, each with name and bollard pull in tonnes, such as: Hazel 50; Rowan 45 azimuth stern drive"
    said = answers.text("tugs", words, needed=False, offer=True)
    for one in filter(None, map(str.strip, (said or "").split(";"))):
        tug = TUG.fullmatch(one)
        if tug is None or not TUG_PULL[0] <= float(tug["pull"]) <= TUG_PULL[1]:
            why = f"'{shortened(one)}'; expected a name and {TUG_PULL[0]:g} to {TUG_PULL[1]:g} tonnes, such as Hazel 50"
            answers.refuse("tugs", why)
            return
        yield f"\n[[tug]]\nname = {quoted(tug['name'])}\nbollard_pull_t = {float(tug['pull']):g}"
        if tug["kind"]:
            yield f"kind = {quoted(tug['kind'].strip())}"


def _times(tide: HighLowTable, answers: Answers) -> list[str]:
    """Her start, and the span of starts that the tide table lets be looked at."""
    start = answers.time("start", "when she passes the first point of the track: with its zone, as 2031-05-04T06:00Z")
    if start is None:
        return []
    first, last = tide.points[0].time + BEFORE, tide.points[-1].time - AFTER
    begin = max(start.replace(hour=0, minute=0, second=0, microsecond=0), first)
    span = min(last - begin, LONGEST_SEARCH)
    if not first <= start <= last or span < SHORTEST_SEARCH:
        why = (
            f"{written(start)} is not covered: the tide table runs from {written(tide.points[0].time)} to "
            f"{written(tide.points[-1].time)}; expected it from an hour before the start to "
            "two days and two hours after it (a passage of up to 24 h, then the low waters of a lunar day alongside)"
        )
        raise InputErrors([InputError("answers", None, "start", why)])
    days = math.floor(span / timedelta(days=0.0001)) * 0.0001
    return [f"start = {written(start)}", "\n[search]", f"begin = {written(begin)}", f"days = {days:.4f}"]


def forecast_text(answers: Answers) -> bytes:
    """`forecast.toml`: the residual, which must be answered, and the weather, which may."""
    issued = answers.time("forecast_issued", "when the residual was forecast or read, with zone, as 2031-05-04T04:00Z")
    source = answers.text("forecast_source", "who forecast the residual, or the gauge it was read at")
    lines = [f"issued = {written(issued)}"] if issued is not None else []
    lines += [f"source = {quoted(source or '')}"]
    lines += [number_line(key, answers.number(key, what, -8.0, 8.0), what) for key, what in RESIDUALS]
    for key, what, low, high in WEATHER:
        said = answers.number(key, what, low, high, needed=False, offer=True)
        lines += [] if said is None else [number_line(key, said, what)]
    return ("\n".join(lines) + "\n").encode()

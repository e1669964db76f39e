"""Brief, passage and plans on the offline page."""

from collections.abc import Mapping, Sequence
from html import escape as _
from typing import Any

from leadsman.documents.drawings import plan, section, strips, windows_by_day
from leadsman.documents.offline_parts import FAMILIES, WIDTH, Cells, drawing, heading, source_words, table, unbroken
from leadsman.manner import clock

Data = Mapping[str, Any]

ACCOUNT_HEADS = (
    *("Leg", "At", "Time", "Depth", "Level", "Draught", "Static", "Gross", "Squat", "Net", "Required", "Left"),
    *("Port", "Starboard"),
)


def brief_part(data: Data, said: Data) -> str:
    """Verdict, window, what binds; limits of wind, tugs, last place to turn back; what the rehearsal came to."""
    call, verdict = data["call"], data["verdict"]
    binding = verdict["binding"]
    grade = {"go": "go", "no go": "no-go"}.get(verdict["word"], "cautions")
    where = f"{binding['place']}, {binding['distance']['text']}, {binding['time']['clock']} {clock()}"
    return (
        f'<h1>{_(call["ship"])}</h1><p class="lead">{_(call["name"])}: {_(call["direction_text"])}, '
        f"{_(call['waterway'])}, from {_(call['from'])} to {_(call['to'])}</p>"
        f'<section class="verdict {grade}" aria-label="Verdict"><p class="word">{_(verdict["word"].upper())}</p>'
        f"<p>{_(verdict['sentence'])}</p></section>"
        '<dl class="key">'
        f"<div><dt>Start, {clock()}</dt><dd>{_(call['start']['clock'])}</dd>"
        f"<dd>{_(call['start']['date'])}</dd></div>"
        + _window(data["nearest_window"])
        + f"<div><dt>Least left: {_(binding['limit_text'])}</dt><dd>{_(binding['margin']['text'])}</dd>"
        f"<dd>{_(where)}: there is {_(binding['value']['text'])}, required {_(binding['required']['text'])}</dd></div>"
        + _limits(data["tugs"], said, data["verdict"]["binding"]["place"])
        + "</dl>"
        + ("" if said["orders"] is None else f"<p><strong>{_(said['orders']['outcome'])}</strong></p>")
        + heading("Start times by day")
        + drawing(windows_by_day(data, FAMILIES, WIDTH), "Start times by day; every window stands in the table below.")
        + heading("Tightest places, worst first")
        + table(
            ("", "Place", "Limit", "Distance", "Time", "There is", "Required", "Left"),
            (
                (
                    place["letter"],
                    place["place"],
                    place["limit_text"],
                    place["distance"]["text"],
                    place["time"]["clock"],
                    place["value"]["text"],
                    place["required"]["text"],
                    place["margin"]["text"],
                )
                for place in data["tightest"]
            ),
        )
        + heading("Findings")
        + _findings(data["findings"])
        + heading("What would change it")
        + _remedies(data["remedies"])
    )


def _limits(tugs: Sequence[Data], said: Data, place: str) -> str:
    wind, turn = said["wind"], said["turn"]
    most = ("not known", "holding was not answered")
    if wind is not None:
        most = (wind["limit"], wind["words"] + (wind["word"] if wind["held"] else wind["word"].upper()))
    back = ("none named", f"on the way to {place}")
    if turn is not None:
        back = (turn["place"], f"until {turn['until']}, before {turn['before']}")
    names = ", ".join(f"{tug['name']} {unbroken(tug['bollard_pull']['text'])}" for tug in tugs)
    cells = (
        ("Wind, at most", *most),
        ("Tugs", f"{len(tugs)} ordered" if tugs else "none ordered", names),
        ("Last place to turn back", *back),
    )
    return "".join(f"<div><dt>{_(head)}</dt><dd>{_(main)}</dd><dd>{_(below)}</dd></div>" for head, main, below in cells)


def _window(choice: Data | None) -> str:
    if choice is None:
        return f"<div><dt>Window, {clock()}</dt><dd>none</dd><dd>in the time looked at</dd></div>"
    one = choice["window"]
    late = "next after the planned start" if choice["later"] else "last before the planned start"
    where = "the planned start lies in it" if choice["holds"] else late
    opens, closes = one["opens"], one["closes"]
    day, span = "", opens["date"]
    if opens["date"] != closes["date"]:
        day, span = f"{closes['text'].split(' ')[0]} ", f"{opens['text']} to {closes['text']}"
    return (
        f"<div><dt>Window, {clock()}</dt><dd>{_(opens['clock'])} to {_(day)}{_(closes['clock'])}</dd>"
        f"<dd>{_(span)}, open {_(one['length']['text'])}, {where}</dd></div>"
    )


def _findings(findings: Sequence[Data]) -> str:
    if not findings:
        return "<p>None.</p>"
    rows = (
        f'<li><span class="grade {_(one["grade"])}">{_(one["grade"].upper())}</span> {_(one["sentence"])}'
        + (f' <span class="source">[{_(source_words(one["source"]))}]</span>' if one["source"] else "")
        + "</li>"
        for one in findings
    )
    return f'<ul class="findings">{"".join(rows)}</ul>'


def _remedies(remedies: Sequence[Data]) -> str:
    if not remedies:
        return "<p>She can go as planned; nothing else was looked for.</p>"
    rows = (
        f"<li><strong>{'WORKS' if one['works'] else 'NOT ENOUGH'}</strong> {_(one['sentence'])}</li>"
        for one in remedies
    )
    return f'<ul class="findings">{"".join(rows)}</ul>'


def passage_part(data: Data) -> str:
    return (
        heading("Passage", 1)
        + table(
            ("Leg", "Reach, from and to", "Course", "Distance", "Order, speed", "Begins", "Bend at its end"),
            (_leg(leg) for leg in data["legs"]),
        )
        + heading(f"Under keel where each leg is tightest, and least room to the sides, {data['manner']['lengths']}")
        + table(
            ACCOUNT_HEADS,
            (_account(leg, data["manner"]["length"]) for leg in data["legs"]),
        )
        + "<p>Static: depth and level less draught. Gross: less what bed and level may lack. Net: less squat and her "
        "other motions. Each figure is rounded to the careful side.</p>"
    )


def _leg(leg: Data) -> Cells:
    bend = ""
    if leg["alteration"] is not None:
        bend = (
            f"{leg['alteration']['text']}, radius {leg['bend_radius']['text']}, "
            f"{leg['rate_of_turn']['text'].split(' to ')[0]}, begins {leg['wheel_over_before']['text']} before"
        )
    return (
        str(leg["number"]),
        f"{leg['reach']}: {leg['begins_at']} to {leg['ends_at']}",
        leg["course"]["text"],
        leg["distance"]["text"],
        f"{leg['order_text']}, {leg['speed']['text']}, ground {leg['speed_over_ground']['text']}",
        leg["time_begin"]["clock"],
        bend,
    )


def _account(leg: Data, unit: str) -> Cells:
    """Figures without their unit, which stands over the table."""
    here = leg["tightest"]
    figures = [here[key] for key in ("depth", "water_level", "draught", "static", "gross", "squat")]
    figures += [leg["least_net"], here["required"], leg["least_margin"], leg["room_port"], leg["room_starboard"]]
    bare = (figure["text"].removesuffix(f" {unit}") for figure in figures)
    return (str(leg["number"]), leg["least_at"]["text"], here["time"]["clock"], *bare)


def plans_part(data: Data) -> str:
    return (
        heading("Section along the track at her times")
        + drawing(section(data, FAMILIES, WIDTH, 90.0), "Overhead, under keel and room to the sides along the track.")
        + heading("Plan")
        + drawing(plan(data, FAMILIES, WIDTH, 110.0), "Plan of the whole passage, water tinted by room under her keel.")
        + "<details><summary>Plan in strips, to a larger scale</summary>"
        + drawing(strips(data, FAMILIES, WIDTH, 240.0), "The plan in pieces to a larger scale, in the order sailed.")
        + "</details>"
    )

"""The pack as one page in one file: opens from a stick on a tablet, with no script and no request of any kind."""

import base64
from collections.abc import Iterable, Mapping, Sequence
from html import escape
from pathlib import Path
from typing import Any

from leadsman.documents.caution import CAUTIONS
from leadsman.documents.drawings import plan, section, strips, windows_by_day
from leadsman.documents.fonts import web_letters
from leadsman.documents.letters import spelt_out, unprintable
from leadsman.documents.offline_holding import holding_part
from leadsman.manner import clock

STYLE = Path(__file__).parent / "templates" / "offline.css"
FAMILIES = ("Source Sans 3", "Arial Narrow", "Liberation Sans Narrow", "sans-serif")
WIDTH = 184.0  # mm of the drawings' own paper; the page stretches them to the screen

ACCOUNT_HEADS = (
    *("Leg", "At", "Time", "Depth", "Level", "Draught", "Static", "Gross", "Squat", "Net", "Required", "Left"),
    *("Port", "Starboard"),
)

POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
"""The page may fetch nothing and run nothing."""

Data = Mapping[str, Any]
Cells = Sequence[str]


def offline_page(data: Data) -> str:
    """The whole page; the same assessment gives the same text."""
    shown = spelt_out(data, unprintable(data))
    call = shown["call"]
    title = f"{call['ship']}: {call['name']}"
    otherwise = _(f"{shown['manner']['words']} ".lstrip())
    parts = [_brief(shown), _passage(shown), _plans(shown), holding_part(shown, FAMILIES, _table), _grounds(shown)]
    return (
        '<!doctype html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_(title)}</title>\n<style>\n{_letters()}{STYLE.read_text('utf-8')}</style>\n</head>\n<body>\n"
        '<label class="night"><input type="checkbox" id="night"> dark bridge</label>\n'
        f"<main>\n{''.join(parts)}</main>\n"
        f"<footer><p>{_(shown['caution'])}</p>"
        f"<p>{_(title)}. Start {_(_day_and_time(call['start']))} {_(clock())}, all times {_(clock())}. "
        f"{otherwise}Revision {_(shown['fingerprint'])}.</p></footer>\n</body>\n</html>\n"
    )


_ = escape


def _letters() -> str:
    """The letters of the sheets within the page, where their package is at hand."""
    faces = []
    for weight, file in web_letters().items():
        content = base64.b64encode(file.read_bytes()).decode("ascii")
        faces.append(
            f'@font-face{{font-family:"{FAMILIES[0]}";font-weight:{weight};'
            f"src:url(data:font/woff2;base64,{content})}}\n"
        )
    return "".join(faces)


def _day_and_time(time: Data) -> str:
    return f"{time['date']} {time['clock']}"


def _brief(data: Data) -> str:
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
        f"<div><dt>Start, {_(clock())}</dt><dd>{_(call['start']['clock'])}</dd>"
        f"<dd>{_(call['start']['date'])}</dd></div>"
        + _window(data["nearest_window"])
        + f"<div><dt>Least left: {_(binding['limit_text'])}</dt><dd>{_(binding['margin']['text'])}</dd>"
        f"<dd>{_(where)}: there is {_(binding['value']['text'])}, required {_(binding['required']['text'])}</dd></div>"
        "</dl>"
        + _heading("Start times by day")
        + _drawing(windows_by_day(data, FAMILIES, WIDTH), "Start times by day; every window stands in the table below.")
        + _heading("Tightest places, worst first")
        + _table(
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
        + _heading("Findings")
        + _findings(data["findings"])
        + _heading("What would change it")
        + _remedies(data["remedies"])
    )


def _window(choice: Data | None) -> str:
    if choice is None:
        return f"<div><dt>Window, {_(clock())}</dt><dd>none</dd><dd>in the time looked at</dd></div>"
    one = choice["window"]
    late = "next after the planned start" if choice["later"] else "last before the planned start"
    where = "the planned start lies in it" if choice["holds"] else late
    return (
        f"<div><dt>Window, {_(clock())}</dt><dd>{_(one['opens']['clock'])} to {_(one['closes']['clock'])}</dd>"
        f"<dd>{_(one['opens']['date'])}, open {_(one['length']['text'])}, {where}</dd></div>"
    )


def _findings(findings: Sequence[Data]) -> str:
    if not findings:
        return "<p>None.</p>"
    rows = (
        f'<li><span class="grade {_(one["grade"])}">{_(one["grade"].upper())}</span> {_(one["sentence"])}'
        + (f' <span class="source">[{_(one["source"])}]</span>' if one["source"] else "")
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


def _passage(data: Data) -> str:
    return (
        _heading("Passage", 1)
        + _table(
            (
                "Leg",
                "Reach",
                "From and to",
                "Course",
                "Distance",
                "Order",
                "Speed",
                "Ground",
                "Begins",
                "Bend at its end",
            ),
            (_leg(leg) for leg in data["legs"]),
        )
        + _heading("Under keel where each leg is tightest, and least room to the sides")
        + _table(
            ACCOUNT_HEADS,
            (_account(leg) for leg in data["legs"]),
        )
        + "<p>Static: depth and level less draught. Gross: less what bed and level may lack. Net: less squat and her "
        "other motions. Each figure is rounded to the careful side.</p>"
    )


def _leg(leg: Data) -> Cells:
    bend = ""
    if leg["alteration"] is not None:
        bend = (
            f"{leg['alteration']['text']}, radius {leg['bend_radius']['text']}, {leg['rate_of_turn']['text']}, "
            f"begins {leg['wheel_over_before']['text']} before"
        )
    return (
        str(leg["number"]),
        leg["reach"],
        f"{leg['begins_at']} to {leg['ends_at']}",
        leg["course"]["text"],
        leg["distance"]["text"],
        leg["order_text"],
        leg["speed"]["text"],
        leg["speed_over_ground"]["text"],
        leg["time_begin"]["clock"],
        bend,
    )


def _account(leg: Data) -> Cells:
    here = leg["tightest"]
    figures = [here[key]["text"] for key in ("depth", "water_level", "draught", "static", "gross", "squat")]
    figures += [leg["least_net"]["text"], here["required"]["text"], leg["least_margin"]["text"]]
    figures += [leg["room_port"]["text"], leg["room_starboard"]["text"]]
    return (str(leg["number"]), leg["least_at"]["text"], here["time"]["clock"], *figures)


def _plans(data: Data) -> str:
    return (
        _heading("Section along the track at her times")
        + _drawing(section(data, FAMILIES, WIDTH, 90.0), "Overhead, under keel and room to the sides along the track.")
        + _heading("Plan")
        + _drawing(
            plan(data, FAMILIES, WIDTH, 110.0), "Plan of the whole passage, water tinted by room under her keel."
        )
        + "<details><summary>Plan in strips, to a larger scale</summary>"
        + _drawing(strips(data, FAMILIES, WIDTH, 240.0), "The plan in pieces to a larger scale, in the order sailed.")
        + "</details>"
    )


def _turn_backs(places: list[Data]) -> str:
    """Where she can wait or turn, where there is more than the sea outside."""
    if len(places) < 2:
        return ""
    return _heading("Where she can wait or turn back, and what lies ahead of it") + _table(
        ("Place", f"Until, {clock()}", "Least left ahead", "There at", "To spare"),
        (
            (
                one["place"] or "before she starts",
                one["time"]["clock"],
                one["ahead"],
                one["ahead_time"]["clock"],
                one["margin"]["text"],
            )
            for one in places
        ),
    )


def _grounds(data: Data) -> str:
    return (
        _heading("What the plan rests on", 1)
        + _heading("If she is early or late: least left over the whole passage")
        + _table(
            (f"Start, {clock()}", "Under keel", "Overhead", "Rule that shuts it", "What binds", "Limits hold"),
            (
                (
                    one["start"]["clock"],
                    one["underkeel"]["text"],
                    "none" if one["overhead"] is None else one["overhead"]["text"],
                    one["rule"],
                    _held(one["binding"]),
                    "yes" if one["holds"] else "no",
                )
                for one in data["around"]
            ),
        )
        + _turn_backs(data["turn_backs"])
        + _heading("Windows of start times")
        + _table(
            ("Opens", "Closes", "Open for", "Held before by", "Held after by", "Most room"),
            (
                (
                    one["opens"]["text"],
                    one["closes"]["text"],
                    one["length"]["text"],
                    _held(one["opens_by"]),
                    _held(one["closes_by"]),
                    f"{one['best']['margin']['text']} at {one['best_start']['clock']}",
                )
                for one in data["windows"]
            ),
        )
        + _rules(data["rules"])
        + _sides(data)
        + _heading("The account under her keel, line by line, at the tightest place of each leg")
        + _table(
            (
                "Line",
                *(f"Leg {leg['number']}, {leg['tightest']['time']['clock']}" for leg in data["legs"]),
                "How it was got",
            ),
            (_line(data, index, line) for index, line in enumerate(data["account"]["lines"])),
        )
        + _heading("Ship, water and margins as handed over")
        + _table(("", ""), _handed_over(data))
        + _heading("Figures the answer was made from")
        + _table(
            ("Figure", "Value", "Band", "How it was got"),
            (
                (
                    figure["name"].replace("_", " "),
                    figure["text"],
                    "" if figure["band"] is None else figure["band"]["text"],
                    _origin(figure),
                )
                for figure in [*data["figures"].values(), *_gate_figures(data)]
            ),
        )
        + _heading("Cautions")
        + "<ul>"
        + "".join(f"<li>{_(sentence)}</li>" for sentence in CAUTIONS)
        + "</ul>"
    )


def _rules(rules: Sequence[Data]) -> str:
    if not rules:
        return ""
    return _heading("Rules of the port at this start") + _table(
        ("Rule", "Where", "Kept", "She and the rule", "To spare", "Whose rule"),
        (
            (
                one["name"],
                one["place"],
                one["kept_text"],
                one["words"],
                "" if one["margin"] is None else one["margin"]["text"],
                one["source"],
            )
            for one in rules
        ),
    )


def _sides(data: Data) -> str:
    return "".join(_heading(one["title"]) + _table(one["heads"], one["rows"]) for one in data["side_tables"])


def _held(binding: Data | None) -> str:
    return "" if binding is None else f"{binding['limit_text']}, {binding['place']}"


def _line(data: Data, index: int, line: Data) -> Cells:
    sign = {-1: "less ", 0: "", 1: "add "}[line["effect"]]
    values = (leg["tightest"]["lines"][index]["text"] for leg in data["legs"])
    return (sign + line["label"], *values, _origin(line))


def _origin(entry: Data) -> str:
    return ", ".join(words for words in (entry["origin"], entry["method"], entry["source"]) if words)


def _gate_figures(data: Data) -> Iterable[Data]:
    for gate in data["gates"]:
        for figure in gate["figures"].values():
            yield {**figure, "name": f"{gate['name']}: {figure['name']}"}


def _handed_over(data: Data) -> Iterable[Cells]:
    ship, loading, forecast, margins = (data[key] for key in ("ship", "loading", "forecast", "margins"))
    yield "Length, beam", f"{ship['length_overall']['text']}, {ship['beam']['text']}"
    yield "Draught forward, aft", f"{loading['draught_forward']['text']}, {loading['draught_aft']['text']}"
    yield "Trim", loading["trim"]["text"]
    yield "Displacement", f"{loading['displacement']['text']}, {loading['condition']}"
    yield "Engine", ship["engine"]
    yield "Thrusters", ship["thrusters"]
    low, high = forecast["residual_low"]["text"], forecast["residual_high"]["text"]
    yield "Residual", f"{forecast['residual']['text']} ({low} to {high})"
    yield "Wind", forecast["wind"]
    yield "Waves", forecast["waves"]
    yield "Margin under keel", margins["underkeel"]["text"]
    yield "Margin overhead", margins["overhead"]["text"]
    yield "Tugs", ", ".join(f"{tug['name']} {tug['bollard_pull']['text']}" for tug in data["tugs"]) or "none ordered"


def _heading(words: str, level: int = 2) -> str:
    return f"\n<h{level}>{_(words)}</h{level}>\n"


def _drawing(svg: str, words: str) -> str:
    return f'<figure role="img" aria-label="{_(words)}">{svg}</figure>'


def _table(heads: Cells, rows: Iterable[Cells]) -> str:
    body = "".join(f"<tr>{''.join(map(_cell, row))}</tr>\n" for row in rows)
    if not body:
        return "<p>None.</p>"
    head = "".join(f'<th scope="col">{_(words)}</th>' for words in heads)
    head = f"<thead><tr>{head}</tr></thead>" if any(heads) else ""
    return f'<div class="wide" tabindex="0"><table>{head}<tbody>\n{body}</tbody></table></div>'


def _cell(words: str) -> str:
    """Figures stay on one line; sentences get room."""
    short = len(words) <= 14 and any(letter.isdigit() for letter in words)
    kind = ' class="figure"' if short else ' class="words"' if len(words) > 24 else ""
    return f"<td{kind}>{_(words)}</td>"

"""The pack as one page in one file: opens from a stick on a tablet, with no request of any kind.

One script runs, that of the replay, and only where a rehearsal of this plan goes along; the page's policy names it by
its hash and lets nothing else run.
"""

import base64
import re
from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Any

from leadsman.documents.carried import NOTHING_REHEARSED, NOTHING_SAID, Rehearsed, said_of
from leadsman.documents.fonts import web_letters
from leadsman.documents.letters import spelt_out, unprintable
from leadsman.documents.offline_grounds import grounds_part
from leadsman.documents.offline_holding import holding_part
from leadsman.documents.offline_parts import FAMILIES, table
from leadsman.documents.offline_passage import brief_part, passage_part, plans_part
from leadsman.documents.offline_replay import replay_part, script, script_mark
from leadsman.documents.offline_sheets import contingency_part, exchange_part, orders_part, times_part
from leadsman.documents.offline_ship import ship_part
from leadsman.manner import clock
from leadsman.record import Record

STYLE = Path(__file__).parent / "templates" / "offline.css"
POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
"""The page may fetch nothing and run nothing, but for what is added to this."""
LOOKS = ("day", "dim", "night")

Data = Mapping[str, Any]


def offline_page(
    data: Data,
    record: Record = NOTHING_SAID,
    rehearsed: Rehearsed = NOTHING_REHEARSED,
    ship: Data | None = None,
) -> str:
    """The whole page with the content of the sheets; equal content gives equal text."""
    everything = [dict(data), said_of(dict(data), record, rehearsed), dict(ship or {}), dict(rehearsed.orders or {})]
    missing = unprintable(everything)
    shown, said, aboard, run = (spelt_out(one, missing) for one in everything)
    replayed = replay_part(shown, run) if said["orders"] is not None and run["planned"]["track"] else ""
    parts = [
        brief_part(shown, said),
        passage_part(shown),
        plans_part(shown),
        times_part(shown, said),
        contingency_part(said),
        orders_part(said),
        replayed,
        holding_part(shown, FAMILIES, table),
        exchange_part(said),
        ship_part(aboard),
        grounds_part(shown, aboard),
    ]
    return _framed(shown, "".join(parts), bool(replayed))


def _framed(data: Data, body: str, scripted: bool) -> str:
    call = data["call"]
    title = f"{call['ship']}: {call['name']}"
    policy = f"{POLICY}; script-src '{script_mark()}'" if scripted else POLICY
    otherwise = escape(f"{data['manner']['words']} ".lstrip())
    start = f"{call['start']['date']} {call['start']['clock']}"
    return (
        '<!doctype html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{_letters()}{STYLE.read_text('utf-8')}</style>\n</head>\n<body>\n"
        f"{_looks()}{_places(body)}<main>\n{body}</main>\n"
        f"<footer><p>{escape(data['caution'])}</p>"
        f"<p>{escape(title)}. Start {escape(start)} {clock()}, all times {clock()}. "
        f"{otherwise}Revision {escape(data['fingerprint'])}.</p></footer>\n"
        + (f"<script>{script()}</script>\n" if scripted else "")
        + "</body>\n</html>\n"
    )


def _looks() -> str:
    """For a bright, a dim and a dark bridge; works without any script."""
    choices = "".join(
        f'<label><input type="radio" name="look" id="{look}"{" checked" if look == "day" else ""}> {look}</label>'
        for look in LOOKS
    )
    return f'<div class="looks" role="radiogroup" aria-label="Look">{choices}</div>\n'


def _places(body: str) -> str:
    """A list of the parts, each with the way to it."""
    parts = re.findall(r'<h1 id="([^"]+)">([^<]+)</h1>', body)
    links = "".join(f'<li><a href="#{place}">{words}</a></li>' for place, words in parts)
    return f'<nav aria-label="Parts"><ul>{links}</ul></nav>\n'


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

"""Holding and tugs on the offline page: the table of places, balance and rose of each place where she is stopped."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from html import escape
from typing import Any

from leadsman.documents.drawings import balance, rose, shown_places
from leadsman.documents.offline_parts import heading, unbroken

Data = Mapping[str, Any]
Cells = Sequence[str]
Table = Callable[[Cells, Iterable[Cells]], str]
SIZE = 90.0  # mm of the drawings' own paper


def holding_part(data: Data, families: Sequence[str], table: Table) -> str:
    """The whole part; empty where holding is not answered."""
    found = data["holding"]
    if found is None:
        return ""
    parts = [
        heading("Holding and tugs", 1),
        table(
            (
                "Place",
                "",
                "Time",
                "Heading",
                "Wind from",
                "Stream towards",
                "Held",
                "Reserve",
                "Wind from there, at most",
            ),
            (_row(place) for place in found["places"]),
        ),
    ]
    for place in shown_places(data):
        parts.append(_place(place, found, families, table))
    return "".join(parts)


def _row(place: Data) -> Cells:
    return (
        place["place"],
        place["situation_text"],
        place["time"]["clock"],
        place["heading"]["text"],
        unbroken(f"{place['wind']['text']} {place['wind_from']['text']}"),
        unbroken(f"{place['stream']['text']} {place['stream_towards']['text']}"),
        place["word"],
        place["reserve"]["text"],
        place["wind_limit"]["text"],
    )


def _place(place: Data, found: Data, families: Sequence[str], table: Table) -> str:
    limits = found["roses"][place["key"]]
    sets = "; ".join(
        f"{index}: {one['name']}, least {one['least']['text']} from {one['least_from']}"
        for index, one in enumerate(limits["sets"])
    )
    words = ", ".join(arrow["words"] for arrow in place["drawing"]["arrows"])
    orders = (
        one
        for one in place["balance"]["orders"]
        if (one["used"] > 0 and one["words"] != "stop") or one["kind"] == "tug"
    )
    return (
        f"\n<h2>{escape(place['place'])}, {escape(place['situation_text'])}: {escape(place['word'])}</h2>\n"
        + '<div class="beside">'
        + _figure(balance(place, found, families, SIZE, SIZE), f"Forces on her: {words}.")
        + _figure(rose(place, limits, families, SIZE), f"Greatest wind by direction. {sets}.")
        + "</div>"
        + f"<p>{escape(sets)}. The cross is the wind now; rings in knots.</p>"
        + table(
            ("Means", "What it does", "Force", "Used"),
            ((one["name"], one["words"], one["force"]["text"], one["used_text"]) for one in orders),
        )
        + "".join(f"<p>{escape(one['sentence'])}</p>" for one in place["changes"])
    )


def _figure(svg: str, words: str) -> str:
    return f'<figure role="img" aria-label="{escape(words, quote=True)}">{svg}</figure>'

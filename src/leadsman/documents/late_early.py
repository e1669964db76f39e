"""What the brief and the sheet of times say beyond the assessment's own words: starts about the planned one, wind."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from leadsman import format as text

Data = dict[str, Any]

UNDERKEEL, OVERHEAD = "underkeel", "overhead"


def late_or_early(data: Mapping[str, Any]) -> list[Data]:
    """A row for each other start: how far off it is, what is left and by how much that differs from the planned one."""
    planned = datetime.fromisoformat(data["call"]["start"]["value"])
    usual = next((one for one in data["around"] if one["start"]["value"] == data["call"]["start"]["value"]), None)
    return [_row(one, usual, datetime.fromisoformat(one["start"]["value"]) - planned) for one in data["around"]]


def _row(one: Data, usual: Data | None, off: timedelta) -> Data:
    binding = one["binding"]
    where = f"{binding['limit_text']}, {binding['place']}, {binding['time']['clock']}"
    return {
        "start": one["start"]["clock"],
        "off": _off(off),
        "planned": not off,
        "underkeel": _left_under(one)["text"],
        "change": "" if usual is None or not off else _change(_left_under(one), _left_under(usual)),
        "overhead": _left_over(one),
        "binds": where if binding["limit"] in (UNDERKEEL, OVERHEAD) else f"{where}: {binding['margin']['text']}",
        "rule": one["rule"],
        "holds": one["holds"],
    }


def _left_under(one: Data) -> Data:
    """Where the keel binds, the figure of the full account, as on the brief; else that of the scan of starts."""
    found: Data = one["binding"]["margin"] if one["binding"]["limit"] == UNDERKEEL else one["underkeel"]
    return found


def _left_over(one: Data) -> str | None:
    """None where nothing hangs over the passage."""
    if one["overhead"] is None:
        return None
    found: Data = one["binding"]["margin"] if one["binding"]["limit"] == OVERHEAD else one["overhead"]
    return str(found["text"])


def _off(off: timedelta) -> str:
    if not off:
        return "as planned"
    return f"{text.duration(abs(off))} {'early' if off < timedelta(0) else 'late'}"


def _change(one: Data, usual: Data) -> str:
    return text.metres_signed(float(one["value"]) - float(usual["value"]))


def least_wind(data: Mapping[str, Any]) -> Data | None:
    """The place with the least wind she is held in, with what there is in hand; None where holding is not answered."""
    places = [] if data["holding"] is None else data["holding"]["places"]
    if not places:
        return None
    least = min(places, key=lambda place: float(place["wind_limit"]["value"]))
    return {
        "limit": least["wind_limit"]["text"],
        "words": f"from {least['wind_from']['text']}, {least['place']}, {least['situation_text']}; "
        f"forecast {least['wind']['text']}: ",
        "word": least["word"],
        "held": least["balance"]["held"],
    }


def last_turn(data: Mapping[str, Any]) -> Data | None:
    """The last place named where she can wait or turn back before the place that binds; None where there is none."""
    binding = data["verdict"]["binding"]
    before = [
        one
        for one in data["turn_backs"]
        if one["place"] and one["distance"]["value"] < binding["distance"]["value"] and one["place"] != binding["place"]
    ]
    if not before:
        return None
    last = before[-1]
    return {"place": last["place"], "until": last["time"]["clock"], "before": binding["place"]}

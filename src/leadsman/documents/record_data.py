"""The record of a port call as plain data (`leadsman.record/1`): every item with what was last said of it, and all
entries."""

from typing import Any

from leadsman import format as text
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.checklists import EXCHANGE_PARTS, checklists, item_keys, tests_for
from leadsman.record import Entry, Record, State

SCHEMA = "leadsman.record/1"
TITLES = {"ship_tells": "The ship tells", "pilot_tells": "The pilot tells", "agreed": "To be agreed"}
STATES = {
    "ship_tells": (State.TOLD,),
    "pilot_tells": (State.TOLD,),
    "agreed": (State.AGREED, State.CHANGED, State.REFUSED),
    "tests": (State.DONE, State.DEFECT),
}
"""What can be said of the items of each list; any of them can be withdrawn."""


def record_data(record: Record, direction: str, plan: str) -> dict[str, Any]:
    """The record ready for JSON; `plan` is the fingerprint of the assessment as it stands now."""
    lists = checklists()
    tests = tests_for(direction)
    latest, texts = record.latest(), item_keys(direction)
    parts = [
        _part(part, TITLES[part], lists["exchange"]["source"], lists["exchange"][part], STATES[part], latest, plan)
        for part in EXCHANGE_PARTS
    ]
    items = lists[tests]["items"]
    parts.append(_part(tests, lists[tests]["title"], lists[tests]["source"], items, STATES["tests"], latest, plan))
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "number": len(record.entries),
        "mark": record.mark,
        "plan": plan,
        "parts": parts,
        "entries": [_entry(entry, texts) for entry in record.entries],
        "open": sum(item["said"] is None for part in parts for item in part["items"]),
    }


def _part(
    key: str,
    title: str,
    source: str,
    items: list[dict[str, str]],
    states: tuple[State, ...],
    latest: dict[str, Entry],
    plan: str,
) -> dict[str, Any]:
    return {
        "key": key,
        "title": title,
        "source": source,
        "states": [state.value for state in states],
        "items": [_item(f"{key}.{item['key']}", item["text"], latest, plan) for item in items],
    }


def _item(key: str, words: str, latest: dict[str, Entry], plan: str) -> dict[str, Any]:
    said = latest.get(key)
    return {
        "key": key,
        "text": words,
        "said": None if said is None else _entry(said, {key: words}),
        "earlier_plan": said is not None and said.plan != plan,
    }


def _entry(entry: Entry, texts: dict[str, str]) -> dict[str, Any]:
    return {
        "number": entry.number,
        "time": text.iso(entry.time),
        "clock": text.clock(entry.time),
        "by": entry.by,
        "role": entry.role.value,
        "item": entry.item,
        "text": texts.get(entry.item, ""),
        "state": entry.state.value,
        "words": entry.words,
        "plan": entry.plan,
        "mark": entry.mark,
    }


def print_record(data: dict[str, Any]) -> None:
    """The record on a terminal: each item with what was last said of it, then what stands for the whole."""
    for part in data["parts"]:
        print(part["title"])
        for item in part["items"]:
            said = item["said"]
            state = said["state"] if said else "-"
            print(f"  {state:10} {item['text']}")
            if said:
                older = " (of an earlier plan)" if item["earlier_plan"] else ""
                words = f": {said['words']}" if said["words"] else ""
                print(f"  {'':10} {said['time']} {said['by']}, {said['role']}{words}{older}")
    print(f"{data['number']} entries, the last marked {data['mark']}; {data['open']} items open.")
    print(data["caution"])

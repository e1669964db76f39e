"""What differs between two versions of a call's parts, thing by thing, in words a mariner reads."""

from collections.abc import Iterator, Mapping
from typing import Any

from leadsman.files.toml_merge import NAMING

MOST = 20  # changes told one by one; the rest are counted


def what_changed(before: Mapping[str, Any], now: Mapping[str, Any]) -> list[tuple[str, str]]:
    """(where, what) of each change, such as `("waterway, gate Lych Bridge, clearance_m", "27.1 is 26.8 now")`."""
    found = [change for part in sorted({*before, *now}) for change in _changes(part, before.get(part), now.get(part))]
    more = len(found) - MOST
    return found if more <= 0 else [*found[:MOST], ("", f"and {more} more changes")]


def _changes(where: str, before: Any, now: Any) -> Iterator[tuple[str, str]]:
    if before == now:
        return
    if isinstance(before, Mapping) and isinstance(now, Mapping):
        for key in {**before, **now}:
            yield from _changes(_inside(where, key), before.get(key), now.get(key))
    elif _named(before) and _named(now):
        old, new = {_name(row): row for row in before}, {_name(row): row for row in now}
        yield from _rows(where, old, new)
        if [name for name in old if name in new] != [name for name in new if name in old]:
            yield where, "stand in another order now"
    elif before is None:
        yield where, f"{_shown(now)} was added"
    elif now is None:
        yield where, f"{_shown(before)} was taken out"
    else:
        yield where, f"{_shown(before)} is {_shown(now)} now"


def _rows(where: str, before: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for name in {**before, **now}:
        if name not in now:
            yield f"{where} {name}", "was taken out"
        elif name not in before:
            yield f"{where} {name}", "was added"
        else:
            yield from _changes(f"{where} {name}", before[name], now[name])


def _inside(where: str, key: str) -> str:
    """GeoJSON's own words are left out: a mariner looks for the area."""
    return where if key in ("features", "properties", "geometry") else f"{where}, {key}"


def _named(rows: Any) -> bool:
    return isinstance(rows, list) and bool(rows) and all(isinstance(row, Mapping) and _name(row) for row in rows)


def _name(row: Mapping[str, Any]) -> str:
    properties = row.get("properties")
    table = properties if isinstance(properties, Mapping) else row
    return next((str(table[key]) for key in NAMING if key in table), "")


def _shown(value: Any) -> str:
    if isinstance(value, Mapping | list):
        return "what was there" if value else "nothing"
    return f"'{value}'" if isinstance(value, str) else str(value)

"""Every table of a call's files as fields of a form: label, unit, choices, what is expected; from the shapes alone."""

import types
import typing
from collections.abc import Iterator
from datetime import datetime
from typing import Any, Literal

from pydantic import AwareDatetime
from pydantic.fields import FieldInfo

from leadsman.files.ask_card import holds_more, kinds_of, name_and_unit, spoken
from leadsman.files.call_files import (
    CallShape,
    ForecastShape,
    MarginsShape,
    ReachPlanShape,
    SearchShape,
    TugShape,
)
from leadsman.files.rule_file import ASKS, MooredShape, MovementShape, RuleShape
from leadsman.files.shape import FileShape, optional, required
from leadsman.files.station_file import StreamStationShape, TideStationShape
from leadsman.files.waterway_file import (
    BasinShape,
    BerthShape,
    GateShape,
    MarkShape,
    PlaceShape,
    ReachShape,
    WaitingPlaceShape,
    WaterwayShape,
    WaypointShape,
)

Field = dict[str, Any]


class AreaShape(FileShape):
    """The properties of a depth area in `areas.geojson`; `areas_file.py` reads them."""

    name: str = required("a name")
    depth_m: float = required('metres below chart datum, negative dries, or "unsurveyed"', -20.0, 11_000.0)
    survey_uncertainty_m: float | None = optional("metres, 95 percent", 0.0, 50.0)
    siltation_m: float | None = optional("metres that may have settled since the survey", 0.0, 50.0)
    surveyed: str | None = optional("when, such as 2031-03")
    bottom: str | None = optional("text such as mud")


TABLES: dict[str, type[FileShape]] = {
    "waterway": WaterwayShape,
    "place": PlaceShape,
    "waypoint": WaypointShape,
    "reach": ReachShape,
    "gate": GateShape,
    "basin": BasinShape,
    "berth": BerthShape,
    "mark": MarkShape,
    "waiting_place": WaitingPlaceShape,
    "rule": RuleShape,
    "tide_station": TideStationShape,
    "stream_station": StreamStationShape,
    "area": AreaShape,
    "call": CallShape,
    "search": SearchShape,
    "margins": MarginsShape,
    "plan": ReachPlanShape,
    "tug": TugShape,
    "movement": MovementShape,
    "moored": MooredShape,
    "forecast": ForecastShape,
}


ENDINGS = {  # units the card does not have
    "_m_s": "m/s",
    "_nm": "nm",
    "_kNm": "kN m",
    "_kN": "kN",
    "_h": "h",
}


def call_form() -> dict[str, Any]:
    """`tables`: the plain fields of each table, in the order of the file; `inner`: the tables within it."""
    shapes = dict(_with_inner(TABLES))
    return {
        "tables": {
            name: [_field(key, field) for key, field in shape.model_fields.items() if not _holds_more(field)]
            for name, shape in shapes.items()
        },
        "inner": {name: found for name, shape in shapes.items() if (found := _inner(name, shape))},
    }


def _with_inner(tables: dict[str, type[FileShape]]) -> Iterator[tuple[str, type[FileShape]]]:
    for name, shape in tables.items():
        yield name, shape
        yield from _with_inner({one["table"]: _shape_in(shape.model_fields[one["key"]]) for one in _inner(name, shape)})


def _inner(name: str, shape: type[FileShape]) -> list[Field]:
    """The tables within one; a table that has a form of its own is named by it."""
    return [
        {
            "key": key,
            "table": key if TABLES.get(key) is _shape_in(field) else f"{name}.{key}",
            "label": spoken(key),
            "many": list in _kinds(field),
            "needed": field.is_required(),
            "instead": shape is RuleShape and key in ASKS,
        }
        for key, field in shape.model_fields.items()
        if _tables(field)
    ]


def _shape_in(field: FieldInfo) -> type[FileShape]:
    found: type[FileShape] = next(kind for kind in _kinds(field) if _is_table(kind))
    return found


def _is_table(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, FileShape)


def _field(key: str, field: FieldInfo) -> Field:
    name, unit = next(
        ((key.removesuffix(ending), unit) for ending, unit in ENDINGS.items() if key.endswith(ending)),
        (key.replace("_percent_of_", "_of_"), "%") if "_percent_of_" in key else name_and_unit(key),
    )
    kind, choices = _kind(field)
    return {
        "path": [key],
        "name": name,
        "label": spoken(name),
        "unit": unit,
        "kind": kind,
        "choices": choices,
        "needed": field.is_required(),
        "usual": field.default if isinstance(field.default, str | bool) and field.default != "" else None,
        "expected": field.description or "",
    }


def _holds_more(field: FieldInfo) -> bool:
    """Tables within the table, and tables of a key for each name; a list of plain values is a field."""
    kinds = _kinds(field)
    return _tables(field) or (kinds != [datetime] and list not in kinds and holds_more(field.annotation))


def _tables(field: FieldInfo) -> bool:
    return any(_is_table(kind) for kind in _kinds(field))


def _kinds(field: FieldInfo) -> list[Any]:
    plain = [kind for kind in kinds_of(field.annotation) if kind is not types.NoneType]
    return [datetime] if AwareDatetime in plain else plain


def _kind(field: FieldInfo) -> tuple[str, list[str]]:
    *listed, kind = _kinds(field)
    if listed:
        return "pair" if kind is float else "lines", []
    if typing.get_origin(kind) is Literal:
        return "choice", [str(word) for word in typing.get_args(kind)]
    return {bool: "yes", int: "count", float: "number", str: "text", datetime: "text"}[kind], []

"""The ship card as a form: every key of `ship.toml` under the headings of IMO Resolution A.601(15), and a form read.

Fields come from the shapes of the file, so the form cannot lack a key; the headings alone are written here.
"""

import types
import typing
from collections.abc import Iterator, Mapping
from typing import Any, Literal

from pydantic.fields import FieldInfo

from leadsman.equipment import ORDERS
from leadsman.errors import InputError, InputErrors
from leadsman.files.ask_card import ABOARD, HEAD, holds_more, kinds_of, name_and_unit, spoken
from leadsman.files.explain import shaped
from leadsman.files.own_figures_file import OwnFiguresShape
from leadsman.files.own_figures_file import keys as own_figure_keys
from leadsman.files.poster_file import PosterShape, SquatShape, StopShape, TurningCircleShape, ZigZagShape
from leadsman.files.shape import FileShape
from leadsman.files.ship_file import (
    AnchorsShape,
    EngineShape,
    LoadingShape,
    OrderShape,
    PropellerShape,
    RudderShape,
    ShipShape,
    StateWord,
    SteeringShape,
    ThrusterShape,
    ship_from,
)
from leadsman.files.toml_file import Path, TomlFile
from leadsman.ship import Loading, Ship

OTHER = ("remarks",)
ABOARD_TOO = ("gyro_error_deg",)
DETAILED = ("speed_log", "compass_system", "position_fixing")  # where the open form leaves room for words
LETTERS = {"vhf": "VHF", "arpa": "ARPA", "radar_3cm": "Radar, 3 cm", "radar_10cm": "Radar, 10 cm"}
ELSEWHERE = {"full_ahead_to_full_astern_means": "reversal_meaning"}  # called otherwise where findings speak of it

Field = dict[str, Any]
Group = dict[str, Any]


def card_form() -> list[Group]:
    """The groups of the form in the order of the card, then of the poster."""
    particulars = [key for key in _plain(ShipShape) if key not in (*HEAD, *OTHER, *ABOARD_TOO)]
    return [
        _group("The ship", _fields(ShipShape, (), HEAD)),
        _group("Draughts and today's condition", _fields(LoadingShape, ("loading",))),
        _group("Ship's particulars", _fields(ShipShape, (), particulars)),
        _group("Anchor chain", _fields(AnchorsShape, ("anchors",))),
        _group("Engine", _fields(EngineShape, ("engine",))),
        _group("Manoeuvring engine order", _rows(OrderShape, leave="order"), ("engine", "order"), ORDERS),
        _group("Propellers", _rows(PropellerShape), ("propeller",)),
        _group("Rudders", _rows(RudderShape), ("rudder",)),
        _group("Steering particulars", _fields(SteeringShape, ("steering",))),
        _group("Thrusters", _rows(ThrusterShape), ("thruster",)),
        _group("Checked if aboard and ready", list(_aboard())),
        _group("Other information", [_defects(), *_fields(ShipShape, (), OTHER)]),
        _group("Manoeuvring poster", _fields(PosterShape, ("poster",))),
        _group("Turning circles", _rows(TurningCircleShape), ("poster", "turning_circle")),
        _group("Stopping", _rows(StopShape), ("poster", "stop")),
        _group("Zig-zag tests", _rows(ZigZagShape), ("poster", "zig_zag")),
        _group("Draught increase", _rows(SquatShape), ("poster", "squat")),
    ]


def own_fields() -> list[Field]:
    """Every figure that can be overruled by the handler's own: its key, name, unit, and what is expected."""
    return [
        {"key": key, "name": name, "unit": unit, "expected": OwnFiguresShape.model_fields[key].description or ""}
        for key, (name, _, unit) in own_figure_keys().items()
    ]


def _group(title: str, fields: list[Field], table: Path = (), rows: tuple[str, ...] = ()) -> Group:
    """`table`: where a list of rows stands, each with these fields; `rows`: their names, where the card fixes them."""
    return {
        "title": title,
        "table": list(table),
        "name": f"{table[-1]}s" if table else "",
        "rows": list(rows),
        "fields": fields,
    }


def _plain(shape: type[FileShape]) -> dict[str, FieldInfo]:
    return {key: field for key, field in shape.model_fields.items() if not holds_more(field.annotation)}


def _fields(shape: type[FileShape], table: tuple[str, ...], keys: typing.Iterable[str] | None = None) -> list[Field]:
    plain = _plain(shape)
    return [_field((*table, key), plain[key]) for key in keys or plain]


def _rows(shape: type[FileShape], leave: str = "") -> list[Field]:
    """The fields of one row, relative to it."""
    return [_field((key,), field) for key, field in _plain(shape).items() if key != leave]


def _field(path: tuple[str, ...], field: FieldInfo) -> Field:
    name, unit = name_and_unit(path[-1])
    kind, choices = _kind(field.annotation)
    if path[-1].endswith("_imperial"):
        unit = "ft in"
    return {
        "path": list(path),
        "name": ELSEWHERE.get(name, name.removesuffix("_imperial")),
        "label": spoken(name.removesuffix("_imperial")),
        "unit": unit,
        "kind": kind,
        "choices": choices,
        "needed": field.is_required(),
        "usual": field.default if isinstance(field.default, str | bool) and field.default != "" else None,
        "expected": field.description or "",
    }


def _kind(annotation: Any) -> tuple[str, list[str]]:
    kinds = [kind for kind in kinds_of(annotation) if kind is not types.NoneType]
    if list in kinds:
        return "pair", []
    (kind,) = kinds
    if typing.get_origin(kind) is Literal:
        return "choice", [str(word) for word in typing.get_args(kind)]
    return {bool: "yes", int: "count", float: "number", str: "text"}[kind], []


def _aboard() -> Iterator[Field]:
    """The state of each item, and the card's own words for those that have any."""
    for item in ABOARD:
        label = LETTERS.get(item, spoken(item))
        state = {"kind": "choice", "choices": list(typing.get_args(StateWord)), "expected": "its state as checked"}
        yield _loose(("equipment", item), label, state)
        if item in DETAILED:
            yield _loose(("equipment_details", item), f"{label}, which", {"expected": "text such as doppler"})
    yield from _fields(ShipShape, (), ABOARD_TOO)


def _defects() -> Field:
    return _loose(("defects",), "Defects", {"kind": "lines", "expected": "what bears on navigation, one a line"})


def _loose(path: tuple[str, ...], label: str, more: Field) -> Field:
    """A field whose key the file leaves free."""
    common = {"unit": "", "kind": "text", "choices": [], "needed": False, "usual": None}
    return {"path": list(path), "name": path[0], "label": label} | common | more


def ship_of_form(data: Mapping[str, Any]) -> tuple[Ship, Loading]:
    """Ship and loading of a filled form, in the shape of `ship.toml`; `InputErrors` name fields by their whole path."""
    places = list(_places(data))
    file = TomlFile("", data, {path: line for line, path in enumerate(places)})
    errors: list[InputError] = []
    shape = shaped(file, ShipShape, errors)
    made = None if shape is None else ship_from(file, shape, errors)
    if made is None or errors:
        raise InputErrors(_whole(error, places) for error in errors)
    return made


def _places(value: Any, path: Path = ()) -> Iterator[Path]:
    """Every place in nested tables and lists: what lines are to a file."""
    if path:
        yield path
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _places(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _places(inner, (*path, index))


def _whole(error: InputError, places: list[Path]) -> InputError:
    """The same fault, its field named by the whole path: `propeller.1.diameter_m`."""
    path = () if error.line is None else places[error.line]
    if error.field and (not path or path[-1] != error.field):
        path = (*path, error.field)
    return InputError("", None, ".".join(str(part) for part in path), error.problem)

"""`leadsman card`: ask a person through a ship card on the terminal, and write what she knows as `ship.toml`.

Questions come in the order of the card of IMO Resolution A.601(15). An empty answer means the card does not say; a
question mark tells what is expected. Lengths may be answered in feet and inches (`20 ft 4 in`); they are written in
metres, and where the card has a second reading, beside it. Nothing is written until the last question is answered.
"""

import os
import re
import types
import typing
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal, TypeAlias

import tomlkit
from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from leadsman.equipment import AHEAD_ORDERS, ASTERN_ORDERS
from leadsman.errors import InputError, InputErrors
from leadsman.files.poster_file import FEET_AND_INCHES, metres_of
from leadsman.files.shape import FileShape
from leadsman.files.ship_file import (
    AnchorsShape,
    EngineShape,
    LoadingShape,
    OrderShape,
    PropellerShape,
    RudderShape,
    ShipShape,
    SteeringShape,
    ThrusterShape,
)

Ask: TypeAlias = Callable[[str], str]
"""Puts one question and gives back the answer; raises EOFError or KeyboardInterrupt to leave."""
Tell: TypeAlias = Callable[[str], None]
Answers: TypeAlias = dict[str, Any]

HEAD = ("name", "kind", "call_sign", "year_built", "deadweight_t")
PARTICULARS = (
    "length_overall_m",
    "length_between_perpendiculars_m",
    "beam_m",
    "moulded_depth_m",
    "summer_draught_m",
    "lightship_t",
    "bulbous_bow",
    "bridge_to_bow_m",
    "bridge_to_stern_m",
    "keel_to_highest_point_m",
    "mast_from_stern_m",
    "parallel_body_loaded_m",
    "parallel_body_ballast_m",
)
ABOARD = (
    "anchors",
    "whistle",
    "radar_3cm",
    "radar_10cm",
    "arpa",
    "speed_log",
    "engine_telegraphs",
    "steering_gear",
    "rudder_indicator",
    "revolutions_or_pitch_indicator",
    "rate_of_turn_indicator",
    "compass_system",
    "vhf",
    "position_fixing",
)
STATES = {"": "", "y": "ready", "yes": "ready", "r": "reduced", "d": "defective", "n": "defective", "no": "defective"}
MOST = 12  # of one kind of unit; more is a slip of the finger


def ask_card(ask: Ask, tell: Tell) -> Answers:
    """The whole card as the tables of `ship.toml`; figures not known are absent."""
    questions = Questions(ask, tell)
    tell("Enter alone: the card does not say. ?: what is expected. Ctrl-C: leave, nothing is written.")
    card = questions.table("The ship", ShipShape, HEAD)
    card["loading"] = questions.table("Draughts and today's condition", LoadingShape)
    card |= questions.table("Ship's particulars", ShipShape, PARTICULARS)
    card["anchors"] = questions.table("Anchor chain", AnchorsShape)
    card["engine"] = questions.table("Engine", EngineShape) | {"order": _orders(questions)}
    card["propeller"] = questions.several("Propellers", PropellerShape)
    card["rudder"] = questions.several("Rudders", RudderShape)
    card["steering"] = questions.table("Steering particulars", SteeringShape)
    card["thruster"] = questions.several("Thrusters", ThrusterShape)
    card["equipment"] = _aboard(questions)
    card["defects"] = _lines(questions, "Defects that bear on navigation, one a line; enter alone ends")
    card |= questions.table("Other information", ShipShape, ("remarks",))
    return {key: value for key, value in card.items() if value not in ({}, [], "")}


def must_be_new(path: Path) -> None:
    """`InputErrors` unless a card can be begun here: better told before the first question than after the last."""
    problem = None
    if path.exists():
        problem = "exists already; expected a file that does not"
    elif path.suffix != ".toml":
        problem = "is no name for a ship card; expected one that ends in .toml"
    elif not path.absolute().parent.is_dir():
        problem = "lies in a folder that does not exist; make that first"
    if problem:
        raise InputErrors([InputError(str(path), None, "", problem)])


def write_card_file(path: Path, answers: Answers) -> None:
    """Write the answers as TOML into a file that does not exist yet, whole or not at all."""
    must_be_new(path)
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_text(card_toml(answers), encoding="utf-8")
        os.replace(beside, path)
    except OSError as error:
        raise InputErrors([InputError(str(path), None, "", f"cannot be written: {error.strerror}")]) from None
    finally:
        beside.unlink(missing_ok=True)


def card_toml(answers: Answers) -> str:
    """The answers as TOML: plain keys first, then tables, then lists of tables."""
    plain = {key: value for key, value in answers.items() if not isinstance(value, dict) and not _tables(value)}
    tables = {key: value for key, value in answers.items() if key not in plain}
    head = "# Ship card, fields after IMO Resolution A.601(15), appendix 1. A key that is not here is not known.\n\n"
    return head + tomlkit.dumps(plain | tables)


def _tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


class Questions:
    """Puts the questions of a table and keeps asking until each answer fits or is empty."""

    def __init__(self, ask: Ask, tell: Tell) -> None:
        self.ask, self.tell = ask, tell

    def table(self, title: str, shape: type[FileShape], keys: tuple[str, ...] | None = None) -> Answers:
        """Answers for the plain keys of a shape, all or those named."""
        self.tell(f"\n{title}")
        fields = {key: field for key, field in shape.model_fields.items() if not holds_more(field.annotation)}
        answers: Answers = {}
        for key in keys or tuple(fields):
            if not key.endswith("_imperial"):  # the second reading is written down with the first
                answers |= self.one(key, fields[key], f"{key.rsplit('_', 1)[0]}_imperial" in fields)
        return answers

    def several(self, title: str, shape: type[FileShape]) -> list[Answers]:
        """A table for each unit, after how many there are."""
        self.tell(f"\n{title}")
        while True:
            answer = self.ask(f"How many {title.lower()}? ").strip()
            if answer in ("", "0"):
                return []
            if answer.isdigit() and int(answer) <= MOST:
                return [self.table(f"{title[:-1]} {number + 1}", shape) for number in range(int(answer))]
            self.tell(f"'{answer}' is no count; expected 0 to {MOST}")

    def one(self, key: str, field: FieldInfo, has_imperial: bool) -> Answers:
        """The key with its value, and its second reading; nothing where the card does not say."""
        label = label_of(key)
        must = field.is_required()
        while True:
            answer = self.ask(f"  {label}{' (needed)' if must else ''}: ").strip()
            if answer == "?":
                self.tell(f"  {field.description}")
            elif not answer and must:
                self.tell(f"  {label} is needed; expected {field.description}")
            elif not answer:
                return {}
            else:
                fitted = self._fitted(key, field, answer)
                if fitted is not None:
                    second = has_imperial and _feet(answer)
                    return {key: fitted} | ({f"{key.rsplit('_', 1)[0]}_imperial": answer} if second else {})

    def _fitted(self, key: str, field: FieldInfo, answer: str) -> Any:
        """The answer as the file has it, or None after saying what is wrong."""
        try:
            value = _value(key, field.annotation, answer)
            return _adapter(field).validate_python(value, strict=True)
        except (ValueError, ValidationError):
            self.tell(f"  '{answer}' does not fit; expected {_choices(field)}")
            return None


def label_of(key: str) -> str:
    """Length overall, m from length_overall_m."""
    name, unit = name_and_unit(key)
    return spoken(name) + (f", {unit}" if unit else "")


def name_and_unit(key: str) -> tuple[str, str]:
    """length_overall and m from length_overall_m; the unit is empty where the key has none."""
    match = re.match(r"(.+?)_(m|t|kn|kW|HP|rpm|deg|min|s|percent|kg|m2|kg_m3|deg_min)$", key)
    return (match[1], _UNITS.get(match[2], match[2])) if match else (key, "")


def spoken(name: str) -> str:
    """Length overall from length_overall."""
    return name[:1].upper() + name[1:].replace("_", " ")


_UNITS = {"m2": "m²", "kg_m3": "kg/m³", "deg": "°", "percent": "%", "deg_min": "°/min"}


def _orders(questions: Questions) -> list[Answers]:
    """The engine order table: for each order, setting and speeds; astern without speeds."""
    questions.tell("\nEngine order table; enter alone at both settings leaves an order out")
    lines = []
    for order in ("full_sea_speed", *AHEAD_ORDERS, *ASTERN_ORDERS):
        questions.tell(f" {order.replace('_', ' ')}")
        fields = OrderShape.model_fields
        settings = ("revolutions_rpm", "pitch_percent")
        line: Answers = {}
        for key in settings:
            line |= questions.one(key, fields[key], False)
        if not line:
            continue
        if order not in ASTERN_ORDERS:
            for key in ("speed_loaded_kn", "speed_ballast_kn"):
                line |= questions.one(key, fields[key], False)
        lines.append({"order": order} | line)
    if not lines:
        questions.tell("  A card without orders cannot be planned with; one order at least is needed.")
        return _orders(questions)
    return lines


def _aboard(questions: Questions) -> Answers:
    questions.tell("\nChecked aboard and ready? y ready, r reduced, d defective, enter alone not checked")
    found: Answers = {}
    for item in ABOARD:
        while (answer := questions.ask(f"  {item.replace('_', ' ')}: ").strip().lower()) not in STATES:
            questions.tell("  expected y, r, d or enter")
        if answer:
            found[item] = STATES[answer]
    return found


def _lines(questions: Questions, title: str) -> list[str]:
    questions.tell(f"\n{title}")
    return list(iter(lambda: questions.ask("  ").strip(), ""))


def _value(key: str, annotation: Any, answer: str) -> Any:
    """Text made the kind of value the key holds; ValueError if it cannot be."""
    kinds = set(kinds_of(annotation))
    if bool in kinds:
        return {"y": True, "yes": True, "true": True, "n": False, "no": False, "false": False}[answer.lower()]
    if int in kinds:
        return int(answer)
    if float in kinds and list in kinds:
        return [float(part) for part in re.split(r"\s*(?:-|to|,|\s)\s*", answer)]
    if float in kinds:
        if key.endswith("_m") and _feet(answer):
            return round(metres_of(answer) or 0.0, 3)
        return float(answer.replace(",", "."))
    return answer


def kinds_of(annotation: Any) -> Iterator[Any]:
    """The plain kinds inside an annotation: of `float | None` float and None."""
    if typing.get_origin(annotation) in (typing.Union, types.UnionType, typing.Annotated):
        for part in typing.get_args(annotation):
            yield from kinds_of(part)
    elif typing.get_origin(annotation) is list:
        yield list
        yield from typing.get_args(annotation)
    else:
        yield annotation


def holds_more(annotation: Any) -> bool:
    """Whether a key holds a table or tables of its own, or a free list: asked for elsewhere."""
    kinds = list(kinds_of(annotation))
    return any(
        (isinstance(kind, type) and issubclass(kind, FileShape)) or typing.get_origin(kind) is dict for kind in kinds
    ) or (list in kinds and str in kinds)


def _adapter(field: FieldInfo) -> TypeAdapter[Any]:
    annotated: Any = typing.Annotated[field.annotation, field]
    return TypeAdapter(annotated)


def _choices(field: FieldInfo) -> str:
    """What is expected; of words, the words."""
    for kind in kinds_of(field.annotation):
        if typing.get_origin(kind) is Literal:
            return ", ".join(str(word) for word in typing.get_args(kind))
    return field.description or "another value"


def _feet(answer: str) -> bool:
    """Whether an answer is in feet and inches."""
    return re.match(FEET_AND_INCHES, answer) is not None and re.search(r"ft|feet|'", answer) is not None

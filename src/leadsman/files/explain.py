"""Faults of a file's shape in the mariner's words: what is wrong; what was expected."""

import difflib
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from leadsman.errors import InputError
from leadsman.files.toml_file import Path, TomlFile

Shape = TypeVar("Shape", bound=BaseModel)


def shaped(file: TomlFile, model: type[Shape], errors: list[InputError]) -> Shape | None:
    """The file's data as `model`; its faults are added to `errors`, and `None` is given back."""
    try:
        return model.model_validate(dict(file.data))
    except ValidationError as error:
        for details in error.errors(include_url=False):
            path = _path(details["loc"], file.data)
            errors.append(file.error(path, sentence(details, model)))
        return None


def _path(loc: tuple[int | str, ...], data: Mapping[str, Any]) -> Path:
    """The part of pydantic's location that stands in the file (it adds names of union members)."""
    found: list[int | str] = []
    here: Any = data
    for part in loc:
        index_fits = isinstance(here, list) and isinstance(part, int) and part < len(here)
        if index_fits or (isinstance(here, Mapping) and part in here):
            here = here[part]
        elif part is loc[-1] and isinstance(part, str):
            here = None
        else:
            continue
        found.append(part)
    return tuple(found)


def sentence(details: ErrorDetails, model: type[BaseModel]) -> str:
    """One fault, in words, with what was expected."""
    kind, value, limits = details["type"], details.get("input"), details.get("ctx", {})
    expected = _expected(details["loc"], model)
    shown = _shown(value)
    if kind == "missing":
        return f"is missing; expected {expected}"
    if kind == "extra_forbidden":
        return _unknown_key(details["loc"], model)
    if kind in ("literal_error", "enum"):
        close = difflib.get_close_matches(str(value), [part.strip("'") for part in _choices(limits)], n=1, cutoff=0.5)
        hint = f" (did you mean '{close[0]}'?)" if close else ""
        return f"{shown} is not known{hint}; expected {', '.join(_choices(limits))}"
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        return f"{shown} is outside what is possible; expected {expected}"
    if kind == "too_short" and not value:
        return f"is empty; expected {expected}"
    if kind == "finite_number":
        return f"{shown} is not a number; expected {expected}"
    if kind == "timezone_aware":
        return f"{shown} has no zone; expected a time such as 2031-05-04T06:00:00Z"
    if kind.startswith(("datetime", "date_")):
        return f"{shown} is no time; expected a time such as 2031-05-04T06:00:00Z"
    if kind == "value_error":
        return str(limits.get("error", details["msg"]))
    return f"got {shown}; expected {expected}"


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return f"'{value[:60]}'" + ("..." if len(value) > 60 else "")
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _choices(limits: Mapping[str, Any]) -> list[str]:
    return [part.strip() for part in str(limits.get("expected", "")).replace(" or ", ", ").split(",")]


def _model_at(loc: tuple[int | str, ...], model: type[BaseModel]) -> type[BaseModel] | None:
    """The model whose field the last part of a location names."""
    here: type[BaseModel] | None = model
    for part in loc[:-1]:
        if here is None or isinstance(part, int):
            continue
        field = here.model_fields.get(part)
        here = _inner_model(field.annotation) if field is not None else None
    return here


def _inner_model(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        found = _inner_model(argument)
        if found is not None:
            return found
    return None


def _expected(loc: tuple[int | str, ...], model: type[BaseModel]) -> str:
    names = [part for part in loc if isinstance(part, str)]
    owner = _model_at(tuple(names), model)
    field = owner.model_fields.get(names[-1]) if owner is not None and names else None
    return (field.description if field is not None else None) or "a value of another kind"


def _unknown_key(loc: tuple[int | str, ...], model: type[BaseModel]) -> str:
    name = str(loc[-1])
    owner = _model_at(loc, model)
    known = list(owner.model_fields) if owner is not None else []
    close = difflib.get_close_matches(name, known, n=1, cutoff=0.6)
    if close:
        return f"is not known here; did you mean '{close[0]}'?"
    return f"is not known here; expected one of {', '.join(known[:12])}" + (" ..." if len(known) > 12 else "")

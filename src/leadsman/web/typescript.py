"""TypeScript types of the API, every address with what it takes and answers: page and server cannot drift apart.

`python -m leadsman.web.typescript > page/src/contract.ts`; a test compares the two.
"""

import json
from collections.abc import Iterator
from inspect import signature
from pathlib import Path
from typing import Any

from pydantic.json_schema import JsonSchemaMode, models_json_schema

from leadsman.web import schema
from leadsman.web.app import API, create_app
from leadsman.web.manners import manner
from leadsman.web.replies import Faults

_MODELS = (*(getattr(schema, name) for name in schema.__all__), Faults)
_OF_THE_READER = frozenset(signature(manner).parameters)
_SIMPLE = {"string": "string", "number": "number", "integer": "number", "boolean": "boolean", "null": "null"}


def contract() -> str:
    """The whole file."""
    described = create_app(Path()).openapi()
    routes = [route for path, methods in described["paths"].items() for route in _routes(path, methods)]
    sent = set(_sent(described))
    modes: list[tuple[Any, JsonSchemaMode]] = [
        (model, "validation" if model.__name__ in sent else "serialization") for model in _MODELS
    ]
    _, shapes = models_json_schema(modes, by_alias=True)
    types = [_interface(name, shape) for name, shape in shapes["$defs"].items()]
    head = "// Written by leadsman.web.typescript from the server's own description; not edited by hand.\n"
    version = f"/** Where the API lies; its version is in the path of every address. */\nexport const API = '{API}'\n"
    return "\n".join([head, version, _ADDRESSES + "\n".join(routes) + "\n}\n", *types])


_ADDRESSES = (
    "/** Every address that answers in JSON: its path's parts, what is asked, what is sent, what it answers. */\n"
    "export interface Routes {\n"
)


def _routes(path: str, methods: dict[str, Any]) -> Iterator[str]:
    """One line for each method of an address; papers are links of the page and are left out."""
    for method, route in methods.items():
        status, reply = next((code, one) for code, one in route["responses"].items() if code.startswith("2"))
        content = reply.get("content", {})
        if not all("json" in kind for kind in content):
            continue
        shape: dict[str, Any] = next(iter(content.values()), {})
        answer = "null" if status == "204" else _type(shape.get("schema", {}))
        takes = "".join(f"{key}: {value}; " for key, value in _taken(route))
        address = f"{method.upper()} {path.removeprefix(API)}"
        yield f"  /** {route['summary']} */\n  '{address}': {{ {takes}answer: {answer} }}"


def _taken(route: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """What goes along with a request: parts of its path, query, headers, body; the manner the page always adds."""
    parameters = route.get("parameters", [])
    for where, key in (("path", "path"), ("query", "query"), ("header", "headers")):
        here = [one for one in parameters if one["in"] == where and one["name"] not in _OF_THE_READER]
        if here:
            yield key, f"{{ {'; '.join(_parameter(one) for one in here)} }}"
    for kind, body in route.get("requestBody", {}).get("content", {}).items():
        yield "body", _type(body["schema"]) if "json" in kind else "Blob"


def _parameter(one: dict[str, Any]) -> str:
    name = one["name"] if one["name"].isidentifier() else f"'{one['name']}'"
    return f"{name}{'' if one['required'] else '?'}: {_type(one['schema'])}"


def _sent(described: dict[str, Any]) -> Iterator[str]:
    """Names of what is sent: keys that need not be there are left out of it, where a reply has them all."""
    for methods in described["paths"].values():
        for route in methods.values():
            for body in route.get("requestBody", {}).get("content", {}).values():
                yield str(body["schema"].get("$ref", "")).rsplit("/", 1)[-1]


def _interface(name: str, shape: dict[str, Any]) -> str:
    needed = set(shape.get("required", ()))
    lines = [f"  {key}{'' if key in needed else '?'}: {_type(value)}" for key, value in shape["properties"].items()]
    note = f"/** {shape['description']} */\n" if "description" in shape else ""
    return f"{note}export interface {name} {{\n" + "\n".join(lines) + "\n}\n"


def _type(shape: dict[str, Any]) -> str:
    if not shape:
        return "unknown"
    if "$ref" in shape:
        return str(shape["$ref"]).rsplit("/", 1)[-1]
    if "anyOf" in shape:
        return " | ".join(_type(one) for one in shape["anyOf"])
    if "const" in shape or "enum" in shape:
        return " | ".join(json.dumps(value) for value in shape.get("enum", [shape.get("const")]))
    if shape["type"] == "array":
        if "prefixItems" in shape:
            return f"[{', '.join(_type(one) for one in shape['prefixItems'])}]"
        inner = _type(shape["items"])
        return f"({inner})[]" if "|" in inner else f"{inner}[]"
    if shape["type"] == "object":
        inner = shape["additionalProperties"]
        return f"Record<string, {'unknown' if inner is True else _type(inner)}>"
    return _SIMPLE[shape["type"]]


if __name__ == "__main__":
    print(contract(), end="")

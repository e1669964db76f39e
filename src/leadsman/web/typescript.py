"""TypeScript types of the API's replies, so that page and server cannot drift apart.

`python -m leadsman.web.typescript > page/src/contract.ts`; a test compares the two.
"""

import json
from typing import Any

from pydantic.json_schema import models_json_schema

from leadsman.web import schema
from leadsman.web.replies import Faults

_MODELS = (*(getattr(schema, name) for name in schema.__all__), Faults)
_SIMPLE = {"string": "string", "number": "number", "integer": "number", "boolean": "boolean", "null": "null"}


def contract() -> str:
    """The whole file."""
    models = [(model, "serialization") for model in _MODELS]
    _, schema = models_json_schema(models, by_alias=True)  # type: ignore[arg-type]
    types = [_interface(name, shape) for name, shape in schema["$defs"].items()]
    return "// Written by leadsman.web.typescript from leadsman.web.schema; not edited by hand.\n\n" + "\n".join(types)


def _interface(name: str, shape: dict[str, Any]) -> str:
    lines = [f"  {key}: {_type(value)}" for key, value in shape["properties"].items()]
    note = f"/** {shape['description']} */\n" if "description" in shape else ""
    return f"{note}export interface {name} {{\n" + "\n".join(lines) + "\n}\n"


def _type(shape: dict[str, Any]) -> str:
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

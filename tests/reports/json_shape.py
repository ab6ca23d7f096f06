"""A small reader of JSON Schema: enough for one schema, and loud about what it does not know."""

import json
import re
from collections.abc import Mapping
from typing import Any, cast

KNOWN = {
    "$schema", "$defs", "$ref", "title", "description", "type", "enum", "anyOf", "properties", "required", "default",
    "additionalProperties", "items", "prefixItems", "minItems", "maxItems", "minimum", "maximum", "pattern", "const",
}  # fmt: skip

TYPES: Mapping[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "boolean": (bool,),
    "null": (type(None),),
    "number": (int, float),
    "integer": (int,),
}


def _is(value: Any, kind: str) -> bool:
    return isinstance(value, TYPES[kind]) and (kind == "boolean" or not isinstance(value, bool))


def faults(value: Any, schema: Mapping[str, Any], root: Mapping[str, Any], path: str = "$") -> list[str]:
    """Where a value breaks a schema; empty where it does not."""
    assert set(schema) <= KNOWN, f"{path}: schema words this reader does not know: {set(schema) - KNOWN}"
    if "$ref" in schema:
        name = schema["$ref"].removeprefix("#/$defs/")
        return faults(value, root["$defs"][name], root, path)
    if "anyOf" in schema:
        found = [faults(value, choice, root, path) for choice in schema["anyOf"]]
        return [] if any(not f for f in found) else found[0]
    if "enum" in schema and value not in schema["enum"]:
        return [f"{path}: {json.dumps(value)} is none of {schema['enum']}"]
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    if kinds and not any(_is(value, kind) for kind in kinds):
        return [f"{path}: {json.dumps(value)[:60]} is no {' or '.join(kinds)}"]
    if isinstance(value, dict):
        return _object(cast("dict[str, Any]", value), schema, root, path)
    if isinstance(value, list):
        return _array(cast("list[Any]", value), schema, root, path)
    return _scalar(value, schema, path)


def _object(value: dict[str, Any], schema: Mapping[str, Any], root: Mapping[str, Any], path: str) -> list[str]:
    known: Mapping[str, Any] = schema.get("properties", {})
    other: Any = schema.get("additionalProperties", True)
    found = [f"{path}: no {key}" for key in schema.get("required", []) if key not in value]
    for key, item in value.items():
        if key in known:
            found += faults(item, known[key], root, f"{path}.{key}")
        elif other is False:
            found.append(f"{path}: unknown key {key}")
        elif isinstance(other, dict):
            found += faults(item, cast("dict[str, Any]", other), root, f"{path}.{key}")
    return found


def _array(value: list[Any], schema: Mapping[str, Any], root: Mapping[str, Any], path: str) -> list[str]:
    found: list[str] = []
    if not schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value)):
        found.append(f"{path}: {len(value)} items")
    first: list[Any] = schema.get("prefixItems", [])
    for number, item in enumerate(value):
        shape = first[number] if number < len(first) else schema.get("items", {})
        found += faults(item, shape, root, f"{path}[{number}]")
    return found


def _scalar(value: Any, schema: Mapping[str, Any], path: str) -> list[str]:
    if _is(value, "number") and not schema.get("minimum", value) <= value <= schema.get("maximum", value):
        return [f"{path}: {value} is out of range"]
    if isinstance(value, str) and "pattern" in schema and not re.search(schema["pattern"], value):
        return [f"{path}: {value} does not match"]
    return []

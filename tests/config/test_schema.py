"""The JSON Schema describes what the reader takes."""

import importlib
import importlib.util
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

import pytest

from lacunar.config import json_schema, template_text

HERE = Path(__file__).resolve().parent
SCHEMA = json_schema()
GOOD = {
    **{path.stem: path.read_text(encoding="utf-8") for path in sorted(HERE.glob("*.toml"))},
    **{path.stem: path.read_text(encoding="utf-8") for path in sorted((HERE.parents[1] / "configs").glob("*.toml"))},
    "new": template_text("in"),
    "new metric": template_text("mm"),
}


def nodes(schema: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every table of a schema with its place."""
    if isinstance(schema, dict):
        table = cast(dict[str, Any], schema)
        yield path, table
        for key, item in table.items():
            yield from nodes(item, f"{path}/{key}")
    if isinstance(schema, list):
        for number, item in enumerate(cast(list[Any], schema)):
            yield from nodes(item, f"{path}/{number}")


def failures(value: Any, schema: dict[str, Any], where: str = "") -> list[str]:
    """A small validator for the words that our schema uses; an unknown word fails."""
    known = {
        "anyOf", "type", "enum", "const", "pattern", "minimum", "maximum", "exclusiveMinimum", "properties", "required",
        "additionalProperties", "patternProperties", "items", "minItems", "maxItems", "minLength", "maxLength",
        "minProperties", "maxProperties", "description", "default", "examples", "title", "$schema", "propertyNames",
    }  # fmt: skip
    assert set(schema) <= known, set(schema) - known
    if "anyOf" in schema and all(failures(value, option, where) for option in schema["anyOf"]):
        return [f"{where}: no option fits {value!r}"]
    if "const" in schema and value != schema["const"]:
        return [f"{where}: {value!r} is not {schema['const']!r}"]
    if "enum" in schema and value not in schema["enum"]:
        return [f"{where}: {value!r} is none of {schema['enum']}"]
    types = schema.get("type", [])
    if types and not any(is_type(value, name) for name in ([types] if isinstance(types, str) else types)):
        return [f"{where}: {value!r} is no {types}"]
    if isinstance(value, str):
        return [] if re.search(schema.get("pattern", ""), value) else [f"{where}: {value!r} does not match"]
    if isinstance(value, dict):
        return table_failures(cast(dict[str, Any], value), schema, where)
    if isinstance(value, list):
        items = cast(list[Any], value)
        fits = schema.get("minItems", 0) <= len(items) <= schema.get("maxItems", 99)
        found = [] if fits else [f"{where}: {len(items)} items"]
        for number, item in enumerate(items):
            found += failures(item, schema.get("items", {}), f"{where}[{number}]")
        return found
    if isinstance(value, bool):
        return []
    low = schema.get("minimum", -1e300) <= value and value > schema.get("exclusiveMinimum", -1e300)
    return [] if low and value <= schema.get("maximum", 1e300) else [f"{where}: {value!r} is out of its limits"]


def is_type(value: Any, name: str) -> bool:
    kinds = {"string": str, "number": int | float, "integer": int, "boolean": bool, "object": dict, "array": list}
    return isinstance(value, kinds[name]) and (isinstance(value, bool) == (name == "boolean"))


def table_failures(value: dict[str, Any], schema: dict[str, Any], where: str) -> list[str]:
    found = [f"{where}: {key} is missing" for key in schema.get("required", []) if key not in value]
    for key, item in value.items():
        inner = schema.get("properties", {}).get(key)
        if inner is None:
            patterns = schema.get("patternProperties", {})
            inner = next((patterns[pattern] for pattern in patterns if re.search(pattern, key)), None)
        if inner is None:
            inner = schema.get("additionalProperties", True)
        if inner is False:
            found.append(f"{where}: unknown key {key}")
        elif inner is not True:
            found += failures(item, inner, f"{where}.{key}")
    return found


def test_it_is_plain_json_for_editors() -> None:
    text = json.dumps(SCHEMA, allow_nan=False)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "$ref" not in text
    assert "$defs" not in text
    assert "run angle" not in text
    assert '"null"' not in text
    assert json.loads(text) == SCHEMA


@pytest.mark.parametrize("name", GOOD)
def test_good_configs_fit(name: str) -> None:
    assert failures(tomllib.loads(GOOD[name]), SCHEMA) == []


def test_good_configs_fit_for_another_validator() -> None:
    if importlib.util.find_spec("jsonschema") is None:
        pytest.skip("jsonschema is not installed: the small validator above stands alone")
    validate: Any = importlib.import_module("jsonschema").validate
    for text in GOOD.values():
        validate(tomllib.loads(text), SCHEMA)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('gap     = "1/4 in"', 'gpa     = "1/4 in"'),
        ('gap     = "1/4 in"', "gap     = true"),
        ('gap     = "1/4 in"', 'gap     = "narrow"'),
        ('swing = "in"', 'swing = "inwards"'),
        ("rows   = 2 ", "rows   = 2.5 "),
        ("rows   = 2 ", "rows   = -1 "),
        ("cull      = 0.10", "cull      = 10"),
        ("price  = 9.80", "price  = 0"),
        ("gauge = 16", "gauge = 14"),
        ('corners = "ABCD"', 'corners = "ABCA"'),
        ('"m1-C"', '"m1C"'),
        ('bottom = "flush"', 'bottom = "down 1 in"'),
        ('made  = "solid"', 'made  = "hollow"'),
        ('look_at = "C5"\n', ""),
        ("[[window]]", "[window]"),
        ('at    = { AB = "6 ft 1 in", DA = "7 ft 8 in" }', 'at    = { DA = "7 ft 8 in", A = "6 ft" }'),
        ("coffer.C5 =", "coffer.5 ="),
    ],
)
def test_bad_configs_do_not(old: str, new: str) -> None:
    text = GOOD["everything"]
    assert old in text
    assert len(failures(tomllib.loads(text.replace(old, new, 1)), SCHEMA)) >= 1


def test_every_key_is_described() -> None:
    for path, schema in nodes(SCHEMA):
        for key, inner in schema.get("properties", {}).items() if path.rpartition("/")[2] != "properties" else ():
            assert inner.get("description"), f"{path} {key}"


def test_defaults_that_stand_there_are_those_of_the_reader() -> None:
    slats = SCHEMA["properties"]["slats"]["properties"]
    assert slats["run"]["default"] == "across"
    assert slats["species"]["default"] == "eastern white pine"
    assert "default" not in slats["gap"]  # a bare number there would be inches
    assert SCHEMA["properties"]["shop"]["properties"]["cull"]["default"] == 0.10
    assert SCHEMA["required"] == ["room"]

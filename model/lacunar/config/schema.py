"""JSON Schema of the config as a person writes it, for editors."""

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from lacunar.config.config import Config
from lacunar.config.raw import is_list, is_table

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the TOML file: without references, with a description of every key."""
    schema: dict[str, Any] = Config.model_json_schema(by_alias=True, schema_generator=_Generator)
    definitions: dict[str, Any] = schema.pop("$defs")
    written: dict[str, Any] = _as_written(schema, definitions)
    written["required"] = ["room"]
    keys: dict[str, Any] = written["properties"]
    keys["field"]["properties"] = {"readings": keys.pop("readings")}
    return {"$schema": DIALECT, "title": "lacunar config", **written}


class _Generator(GenerateJsonSchema):
    """Leaves out defaults that a person would not write: bare millimetres, tables, what is filled in later."""

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """The value's schema, with its default where it stands for itself."""
        inner = self.generate_inner(schema["schema"])
        default: Any = schema.get("default")
        plain = isinstance(default, bool | int | str) or (isinstance(default, float) and inner.get("type") == "number")
        return {**inner, "default": default} if plain and default != "" else inner

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """TOML has no null: a key is there or not."""
        return self.generate_inner(schema["schema"])


def _as_written(value: Any, definitions: dict[str, Any]) -> Any:
    """References filled in; names made up by the generator taken out."""
    if is_list(value):
        return [_as_written(item, definitions) for item in value]
    if not is_table(value):
        return value
    if "$ref" in value:
        target = definitions[str(value["$ref"]).rpartition("/")[2]]
        value = {**target, **{key: item for key, item in value.items() if key != "$ref"}}
    if "patternProperties" in value:
        value = {**value, "additionalProperties": False}
    return {
        key: {name: _as_written(one, definitions) for name, one in item.items()}
        if key == "properties"
        else _as_written(item, definitions)
        for key, item in value.items()
        if key != "title"
    }

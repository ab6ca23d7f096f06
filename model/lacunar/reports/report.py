"""report.json: a report written, read back, and its JSON Schema."""

import hashlib
import json
import re
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any, Final, cast

from pydantic import TypeAdapter, ValidationError
from pydantic.json_schema import GenerateJsonSchema
from pydantic_core import core_schema

from lacunar.errors import Problem, ReportError
from lacunar.files import REPORT, REPORT_LARGEST, read_plain
from lacunar.reports.rows import DOCUMENTED, OPTIONAL, FileRow, Report

INDENTS: Final = ("", " ", " " * 3, " " * 6)
"""Of each level of the JSON."""

_ATTRIBUTE: Final = re.compile(r"^ {8}(\w+): (.*(?:\n {12}.*)*)", re.MULTILINE)


def list_files(folder: Path) -> tuple[FileRow, ...]:
    """Every file below a folder but the report itself, sorted."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    named = ((path, path.relative_to(folder).as_posix()) for path in files)
    return tuple(file_row(path, name) for path, name in named if name != REPORT)


def file_row(path: Path, name: str) -> FileRow:
    """What a report says of a file, under its name in the folder."""
    with path.open("rb") as file:
        # A STEP file carries the time of writing and numbers that follow from addresses: its hash says nothing.
        digest = None if path.suffix == ".step" else hashlib.file_digest(file, "sha256").hexdigest()
        return FileRow(path=name, bytes=path.stat().st_size, sha256=digest)


@cache
def _adapter() -> TypeAdapter[Report]:
    """Made when it is first asked for: most commands neither write nor read a report."""
    return TypeAdapter(Report)


def report_values(report: Report) -> dict[str, object]:
    """The report as values of JSON, keys in their order."""
    values = _adapter().dump_python(report, mode="json", by_alias=True)
    for row in (*values["parts"], *values["files"]):
        for key in OPTIONAL & row.keys():
            if not row[key]:
                del row[key]
    return values


def report_text(report: Report) -> str:
    """The report as JSON: keys in their order, floats exact, one line for each part, coffer, finding, board or file.

    Raises:
        ValueError: a number is infinite or none at all.
    """
    return f"{_spread(report_values(report))}\n"


def write_report(report: Report, path: Path) -> None:
    """Write report.json.

    Raises:
        ValueError: a number is infinite or none at all.
        OSError: it cannot be written.
    """
    path.write_text(report_text(report), encoding="utf-8", newline="\n")


def read_report(path: Path) -> Report:
    """A report as a build wrote it; what it does not tell (a cure, a certificate) is empty.

    Raises:
        ReportError: it cannot be read, or is no report of this version.
    """
    try:
        return _adapter().validate_json(read_plain(path, REPORT_LARGEST))
    except OSError as error:
        what, fix = f"cannot be read: {error.strerror or error}", ""
    except ValidationError as error:
        first, *more = error.errors(include_url=False)
        where = ".".join(str(step) for step in first["loc"])
        told = f"{where}: got {json.dumps(first['input'], default=str)[:60]}, " if where else ""
        what = f"is no report of this version: {told}{first['msg']}{f' (and {len(more)} more)' if more else ''}"
        fix = "build it again"
    raise ReportError([Problem(where=str(path), what=what, fix=fix)])


def _spread(value: Any, depth: int = 0) -> str:
    """The upper levels one item a line, what lies deeper in one line."""
    if not value or not isinstance(value, dict | list) or depth > (1 if isinstance(value, dict) else 2):
        return json.dumps(value, ensure_ascii=False, allow_nan=False)
    line, left, right = f"\n{INDENTS[depth + 1]}", *("{}" if isinstance(value, dict) else "[]")
    if isinstance(value, dict):
        pairs = cast("dict[str, Any]", value).items()
        items = [f"{json.dumps(key)}: {_spread(item, depth + 1)}" for key, item in pairs]
    else:
        items = [_spread(item, 9) for item in cast("list[Any]", value)]
    return f"{left}{line}{f',{line}'.join(items)}\n{INDENTS[depth]}{right}"


def report_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of report.json."""
    return {
        "$schema": GenerateJsonSchema.schema_dialect,
        **_adapter().json_schema(mode="serialization", schema_generator=_Described),
    }


class _Described(GenerateJsonSchema):
    """With what the docstrings of the classes say, and no titles made up from names."""

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def dataclass_schema(self, schema: core_schema.DataclassSchema) -> dict[str, Any]:
        made = super().dataclass_schema(schema)
        keys = {field.name: field.metadata.get("alias", field.name) for field in fields(schema["cls"])}
        for cls in reversed(schema["cls"].__mro__[:-1]):
            for name, text in _ATTRIBUTE.findall(f"{DOCUMENTED.get(cls, cls).__doc__}\n{cls.__doc__}"):
                if keys.get(name) in made["properties"]:
                    made["properties"][keys[name]]["description"] = " ".join(text.split())
        head = (schema["cls"].__doc__ or "").partition("\n\n")[0]
        required = [key for key in made["properties"] if key not in OPTIONAL]
        return {**made, "description": head, "required": required, "additionalProperties": False}

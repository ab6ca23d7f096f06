"""The JSON Schema of report.json."""

import json
from importlib.resources import files
from typing import Any


def report_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of report.json."""
    return json.loads(files("lacunar.reports").joinpath("report.schema.json").read_text(encoding="utf-8"))

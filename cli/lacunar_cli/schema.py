"""`lacunar schema`: what a config may hold, for editors."""

import json

import typer


def schema() -> int:
    """Print the JSON Schema of the config, for editors."""
    from lacunar.config import json_schema

    typer.echo(json.dumps(json_schema(), indent=1, ensure_ascii=False))
    return 0

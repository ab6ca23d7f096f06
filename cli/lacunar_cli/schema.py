"""`lacunar schema`: what a config may hold, for editors."""

import json

from lacunar_cli.terminal import say


def schema() -> int:
    """Print the JSON Schema of the config, for editors."""
    from lacunar.config import json_schema

    say(json.dumps(json_schema(), indent=1, ensure_ascii=False))
    return 0

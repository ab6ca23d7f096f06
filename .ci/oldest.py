"""The oldest allowed line of every dependency, as requirements: cadquery>=2.5,<3 gives cadquery==2.5.*."""

import re
import sys
import tomllib
from pathlib import Path

project = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))["project"]
for requirement in (*project["dependencies"], *project["optional-dependencies"]["test"]):
    whole = re.sub(r">=(\d+)(?=,)", r">=\1.0", requirement)
    sys.stdout.write(re.sub(r">=([0-9.]+)[^;]*", r"==\1.*", whole) + "\n")

"""What every table of the config has in common."""

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """One table of the file, frozen, that knows its keys and no others."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=False)

"""Keys that are said to be read and not used: told from what the stages really ask a config for."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, cast

import pytest

from lacunar.book import crew_book, label_pages
from lacunar.config import Config, read_config_text
from lacunar.config.assumed import NOT_USED_YET
from lacunar.config.table import Table
from lacunar.drawings import board_pages
from lacunar.job import book_of, report_of, run_job
from lacunar.scene import make_scene

EVERYTHING = Path(__file__).resolve().parent / "everything.toml"

ANOTHER_WAY = {"framing.joists.first", "framing.joists.spacing", "shop.boards"}
"""Keys that the file does not have, because it says the same another way."""

ONLY_MEASURING = {"readings"}
"""What no product is made of: only a sheet that is applied later asks for it."""


def everything() -> Config:
    """A config with every table."""
    text = EVERYTHING.read_text(encoding="utf-8").replace("keep = false", "keep = true")
    return read_config_text(text, EVERYTHING)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> set[tuple[str, str]]:
    """Table and key of all that the stages ask a config with every key for, from survey to scene, boards and labels."""
    config = everything()
    found: set[tuple[str, str]] = set()
    plain = Table.__getattribute__

    def spied(table: Table, name: str) -> Any:
        found.add((type(table).__name__, name))
        return dumped(table) if name == "model_dump" else plain(table, name)

    def dumped(table: Table) -> Callable[..., Any]:
        def dump(*, exclude: frozenset[str] = frozenset(), **options: Any) -> Any:
            found.update((type(table).__name__, key) for key in type(table).model_fields if key not in exclude)
            return plain(table, "model_dump")(exclude=set(exclude), **options)

        return dump

    with monkeypatch.context() as patch:
        patch.setattr(Table, "__getattribute__", spied)
        job = run_job(config)
        report_of(job)
        make_scene(job.parts, job.room, job.config, job.layout, quality="draft", light=False)
        board_pages(job.plan, job.parts, job.config)
        crew_book(book_of(job))
        label_pages(book_of(job))
    return found


def leaves(table: Table, path: str = "") -> Iterator[tuple[str, Table, str]]:
    """Every key below a table that has no table in it, where it stands, and which table it is of."""
    for name, field in type(table).model_fields.items():
        key = field.alias or name
        value: Any = getattr(table, name)
        items = cast("Sequence[Any]", value) if isinstance(value, tuple) else (value,)
        if isinstance(value, Mapping):
            items = list(cast("Mapping[str, Any]", value).values())
        tables = [item for item in items if isinstance(item, Table)]
        if not tables:
            yield f"{path}{key}", table, name
        for item in tables[:1]:
            yield from leaves(item, f"{path}{key}.")


def test_the_keys_are_those_that_no_stage_asks_for(asked: set[tuple[str, str]]) -> None:
    silent = {path for path, table, name in leaves(everything()) if (type(table).__name__, name) not in asked}
    assert silent >= ONLY_MEASURING
    silent -= ONLY_MEASURING
    listed = {path for path in silent if path.startswith(NOT_USED_YET)}
    assert silent - listed == ANOTHER_WAY, "no stage asks for these: list them in NOT_USED_YET"
    idle = [key for key in NOT_USED_YET if not any(path.startswith(key) for path in listed)]
    assert idle == [], "a stage asks for these: they are used"


@pytest.mark.parametrize("key", ["house.indoor", "cross_beams.moisture"])
def test_they_are_named_where_they_are_given(key: str) -> None:
    named = everything().assumed[-1].removeprefix("read but not used yet: ").split(", ")
    assert key in named
    assert not {"house.built", "camera", "colour", "labels"} & set(named)

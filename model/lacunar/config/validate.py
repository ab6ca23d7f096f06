"""Validation that goes on after an error: what is wrong is left out, and the rest is looked at again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from lacunar.config.config import Config
from lacunar.config.lines import KeyPath
from lacunar.config.messages import told
from lacunar.config.raw import Raw, is_list, is_table
from lacunar.config.reading import Context

_ROUNDS = 8
"""Each round takes something out; more than three were never needed. Own judgement."""


class _Gone:
    """Stands where something wrong was taken out, so that the numbers of list items stay."""


_GONE = _Gone()
Wrong = tuple[KeyPath, str, str]
"""Path as in the file, what is wrong, what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Validated:
    """What could be made of a document.

    Attributes:
        config: without what is wrong; None where nothing could be made of it.
        problems: what is wrong.
        kept: for every list, by its path in the config, the items' numbers in the file.
    """

    config: Config | None
    problems: Sequence[Wrong]
    kept: Mapping[KeyPath, Sequence[int]] = field(default_factory=dict[KeyPath, Sequence[int]])

    def original(self, path: KeyPath) -> KeyPath:
        """A path of the config as a path of the file."""
        return _original(path, self.kept)


def related(one: KeyPath, other: KeyPath) -> bool:
    """Whether one path is the other or lies inside it."""
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


def validate(raw: Raw, context: Context) -> Validated:
    """Validate a document; every problem is found in one go."""
    tree: Any = raw
    problems: list[Wrong] = []
    for _ in range(_ROUNDS):
        kept: dict[KeyPath, Sequence[int]] = {}
        try:
            config = Config.model_validate(_compact(tree, (), kept), context=context)
        except ValidationError as error:
            found = [_wrong(one, kept) for one in _first_causes(error.errors(include_url=False))]
            known = [path for path, _, _ in problems]
            problems += [one for one, _ in found if not any(related(one[0], path) for path in known)]
            for _, gone in found:
                tree = _without(tree, gone)
        else:
            return Validated(config=config, problems=problems, kept=kept)
    return Validated(config=None, problems=problems)


def _first_causes(errors: Sequence[Any]) -> Sequence[Any]:
    """Without what is said of a table below a wrong key: a dot outside quotes makes both out of one key."""
    wrong_keys = {one["loc"] for one in errors}
    return [one for one in errors if not (is_table(one.get("input")) and (*one["loc"], "[key]") in wrong_keys)]


def _wrong(error: Any, kept: Mapping[KeyPath, Sequence[int]]) -> tuple[Wrong, KeyPath]:
    """The problem, and the path of what has to be taken out."""
    path = _original(tuple(step for step in error["loc"] if step != "[key]"), kept)
    what, fix = told(error, path)
    return (path, what, fix), path[:-1] if error["type"] == "missing" else path


def _original(path: KeyPath, kept: Mapping[KeyPath, Sequence[int]]) -> KeyPath:
    steps: list[str | int] = []
    for n, step in enumerate(path):
        numbers = kept.get(path[:n], ())
        steps.append(numbers[step] if isinstance(step, int) and step < len(numbers) else step)
    return tuple(steps)


def _compact(value: Any, path: KeyPath, kept: dict[KeyPath, Sequence[int]]) -> Any:
    """A copy without what is gone."""
    if is_table(value):
        return {key: _compact(item, (*path, key), kept) for key, item in value.items() if item is not _GONE}
    if is_list(value):
        numbers = [n for n, item in enumerate(value) if item is not _GONE]
        kept[path] = numbers
        return [_compact(value[n], (*path, place), kept) for place, n in enumerate(numbers)]
    return value


def _without(tree: Any, path: KeyPath) -> Any:
    """The tree with a hole where the path leads; as it is where it leads nowhere."""
    if not path:
        return tree if tree is _GONE else _GONE
    step = path[0]
    if is_table(tree) and isinstance(step, str) and step in tree:
        return {**tree, step: _without(tree[step], path[1:])}
    if is_list(tree) and isinstance(step, int) and step < len(tree):
        return [*tree[:step], _without(tree[step], path[1:]), *tree[step + 1 :]]
    return tree

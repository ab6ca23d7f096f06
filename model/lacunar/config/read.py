"""A config file becomes a `Config`, or every problem of it is told at once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from lacunar.config.assumed import assumptions
from lacunar.config.config import Config
from lacunar.config.defaults import fill_defaults
from lacunar.config.lines import KeyPath, find_lines, printed_key
from lacunar.config.messages import Places
from lacunar.config.names import beam_mark, is_corners
from lacunar.config.overrides import apply_overrides
from lacunar.config.prices import PriceList, with_prices
from lacunar.config.raw import Raw, is_list, is_table
from lacunar.config.reading import Context
from lacunar.config.rules import broken_rules
from lacunar.config.syntax import read_text, read_toml
from lacunar.config.validate import Validated, Wrong, related, validate
from lacunar.errors import ConfigError, Problem


def read_config(path: Path | str, overrides: Sequence[tuple[str, str]] = ()) -> Config:
    """Read a config file.

    Args:
        path: the TOML file.
        overrides: dotted key and value (TOML, or a bare text) that replace what the file says.

    Raises:
        ConfigError: with every problem that was found.
    """
    path = Path(path)
    return read_config_text(read_text(path), path, overrides)


def read_config_text(text: str, path: Path | str, overrides: Sequence[tuple[str, str]] = ()) -> Config:
    """Read a config from its text.

    Args:
        text: TOML.
        path: the file it belongs to; need not exist.
        overrides: dotted key and value that replace what the text says.

    Raises:
        ConfigError: with every problem that was found.
    """
    path = Path(path)
    document = _Document(
        raw=read_toml(text, path.name), path=path, places=Places(file=path.name, lines=find_lines(text))
    )
    config, problems = _changed(document, overrides, lambda key, at: f"override {printed_key(at) or key}")
    if config is not None and not problems and not overrides:
        problems = _wrong_alternatives(document, config)
    if problems or config is None:
        raise ConfigError(problems)
    return config


@dataclass(frozen=True, slots=True, kw_only=True)
class _Document:
    """A file as it stands."""

    raw: Raw
    path: Path
    places: Places


def _changed(
    document: _Document, overrides: Sequence[tuple[str, str]], where: Callable[[str, KeyPath], str]
) -> tuple[Config | None, list[Problem]]:
    """The config with overrides in it, and what is wrong; `where` tells an override."""
    raw, overridden, problems = apply_overrides(document.raw, overrides, where)
    prices = with_prices(raw, document.path.parent)
    places = replace(document.places, overridden=overridden, elsewhere=prices.places)
    config, found = _checked(prices, frozenset(_paths(raw)), document.path, places)
    config = None if config is None else config.changed(overrides=tuple(overrides))
    return config, [*problems, *found, *prices.row_problems]


def _wrong_alternatives(document: _Document, config: Config) -> list[Problem]:
    """What is wrong with each alternative; where that shows at another key, it is told that it is with it."""
    found: list[Problem] = []
    for number, one in enumerate(config.alternative):
        table = document.places.where(("alternative", number, "set"))
        places = {key: document.places.where(("alternative", number, "set", key)) for key in one.set_}
        _, problems = _changed(document, one.overrides, lambda key, _, places=places: places[key])
        for problem in problems:
            is_its_own = problem.where.startswith(tuple(places.values()))
            found.append(
                problem
                if is_its_own
                else replace(problem, where=table, what=f"with it, {problem.where}: {problem.what}")
            )
    return found


def _checked(
    prices: PriceList, given: frozenset[KeyPath], path: Path, places: Places
) -> tuple[Config | None, list[Problem]]:
    """The config with its defaults filled in, and what is wrong in the order of the file."""
    valid = validate(prices.raw, _reading(prices.raw))
    wrong = [*valid.problems, *prices.problems]
    config = valid.config
    if config is not None:
        config = fill_defaults(config.changed(path=path, given=given))
        wrong += _broken(valid, config)
        config = config if wrong else config.changed(assumed=assumptions(config))
    wrong.sort(key=lambda one: (places.line(one[0]), printed_key(one[0])))
    return config, [places.problem(*one) for one in wrong]


def _broken(valid: Validated, config: Config) -> list[Wrong]:
    """What the rules say, where nothing that they hang on is wrong by itself."""
    wrong_alone = [path for path, _, _ in valid.problems]
    found: dict[KeyPath, Wrong] = {}
    for breach in broken_rules(config):
        place, *also = (valid.original(path) for path in (breach.path, *breach.also))
        follows = any(related(key, known) for key in also for known in (*wrong_alone, *found))
        if not follows and not any(related(place, known) for known in wrong_alone):
            found.setdefault(place, (place, breach.what, breach.fix))
    return list(found.values())


def _reading(raw: Raw) -> Context:
    """What values hang on; where that is itself wrong, what makes the fewest further problems."""
    room: Any = raw.get("room")
    room = room if is_table(room) else {}
    corners: Any = room.get("corners", "ABCD")
    marks: Any = room.get("marks")
    known = Context(
        units="mm" if raw.get("units") == "mm" else "in",
        corners=corners if is_corners(corners) else "",
        marks=() if marks is None else tuple(marks) if is_table(marks) else None,
    )
    return replace(known, beam_ends=_beam_ends(raw.get("beam", ()), known))


def _beam_ends(beams: Any, known: Context) -> tuple[str, ...] | None:
    """What distances call the ends of the beams; None where some beam is not usable."""
    if not is_list(beams):
        return () if beams == () else None
    found: list[str] = []
    for number, beam in enumerate(beams, 1):
        ends: Any = beam.get("ends") if is_table(beam) else None
        for end in ends if is_list(ends) else (None,):
            named: Any = end.get("wall") if is_table(end) else None
            if not isinstance(named, str) or (wall := known.wall(named.upper())) is None:
                return None
            found.append(beam_mark(str(beam.get("name", f"E{number}")), wall))
    return tuple(found)


def _paths(value: Any, path: KeyPath = ()) -> list[KeyPath]:
    """Every path of a document."""
    found: list[KeyPath] = [path] if path else []
    items: Any = value.items() if is_table(value) else enumerate(value) if is_list(value) else ()
    for step, item in items:
        found += _paths(item, (*path, step))
    return found

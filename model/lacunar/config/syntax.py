"""A file's text, and its TOML; what cannot be read at all is told in plain words."""

import re
import tomllib
from pathlib import Path
from typing import NoReturn

from lacunar.config.raw import Raw
from lacunar.errors import ConfigError, Problem
from lacunar.files import CONFIG_LARGEST, read_plain

_PLACE = re.compile(r"^(?P<what>.*?)(?: \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\))?$", re.S)

_PLAIN = (
    ("Invalid value", "not a value"),
    ("Cannot overwrite a value", "this key stands twice"),
    ("Cannot declare", "this table stands twice"),
    ("Expected '=' after a key", "no = after the key"),
    ("Expected newline or end of document", "something is left over after the value"),
    ("Unescaped '\\' in a string", "a backslash in the text"),
    ("Unclosed array", "a list that is not closed with ]"),
    ("Unclosed inline table", "a table that is not closed with }"),
    ("Unterminated string", "a text without its closing quotes"),
    ("Illegal character", "a character that may not stand here"),
    ("Invalid statement", "not a line of TOML"),
    ("Invalid initial character for a key part", "not a key"),
    ("Duplicate inline table key", "this key stands twice"),
)


def read_text(path: Path) -> str:
    """The file's text.

    Raises:
        ConfigError: no such file, a folder, not readable, not UTF-8, empty, far too large.
    """
    name = path.name or str(path)
    if path.is_dir():
        _stop(name, "is a folder, must be a config file", "give the .toml file in it")
    try:
        data = read_plain(path, CONFIG_LARGEST)
    except FileNotFoundError:
        _stop(name, f"there is no such file at {path}", "lacunar new writes one to start from")
    except OSError as error:
        _stop(name, f"cannot be read: {error.strerror or error}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        _stop(f"{name}:{line}", f"byte 0x{data[error.start]:02x} is not UTF-8", "save the file as UTF-8 text")
    if not text.strip():
        _stop(name, "is empty, must give at least room.height and two walls", "lacunar new writes one to start from")
    return text


def read_toml(text: str, name: str) -> Raw:
    """The document in a text.

    Raises:
        ConfigError: it is not TOML; says on which line, and what is wrong with it.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        _stop_at(text, name, str(error))
    except RecursionError:
        _stop(name, "lists or tables lie too deep in each other")
    except ValueError as error:  # a number or a date that is written as TOML wants it and is none
        _stop(name, f"holds a value that cannot be read: {error}")


def _stop(where: str, what: str, fix: str = "") -> NoReturn:
    raise ConfigError([Problem(where=where, what=what, fix=fix)])


def _stop_at(text: str, name: str, message: str) -> NoReturn:
    lines = text.splitlines() or [""]
    match = _PLACE.match(message)
    number = int(match["line"]) if match and match["line"] else len(lines)
    number = max(1, min(number, len(lines)))
    said = match["what"] if match else message
    plain = next((plain for start, plain in _PLAIN if said.startswith(start)), said[:1].lower() + said[1:])
    line = lines[number - 1].strip()
    column = f" at column {match['column']}" if match and match["column"] else ""
    _stop(f"{name}:{number}", f"not valid TOML{column}: {plain}: {_short(line)}", _advice(said, line))


def _short(line: str) -> str:
    return line if len(line) <= 80 else line[:77] + "..."


def _advice(said: str, line: str) -> str:
    value = line.partition("=")[2].strip()
    if re.search("[“”]", value):
        return 'the quotes around a text must be straight: "'
    if said.startswith(("Cannot overwrite", "Duplicate")):
        return "keep one of them"
    if said.startswith("Cannot declare"):
        return "put its keys under one header; a list of tables has two brackets: [[window]]"
    if said.startswith("Invalid initial character") and line.endswith(("{", ",")):
        return "a table between { and } must stay on one line"
    if value.startswith('"') and "\\" in said:
        return "a backslash needs another one: \\\\, or put the text between ' and '"
    if value.startswith('"') and value.count('"') > 2:
        return 'an inch mark ends the text: write 12 ft 4 1/2 in, or \\" for the mark'
    if value.startswith("'") and value.count("'") > 2:
        return 'a foot mark ends the text: put it between " and ", with \\" for inches'
    if "=" in line and value and not re.match(r"[\"'\[{]", value):
        return f'a text or a length with its unit goes between quotes: "{value.partition("#")[0].strip()}"'
    return ""

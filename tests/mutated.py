"""Files as they come from tired people, broken editors and the malicious: good ones, mutated. Same seed, same text."""

import random
import re
from collections.abc import Callable
from typing import Final

NUMBERS: Final = (
    *("0", "-1", "1", "0.0001", "1e308", "-1e308", "1e400", "nan", "inf", "-inf", "9" * 400, "0." + "3" * 400),
    *("1_000", "0x10", "1e-320", "true", "1979-05-27", "07:32:00", "[]", "{}", "12345678901234567890"),
)
WORDS: Final = (
    *("", " ", "-", "A", "AB", "BA", "ZZ", "AA", "centre", "auto", "0", "1/0 in", "0 in", "-3 in", "1/64 in", "1e9 m"),
    *(
        "12 ft 4 1/2 in",
        "12' 4-1/2\"",
        "3.76 m",
        "1 mm",
        "9" * 5000 + " mm",
        "nan in",
        "inf mm",
        "½ in",
        "１２ ft",
        "5 fur",
    ),
    *("\x1b[2J", "‮drow", "a\nb", "\x00", "é厨🪵", "../../etc", "con", "ceiling", "C1", "=1+1", "'; --", "a" * 300),
    *("1x4", "1x44", "96x19", "19x96", "0x0", "30 deg", "90 deg", "-0 deg", "1000 deg", "#12345g", "lab(1,2,3)"),
)
SCALES: Final = (0.0, -1.0, 0.001, 0.01, 0.1, 0.5, 2.0, 10.0, 100.0, 1e6)

Change = Callable[[random.Random, str], str]


def mutated(text: str, number: int, changes: "tuple[Change, ...]") -> str:
    """A text with one to four changes, chosen by a number."""
    chance = random.Random(number)
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4))):
        text = chance.choice(changes)(chance, text)
    return text


def _some(chance: random.Random, text: str, pattern: str, new: Callable[[re.Match[str]], str]) -> str:
    """One of the places that match, changed."""
    found = list(re.finditer(pattern, text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + new(one) + text[one.end() :]


def _number(chance: random.Random, text: str) -> str:
    return _some(chance, text, r"(?<![\w.#])-?\d+(?:\.\d+)?", lambda _: chance.choice(NUMBERS))


def _scaled(chance: random.Random, text: str) -> str:
    scale = chance.choice(SCALES)
    return _some(chance, text, r"(?<![\w.#/])\d+(?:\.\d+)?(?![\w/])", lambda one: f"{float(one[0]) * scale:g}")


def _string(chance: random.Random, text: str) -> str:
    return _some(chance, text, r'"[^"\n]*"', lambda _: f'"{chance.choice(WORDS)}"')


def _unit(chance: random.Random, text: str) -> str:
    return _some(chance, text, r"\b(?:in|ft|mm|m|cm)\b", lambda _: chance.choice(("in", "ft", "mm", "m", "cm", "")))


def _letters(chance: random.Random, text: str) -> str:
    return _some(
        chance, text, r"\b[A-H]{1,2}\b", lambda _: "".join(chance.choices("ABCDEFGH", k=chance.choice((1, 2))))
    )


def _key(chance: random.Random, text: str) -> str:
    return _some(chance, text, r"(?m)^[\w-]+(?= *=)", lambda one: chance.choice((one[0][:-1], one[0] + "s", "x", "")))


def _line_gone(chance: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        del lines[chance.randrange(len(lines))]
    return "".join(lines)


def _line_elsewhere(chance: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        line = chance.choice(lines)
        lines.insert(chance.randrange(len(lines) + 1), line)
    return "".join(lines)


def _lines_swapped(chance: random.Random, text: str) -> str:
    lines = text.splitlines(keepends=True)
    if len(lines) > 1:
        one, other = chance.sample(range(len(lines)), 2)
        lines[one], lines[other] = lines[other], lines[one]
    return "".join(lines)


def _cut_off(chance: random.Random, text: str) -> str:
    return text[: chance.randrange(len(text) + 1)]


def _noise(chance: random.Random, text: str) -> str:
    at = chance.randrange(len(text) + 1)
    return (
        text[:at]
        + chance.choice(('"', "'", "[", "]", "{", "}", "=", "#", ",", ";", "\\", "\r", "\t", "\x00", "é"))
        + text[at:]
    )


def _cell(chance: random.Random, text: str) -> str:
    return _some(chance, text, r"[^,;\n]+", lambda _: chance.choice((*WORDS, *NUMBERS)).replace("\n", " "))


def _comma(chance: random.Random, text: str) -> str:
    return text.replace(",", chance.choice((";", "\t", ",,", "")), chance.choice((1, -1)))


CONFIG: Final[tuple[Change, ...]] = (
    *(_number, _scaled, _scaled, _scaled, _string, _unit, _letters, _letters),
    *(_key, _line_gone, _line_gone, _line_elsewhere, _lines_swapped, _cut_off, _noise),
)
TABLE: Final[tuple[Change, ...]] = (
    *(
        _cell,
        _cell,
        _number,
        _scaled,
        _unit,
        _letters,
        _comma,
        _line_gone,
        _line_elsewhere,
        _lines_swapped,
        _cut_off,
        _noise,
    ),
)

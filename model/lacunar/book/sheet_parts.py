"""What sheets at full size have in common: a ruler that proves the printer, and words in lines."""

from collections.abc import Sequence
from functools import partial
from typing import Final

from lacunar.drawings import POINT, Spot, Stroke, Text, Thing, text_width, wrapped
from lacunar.units import INCH, Units

RULERS: Final = {"in": (4, INCH, 8), "mm": (10, 10.0, 10)}
"""By units: how many steps, mm each, and parts of a step."""

AS_LONG: Final = {"in": "4 in", "mm": "100 mm"}

CHECK: Final = (
    "Print at 100 %, not fitted to the page. Hold a tape to the ruler: it must be {} long, or this sheet lies."
)


def check_words(units: Units) -> str:
    """What to do with the ruler."""
    return CHECK.format(AS_LONG[units])


def ruler(at: Spot, units: Units) -> list[Thing]:
    """Along the sheet from its left end on: 4 in or 100 mm, with marks that hang down and numbers below them."""
    steps, step, parts = RULERS[units]
    x, y = at
    things: list[Thing] = [Stroke(points=((x, y), (x + steps * step, y)), width=0.3)]
    for n in range(steps * parts + 1):
        whole = n % parts == 0
        tall = 4.0 if whole else 2.8 if 2 * n % parts == 0 else 1.8
        mark = x + n * step / parts
        things.append(Stroke(points=((mark, y), (mark, y + tall)), width=0.25 if whole else 0.15))
    for n in range(steps + 1):
        number = n if units == "in" else n * step
        text = f"{number:g} {units}" if n == steps else f"{number:g}"
        things.append(Text(at=(x + n * step, y + 6.0), text=text, size=6.5, anchor="centre"))
    return things


def paragraphs(texts: Sequence[str], at: Spot, room: float, size: float = 9.5) -> tuple[list[Thing], float]:
    """Texts in lines of `room` mm one below the other, and where they end."""
    step, y, things = size * POINT * 1.35, at[1], list[Thing]()
    for text in texts:
        lines = wrapped(text.split(), room, partial(text_width, size=size))
        things += (Text(at=(at[0], y + n * step), text=line, size=size) for n, line in enumerate(lines))
        y += (len(lines) + 0.5) * step
    return things, y

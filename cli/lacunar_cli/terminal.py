"""What reaches a terminal: nothing that steers it but colour of our own, and nothing that it cannot show."""

import contextlib
import io
import json
import os
import shutil
import sys
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, TextIO

import typer

if TYPE_CHECKING:
    from lacunar.config import Config

_STEERING: Final = (
    *range(0x0A),
    *range(0x0B, 0x20),
    *range(0x7F, 0xA0),
    *(0x061C, 0x200E, 0x200F, 0x2028, 0x2029),
    *range(0x202A, 0x202F),
    *range(0x2066, 0x206A),
)
"""Control characters but the line feed, and what changes the direction of writing. Source: Unicode, categories Cc, Zl
and Zp, property Bidi_Control."""

_SHOWN: Final = {code: f"\\u{code:04x}" for code in _STEERING}


def clean(text: str) -> str:
    r"""Text with what would steer a terminal written out, as \u001b; so JSON stays the same JSON."""
    return text.translate(_SHOWN)


def styled(text: str, *, colour: str | None = None, bold: bool = False, dim: bool = False) -> str:
    """Text as it stands at the head or the end of a line; plain where colour is not wanted or not known."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return clean(text) if plain else typer.style(clean(text), fg=colour, bold=bold or None, dim=dim or None)


def say(text: str = "", head: str = "", tail: str = "") -> None:
    """A line on stdout.

    Args:
        text: anything; may hold line feeds.
        head: of `styled`, before it; colour only reaches a terminal.
        tail: of `styled`, after it.
    """
    typer.echo(head + clean(text) + tail)


def say_json(config: "Config", **values: object) -> None:
    """Values as JSON, after what they are of."""
    from lacunar import __version__

    head = {"lacunar": __version__, "title": config.title, "units": config.units}
    say(json.dumps({**head, **values}, indent=1, ensure_ascii=False))


def say_row(name: str, cells: Sequence[str], name_width: int, widths: Sequence[int]) -> None:
    """A row of a table: a name and what stands below each other to its right."""
    say(f"{name:<{name_width}}" + "".join(f" {cell:>{width}}" for cell, width in zip(cells, widths, strict=True)))


def complain(text: str) -> None:
    """One line on stderr, if anybody listens there."""
    with contextlib.suppress(OSError, ValueError):
        typer.echo(clean(text), err=True)


def page_width() -> int:
    """Columns to write in: the terminal's, between 60 and 100; 80 where there is none."""
    return max(60, min(100, shutil.get_terminal_size((80, 24)).columns))


def wrapped(text: str, indent: str = "  ") -> str:
    """A line folded to the page, what follows indented."""
    return textwrap.fill(text, page_width(), subsequent_indent=indent, break_long_words=False, break_on_hyphens=False)


def forgive() -> None:
    """What the terminal's encoding does not have is shown as a question mark."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def is_watched(stream: TextIO | None) -> bool:
    """Whether a person sits at the other end; there is no stream where it was closed before the start."""
    return stream is not None and stream.isatty()


def flush() -> None:
    """Everything that was said is out.

    Raises:
        OSError: it cannot be written.
    """
    if sys.stdout is not None:  # pyright: ignore[reportUnnecessaryComparison] - it is where the file was closed at start
        sys.stdout.flush()

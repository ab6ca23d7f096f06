"""What is done, written into the config it belongs to; no comment of it is touched."""

# pyright: basic
# tomlkit's containers are untyped; what goes in and comes out here is plain text.

import itertools
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from lacunar.config import BoughtBoards, Done, DoneBoard, DonePiece, edit_config, measure_text
from lacunar.units import Units


def write_done(path: Path, before: Done, after: Done, units: Units) -> bool:
    """Write what is done into [done]; every other byte of the file stays. Whether anything was written.

    Args:
        path: the config.
        before: as the file has it.
        after: as it shall be.
        units: of the file.

    Raises:
        ConfigError: the file is not there, or not TOML.
    """
    if before == after:
        return False
    edit_config(path, lambda document: _edit(document, before, after, units))
    return True


def _edit(document: Any, before: Done, after: Done, units: Units) -> None:
    import tomlkit

    if "done" not in document:
        text = _bought_text(after.bought, units) + "".join(_board_text(board, units) for board in after.board)
        document.append("done", tomlkit.parse(f"[done]\n{text}")["done"])
        return
    done = document["done"]
    if after.bought != before.bought:
        done["bought"] = tomlkit.parse(_bought_text(after.bought, units))["bought"]
    _edit_boards(done, before.board, after.board, units)
    if not after.bought and "bought" in done:
        done.remove("bought")
    if not after.board and "board" in done:
        done.remove("board")
    if not done:
        document.remove("done")
        _drop_last_blank(document)


def _drop_last_blank(container: Any) -> None:
    """The empty line that stood above what was the last table."""
    from tomlkit.items import AoT, Null, Table, Whitespace

    body = container.body
    while body and isinstance(body[-1][1], Null):  # what is left where a key was removed
        body.pop()
    last = body[-1][1] if body else None
    if isinstance(last, Whitespace) and not last.s.strip():
        body.pop()
    elif isinstance(last, AoT):
        _drop_last_blank(last.body[-1].value)
    elif isinstance(last, Table):
        _drop_last_blank(last.value)


def _edit_boards(done: Any, before: Sequence[DoneBoard], after: Sequence[DoneBoard], units: Units) -> None:
    """The boards that changed: those before and behind them, and their comments, stay as they are."""
    import tomlkit

    if before == after:
        return
    same = len(list(itertools.takewhile(lambda pair: pair[0] == pair[1], zip(before, after, strict=False))))
    if "board" not in done:
        done["board"] = tomlkit.aot()
    there = done["board"]
    gone = max(len(before) - len(after), 0)
    for _ in range(gone):
        del there[same]
    for i, board in enumerate(after[same:], start=same):
        fresh = tomlkit.parse(_board_text(board, units))["done"]["board"][0]
        if i >= len(there):
            there.append(fresh)
        elif i + gone >= len(before) or before[i + gone] != board:
            for key in [*there[i]]:
                if key not in fresh:
                    there[i].remove(key)
            for key, value in fresh.items():
                if there[i].get(key) != value:
                    there[i][key] = value


def _bought_text(rows: Sequence[BoughtBoards], units: Units) -> str:
    if not rows:
        return ""
    lines = "".join(
        f"    {_inline({**_sort(row), 'length': measure_text(row.length, units), 'count': row.count})},\n"
        for row in rows
    )
    return f"bought = [\n{lines}]\n"


def _board_text(board: DoneBoard, units: Units) -> str:
    values = {**_sort(board), "length": measure_text(board.length, units)}
    if board.left is not None:
        values["left"] = measure_text(board.left, units)
    head = "".join(f"{key} = {_value(value)}\n" for key, value in values.items())
    pieces = "".join(f"    {_inline(_piece(piece, units))},\n" for piece in board.pieces)
    return f"\n[[done.board]]\n{head}pieces = [\n{pieces}]\n"


def _sort(row: BoughtBoards | DoneBoard) -> dict[str, str]:
    return {"stock": row.stock} | ({} if row.species is None else {"species": row.species})


def _piece(piece: DonePiece, units: Units) -> Mapping[str, object]:
    sizes = ("length", "width", "width_end", "takes")
    given = {key: getattr(piece, key) for key in sizes}
    said = {} if piece.said == ("cut",) else {"said": piece.said}
    texts = {key: measure_text(mm, units) for key, mm in given.items() if mm is not None}
    return {"part": piece.part, **texts, **said}


def _inline(values: Mapping[str, object]) -> str:
    return f"{{ {', '.join(f'{key} = {_value(value)}' for key, value in values.items())} }}"


def _value(value: object) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_value, value))}]"
    return f"{value}" if isinstance(value, int) else '"' + str(value).replace("\\", "\\\\").replace('"', '\\"') + '"'

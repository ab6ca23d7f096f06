"""Turns at the saw: which stop stands where while the boards are cut, and when one has to be set anew."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeBoards:
    """Boards that are cut alike at once.

    Attributes:
        boards: index of the first and of the one beyond the last.
        stops: settings in the order of cutting.
        placed: those of them that are set anew.
    """

    boards: tuple[int, int]
    stops: tuple[str, ...]
    placed: tuple[str, ...]


def make_steps(groups: Sequence[int], stops: Sequence[tuple[str, ...]], flip_stops: int) -> tuple[AlikeBoards, ...]:
    """Turns of one stock, from an empty stand.

    Boards that take the same lengths of wood may be cut to other stops: a rip is shorter than its section, and strips
    of other mitres share cuts. Such boards lie in no stack, and the stops that count are those that are used.

    Args:
        groups: of each board, the stack that it may lie in; ascending.
        stops: of each board, in the order of cutting, each once.
        flip_stops: on the stand.
    """
    if not stops:
        return ()
    starts = [n for n in range(len(stops)) if not n or (groups[n], stops[n]) != (groups[n - 1], stops[n - 1])]
    used = [stops[n] for n in starts]
    placed = _placed(used, flip_stops)
    return tuple(
        AlikeBoards(boards=(start, end), stops=names, placed=anew)
        for start, end, names, anew in zip(starts, [*starts[1:], len(stops)], used, placed, strict=True)
    )


def _placed(used: Sequence[tuple[str, ...]], flip_stops: int) -> list[tuple[str, ...]]:
    """The stop that moves is the one that is used last of all that stand; none does better (Belady 1966)."""
    flat = [(step, name) for step, names in enumerate(used) for name in names]
    after: dict[str, int] = {}
    following = [0] * len(flat)
    for at in range(len(flat) - 1, -1, -1):
        name = flat[at][1]
        following[at] = after.get(name, len(flat))
        after[name] = at
    standing: dict[str, int] = {}
    placed: list[list[str]] = [[] for _ in used]
    for at, (step, name) in enumerate(flat):
        if name not in standing:
            placed[step].append(name)
            if len(standing) >= flip_stops:
                del standing[max(standing, key=lambda other: (standing[other], other))]
        standing[name] = following[at]
    return [tuple(names) for names in placed]

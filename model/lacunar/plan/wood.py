"""What is cut from the boards of one stock, and how the saw takes it."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.cutting import Timber
from lacunar.plan.grid import Grid
from lacunar.plan.lumber import Lumber
from lacunar.plan.nesting import Nest, make_nest
from lacunar.plan.pieces import Piece, make_pieces, rip_lengths, span_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """What is cut, and what from; `nest` where strips share cuts."""

    pieces: tuple[Piece, ...]
    timber: Timber
    nest: Nest | None


def make_wood(
    parts: Sequence[Part], pairs: Collection[tuple[str, str]], lumber: Lumber, config: Config, grid: Grid
) -> Wood:
    """Pieces and timber of one stock; mitred strips by what they take of a board when they share cuts.

    Args:
        parts: of one stock and species.
        pairs: ids of rips that share a section.
        lumber: boards.
        config: the saw.
        grid: ticks.
    """
    nest = make_nest(parts, config)
    timber = Timber(
        stocks=lumber.stocks,
        kerf=grid.up(config.shop.kerf * (nest.kerf_factor if nest else 1.0)),
        end_waste=grid.up(config.shop.end_waste + (nest.end if nest else 0.0)),
    )
    return Wood(pieces=_nested(make_pieces(parts, pairs, config, grid), nest, config, grid), timber=timber, nest=nest)


def lengths_of(wood: Wood, ticks: Sequence[int], config: Config, grid: Grid) -> Mapping[str, int]:
    """Part id to what it is cut to, ticks, where the pieces take so much of a board each."""
    if wood.nest is None:
        return rip_lengths(wood.pieces, ticks, config, grid)
    return {part.id: span_of(part, config, grid).lo for piece in wood.pieces for part in piece.parts}


def nested_ticks(part: Part, nest: Nest, config: Config, grid: Grid) -> int:
    """What a strip takes of a board where it shares its cuts, the kerf aside."""
    return grid.up(grid.mm(span_of(part, config, grid).lo) - sum(nest.saved(part)))


def _nested(pieces: Sequence[Piece], nest: Nest | None, config: Config, grid: Grid) -> tuple[Piece, ...]:
    """Strips by what they take of a board when they share cuts."""
    if nest is None:
        return tuple(pieces)
    out: list[Piece] = []
    for piece in pieces:
        ticks = nested_ticks(piece.parts[0], nest, config, grid)
        out.append(replace(piece, span=replace(piece.span, lo=ticks, hi=ticks, wish=ticks), is_free=False))
    return tuple(out)

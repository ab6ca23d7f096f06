"""What has been done already: boards that were bought and cut up, pieces that are cut, up or spoilt."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Annotated, Literal, get_args

from pydantic import Field

from lacunar.config.lengths import Board, Distance, Length, Section
from lacunar.config.names import PieceName, Text, one_of
from lacunar.config.numbers import OnHand
from lacunar.config.table import Table

Said = Literal["cut", "up", "spoilt"]
"""What is said of a piece; what is up was cut."""

SAID: tuple[Said, ...] = get_args(Said)

Bought = tuple[str, str, float]
"""Boards that are alike: stock, species and length as sold, mm."""


class DonePiece(Table):
    """One piece as it was cut."""

    part: PieceName = Field(description="Its id, like C5-S03.")
    length: Length = Field(description="As cut, long point to long point.")
    width: Section | None = Field(default=None, description="As ripped, at its end nearer corner A.")
    width_end: Section | None = Field(default=None, description="As ripped, at its end farther from corner A.")
    takes: Distance | None = Field(
        default=None, description="Of its board, where that is not its length and a saw cut: 0 beside another rip."
    )
    said: tuple[Annotated[Said, one_of(Said)], ...] = Field(
        default=("cut",), description="What was said of it, in order; the last holds."
    )

    @property
    def is_good(self) -> bool:
        """It is cut, and not spoilt."""
        return not self.is_spoilt

    @property
    def is_spoilt(self) -> bool:
        """It has to be cut again."""
        return self.said[-1] == "spoilt"

    @property
    def is_up(self) -> bool:
        """It hangs where it belongs."""
        return self.said[-1] == "up"


class DoneBoard(Table):
    """One board that was cut into."""

    stock: Text = Field(description="What it was bought as.")
    species: Text | None = Field(default=None, description="Its wood.")
    length: Board = Field(description="As sold.")
    left: Distance | None = Field(
        default=None, description="What is left of it in one piece. Default: what its pieces and their saw cuts leave."
    )
    pieces: tuple[DonePiece, ...] = Field(default=(), description="What was cut from it.")


class BoughtBoards(Table):
    """Boards of one stock and length that are bought."""

    stock: Text = Field(description="What they were bought as.")
    species: Text | None = Field(default=None, description="Their wood.")
    length: Board = Field(description="As sold.")
    count: OnHand = Field(description="How many, spares and those that were cut since among them.")


class Done(Table):
    """What was bought, cut, put up and spoilt; written by `lacunar done`."""

    bought: tuple[BoughtBoards, ...] = Field(default=(), description="Boards that are bought.")
    board: tuple[DoneBoard, ...] = Field(default=(), description="Boards that were cut into, in order.")

    @property
    def cut(self) -> Mapping[str, DonePiece]:
        """Pieces that are cut and good, those that are up among them, by part id."""
        return {piece.part: piece for piece in self._pieces() if piece.is_good}

    @property
    def spoilt(self) -> tuple[DonePiece, ...]:
        """Pieces that are no good, in order; one part may be there more than once."""
        return tuple(piece for piece in self._pieces() if piece.is_spoilt)

    @property
    def opened(self) -> Mapping[Bought, int]:
        """How many boards were cut into."""
        return Counter((board.stock, board.species or "", board.length) for board in self.board)

    @property
    def boards(self) -> Mapping[Bought, int]:
        """How many boards are bought, by what was said."""
        found = Counter[Bought]()
        for row in self.bought:
            found[row.stock, row.species or "", row.length] += row.count
        return found

    def _pieces(self) -> Iterator[DonePiece]:
        return (piece for board in self.board for piece in board.pieces)

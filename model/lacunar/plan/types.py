"""What a plan is made of. Lengths in mm, money in the config's currency."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One position of the stop block, rip fence or mitre, and the parts cut at it; what does not apply is None."""

    id: str
    stock: str
    stop: float | None
    fence: float | None
    mitre_deg: float | None
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One part on a board: from where to where along it; `across` where two rips share a section."""

    part: str
    start: float
    end: float
    across: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One bought board and what is cut from it, in order."""

    id: str
    stock: str
    length: float
    price: float | None
    cuts: tuple[Cut, ...]
    offcut: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Buy:
    """One line of the shopping list: boards to be cut, spares for the cull, price each, total for both."""

    stock: str
    length: float
    count: int
    spare: int
    price: float | None
    total: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unserved:
    """A part that no board can give, and why."""

    part: str
    stock: str
    length: float
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How every bought part is cut.

    Attributes:
        lengths: part id to the length it is cut to.
        cost: None where a price is missing.
        lower_bound: no plan can cost less; None where unknown.
        gap: (cost - lower_bound) / lower_bound, or None.
        proven: the gap is 0.
        board_length: of all boards to be cut, mm.
        used_length: of the parts on them, mm.
        waste: share of bought board length that ends in no part.
    """

    lengths: Mapping[str, float]
    settings: tuple[Setting, ...]
    boards: tuple[Board, ...]
    buy: tuple[Buy, ...]
    unserved: tuple[Unserved, ...]
    cost: float | None
    lower_bound: float | None
    gap: float | None
    proven: bool
    board_length: float
    used_length: float
    waste: float

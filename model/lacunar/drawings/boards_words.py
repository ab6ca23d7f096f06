"""What is written on and beside a drawn board."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.drawings.lettering import tape_text
from lacunar.plan import Board, Cut, Plan, Setting


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What the drawings of one plan say.

    Attributes:
        settings: by part, the stop first.
        widths: of the boards, by stock and species, mm.
    """

    config: Config
    settings: Mapping[str, Sequence[Setting]]
    lengths: Mapping[str, float]
    widths: Mapping[tuple[str, str], float]

    def length(self, cut: Cut) -> str:
        """As the stop is set for it."""
        stops = (s.stop for s in self.settings.get(cut.part, ()) if s.stop is not None)
        return tape_text(next(stops, self.lengths[cut.part]), self.config)

    def named(self, cut: Cut) -> list[str]:
        """Its settings by id, with a star where it is cut to measure."""
        names = [f"{s.id}*" if s.apart else s.id for s in self.settings.get(cut.part, ())]
        return [*names, *(["turned"] if cut.turned else [])]

    def width(self, board: Board) -> float:
        """Of a board, mm."""
        return self.widths[board.stock, board.species]

    @property
    def saw(self) -> tuple[float, float]:
        """Kerf and end waste, mm."""
        return self.config.shop.kerf, self.config.shop.end_waste

    def money(self, board: Board) -> str:
        """What it costs."""
        if board.on_hand:
            return "on hand"
        return "" if board.price is None else f"{board.price:,.2f} {self.config.currency}"

    def offcut(self, board: Board) -> tuple[str, str]:
        """What is left, in full and in short."""
        length = tape_text(board.offcut, self.config)
        return f"{'keep' if board.keep else 'offcut'} {length}", length


def words_of(plan: Plan, config: Config, widths: Mapping[tuple[str, str], float]) -> Words:
    """The words for one plan."""
    settings: dict[str, list[Setting]] = {}
    for setting in sorted(plan.settings, key=lambda s: s.stop is None):
        for part in setting.parts:
            settings.setdefault(part, []).append(setting)
    return Words(config=config, settings=settings, lengths=plan.lengths, widths=widths)


def counted(n: int, thing: str) -> str:
    """1 board, 2 boards."""
    return f"{n} {thing}" if n == 1 else f"{n} {thing}s"

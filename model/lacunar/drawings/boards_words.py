"""What is written on and beside a drawn board."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Shop
from lacunar.drawings.cut_words import ends_text, rip_text
from lacunar.parts import Part
from lacunar.plan import Board, Cut, Setting
from lacunar.tape import Tape

Said = tuple[str, bool]
"""A phrase, and whether it is bold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What the drawings of one plan say.

    Attributes:
        tape: that lengths are told by.
        currency: of prices.
        settings: by part, the stop first.
        parts: by id, as cut.
        widths: of the boards, by stock and species, mm.
        waits: what must not be cut yet: measures by part and key.
    """

    tape: Tape
    shop: Shop
    currency: str
    settings: Mapping[str, Sequence[Setting]]
    parts: Mapping[str, Part]
    lengths: Mapping[str, float]
    widths: Mapping[tuple[str, str], float]
    waits: Mapping[str, Mapping[str, str]]

    def length(self, cut: Cut) -> str:
        """As the stop is set for it."""
        stops = (s.stop for s in self.settings.get(cut.part, ()) if s.stop is not None)
        return self.tape.stop_text(next(stops, self.lengths[cut.part]))

    def said(self, cut: Cut, todo: set[str]) -> list[Said]:
        """How it is cut: its stop, bold where it is still `todo`, its width, its ends."""
        settings, part = self.settings.get(cut.part, ()), self.parts[cut.part]
        found: list[Said] = []
        for setting in settings:
            if setting.fence is not None:
                width = rip_text(part, setting, self.tape, turned=cut.turned)
                found.append((f"rip {width} ({setting.id})", False))
            elif setting.stop is not None:
                now = setting.id in todo
                name = f"set {setting.id} to {self.length(cut)}" if now else setting.id
                found.append((f"cut to measure ({setting.id})" if setting.apart else name, now))
        if any(setting.mitre_deg for setting in settings):
            found.append((ends_text(part, settings, self.tape, turned=cut.turned), False))
        return found

    def stops(self, cuts: Sequence[Cut]) -> set[str]:
        """Ids of the stops that pieces are cut at."""
        return {setting.id for cut in cuts for setting in self.settings.get(cut.part, ()) if setting.stop is not None}

    def waiting(self, cuts: Sequence[Cut]) -> tuple[str, ...]:
        """The measures that pieces wait for."""
        return tuple(dict.fromkeys(measure for cut in cuts for measure in self.waits.get(cut.part, {}).values()))

    def width(self, board: Board) -> float:
        """Of a board, mm."""
        return self.widths[board.stock, board.species]

    @property
    def saw(self) -> tuple[float, float]:
        """Kerf and end waste, mm."""
        return self.shop.kerf, self.shop.end_waste

    def money(self, board: Board) -> str:
        """What it costs."""
        if board.on_hand:
            return "on hand" if board.rest is None else "on hand, cut into"
        return "" if board.price is None else f"{board.price:,.2f} {self.currency}"

    def offcut(self, board: Board) -> tuple[str, str]:
        """What is left, in full and in short."""
        length = self.tape.stop_text(board.offcut)
        return f"{'keep' if board.keep else 'offcut'} {length}", length


def numbers_text(boards: Sequence[Board]) -> str:
    """In words: "board 23", "boards 23 to 28", "boards 3, 5 to 7"."""
    runs = [[name.removeprefix("B") for name in run] for run in _runs([board.id for board in boards])]
    named = [f"{run[0]} to {run[-1]}" if len(run) > 2 else " and ".join(run) for run in runs]
    return f"{'board' if len(boards) == 1 else 'boards'} {', '.join(named)}"


def ids_text(ids: Sequence[str]) -> str:
    """Parts in order, three that follow each other or more as "C1-S02 to C1-S07"."""
    named = (f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in _runs(ids))
    return ", ".join(named)


def _runs(ids: Sequence[str]) -> Iterator[list[str]]:
    """Names that are alike but for a last number that counts up."""
    run: list[str] = []
    for name in ids:
        if run and _next(run[-1]) != name:
            yield run
            run = []
        run.append(name)
    if run:
        yield run


def _next(name: str) -> str:
    found = re.fullmatch(r"(.*?)(\d+)", name)
    return f"{found[1]}{int(found[2]) + 1:0{len(found[2])}d}" if found else ""

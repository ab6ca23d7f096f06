"""What a person says, written down as it was seen that day: each piece with its length and its board."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from lacunar.config import BoughtBoards, Done, DoneBoard, DonePiece, Said, Shop, first_of
from lacunar.done.ask import Ask, split_words
from lacunar.done.names import recorded_names
from lacunar.errors import ConfigError
from lacunar.parts import Part
from lacunar.plan import Board, Plan, bought_boards
from lacunar.tolerances import ARITHMETIC

MOST_NAMES = 6
"""Parts that are named before "and n more"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """What is done now.

    Attributes:
        notes: sentences about what was not written, and why.
    """

    done: Done
    notes: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class _Book:
    """A record while it is written."""

    plan: Plan
    parts: Mapping[str, Part]
    stops: Mapping[str, float]
    kerf: float
    boards: list[DoneBoard]
    bought: tuple[BoughtBoards, ...]
    opened: dict[str, int] = field(default_factory=dict[str, int])
    notes: dict[str, list[str]] = field(default_factory=dict[str, list[str]])

    def note(self, what: str, part: str) -> None:
        """Something that is not written, of one part more."""
        self.notes.setdefault(what, []).append(part)


def record(done: Done, ask: Ask, plan: Plan, parts: Sequence[Part], shop: Shop) -> Recorded:
    """What is done after this was said too; saying a thing twice changes nothing, but for what is spoilt again.

    Args:
        done: so far.
        ask: what is said.
        plan: that it is said of: its lengths, boards and buying list.
        parts: at these lengths.
        shop: its saw, and what was on hand.
    """
    book = _Book(
        plan=plan,
        parts={part.id: part for part in parts},
        stops={part: setting.stop for setting in plan.settings for part in setting.parts if setting.stop is not None},
        kerf=shop.kerf,
        boards=list(done.board),
        bought=done.bought,
    )
    if ask.bought:
        book.bought = _with_bought(done, plan, shop)
    on_boards = {cut.part: None for board in plan.boards if board.id in ask.boards for cut in board.cuts}
    _say(book, on_boards | dict(ask.cut), "cut", lambda piece: piece is None or piece.is_spoilt)
    _say(book, ask.up, "up", lambda piece: piece is None or not piece.is_up)
    _say(book, ask.spoilt, "spoilt", lambda _: True)
    notes = tuple(f"{what}: {first_of(named, MOST_NAMES)}" for what, named in book.notes.items())
    return Recorded(done=Done.model_construct(bought=book.bought, board=tuple(book.boards)), notes=notes)


def take_back(done: Done, names: Sequence[str]) -> Done:
    """Without the last word of each part that is named: of its good piece, or of the last one that was spoilt.

    Raises:
        ConfigError: with every name of which nothing is written.
    """
    known = recorded_names(done)
    problems = [known.unknown(name, "--undo") for name, _ in split_words(names) if not known.find(name)]
    if problems:
        raise ConfigError(problems)
    boards = list(done.board)
    for part in dict.fromkeys(part for name, _ in split_words(names) for part in known.find(name)):
        at = _last(boards, part, good=True) or _last(boards, part, good=False)
        assert at is not None, "what is known is on some board"
        piece = boards[at[0]].pieces[at[1]]
        said = piece.said[:-1]
        _replace(boards, at, *([piece.model_copy(update={"said": said})] if said else []))
    left = tuple(board for board in boards if board.pieces or board.left is not None)
    return done.model_copy(update={"board": left})


def _with_bought(done: Done, plan: Plan, shop: Shop) -> tuple[BoughtBoards, ...]:
    """The buying list added to what is bought already, boards among it that were cut into and never called bought."""
    counts = Counter(bought_boards(done, shop))
    for line in plan.buy:
        counts[line.stock, line.species, line.length] += line.count + line.spare
    return tuple(
        BoughtBoards.model_construct(stock=stock, species=species or None, length=length, count=count)
        for (stock, species, length), count in counts.items()
    )


def _say(
    book: _Book, asked: Mapping[str, float | None], word: Said, is_news: Callable[[DonePiece | None], bool]
) -> None:
    """One word of each part: of the piece that there is, or of one that is cut now."""
    new: dict[str, float | None] = {}
    for part, length in asked.items():
        at = _last(book.boards, part, good=True)
        piece = None if at is None else book.boards[at[0]].pieces[at[1]]
        if piece is not None and length is not None and abs(length - piece.length) > ARITHMETIC:
            book.note("cut already, to a length that stays; take that back first, or call it spoilt", part)
        elif not is_news(piece):
            book.note("up already" if piece is not None and piece.is_up else "cut already", part)
        elif piece is None or at is None:
            new[part] = length
        else:
            _replace(book.boards, at, piece.model_copy(update={"said": (*piece.said, word)}))
    for board in book.plan.boards:
        _cut(book, board, {cut.part: new[cut.part] for cut in board.cuts if cut.part in new}, word)
    served = {cut.part for board in book.plan.boards for cut in board.cuts}
    for part in new:
        if part not in served:
            book.note("on no board of the plan", part)


def _cut(book: _Book, board: Board, pieces: Mapping[str, float | None], word: Said) -> None:
    """Pieces of one board of the plan, on the board that it is what is left of, or on a new one."""
    if not pieces:
        return
    takes = taken(board, pieces, book.kerf)
    made = tuple(
        _piece(book.parts[part], book.stops.get(part) if length is None else length, takes[part], word, book.kerf)
        for part, length in pieces.items()
    )
    at = book.opened.get(board.id, board.rest)
    if at is None:
        book.opened[board.id] = len(book.boards)
        book.boards.append(
            DoneBoard.model_construct(
                stock=board.stock, species=board.species or None, length=board.length, pieces=made
            )
        )
    else:
        old = book.boards[at]
        book.boards[at] = old.model_copy(update={"pieces": (*old.pieces, *made)})


def taken(board: Board, pieces: Mapping[str, object], kerf: float) -> dict[str, float]:
    """What each of some pieces takes of its board, mm, a saw cut with it; 0 for what lies beside another of them."""
    takes: dict[str, float] = {}
    first, end = "", 0.0
    for cut in sorted((cut for cut in board.cuts if cut.part in pieces), key=lambda cut: (cut.start, cut.end)):
        if first and cut.start < end - ARITHMETIC:
            takes[first] += max(cut.end - end, 0.0)
            takes[cut.part] = 0.0
        else:
            first, takes[cut.part] = cut.part, cut.end - cut.start + kerf
        end = max(end, cut.end)
    return takes


def _piece(part: Part, length: float | None, takes: float, word: Said, kerf: float) -> DonePiece:
    mm = part.length if length is None else length
    # A blank that is longer than its rip, or a mitred strip that shares its cuts.
    usual = abs(mm + kerf - takes) <= ARITHMETIC
    widths = part.widths if any(part.sawn_edges) else (None, None)
    return DonePiece.model_construct(
        part=part.id,
        length=mm,
        width=widths[0],
        width_end=None if part.width_end is None else widths[1],
        takes=None if usual else takes,
        said=(word,),
    )


def _last(boards: Sequence[DoneBoard], part: str, *, good: bool) -> tuple[int, int] | None:
    """Where the last such piece of a part stands."""
    found = [
        (b, n)
        for b, board in enumerate(boards)
        for n, piece in enumerate(board.pieces)
        if piece.part == part and piece.is_good == good
    ]
    return found[-1] if found else None


def _replace(boards: list[DoneBoard], at: tuple[int, int], *pieces: DonePiece) -> None:
    """Other pieces in the place of one; none takes it off its board."""
    board, n = boards[at[0]], at[1]
    boards[at[0]] = board.model_copy(update={"pieces": (*board.pieces[:n], *pieces, *board.pieces[n + 1 :])})

"""What is said of beams and pieces: in which order they go up, what holds their ends, where pockets are drilled."""

from collections.abc import Iterator, Sequence
from typing import Final

from lacunar.book.subject import Book
from lacunar.drawings import LADDER, Block, Heading, Table, Words, ids_text
from lacunar.parts import Part, pocket_places
from lacunar.reports import CutRow
from lacunar.tape import Tape
from lacunar.told import counted, sentence

PROPS: Final = (
    "Grey beams stay. Black dots: a prop near each end of a piece, under it until all its screws are in. That is "
    "common practice; ask who is responsible for the structure."
)
ROWS: Final = (
    "Two lines for each row on both faces of every beam, all from the same end. Then stretch a string along each row: "
    "it lies on all its lines, or one is misread. The cross is where the piece goes."
)
AT_ONCE: Final = (
    "Write the id and TOP on each piece as it leaves the saw. Filled marks: high pockets. Open marks: low pockets, "
    "which are plugged. Not to scale; the longer face is drawn longer than it is."
)
COLLAR: Final = (
    "Depth: from the middle of the mouth along the hole to the shoulder that the screw's head pulls against. Set the "
    "collar on the bit as much further back as your guide holds it off the face. Drill one in a scrap of the same wood "
    "first: the screw must leave the end where the table says."
)


def steps(book: Book) -> tuple[str, ...]:
    """In the order of the work."""
    cross, tape = book.config.cross_beams, book.config.tape
    up = 0.0 if cross is None else cross.bottom
    level = "flush with" if not up else f"{tape.text(up, 'inches')} higher than"
    play = 0.0 if cross is None else cross.joint.clearance
    clear = f", less {tape.text(play, 'inches', tape.fine)} in all for play" if play else ""
    return (
        "Mark every row on both faces of every old beam, all from one end. A string proves each row straight.",
        f"Measure the openings on the wood, both faces, top and bottom. Pieces are cut to what was read{clear}.",
        "Cut one, drill it, put it up. Then the rest.",
        "Mark TOP on every piece before it leaves the bench.",
        "Two people lift. A prop stands near each end before anybody lets go.",
        f"Undersides hang {level} those of the beams that they come up to.",
        "Screw the high pockets first, then the low ones; plug the low ones.",
    )


def told_ends(book: Book, part: Part) -> Iterator[str]:
    """What each end of a piece screws into; of one without pockets that nothing is planned."""
    if not part.pockets:
        yield "No pockets: what holds it is not planned here. Ask."
        return
    yield "Screws into: " + "; ".join(f"at {name}, {_into(book, name)}" for name in part.meets) + "."


def _into(book: Book, name: str) -> str:
    bars = {bar.id: bar for bar in (*book.layout.beams, *book.layout.half_beams, *book.layout.mouldings)}
    bar = bars.get(name)
    if bar is None:
        behind = "unknown" if book.config.cross_beams is None else book.config.cross_beams.wall_end
        return "a wall nobody has looked into: ask" if behind == "unknown" else f"a {behind} in the wall"
    if bar.kind == "moulding":
        return "a moulding: ask"
    if bar.made == "hollow":
        return f"a box of boards {book.config.tape.text(bar.shell, 'inches')} thick: ask"
    return "solid wood" if bar.made == "solid" or bar.kind != "existing beam" else "a beam nobody has looked into: ask"


def card_title(row: CutRow, banner: str) -> str:
    """What it is and how long; that it waits is told first."""
    wait = "NOT YET  " if banner else ""
    return f"{wait}{row.id}   {row.length}   {row.stock} {row.species}"


def card_lines(row: CutRow) -> Iterator[str]:
    """How its ends are cut, and what else is; first that it is cut or up already."""
    yield from (sentence(note) for note in row.notes.split("; ") if note in ("up", "cut already"))
    yield f"Ends: {row.ends}."
    if row.ripped:
        yield f"Ripped to {row.width}, sawn edge {row.sawn_edge}."


def pocket_table(pieces: Sequence[Part], tape: Tape) -> Iterator[Block]:
    """Where pockets are drilled: those that are drilled alike together."""
    found: dict[tuple[str, ...], dict[str, list[str]]] = {}

    def text(mm: float) -> str:
        return tape.text(mm, "inches", tape.fine)

    for part in pieces:
        for place in pocket_places(part):
            pocket = place.pocket
            edge = f"{text(place.from_edge)} from the {'top' if pocket.level == 'high' else 'bottom'}"
            key = (
                pocket.level,
                tape.text(place.from_end, "inches"),
                edge,
                text(place.from_face),
                text(place.depth),
                text(pocket.screw),
            )
            found.setdefault(key, {}).setdefault(part.id, []).append(pocket.level)
    yield Heading(text="Pockets", level=2)
    yield Words(texts=(COLLAR,), size=LADDER, keep=True)
    rows: list[tuple[str, ...]] = []
    for key, parts in found.items():
        counts = sorted({len(levels) for levels in parts.values()})
        each = counted(counts[0], "hole") if len(counts) == 1 else f"{counts[0]} to {counts[-1]} holes"
        who = "every piece" if len(parts) == len(pieces) else ids_text(list(parts))
        rows.append((f"{key[0]}, {each}: {who}", *key[1:]))
    head = ("Pocket", "From the end", "From top or bottom", "Leaves the end, from the face", "Depth", "Screw")
    yield Table(head=head, rows=tuple(rows), shares=(1.3, 0, 1.1, 1.1, 0, 0), bold=(0,), size=LADDER)

"""What stands beside and under the drawing of a coffer: sentences and tables, for who works overhead."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.coffer_facts import CofferFacts
from lacunar.book.subject import Book
from lacunar.drawings import LADDER, Block, Table, Words, ids_text
from lacunar.layout import OverheadLines
from lacunar.parts import Part
from lacunar.told import counted, from_to

FACE: Final = "Face wall {wall}. Hold the sheet flat in front of you, this side up."
HOLE_OFF: Final = "Below or above: put up no rip, look for a slipped spacer, and ask."
LIGHT: Final = (
    "{names}: power off and tested dead. The ring that brings the box out to the new face is fitted before the slat "
    "round it goes up; wiring is a licensed electrician's work."
)
CROWDED: Final = "{names}: of each at least one nail or screw falls where no nail may go. Leave those out."


def start_lines(facts: CofferFacts) -> list[str]:
    """What is done first, in the order in which it is."""
    one, layout = facts.drawing, facts.drawing.layout
    tape, coffer = one.tape, one.coffer
    lines = [FACE.format(wall=facts.book.room.walls[0])]
    if not one.running.marks:
        return [*lines, "No slats go up here."]
    if coffer.cut_to_shape:
        lines.append(
            f"Slats lie at an angle. Slat 1 lies in the corner at {one.start.against}. "
            "Draw both edges of every slat on the old ceiling, a spacer apart."
        )
    else:
        lines += _first_line(facts)
    spacer = from_to(tape.text(coffer.gap, "inches"), tape.text(coffer.gap_end, "inches"))
    fanned = ", wider at the wider end" if coffer.wedge == "fan" else ""
    lines.append(f"Spacer between slats: {spacer}{fanned}.")
    rule, into = layout.nailing, "strip" if layout.furring is not None else "joist"
    length, off = (tape.text(mm, "inches") for mm in (rule.length, rule.from_end))
    lines.append(f"Nails {length} long, {rule.per_joist} at each {into}, {off} or more from a slat's end.")
    return lines


def _first_line(facts: CofferFacts) -> Iterator[str]:
    """Where the first slat to go up begins: a full one, since a rip before it is cut to the hole that is left."""
    one, tape = facts.drawing, facts.drawing.tape
    rips = {number for number, part in _numbered(facts) if part.ripped and any(part.sawn_edges)}
    marks = [mark for mark in one.running.marks if mark.number not in rips] or [*one.running.marks]
    ids = [part.id for number, part in _numbered(facts) if number == marks[0].number]
    at = from_to(*(tape.text(max(mm, 0.0), "inches") for mm in (marks[0].start, marks[0].end)))
    yield f"Start at {one.start.against}, the heavy side. First up: {' and '.join(ids)}, its line {at} from there."
    before = [part.id for number, part in _numbered(facts) if number < marks[0].number]
    if before:
        yield f"{' and '.join(before)} comes later, ripped to the hole that is left beside {one.start.against}."


def _numbered(facts: CofferFacts) -> Iterator[tuple[int, Part]]:
    """Its slats, each with its number; halves of a severed one have the same."""
    numbers = {slat.id: slat.number for slat in facts.drawing.layout.slats}
    return ((numbers[part.id], part) for part in facts.of_kind("slat"))


def how_to_read(book: Book) -> tuple[str, ...]:
    """Once, before the first coffer."""
    wall, unit = book.room.walls[0], "inches" if book.config.units == "in" else "millimetres"
    furring = book.layout.furring is not None
    nail = book.config.fasteners.slat
    dashed = "joists and strips of furring" if furring else "joists"
    assumed = " Joists are only assumed: find them before anything is nailed." if book.layout.joists.assumed else ""
    return (
        f"{FACE.format(wall=wall)} Then {wall} is ahead on the sheet as it is overhead, and left is left.",
        f"Numbers are {unit}, all on one side of a drawing from one face, square to it. Mark both ends, strike a line.",
        "Beside the slats' ends: from the heavy side to the near edge of every third slat and of the last.",
        "The slats between are set with the spacer. The table has all of them.",
        f"Along the other two sides: from the face that is named under the drawing to {_bearers(furring)}.",
        f"Dashed lines are {dashed}.{assumed} Dots are nails.",
        "Grey slats are ripped: the table says to which side their sawn edge goes.",
        "Hatched: no nail and no screw there, a pipe or a wire is above.",
        f"Nails are {nail.gauge} gauge {nail.kind}s; narrow rips take one at each joist or strip, on their middle.",
        "Full slats go up first. Then measure the holes that they leave, each at both ends, and rip to what was read.",
        "Where there is a fixture: power off and tested dead, ring first, then the slat round it.",
        "Trim last, strips that face each other first.",
    )


def _bearers(furring: bool) -> str:
    return "the near edge of each strip of furring" if furring else "the middle of each joist"


def legend(facts: CofferFacts) -> list[str]:
    """What the numbers of this drawing are taken from."""
    one, said = facts.drawing, list[str]()
    if one.running.marks and not one.coffer.cut_to_shape:
        said.append(f"At the slats' ends: from {one.start.against} to each slat's near edge.")
    elif one.running.marks:
        said.append("Line: from the near edge of slat 1, square to the slats.")
    if one.bearers is not None and not one.coffer.cut_to_shape:
        what = _bearers(one.bearers.kind == "furring")
        said.append(f"Along the other sides: from {one.coffer.sides[one.bearers.side].against} to {what}.")
    return said


def slat_table(facts: CofferFacts) -> Iterator[Block]:
    """Every slat: where it begins at both ends, how long it is, what it is nailed to, what else is cut."""
    one = facts.drawing
    sides, at = one.coffer.sides, one.coffer.start_side
    marks = {mark.number: (one.plain(mark.start), one.plain(mark.end)) for mark in one.running.marks}
    known = [(part, marks[number], _held(facts, part)) for number, part in _numbered(facts)]
    if not known:
        return
    both = any(first != second for _, (first, second), _ in known)
    ends = (sides[at - 1].against, sides[(at + 1) % len(sides)].against)
    lines = (f"Line at {ends[0]}", f"at {ends[1]}") if both else ("Line",)
    held = {text for _, _, text in known}
    if alike := len(held) == 1:
        yield Words(texts=(f"Every slat is nailed to {held.pop()}.",), size=LADDER, keep=True)
    yield Table(
        head=("Slat", *lines, "Length", *(() if alike else ("Nailed to",)), "Also"),
        rows=tuple(
            (
                part.id,
                *(mark if both else mark[:1]),
                facts.rows[part.id].length,
                *(() if alike else (to,)),
                _also(facts, part),
            )
            for part, mark, to in known
        ),
        shares=(0, *(0 for _ in lines), 0, *(() if alike else (0,)), 1),
        right=tuple(range(1, 1 + len(lines))),
        bold=(0,),
        size=LADDER,
    )


def _held(facts: CofferFacts, part: Part) -> str:
    """Joists by number, or how many strips."""
    if facts.drawing.layout.furring is not None:
        return counted(len(part.furring), "strip")
    return _joists(part)


def _also(facts: CofferFacts, part: Part) -> str:
    row = facts.rows[part.id]
    width = f"{row.width} and {row.width_end}" if row.width_end else row.width
    rip = [f"rip to {width}, sawn edge {row.sawn_edge}" if row.sawn_edge else f"width {width}"] if part.ripped else []
    # Where all ends follow the coffer's sides the drawing tells which is which.
    plain = facts.coffer.cut_to_shape or (row.ends.startswith("square at ") and "deg" not in row.ends)
    ends = [] if plain else [row.ends]
    return "; ".join([*rip, *ends, *([row.notes] if row.notes else [])])


def furring_table(facts: CofferFacts) -> Iterator[Block]:
    """Strips of furring, which go up first, and the joists that hold them."""
    one, strips = facts.drawing, {part.id: part for part in facts.of_kind("furring")}
    tape = one.tape
    if strips:
        screw = tape.text(one.layout.furring.screw if one.layout.furring else 0.0, "inches")
        yield Words(
            texts=(f"First the furring, with screws {screw} long into every joist.",), size=LADDER, bold=True, keep=True
        )
    for lines in one.overhead if strips else ():
        if lines.kind == "furring":
            yield Table(
                head=("Strip", f"Near edge from {one.coffer.sides[lines.side].against}", "Length", "Screwed to"),
                rows=tuple(
                    (mark.name, _pair(lines, i, facts), facts.rows[mark.name].length, _joists(strips[mark.name]))
                    for i, mark in enumerate(lines.marks)
                ),
                shares=(0, 1, 1, 1),
                bold=(0,),
                size=LADDER,
            )
    for lines in one.overhead:
        if lines.kind == "joist" and (lines is not one.bearers or one.coffer.cut_to_shape):
            face, first, last = one.coffer.sides[lines.side].against, lines.marks[0].name, lines.marks[-1].name
            named = first if first == last else f"{first} to {last.rpartition(' ')[2]}"
            told = ", ".join(_pair(lines, i, facts) for i in range(len(lines.marks)))
            yield Words(texts=(f"Middle from {face} of {named}: {told}.",), size=LADDER)


def _joists(part: Part) -> str:
    """By number: "joist 3", "joists 3, 4", "joists 3 to 6"."""
    if not part.joists:
        return "no joist"
    numbers = ids_text([str(number) for number in part.joists])
    return f"joist{'s' if len(part.joists) > 1 else ''} {numbers}"


def _pair(lines: OverheadLines, index: int, facts: CofferFacts) -> str:
    first, second = (facts.drawing.plain(mm) for mm in lines.marks[index].distances)
    return from_to(first, second)


def hole_table(facts: CofferFacts) -> Iterator[Block]:
    """What is expected of the last hole, and from where on to ask."""
    if not facts.windows:
        return
    tape = facts.drawing.tape
    yield Table(
        head=("Hole for the rip", "For", "Expected", "Ask below", "Ask above"),
        rows=tuple(
            (
                window.name,
                ids_text(window.ids),
                *(tape.text(mm, "inches") for mm in (window.expected, window.least, window.most)),
            )
            for window in facts.windows
        ),
        shares=(1, 0, 0, 0, 0),
        bold=(2,),
        size=LADDER,
    )
    yield Words(texts=(HOLE_OFF,), size=LADDER)


def trim_words(facts: CofferFacts) -> Iterator[Block]:
    """Strips in the order in which they go up."""
    strips = facts.of_kind("trim")
    if not strips:
        return
    first, then = (
        "; ".join(
            f"{part.id} along {facts.coffer.sides[strips.index(part)].against}, {facts.rows[part.id].length}"
            for part in some
        )
        for some in (strips[::2], strips[1::2])
    )
    yield Words(texts=(f"Trim first: {first}. Then between them: {then}.",), size=LADDER)

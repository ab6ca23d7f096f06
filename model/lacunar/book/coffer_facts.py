"""All that a coffer's page tells, brought together once for the book and for the drawings."""

from collections.abc import Mapping
from dataclasses import dataclass

from lacunar.book.subject import Book
from lacunar.book.waiting import banners
from lacunar.drawings import LADDER, CofferDrawing, Document, Spot, paper_size
from lacunar.field import LIMITS, HoleWindow, hole_windows
from lacunar.layout import Coffer, barred_nails, no_nail_zones, overhead_lines, running_dimensions
from lacunar.parts import Part
from lacunar.reports import CutRow, cut_list_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class CofferFacts:
    """One coffer.

    Attributes:
        drawing: what its drawing needs: parts, running dimensions, joists, zones.
        rows: of the cut list, by part.
        windows: of its last holes.
        barred: slats and strips that have a nail or a screw where none may be.
        banners: over what must not be cut yet, by part.
    """

    book: Book
    drawing: CofferDrawing
    rows: Mapping[str, CutRow]
    windows: tuple[HoleWindow, ...]
    barred: tuple[str, ...]
    banners: Mapping[str, str]

    @property
    def coffer(self) -> Coffer:
        """As it is laid out."""
        return self.drawing.coffer

    @property
    def id(self) -> str:
        """Of the coffer."""
        return self.drawing.coffer.id

    @property
    def book_size(self) -> Spot:
        """Of the text of a page of the book, mm."""
        page = Document(title="", foot="", size=paper_size(self.book.config), blocks=())
        return page.width, page.height

    def of_kind(self, kind: str) -> list[Part]:
        """Its parts of one kind, in order."""
        return [part for part in self.drawing.parts if part.kind == kind]


def coffer_facts(book: Book) -> tuple[CofferFacts, ...]:
    """Every coffer, in order."""
    layout, config = book.layout, book.config
    parts: dict[str, list[Part]] = {coffer.id: [] for coffer in layout.coffers}
    for part in book.parts:
        if part.coffer in parts:
            parts[part.coffer].append(part)
    running = {one.coffer: one for one in running_dimensions(layout)}
    overhead = overhead_lines(layout)
    zones = no_nail_zones(book.room, config.no_nail)
    barred = {id for id, _ in barred_nails((*layout.slats, *layout.furring_strips), zones)}
    rows = {row.id: row for row in cut_list_rows(book.parts, book.plan, config)}
    windows, over = hole_windows(config, layout, LIMITS["last"]), banners(book)
    return tuple(
        CofferFacts(
            book=book,
            drawing=CofferDrawing(
                layout=layout,
                coffer=coffer,
                parts=tuple(parts[coffer.id]),
                running=running[coffer.id],
                overhead=tuple(lines for lines in overhead if lines.coffer == coffer.id),
                zones=zones,
                tape=config.tape,
                size=LADDER,
            ),
            rows=rows,
            windows=tuple(window for window in windows if window.coffer == coffer.id),
            barred=tuple(part.id for part in parts[coffer.id] if part.id in barred),
            banners=over,
        )
        for coffer in layout.coffers
    )

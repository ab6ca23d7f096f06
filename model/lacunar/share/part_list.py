"""The pieces as a list that a person reads: what each is, its size, and its share of a board's price."""

from collections.abc import Mapping
from typing import Final

from lacunar.cost import money_text
from lacunar.parts import natural
from lacunar.reports import PartRow, Report
from lacunar.share.groups import THERE
from lacunar.share.markup import Html, element, joined
from lacunar.tape import Tape
from lacunar.told import counted

BEAMS: Final = "Beams"
"""Over the pieces that belong to no coffer."""

HEADINGS: Final = ("piece", "what", "size", "price")
PRICE_NOTE: Final = (
    "A price is the piece's share of the board that it is cut from: an estimate, before spares for bad boards and tax."
)


def size_text(row: PartRow, tape: Tape) -> str:
    """Thickness, width and length; both widths where it tapers."""
    width = tape.cut_text(row.width, "inches")
    if row.width_end is not None:
        width = f"{_bare(width)} to {tape.cut_text(row.width_end, 'inches')}"
    # What hangs there was read and is not cut.
    length = tape.words(row.length) if row.kind in THERE else tape.cut_text(row.length, "words").removesuffix(" 0 in")
    return f"{_bare(tape.cut_text(row.thickness, 'inches'))} x {width}, {length} long"


def _bare(text: str) -> str:
    return text.removesuffix(" in").removesuffix(" mm")


def price_text(row: PartRow, currency: str) -> str:
    """Its price; why there is none."""
    if row.kind in THERE:
        return "there already"
    return "no price" if row.price is None else money_text(row.price, currency)


def part_list(report: Report, tape: Tape) -> Html:
    """Tables by coffer, beams first, each under a heading that folds it."""
    return joined(_folded(name, rows, report, tape) for name, rows in _by_coffer(report).items())


def _by_coffer(report: Report) -> Mapping[str, list[PartRow]]:
    out: dict[str, list[PartRow]] = {}
    for row in sorted(report.parts, key=lambda row: (row.coffer is not None, natural(row.coffer or ""))):
        out.setdefault(row.coffer or BEAMS, []).append(row)
    return out


def _folded(name: str, rows: list[PartRow], report: Report, tape: Tape) -> Html:
    head = element("thead", element("tr", *(element("th", word, scope="col") for word in HEADINGS)))
    body = element("tbody", *(_line(row, report.plan.money.currency, tape) for row in rows))
    return element(
        "details", element("summary", f"{name}: {counted(len(rows), 'piece')}"), element("table", head, body)
    )


def _line(row: PartRow, currency: str, tape: Tape) -> Html:
    told = (row.kind, size_text(row, tape), price_text(row, currency))
    name = element("th", element("a", row.id, href="#figure"), scope="row")
    return element("tr", name, *(element("td", text) for text in told), data_part=row.id)

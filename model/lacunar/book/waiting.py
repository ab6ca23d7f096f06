"""What must not be cut yet, and the words for it: nothing of that is printed without them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final, TypeVar

from lacunar.book.subject import Book
from lacunar.config import SheetTrust
from lacunar.drawings import Banner, ids_text
from lacunar.parts import field_sheets, waits_for

NOT_YET: Final = "NOT YET"
NEXT: Final = "Measure that, build again, then cut."

Item = TypeVar("Item")


def banners(book: Book) -> Mapping[str, str]:
    """What stands over a part that must not be cut yet: it waits for measures, or something is wrong with its sheet."""
    waits = waits_for(book.parts, book.config.field, book.config.done.cut)
    wrong = _wrong(book)
    return {
        part: _banner((*waits.get(part, {}).values(),), (*dict.fromkeys(wrong.get(part, ())),))
        for part in (*waits, *(part for part in wrong if part not in waits))
    }


def shared(over: Mapping[str, str], ids: Sequence[str]) -> Iterator[Banner]:
    """One banner for those of some parts that must not be cut yet, told apart by what they wait for."""
    found: dict[str, list[str]] = {}
    for id in ids:
        if text := over.get(id, ""):
            said = text.removeprefix("NOT YET: ").removesuffix(NEXT).strip().rstrip(".")
            found.setdefault(said, []).append(id)
    if found:
        told = "; ".join(f"{ids_text(names)}: {_many(said, names)}" for said, names in found.items())
        yield Banner(text=f"NOT YET. {told}. {NEXT}")


def _many(said: str, names: Sequence[str]) -> str:
    return f"wait{said.removeprefix('waits')}" if len(names) > 1 and said.startswith("waits ") else said


def _wrong(book: Book) -> Mapping[str, Sequence[str]]:
    """What is wrong with parts, by part."""
    found: dict[str, list[str]] = {}
    sheets = field_sheets(book.parts)
    for sheet in book.trust.sheets:
        for part in sheets[sheet.sheet] if sheet.wrong else ():
            if part not in book.config.done.cut:
                found.setdefault(part, []).extend(sheet.wrong)
    return found


def _banner(measures: Sequence[str], wrong: Sequence[str]) -> str:
    told = "; ".join(([f"waits for {' and '.join(measures)}"] if measures else []) + [*wrong])
    return f"{NOT_YET}: {told}. {NEXT if measures else ''}".strip()


def under_banners(items: Iterable[tuple[str, Item]]) -> Sequence[tuple[str, tuple[Item, ...]]]:
    """Things by the banner that they stand under, what may be cut first; each comes with its banner."""
    found: dict[str, list[Item]] = {}
    for banner, item in items:
        found.setdefault(banner, []).append(item)
    return [(banner, tuple(found[banner])) for banner in sorted(found, key=bool)]


def in_short(banners: Iterable[str]) -> str:
    """What of some things must not be cut yet, in a cell of a table."""
    told = [*banners]
    said = (banner.split(". ")[0].removeprefix(f"{NOT_YET}: ") for banner in told if banner)
    waits = dict.fromkeys(phrase.removeprefix("waits for ") for text in said for phrase in text.split("; "))
    if not waits:
        return ""
    return f"{'' if all(told) else 'some '}{NOT_YET}: {'; '.join(waits)}"


def state(sheet: SheetTrust) -> str:
    """What is to be done with a sheet."""
    if sheet.state == "not yet":
        waits = [f"waits for {sheet.measure} ({len(sheet.missing)} of {sheet.wanted})"] if sheet.missing else []
        return f"{NOT_YET}: {'; '.join((*waits, *sheet.wrong))}"
    return "all cut" if sheet.state == "cut" else f"CUT NOW ({sheet.wanted - sheet.cut} of {sheet.wanted})"

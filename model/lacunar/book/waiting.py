"""What must not be cut yet, and the words for it: nothing of that is printed without them."""

from collections.abc import Iterator, Mapping, Sequence

from lacunar.book.subject import Book
from lacunar.drawings import Banner, ids_text
from lacunar.parts import field_sheets, waits_for

NEXT = "Measure that on the wood and build again before you cut."


def banners(book: Book) -> Mapping[str, str]:
    """What stands over a part that must not be cut yet: it waits for measures, or something is wrong with its sheet."""
    waits = waits_for(book.parts, book.config.field, book.config.done.cut)
    wrong: dict[str, list[str]] = {}
    sheets = field_sheets(book.parts)
    for sheet in book.trust.sheets:
        for part in sheets[sheet.sheet] if sheet.wrong else ():
            if part not in book.config.done.cut:
                wrong.setdefault(part, []).extend(sheet.wrong)
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


def _banner(measures: Sequence[str], wrong: Sequence[str]) -> str:
    told = "; ".join(([f"waits for {' and '.join(measures)}"] if measures else []) + [*wrong])
    return f"NOT YET: {told}. {NEXT if measures else ''}".strip()

"""`lacunar compare --field`: what was measured on the wood has changed, and what becomes of pieces cut before."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from lacunar_cli.show import GOOD
from lacunar_cli.terminal import say, say_json, wrapped

if TYPE_CHECKING:
    from lacunar.config import Config, Trust
    from lacunar.parts import FieldChange
    from lacunar.plan import Dealing, Dealt

CHANGE_HEAD = ("piece", "length was", "is now", "width was", "is now", "ends were", "are now")
DEAL_HEAD = ("slat", "piece", "length", "do")


def compare_field(room: Path, pile: Path | None, *, as_json: bool) -> int:
    """Print what [field] has changed, and how a pile of cut pieces is dealt.

    Raises:
        ConfigError: files that cannot be read.
    """
    from lacunar.config import read_config
    from lacunar.job import as_designed, run_job, trust_of
    from lacunar.parts import field_changes
    from lacunar.plan import deal_pile, read_pile

    config = read_config(room)
    pieces = None if pile is None else read_pile(pile, config)
    job = run_job(config, weighed=False, advised=False)
    changes, trusted = field_changes(as_designed(job)[1], job.parts, config.tape.fine), trust_of(job)
    dealing = None if pieces is None else deal_pile(job.parts, pieces, config.slats.width)
    if as_json:
        say_json(config, **_report(changes, trusted, dealing))
        return GOOD
    _show_changes(config, changes)
    if dealing is not None:
        say()
        _show_dealing(config, dealing)
    return GOOD


def _report(changes: Sequence["FieldChange"], trusted: "Trust", dealing: "Dealing | None") -> dict[str, object]:
    return {
        "changed": [
            {
                "id": one.part,
                "kind": one.kind,
                "length": one.lengths,
                "width": one.widths,
                "width_end": one.widths_end,
                "mitre": one.mitres,
            }
            for one in changes
        ],
        "good_for": trusted.good_for,
        "missing": trusted.missing,
        "sheets": [
            {
                "sheet": sheet.sheet,
                "state": sheet.state,
                "unlocked": sheet.unlocked,
                "cut": sheet.cut,
                "parts": sheet.wanted,
                "missing": sheet.missing,
                "wrong": sheet.wrong,
            }
            for sheet in trusted.sheets
        ],
        **({} if dealing is None else {"pile": _pile_report(dealing)}),
    }


def _pile_report(dealing: "Dealing") -> dict[str, object]:
    return {
        "slats": [
            {
                "id": dealt.slat,
                "use": dealt.use,
                "line": dealt.piece and dealt.piece.line,
                "piece": dealt.piece and dealt.piece.length,
                "length": dealt.length,
                "off_length": dealt.off_length,
                "off_width": dealt.off_width,
            }
            for dealt in dealing.slats
        ],
        "left": [{"line": piece.line, "stock": piece.stock, "length": piece.length} for piece in dealing.left],
        "new_length": dealing.new_length,
    }


def _show_changes(config: "Config", changes: Sequence["FieldChange"]) -> None:
    if not changes:
        measured = (
            "every piece that was measured fits as planned" if config.field else "there are no field measures yet"
        )
        say(f"nothing changed: {measured}")
        return
    turned = any(change.mitres[0] != change.mitres[1] for change in changes)
    # The last two columns only where some end is cut at another angle.
    columns = len(CHANGE_HEAD) if turned else -2
    _show_table(CHANGE_HEAD[:columns], [_change_cells(config, change)[:columns] for change in changes])
    say()
    say(f"{len(changes)} of the pieces changed; every other stays as it was")


def _change_cells(config: "Config", change: "FieldChange") -> tuple[str, ...]:
    from lacunar.drawings import degrees

    lengths = tuple(_length(config, mm) for mm in change.lengths)
    before, after = zip(change.widths, change.widths_end, strict=True)
    # Once where both ends are as wide.
    widths = (" to ".join(_length(config, mm) for mm in dict.fromkeys(pair)) for pair in (before, after))
    ends = (" and ".join(degrees(angle) for angle in dict.fromkeys(mitres)) for mitres in change.mitres)
    is_turned = change.mitres[0] != change.mitres[1]
    return (change.part, *lengths, *(("", "") if before == after else widths), *(ends if is_turned else ("", "")))


def _show_dealing(config: "Config", dealing: "Dealing") -> None:
    _show_table(DEAL_HEAD, [_dealt_cells(config, dealt) for dealt in dealing.slats])
    say()
    fits, trims, new = (len(dealing.of(use)) for use in ("fits", "trim", "new"))
    say(f"of the pile {fits} fit, {trims} to trim, {len(dealing.left)} left over; {new} to cut new")
    if dealing.left:
        lines = ", ".join(dict.fromkeys(str(piece.line) for piece in dealing.left))
        say(wrapped(f"left over, from lines: {lines}"))


def _dealt_cells(config: "Config", dealt: "Dealt") -> tuple[str, str, str, str]:
    if dealt.piece is None:
        return dealt.slat, "-", "", f"cut new, {_length(config, dealt.length)}"
    do = [f"cut to {_length(config, dealt.length)}"] if dealt.off_length else []
    do += [f"rip off {_length(config, dealt.off_width)}"] if dealt.off_width else []
    return dealt.slat, f"line {dealt.piece.line}", _length(config, dealt.piece.length), ", ".join(do) or "fits"


def _length(config: "Config", mm: float) -> str:
    return config.tape.text(mm, mark=config.tape.fine)


def _show_table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    for row in (head, *rows):
        say("  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip())

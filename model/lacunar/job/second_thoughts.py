"""What the likely second thoughts cost, each planned anew: wider trim, a row more or less, slats another way."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from lacunar.checks import Level
from lacunar.config import Config, ShopBoard, read_config
from lacunar.errors import LacunarError
from lacunar.job.alternatives import of_any_design
from lacunar.job.run import Job, OnStep, run_job, silent
from lacunar.job.summary import WORST_FIRST, summarise
from lacunar.plan import StopChoice
from lacunar.reports import run_words
from lacunar.units import INCH

Overrides = tuple[tuple[str, str], ...]

WIDER = {"in": INCH, "mm": 25.0}
"""mm. By which trim is made wider."""

RUNS = ("with", "across", "alternate")

AS_IS = "as it is"


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """One variant of a config beside the config as it is.

    Attributes:
        label: what is different, in words.
        overrides: dotted key and value, that it was read with.
        error: why there is no such ceiling; "" where there is one. All the rest is nothing where there is none.
        cost: of the whole job; None where nothing has a price.
        cost_complete: everything that it is made of has a price.
        lacking: what has no price or no board, so that `cost` is too low.
        more_cost: than as it is; None where either is unknown, or where this one lacks what that does not.
        board_cost: of the boards with spares, before tax; None where a price is missing.
        more_board_cost: likewise; None too where boards do not give all parts.
        board_length: to be cut, without spares, mm.
        more_board_length: mm; None where boards do not give all parts.
        slats: how many, ripped ones included.
        ripped: how many of them are ripped.
        worst: level of the worst finding.
        by_stops: of the config as it is: what fewer stops cost.
    """

    label: str
    overrides: Overrides
    error: str = ""
    cost: float | None = None
    cost_complete: bool = False
    lacking: tuple[str, ...] = ()
    more_cost: float | None = None
    board_cost: float | None = None
    more_board_cost: float | None = None
    board_length: float = 0.0
    more_board_length: float | None = None
    slats: int = 0
    ripped: int = 0
    worst: Level = "pass"
    by_stops: tuple[StopChoice, ...] = ()


def what_if(config: Config, on_step: OnStep | None = None) -> tuple[WhatIf, ...]:
    """The config as it is, then each variant of it, arranged, planned and checked anew from its file.

    Measures of the field and what is done belong to the design as it is, so all are compared without them.

    Args:
        config: as read from its file, without overrides.
        on_step: told before each variant.

    Raises:
        LacunarError: the config as it is has no ceiling, or its file is gone.
    """
    step = on_step or silent
    bare = of_any_design(config)
    variants = _variants(config)
    step(AS_IS, 0.0)
    base = run_job(read_config(config.path, bare), advised=False)
    found = [_told(AS_IS, bare, base, base)]
    for n, (label, overrides) in enumerate(variants, 1):
        step(label, n / (len(variants) + 1))
        found.append(_tried(label, (*bare, *overrides), config.path, base))
    return tuple(found)


def _variants(config: Config) -> list[tuple[str, Overrides]]:
    """What is different in words, and as overrides."""
    by = WIDER[config.units]
    width = config.trim.width + by
    told, full = (config.tape.text(mm, "words", config.tape.told) for mm in (by, width))
    wider = f"trim {told} wider ({full})"
    found: list[tuple[str, Overrides]] = [(wider, _trim(config, width))]
    cross = config.cross_beams
    rows = 0 if cross is None else len(cross.at) or cross.rows or 0
    # Rows that stand at given places are given up for equal coffers.
    evenly: Overrides = (("cross_beams.at", "[]"),) if cross is not None and cross.at else ()
    more = "one row of cross beams" if cross is None else f"one more row of cross beams ({rows + 1})"
    counts = {more: rows + 1, **({f"one row less ({rows - 1})": rows - 1} if rows else {})}
    found += [(label, (*evenly, ("cross_beams.rows", str(n)))) for label, n in counts.items()]
    others = [run for run in RUNS if run != config.slats.run]
    return found + [(f"slats {run_words(run)}", (("slats.run", f'"{run}"'),)) for run in others]


def _trim(config: Config, width: float) -> Overrides:
    """Trim of this width: another stock, that is taken to come in the same lengths, at a price nobody has given."""
    overrides: Overrides = (("trim.width", f"{width!r} mm"),)
    boards = config.shop.board
    if not boards or config.is_given("shop.boards"):
        return overrides
    try:
        stock = read_config(config.path, overrides).trim.stock
    except LacunarError:
        return overrides
    if any(row.stock == stock for row in boards):
        return overrides
    unpriced = {"stock": stock, "price": None, "on_hand": 0, "supply": None, "actual": None}
    added = [row.model_copy(update=unpriced) for row in boards if row.stock == config.trim.stock]
    return (*overrides, _boards([*boards, *added]))


def _boards(rows: Sequence[ShopBoard]) -> tuple[str, str]:
    """The shop table as an override."""
    tables: list[str] = []
    for row in rows:
        lengths = {"length": row.length, "actual": row.actual}
        told = {key: f"{mm!r} mm" for key, mm in lengths.items() if mm is not None}
        told = {"stock": row.stock, **told, "price": row.price, "on_hand": row.on_hand, "supply": row.supply}
        pairs = (f"{key} = {json.dumps(value)}" for key, value in told.items() if value is not None)
        tables.append(f"{{ {', '.join(pairs)} }}")
    return "shop.board", f"[{', '.join(tables)}]"


def _tried(label: str, overrides: Overrides, path: Path, base: Job) -> WhatIf:
    try:
        job = run_job(read_config(path, overrides), weighed=False, advised=False)
    except LacunarError as error:
        return WhatIf(label=label, overrides=overrides, error="; ".join(str(problem) for problem in error.problems))
    return _told(label, overrides, job, base)


def _told(label: str, overrides: Overrides, job: Job, base: Job) -> WhatIf:
    one, before = summarise(job), summarise(base)
    is_alike = set(job.cost.lacking) <= set(base.cost.lacking)
    is_served = len(job.plan.unserved) <= len(base.plan.unserved)
    return WhatIf(
        label=label,
        overrides=overrides,
        cost=one.cost,
        cost_complete=one.cost_complete,
        lacking=job.cost.lacking,
        more_cost=_more(one.cost, before.cost) if is_alike else None,
        board_cost=job.plan.cost,
        more_board_cost=_more(job.plan.cost, base.plan.cost) if is_served else None,
        board_length=one.board_length,
        more_board_length=one.board_length - before.board_length if is_served else None,
        slats=one.full + one.ripped,
        ripped=one.ripped,
        worst=next(level for level in WORST_FIRST if one.findings[level] or level == "pass"),
        by_stops=job.plan.by_stops,
    )


def _more(now: float | None, before: float | None) -> float | None:
    return None if now is None or before is None else now - before

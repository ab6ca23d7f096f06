"""What is said to be done, in any order: the file whole, cut pieces as they are, boards that add up."""

import csv
import random
import re
from collections import Counter
from pathlib import Path

import pytest

from lacunar.config import Done, read_config
from lacunar.errors import ConfigError, LacunarError, LayoutError
from lacunar.field import apply_measures, write_sheets
from lacunar.job import Job, Progress, report_of, run_job, tell_done, tell_ticks, write_ticks
from lacunar.plan import left_of, took
from lacunar.units import read_length

SMALL = "3-square.toml"


@pytest.fixture
def room(tmp_path: Path, configs: Path) -> Path:
    copy = tmp_path / "room.toml"
    copy.write_bytes((configs / SMALL).read_bytes())
    return copy


def say(room: Path, **words: str) -> Progress:
    return tell_done(room, {option: [names] for option, names in words.items()})


def slats_of(job: Job, coffer: str) -> list[str]:
    return [part.id for part in job.parts if part.coffer == coffer and part.kind == "slat"]


def uncut(job: Job) -> dict[str, float]:
    return {cut.part: job.plan.lengths[cut.part] for board in job.plan.boards for cut in board.cuts}


def adds_up(job: Job) -> None:
    """Whole boards: bought and on hand, or cut into; of each of those pieces, saw cuts, ends and what is left."""
    done, shop = job.config.done, job.config.shop
    for board in done.board:
        taken = sum(took(piece, shop.kerf) for piece in board.pieces)
        assert taken + left_of(board, shop) + shop.end_waste == pytest.approx(max(board.length, taken + shop.end_waste))
    wanted = Counter(part.id for part in job.parts if part.bought)
    served = Counter([*done.cut, *uncut(job), *(one.part for one in job.plan.unserved)])
    assert served == wanted, "every piece is cut, or on a board, once"


def test_as_long_as_it_goes_by_plan_the_plan_stays(room: Path) -> None:
    before = run_job(read_config(room), advised=False)
    boards = {board.id: board for board in before.plan.boards}
    after = say(room, boards="B1-B3").after
    gone = {cut.part for name in ("B1", "B2", "B3") for cut in boards[name].cuts}
    assert set(after.config.done.cut) == gone
    assert [(b.id, b.cuts) for b in after.plan.boards] == [
        (b.id, b.cuts) for b in before.plan.boards if b.id not in ("B1", "B2", "B3")
    ]
    assert after.plan.lengths == pytest.approx(before.plan.lengths)
    adds_up(after)


def test_what_is_cut_is_paid(tmp_path: Path, configs: Path) -> None:
    room = tmp_path / "room.toml"
    room.write_bytes((configs / "4-inch.toml").read_bytes())
    before = run_job(read_config(room), advised=False).plan
    after = say(room, boards="B1-B12").after.plan
    paid = sum(board.price or 0.0 for board in before.boards[:12])
    assert before.cost is not None
    assert before.lower_bound is not None
    assert after.cost == pytest.approx(before.cost - paid)
    assert after.lower_bound == pytest.approx(before.lower_bound - paid)
    assert after.gap == pytest.approx(0.0)


def test_what_is_half_cut_stays_on_its_board(room: Path) -> None:
    before = run_job(read_config(room), advised=False)
    board = next(board for board in before.plan.boards if len(board.cuts) > 1)
    first, *rest = board.cuts
    after = say(room, cut=first.part).after
    left = next(one for one in after.plan.boards if one.id == board.id)
    assert (left.cuts, left.rest, left.on_hand) == (tuple(rest), 0, True)
    adds_up(after)


def test_bought_boards_go_first_and_cost_nothing(room: Path) -> None:
    before = run_job(read_config(room), advised=False)
    after = tell_done(room, {}, bought=True).after
    assert after.plan.buy == ()
    assert after.plan.cost == 0.0
    assert after.plan.lengths == before.plan.lengths
    spare = {(line.stock, line.length): line.count + line.spare for line in before.plan.buy}
    assert {(row.stock, row.length): row.count for row in after.config.done.bought} == spare
    # Said twice it is bought once.
    assert not tell_done(room, {}, bought=True).changed


def test_boards_cut_before_they_were_called_bought_are_among_those_bought(room: Path) -> None:
    whole = sum(line.count + line.spare for line in run_job(read_config(room), advised=False).plan.buy)
    say(room, boards="B1-B2")
    after = tell_done(room, {}, bought=True).after
    assert sum(row.count for row in after.config.done.bought) == whole
    assert after.plan.buy == ()


def test_a_spoilt_piece_comes_out_of_the_spares_and_then_is_bought(room: Path) -> None:
    job = tell_done(room, {}, bought=True).after
    part = slats_of(job, "C1")[0]
    spare = sum(line.spare for line in run_job(read_config(room), advised=False).plan.buy)
    assert spare == 0
    lengths = job.plan.lengths
    for times in range(1, 40):
        job = say(room, spoilt=part).after
        assert len(job.config.done.spoilt) == times
        adds_up(job)
        others = {name: mm for name, mm in uncut(job).items() if name != part}
        assert others == pytest.approx({name: lengths[name] for name in others}), "no other slat for it"
        if job.plan.buy:
            break
    assert sum(line.count for line in job.plan.buy) >= 1, "no spare is left, and so it is bought"


def test_a_given_length_is_kept_and_a_slip_is_refused(room: Path) -> None:
    job = run_job(read_config(room), advised=False)
    part = slats_of(job, "C1")[3]
    planned = job.plan.lengths[part]
    after = say(room, cut=f"{part}={planned - 3.0!r} mm").after
    assert after.plan.lengths[part] == pytest.approx(planned - 3.0)
    assert after.config.done.cut[part].length == pytest.approx(planned - 3.0)
    before = room.read_bytes()
    with pytest.raises(ConfigError, match="must be within"):
        say(room, cut=f"{slats_of(job, 'C1')[4]}=12 ft")
    assert room.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"cut": "C99"}, '--cut: there is no part, coffer, row or kind "C99"'),
        ({"cut": "C1-S01,C1-S99", "up": "X9"}, '--up: there is no part, coffer, row or kind "X9"'),
        ({"boards": "B1-B999"}, '--boards: there is no board of the plan "B1-B999"'),
        ({"undo": "C1-S01"}, '--undo: there is no record of "C1-S01"'),
        ({"cut": "C1=3 ft"}, "must be one part where a length is given"),
        ({"cut": "C1-S01=long"}, "must be a length"),
        ({"cut": ","}, "--cut: got no name, must be a part, coffer, row or kind"),
    ],
)
def test_what_there_is_not_is_named_and_nothing_written(room: Path, words: dict[str, str], said: str) -> None:
    before = room.read_bytes()
    with pytest.raises(ConfigError) as caught:
        say(room, **words)
    assert said.strip('"') in str(caught.value)
    assert room.read_bytes() == before


def test_names_of_coffers_rows_kinds_and_ranges(room: Path) -> None:
    job = run_job(read_config(room), advised=False)
    slats = slats_of(job, "C2")
    after = say(room, cut=f"{slats[0]}-{slats[3].partition('-')[2]},trim", up="C1").after
    cut = set(after.config.done.cut)
    assert cut == {
        *slats[:4],
        *(part.id for part in job.parts if part.bought and (part.kind == "trim" or part.coffer == "C1")),
    }
    adds_up(after)


def test_what_the_design_has_no_more_is_named_and_can_be_taken_back(room: Path) -> None:
    job = run_job(read_config(room), advised=False)
    part = slats_of(job, "C1")[-1]
    say(room, cut=part)
    text = room.read_text(encoding="utf-8").replace(f'"{part}"', '"C1-S77"')
    room.write_text(text, encoding="utf-8")
    with pytest.raises(LayoutError, match=r"done\.board\[1\]\.pieces\[1\]\.part: there is no part C1-S77") as caught:
        run_job(read_config(room), advised=False)
    assert "--undo" in str(caught.value)
    assert say(room, undo="C1-S77").after.config.done == Done()


def test_comments_and_every_other_byte_stay(room: Path) -> None:
    text = room.read_text(encoding="utf-8")
    job = say(room, cut="C1").after
    assert room.read_text(encoding="utf-8").startswith(text)
    first = job.config.done.board[0]
    noted = room.read_text(encoding="utf-8").replace("[[done.board]]\n", "[[done.board]]  # the crooked one\n", 1)
    room.write_text(noted, encoding="utf-8")
    say(room, up="C1", cut="C2")
    assert "[[done.board]]  # the crooked one\n" in room.read_text(encoding="utf-8")
    assert read_config(room).done.board[0].length == first.length
    say(room, undo="C2,C1")
    say(room, undo="C1")
    assert room.read_text(encoding="utf-8").rstrip() == text.rstrip()


def test_ticks_say_the_same(room: Path, tmp_path: Path) -> None:
    list_ = write_ticks(read_config(room), tmp_path)
    rows = [line.split(",") for line in list_.read_text(encoding="utf-8").splitlines()]
    cut, up, spoilt = (rows[0].index(column) for column in ("cut", "up", "spoilt"))
    for row in rows[1:]:
        if row[0].startswith("C1-S"):
            row[cut] = "x"
        if row[0] in ("C1-S01", "C1-S02"):
            row[up] = "X"
        if row[0] == "C2-S01":
            row[spoilt] = "2"
    list_.write_text("".join(",".join(row) + "\n" for row in rows), encoding="utf-8")
    with pytest.raises(LacunarError, match="apply it with --apply first"):
        write_ticks(read_config(room), tmp_path)
    done = tell_ticks(room, list_).after.config.done
    assert {part for part, piece in done.cut.items() if piece.is_up} == {"C1-S01", "C1-S02"}
    assert set(done.cut) == set(slats_of(run_job(read_config(room), advised=False), "C1"))
    assert [piece.part for piece in done.spoilt] == ["C2-S01", "C2-S01"]
    assert not tell_ticks(room, list_).changed
    again = write_ticks(read_config(room), tmp_path).read_text(encoding="utf-8").splitlines()
    assert next(line for line in again if line.startswith("C1-S01,")).rpartition(",")[0].endswith(",x,x,")


def measure(room: Path, sheets: Path, rng: random.Random) -> Job:
    """Some coffers, a little off what was drawn."""
    rows = list(csv.DictReader((sheets / "coffers.csv").read_text(encoding="utf-8").splitlines()))
    coffers = rng.sample(sorted({row["name"].split()[0] for row in rows}), 2)
    for row in rows:
        taken = row["name"].split()[0] in coffers and "length" in row["name"]
        row["measured"] = f"{read_length(row['design']) + rng.uniform(-3.0, 3.0):.1f} mm" if taken else ""
    filled = sheets / "filled.csv"
    with filled.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]))
        table.writeheader()
        table.writerows(rows)
    assert apply_measures(room, filled).changed
    return run_job(read_config(room), advised=False)


@pytest.mark.parametrize("seed", range(3))
def test_any_order_leaves_the_file_whole_and_undo_the_plan_as_it_was(room: Path, seed: int) -> None:
    rng = random.Random(seed)
    job = run_job(read_config(room), advised=False)
    names = [part.id for part in job.parts if part.bought]
    good = dict[str, float]()
    write_sheets(read_config(room), room.parent / "sheets", "coffers")
    for _ in range(7):
        if rng.random() < 0.25:
            job = measure(room, room.parent / "sheets", rng)
            adds_up(job)
            assert {name: piece.length for name, piece in job.config.done.cut.items()} == good
        picked = rng.sample(names, rng.choice((1, 3)))
        option = rng.choice(("cut", "cut", "up", "spoilt"))
        before = job
        job = say(room, **{option: ",".join(picked)}).after
        adds_up(job)
        assert read_config(room).done == job.config.done, "what was written reads as it was"
        now = {name: piece.length for name, piece in job.config.done.cut.items()}
        kept = {name: mm for name, mm in good.items() if not (option == "spoilt" and name in picked)}
        assert {name: now[name] for name in kept} == kept, "a cut piece never changes"
        good = now
        news = [name for name in picked if before.config.done.cut.get(name) != job.config.done.cut.get(name)]
        if option != "spoilt" and news and rng.random() < 0.7:
            back = say(room, undo=",".join(news)).after
            assert back.config.done == before.config.done
            assert (back.plan, back.parts) == (before.plan, before.parts)
            job, good = back, {name: piece.length for name, piece in back.config.done.cut.items()}


def test_the_report_tells_what_is_done(room: Path) -> None:
    job = say(room, up="C1", spoilt="C2-S01").after
    report = report_of(job)
    assert report.done is not None
    count = sum(part.bought and part.coffer == "C1" for part in job.parts)
    assert (report.done.cut, report.done.up, report.done.spoilt) == (count, count, 1)
    told = report.done
    assert told.bought == pytest.approx(told.good + told.bad + told.left + told.lost)
    assert told.lost > 0.0
    assert report.change is not None
    assert report.change.boards[1] < report.change.boards[0]
    assert "cut-list.csv" in report.change.stale
    assert {"crew-book.pdf", "labels.pdf"} <= {*report.change.stale}
    sheets = {sheet.sheet: sheet for sheet in report.sheets}
    assert sheets["slats"].cut == len([name for name in job.config.done.cut if "-S" in name])
    assert sheets["slats"].state == "not yet"
    everything = report_of(say(room, up="all").after)
    assert {sheet.state for sheet in everything.sheets} == {"cut"}
    assert everything.plan.boards == ()


def test_what_is_cut_and_no_longer_fits_is_found_and_cut_again(room: Path) -> None:
    job = run_job(read_config(room), advised=False)
    part = next(p for p in job.parts if p.kind == "slat" and p.interval is not None)
    say(room, cut=part.id)
    interval = (part.length - 14.0, part.length - 9.0)
    row = f'\n[field.{part.id}]\nshortest = "{interval[0]!r} mm"\nlongest = "{interval[1]!r} mm"\n'
    room.write_text(room.read_text(encoding="utf-8") + row, encoding="utf-8")
    job = run_job(read_config(room), advised=False)
    (found,) = [finding for finding in job.findings if finding.check == "cut-fits"]
    assert (found.level, found.where) == ("fail", part.id)
    assert found.limit == pytest.approx(interval[1])
    assert f"lacunar done --spoilt {part.id}" in found.fix
    told = re.search(rf"--undo {part.id} --cut '({part.id}=[^']*)'", found.fix)
    assert told is not None
    whole = room.read_bytes()
    job = say(room, undo=part.id, cut=told[1]).after
    assert [f.level for f in job.findings if f.check == "cut-fits"] == ["pass"]
    room.write_bytes(whole)
    job = say(room, spoilt=part.id).after
    assert [f.level for f in job.findings if f.check == "cut-fits"] == ["pass"]
    assert interval[0] - 1e-6 <= job.plan.lengths[part.id] <= interval[1] + 1e-6

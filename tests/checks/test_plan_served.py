"""Every part on a board, once and whole."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, ceiling, edited, found, levels, longer, one, rebuilt, spoiled
from lacunar.analysis import Subject
from lacunar.plan import Board


def with_boards(change: dict[int, Board | None]) -> Subject:
    subject = ceiling()
    boards = [change.get(i, board) for i, board in enumerate(subject.plan.boards)]
    kept = tuple(board for board in boards if board is not None)
    return rebuilt(subject, plan=replace(subject.plan, boards=kept))


def first() -> tuple[int, Board]:
    """A board with at least two cuts."""
    return next((i, board) for i, board in enumerate(ceiling().plan.boards) if len(board.cuts) > 1)


def test_all_are_served() -> None:
    finding = one("plan-served", ceiling())
    bought = sum(part.bought for part in ceiling().parts)
    assert (finding.level, finding.value, finding.unit) == ("pass", bought, "count")


def test_a_missing_board() -> None:
    i, board = first()
    findings = found("plan-served", with_boards({i: None}))
    assert {f.where for f in findings} == {cut.part for cut in board.cuts}
    assert {f.message for f in findings} == {"it is on no board"}


def test_a_part_cut_twice() -> None:
    i, board = first()
    again = replace(board, id="B999")
    subject = ceiling()
    findings = found("plan-served", rebuilt(subject, plan=replace(subject.plan, boards=(*subject.plan.boards, again))))
    assert {f.where for f in findings} == {cut.part for cut in board.cuts}
    assert all(f.value == 2.0 for f in findings)
    assert i >= 0


def test_a_part_longer_than_its_cut() -> None:
    finding = one("plan-served", spoiled(ceiling(), "C1-S02", lambda part: longer(part, 1.0, 1.0)))
    assert (finding.level, finding.where) == ("fail", "C1-S02")
    assert finding.value == pytest.approx(1938.0)
    assert finding.limit == pytest.approx(1940.0)


def test_cuts_over_each_other_and_over_the_end() -> None:
    i, board = first()
    a, b = board.cuts[:2]
    moved = replace(b, start=a.end + 1.0, end=a.end + 1.0 + (b.end - b.start))
    findings = found("plan-served", with_boards({i: replace(board, cuts=(a, moved, *board.cuts[2:]))}))
    assert (findings[0].where, findings[0].value) == (b.part, pytest.approx(1.0))
    assert "less than a saw cut" in findings[0].message
    short = replace(board, length=board.cuts[-1].end + 2.0)
    findings = found("plan-served", with_boards({i: short}))
    assert [(f.where, f.value) for f in findings] == [(board.cuts[-1].part, pytest.approx(6.0 - 2.0))]


def with_rips(*across: tuple[float, float]) -> Subject:
    """The first two parts of a board as straight rips of a 20x90 beside each other, as wide as they lie across it."""
    subject = ceiling()
    i, board = first()
    a, b = board.cuts[:2]
    cuts = [replace(cut, start=a.start, end=a.start + (cut.end - cut.start)) for cut in (a, b)]
    laid = [replace(cut, across=(low, high)) for cut, (low, high) in zip(cuts, across, strict=True)]
    widths = {cut.part: high - low for cut, (low, high) in zip(cuts, across, strict=True)}
    parts = [
        replace(part, kind="slat", width=widths[part.id], ripped=True) if part.id in widths else part
        for part in subject.parts
    ]
    boards = [*subject.plan.boards]
    boards[i] = replace(board, cuts=(*laid, *board.cuts[2:]))
    return rebuilt(subject, parts=tuple(parts), plan=replace(subject.plan, boards=tuple(boards)))


def test_two_rips_side_by_side_are_no_overlap() -> None:
    assert levels("plan-served", with_rips((0.0, 40.0), (43.0, 80.0))) == ["pass"]
    assert levels("plan-served", with_rips((0.0, 40.0), (30.0, 70.0))) == ["fail"]


def test_rips_nearer_than_a_saw_cut() -> None:
    finding = one("plan-served", with_rips((0.0, 40.0), (41.0, 80.0)))
    assert (finding.level, finding.value, finding.limit) == ("fail", pytest.approx(1.0), pytest.approx(3.0))
    assert "less than a saw cut" in finding.message


@pytest.mark.parametrize("across", [(50.0, 92.0), (-2.0, 40.0)])
def test_a_rip_out_of_wood_that_is_not_there(across: tuple[float, float]) -> None:
    other = (0.0, 40.0) if across[0] > 0.0 else (43.0, 80.0)
    finding = one("plan-served", with_rips(other, across))
    assert (finding.level, finding.value, finding.limit) == ("fail", pytest.approx(2.0), 0.0)
    assert finding.message.startswith("it lies 2 mm outside board ")
    assert finding.message.endswith(", which is 90 mm across")


def test_a_rip_that_is_narrower_than_its_part() -> None:
    subject = with_rips((0.0, 40.0), (43.0, 80.0))
    name = next(cut.part for board in subject.plan.boards for cut in board.cuts if cut.across == (0.0, 40.0))
    parts = tuple(replace(part, width_end=44.0) if part.id == name else part for part in subject.parts)
    finding = one("plan-served", rebuilt(subject, parts=parts))
    assert (finding.where, finding.value, finding.limit) == (name, pytest.approx(40.0), pytest.approx(44.0))


def test_the_wrong_stock() -> None:
    i, board = first()
    findings = found("plan-served", with_boards({i: replace(board, stock="2x4")}))
    assert {f.where for f in findings} == {cut.part for cut in board.cuts}


def test_what_no_board_can_give_names_piece_coffer_and_cure() -> None:
    text = edited(SQUARE, ("[finish]", "[shop]\nlongest = 1900\n[finish]"))
    findings = found("plan-served", ceiling(text))
    slat = next(f for f in findings if "coffer" in f.message)
    assert slat.level == "fail"
    assert len(findings) == 4, "two pieces, one line for all slats, one for all trim"


def sold(slats: str, more: str = "") -> str:
    """The square room with these rows for the slats' stock, without the name of it, and everything else in 3 m."""
    rows = "".join(f'[[shop.board]]\nstock = "20x90"\n{row}\n' for row in slats.split(" | "))
    rows += "".join(f'[[shop.board]]\nstock = "{name}"\nlength = 3000\n' for name in ("20x20", "100x140"))
    return edited(SQUARE, ("[finish]", f"[shop]\nkerf = 3\nend_waste = 6\n{more}\n{rows}[finish]"))


# Slats may be as short as 1922 mm; 6 mm go at each end of a board.
CAR = "longest = 1930"


@pytest.mark.parametrize(
    ("before", "fix", "after"),
    [
        (
            sold("length = 3000\nsupply = 3"),
            "let more 20x90 of 3000 mm be bought: leave out its supply",
            sold("length = 3000"),
        ),
        (
            sold("length = 3000\non_hand = 2"),
            "let more 20x90 of 3000 mm be bought: give its price",
            sold("length = 3000\non_hand = 2\nprice = 5"),
        ),
        (
            sold("length = 1930"),
            "add a 20x90 of 1934 mm or longer to what is sold (shop.board)",
            sold("length = 1930 | length = 1934"),
        ),
        (
            sold("length = 1900 | length = 3000", CAR),
            'let more 20x90 of 3000 mm be bought: shop.longest = "3000 mm"',
            sold("length = 1900 | length = 3000", 'longest = "3000 mm"'),
        ),
        (
            sold("length = 1900", CAR),
            "add a 20x90 of 1934 mm or longer to what is sold (shop.board), and set shop.longest no shorter",
            sold("length = 1900 | length = 3000", "longest = 3000"),
        ),
    ],
    ids=["supply", "on hand", "too short", "car", "too short for the car"],
)
def test_the_cure_serves_every_part(before: str, fix: str, after: str) -> None:
    findings = [f for f in found("plan-served", ceiling(before)) if "20x90" in f.message]
    assert {(finding.level, finding.fix) for finding in findings} == {("fail", fix)}
    assert levels("plan-served", ceiling(after)) == ["pass"]

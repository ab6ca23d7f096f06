"""Every part on a board, once and whole."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, ceiling, edited, found, levels, longer, one, rebuilt, spoiled
from lacunar.checks.subject import Subject
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


def test_two_rips_side_by_side_are_no_overlap() -> None:
    i, board = first()
    a, b = board.cuts[:2]
    length = b.end - b.start
    pair = (replace(a, across=(0.0, 40.0)), replace(b, start=a.start, end=a.start + length, across=(43.0, 80.0)))
    assert levels("plan-served", with_boards({i: replace(board, cuts=pair)})) == ["pass"]
    crossed = (pair[0], replace(pair[1], across=(30.0, 70.0)))
    assert levels("plan-served", with_boards({i: replace(board, cuts=crossed)})) == ["fail"]


def test_the_wrong_stock() -> None:
    i, board = first()
    findings = found("plan-served", with_boards({i: replace(board, stock="2x4")}))
    assert {f.where for f in findings} == {cut.part for cut in board.cuts}


def test_what_no_board_can_give_names_piece_coffer_and_cure() -> None:
    text = edited(SQUARE, ("[finish]", "[shop]\nlongest = 1900\n[finish]"))
    findings = found("plan-served", ceiling(text))
    slat = next(f for f in findings if "coffer" in f.message)
    assert slat.level == "fail"
    assert "would do" in slat.fix
    assert len(findings) == 4, "two pieces, one line for all slats, one for all trim"

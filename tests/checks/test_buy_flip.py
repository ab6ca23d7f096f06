"""Boards that are just enough, in words."""

from checks.sample import SQUARE, ceiling, edited, found, one

SAW = 'kerf = 3\nend_waste = 6\n[[shop.board]]\nstock = "90x20"\nlength = {length}\nprice = 4\n'


def square(length: int, saw: bool = True) -> str:
    """The ceiling of 60 slats of 1938 mm, with boards of this length for them."""
    rows = SAW.format(length=length)
    rows = rows if saw else rows.replace("kerf = 3\n", "")
    for stock in ("100x140", "20x20"):
        rows += f'[[shop.board]]\nstock = "{stock}"\nlength = 4000\nprice = 5\n'
    return edited(SQUARE, ("[finish]", f"[shop]\n{rows}[finish]"))


def stock() -> str:
    """What the slats are cut from."""
    return next(part.stock for part in ceiling().parts if part.kind == "slat")


def test_nothing_flips() -> None:
    finding = one("buy-flip", ceiling(edited(SQUARE, ("[finish]", "[shop]\nkerf = 3\nend_waste = 6\n[finish]"))))
    assert (finding.level, finding.where, finding.limit) == ("pass", "the plan", 10.0)
    assert "10 mm" in finding.message


def test_what_was_assumed_is_asked() -> None:
    finding = one("buy-flip", ceiling())
    assert finding.level == "ask"
    assert finding.assumed == ("a saw cut of 3 mm", "end waste of 6 mm")
    assert "shop.kerf" in finding.fix


def test_boards_that_just_hold_two_slats_warn() -> None:
    # slats may be 1932 to 1942 mm or so; two with a cut and both ends are 15 mm more than their length
    text = square(3900).replace('"90x20"', f'"{stock()}"')
    subject = ceiling(text)
    length = {subject.plan.lengths[part.id] for part in subject.parts if part.kind == "slat"}
    spare = 3900 - 15 - 2 * max(length)
    assert 0 <= spare < 10, spare
    (finding, *_) = [f for f in found("buy-flip", subject) if f.where == stock()]
    assert finding.level == "warn"
    assert finding.value == min(spare + 1, spare // 2 + 1)
    # 59 slats of that length (one is severed): 30 boards become 59, a tenth more of either: 33 and 65
    # Both come to the same, which is said once.
    assert finding.message.count("32 boards more (USD 128 more)") == 1
    assert f"boards that measure {spare + 1:.0f} mm short" in finding.message.split(": 32 boards")[0]
    assert f"slats {spare // 2 + 1:.0f} mm longer" in finding.message.split(": 32 boards")[0]
    assert "shop.board: actual" in finding.fix
    assert "buy 32 more" in finding.fix


def test_a_warning_that_rests_on_an_assumed_saw_cut_is_a_question() -> None:
    text = square(3900, saw=False).replace('"90x20"', f'"{stock()}"')
    findings = found("buy-flip", ceiling(text))
    assert {f.level for f in findings} == {"ask"}
    assert all("a saw cut of 3 mm" in f.message + ", ".join(f.assumed) for f in findings)


def test_shorter_slats_that_save_boards_are_told() -> None:
    # one slat to a board that would hold two of some millimetres less than the trim hides
    text = square(3875).replace('"90x20"', f'"{stock()}"')
    subject = ceiling(edited(text, ("least_overlap = 6", "least_overlap = 12")))
    long = [part for part in subject.parts if part.kind == "slat" and part.length > 1900.0]
    assert all(2.0 * part.interval[0] + 15.0 > 3875.0 for part in long if part.interval)
    (finding,) = found("buy-flip", subject)
    assert finding.level == "pass"
    (told,) = [words for words in finding.message.split("; ") if "shorter" in words]
    assert "32 boards fewer (USD 128 less), but " in told
    every = len(subject.of_kind("slat"))
    assert f"but {every} would be too short to fit, C1-S01 for one" in told

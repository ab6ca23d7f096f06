"""What makes every slat and every strip of furring hold: furring, slats another way, thicker furring."""

from collections.abc import Iterator

from lacunar.analysis import Subject, sunk_beams
from lacunar.checks.nail_grip import is_held
from lacunar.checks.remedies import Change, Remedy, first_that_helps, written
from lacunar.checks.voice import Voice
from lacunar.config import Config
from lacunar.materials import find_lumber

USE = Change("furring.use", True, "true")
ACROSS = Change("slats.run", "joists", '"joists"')
WITHOUT = Change("furring.use", False, "false")

THICKER = "2x3"
"""Furring that spans twice as far as 3/4 in does."""

THICKER_MM = (38.0, 63.0)
"""mm. The same where shops sell millimetres: thickness and width. Source: common practice, no source."""

BLOCKING = (
    "have a carpenter fix blocking between the joists that slats or furring can be nailed to, and write what is there"
    " then in framing.joists"
)


def hold_fix(voice: Voice) -> str:
    """A change of the config with which everything holds and no beam is hidden; else what is to be done by hand."""
    subject = voice.subject
    sunk = sunk_beams(subject)
    remedy = first_that_helps(voice, _remedies(subject), lambda other: is_held(other) and sunk_beams(other) <= sunk)
    if remedy is not None:
        return f"{_said(remedy)} ({written(remedy)})"
    return (
        BLOCKING if subject.layout.furring is None else f"screw one more strip of furring to the joists, or {BLOCKING}"
    )


def _remedies(subject: Subject) -> Iterator[Remedy]:
    config, furred = subject.config, subject.layout.furring is not None
    use: Remedy = () if furred else (USE,)
    if not furred:
        yield (USE,)
    yield (ACROSS, WITHOUT) if furred else (ACROSS,)
    thicker = _thicker(config)
    yield (*use, *thicker)
    others = [Change("slats.run", run, f'"{run}"') for run in ("with", "across") if run != config.slats.run]
    yield from ((other, *use) for other in others)
    yield from ((other, *use, *thicker) for other in others)


def _thicker(config: Config) -> Remedy:
    size = find_lumber(THICKER) if config.units == "in" or config.is_given("furring.stock") else None
    thickness, width = (size.thickness, size.width) if size is not None else THICKER_MM
    sizes = {"furring.thickness": thickness, "furring.width": width}
    named = (Change("furring.stock", THICKER, f'"{THICKER}"'),) if size is not None else ()
    # A nominal size says how thick and wide it is, unless the file says otherwise.
    return (
        *named,
        *(Change(key, mm, f'"{mm:g} mm"' if size is None or config.is_given(key) else "") for key, mm in sizes.items()),
    )


def _said(remedy: Remedy) -> str:
    keys = {change.key for change in remedy}
    if ACROSS in remedy:
        return "let the slats run across the joists"
    if "slats.run" in keys:
        return "let the slats run along the joists, with furring across them"
    if USE in remedy:
        return "nail furring across the joists first"
    return "take thicker furring"

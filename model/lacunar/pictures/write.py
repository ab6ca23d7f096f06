"""All pictures of a job into a folder."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from PIL import Image

from lacunar.pictures.captions import Pixels, strip_height, with_strip
from lacunar.pictures.overlap import overlap
from lacunar.pictures.section import section
from lacunar.pictures.states import STATES, parted, seen_in
from lacunar.scene import Quality, Scene, Viewpoint

SIZES: dict[Quality, tuple[int, int]] = {
    "draft": (960, 622),
    "fine": (1600, 1038),
    "large": (2400, 1558),
    "traced": (1600, 1038),
}
"""With a strip of one line, so that above it the picture is as high as cameras reckon with."""

SAMPLES: dict[Quality, int] = {"draft": 5, "fine": 8, "large": 8, "traced": 8}
"""Pictures that are laid over each other: with five, gaps far off run whole, with eight they are equally dark."""

VIEWS = ("door", "seat", "up", "corner", "exploded", "section", "hidden", "overlap", *STATES)
"""The views that every job has, besides its own cameras."""

APART = ("steps",)
"""Views that every job has and that are drawn only by name: they take long."""

FLAT = {"section": section, "overlap": overlap}
"""Drawn without a graphics library."""

TECHNICAL = ("exploded", "hidden", *FLAT)

UNSTATED = (*TECHNICAL, *STATES)
"""Views that are no cameras: none of them is seen today or in the evening."""

WORDS = {
    "door": "from the door",
    "seat": "from a seat",
    "up": "looking straight up (the plan's mirror image)",
    "corner": "close to a corner",
    "exploded": "taken apart",
    "section": "cut open",
    "hidden": "what the wood hides",
    "overlap": "what hides the gaps",
    "steps": "step by step",
    "today": "as it is today",
    "evening": "in the evening",
}


def view_names(scene: Scene) -> tuple[str, ...]:
    """Every view of a scene: the standing ones and the config's own cameras."""
    return (*VIEWS, *(name for name in scene.cameras if name not in VIEWS))


def pictures_of(
    scene: Scene,
    views: Iterable[str],
    quality: Quality = "fine",
    size: tuple[int, int] | None = None,
    remark: str = "",
    *,
    titled: bool = True,
) -> Iterator[tuple[str, Pixels]]:
    """Pictures of the views asked for, in an order of their own.

    Args:
        scene: lit, where a photo-like view is asked for; with the room as it is, where one of today is.
        views: names; one that the scene does not have is a KeyError.
        quality: size and smoothness.
        size: width and height in pixels, instead of the quality's own; a long remark makes the picture higher.
        remark: in each picture's strip ("good for: buy").
        titled: with that strip; else the picture alone, of the size that the strip would leave.

    Raises:
        KeyError: the scene has no view of that name.
    """
    wanted = tuple(views)
    for name in wanted:
        state, camera = parted(name)
        known = scene.cameras if state else (*view_names(scene), *APART)
        if (camera if state else name) not in known:
            raise KeyError(name)
    full = size or SIZES[quality]
    inner = (full[0], full[1] - strip_height(full[0]))
    samples = SAMPLES[quality]
    groups = seen_in(scene, tuple(name for name in wanted if name not in (*TECHNICAL, *APART)))
    for name in (name for name in FLAT if name in wanted):
        image = FLAT[name](scene, inner)
        yield name, stripped(scene, name, image, remark) if titled else image
    if "steps" in wanted:
        from lacunar.pictures.steps import steps

        image = steps(scene, inner, samples)
        yield "steps", stripped(scene, "steps", image, remark) if titled else image
    if not set(wanted) <= {*FLAT, *APART}:
        for name, image in _rendered(scene, groups, [v for v in TECHNICAL if v in wanted], inner, samples):
            yield name, stripped(scene, name, image, remark) if titled else image


def _rendered(
    scene: Scene,
    groups: list[tuple[Scene, list[Viewpoint]]],
    technical: list[str],
    size: tuple[int, int],
    samples: int,
) -> Iterator[tuple[str, Pixels]]:
    """Everything that needs the graphics library, on one stage."""
    from lacunar.pictures.exploded import exploded
    from lacunar.pictures.hidden import hidden
    from lacunar.pictures.photo import photos
    from lacunar.pictures.stage import Stage

    stage = Stage(scene, size, samples)
    try:
        for state, cameras in groups:
            for camera, image in photos(stage, state, cameras):
                yield camera.name, image
        if "exploded" in technical:
            yield "exploded", exploded(stage, scene)
        if "hidden" in technical:
            yield "hidden", hidden(stage, scene)
    finally:
        stage.close()


def stripped(scene: Scene, name: str, image: Pixels, remark: str) -> Pixels:
    """A picture with the strip of its view."""
    state, camera = parted(name)
    words = f"{WORDS.get(camera, camera)}, {WORDS[state]}" if state else WORDS.get(name, name)
    return with_strip(image, f"{scene.title}: {words}", remark)


def write_pictures(
    scene: Scene,
    folder: Path,
    views: Sequence[str] = (),
    quality: Quality = "fine",
    *,
    size: tuple[int, int] | None = None,
    remark: str = "",
    on_step: Callable[[str], None] | None = None,
) -> tuple[Path, ...]:
    """Write `<view>.png` for each view; all of them where none is named.

    Never call it where `can_render` says no: the process would end.

    Args:
        scene: lit.
        folder: made if it is not there.
        views: names; empty for all.
        quality: size and smoothness.
        size: width and height in pixels, instead of the quality's own.
        remark: at the right of each picture's strip.
        on_step: told the name of each picture as it is written.

    Returns:
        Paths in the order of `views`.
    """
    folder.mkdir(parents=True, exist_ok=True)
    wanted = tuple(views) or view_names(scene)
    for name, image in pictures_of(scene, wanted, quality, size, remark):
        save(image, folder / f"{name}.png")
        if on_step:
            on_step(name)
    return tuple(folder / f"{name}.png" for name in wanted)


def save(image: Pixels, path: Path) -> None:
    """Write one picture; light compression, which is four times quicker and a tenth larger."""
    Image.fromarray(image).save(path, compress_level=4)

"""All pictures of a job into a folder."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

import numpy as np
from PIL import Image

from lacunar.pictures.captions import Pixels, strip_height, with_strip
from lacunar.pictures.section import section
from lacunar.scene import Quality, Scene, Viewpoint

SIZES: dict[Quality, tuple[int, int]] = {
    "draft": (960, 600),
    "fine": (1600, 1000),
    "large": (2400, 1500),
    "traced": (1600, 1000),
}
SAMPLES: dict[Quality, int] = {"draft": 2, "fine": 3, "large": 3, "traced": 3}
"""Each way: four samples a pixel in a draft, else nine. With four, gaps far off break into dashes."""

VIEWS = ("door", "seat", "up", "corner", "exploded", "section", "hidden")
"""The views that every job has, besides its own cameras."""

TECHNICAL = ("exploded", "section", "hidden")

WORDS = {
    "door": "from the door",
    "seat": "from a seat",
    "up": "looking straight up (the plan's mirror image)",
    "corner": "close to a corner",
    "exploded": "taken apart",
    "section": "cut open",
    "hidden": "what the wood hides",
}


def view_names(scene: Scene) -> tuple[str, ...]:
    """Every view of a scene: the standing ones and the config's own cameras."""
    return (*VIEWS, *(name for name in scene.cameras if name not in VIEWS))


def pictures_of(
    scene: Scene, views: Iterable[str], quality: Quality = "fine", size: tuple[int, int] | None = None, remark: str = ""
) -> Iterator[tuple[str, Pixels]]:
    """Pictures of the views asked for, in an order of their own.

    Args:
        scene: lit, where a photo-like view is asked for.
        views: names; one that the scene does not have is a KeyError.
        quality: size and smoothness.
        size: width and height in pixels, instead of the quality's own.
        remark: in each picture's strip ("good for: buy").

    Raises:
        KeyError: the scene has no view of that name.
    """
    wanted = tuple(views)
    known = view_names(scene)
    for name in wanted:
        if name not in known:
            raise KeyError(name)
    full = size or SIZES[quality]
    inner = (full[0], full[1] - strip_height(full[0], remark))
    samples = SAMPLES[quality]
    cameras = [scene.cameras[name] for name in wanted if name not in TECHNICAL]
    if "section" in wanted:
        yield "section", stripped(scene, "section", section(scene, inner), remark)
    if wanted and set(wanted) != {"section"}:
        for name, image in _rendered(scene, cameras, [v for v in TECHNICAL if v in wanted], inner, samples):
            yield name, stripped(scene, name, image, remark)


def _rendered(
    scene: Scene, cameras: list[Viewpoint], technical: list[str], size: tuple[int, int], samples: int
) -> Iterator[tuple[str, Pixels]]:
    """Everything that needs the graphics library, on one stage."""
    from lacunar.pictures.exploded import exploded
    from lacunar.pictures.hidden import hidden
    from lacunar.pictures.photo import photos
    from lacunar.pictures.stage import Stage

    stage = Stage(scene, size, samples)
    try:
        for camera, image in photos(stage, scene, cameras):
            yield camera.name, image
        if "exploded" in technical:
            yield "exploded", exploded(stage, scene)
        if "hidden" in technical:
            yield "hidden", hidden(stage, scene)
    finally:
        stage.close()


def stripped(scene: Scene, name: str, image: Pixels, remark: str) -> Pixels:
    """A picture with the strip of its view."""
    return with_strip(image, f"{scene.title}: {WORDS.get(name, name)}", remark)


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


def read(path: Path) -> Pixels:
    """A picture that was saved."""
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB"), dtype=np.uint8)

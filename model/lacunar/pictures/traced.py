"""Photo-like views by following light: sky and sun as two layers, few samples, the noise taken out by its guides."""

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from lacunar.pictures.captions import Pixels, strip_height
from lacunar.pictures.glsl import functions
from lacunar.pictures.photo import lettered, with_bloom
from lacunar.pictures.probe import Variant
from lacunar.pictures.projection import directions
from lacunar.pictures.shader import PHOTO
from lacunar.pictures.states import seen_in
from lacunar.pictures.traced_scene import Floats
from lacunar.pictures.write import save, stripped
from lacunar.scene import Scene, Viewpoint

if TYPE_CHECKING:
    from lacunar.pictures.tracer import Tracer

USUAL: Final = 2
"""Rounds where no time is given: 8 + 4 samples, sky and sun. More is hardly seen. Measured by looking."""

Layer = Literal["sky", "sun"]

LAYERS: Final[tuple[Layer, ...]] = ("sky", "sun")

ROUND: Final = (4, 2)
"""Samples of each layer in a round."""

SHORT: Final = (2, 1)
"""The same where time is given, so that little of it is left over."""

GUIDES: Final = 36
"""Samples of the guides: they must have no noise, and a tenth of the time goes into them."""

LOOKS: Final = 16
"""At what glows, to know how much of each pixel does."""

DENOISING: Final = 4e-6
"""Seconds a pixel that a given time keeps for the denoiser and what follows. Measured: 2e-6 to 5e-6 on two cores."""

Tell = Callable[[str, float], None]
"""Told what is done, and the share of one picture."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """What a picture took: samples of sky and of sun, seconds."""

    sky: int
    sun: int
    seconds: float


def write_traced(
    scene: Scene,
    files: Mapping[str, Path],
    variant: Variant,
    size: tuple[int, int],
    budget: float | None,
    remark: str,
    step: Tell,
) -> list[str]:
    """Write a PNG for each view named; for a process of its own, which it may end.

    Args:
        scene: with its exposure.
        files: by view's name.
        variant: of `can_trace`.
        size: width and height in pixels, with the strip.
        budget: seconds for each picture, for as many samples as go into them; None for 8 + 4.
        remark: in each picture's strip.
        step: told as it goes.

    Returns:
        Where a time is given, a sentence a picture: what it was enough for.
    """
    from lacunar.pictures.tracer import Tracer

    inner = (size[0], size[1] - strip_height(size[0]))
    notes: list[str] = []
    done = 0
    for room, cameras in seen_in(scene, tuple(files)):
        step("traced: scene", done / len(files))
        tracer = Tracer(room, variant)
        for camera in cameras:

            def tell(text: str, share: float, done: int = done, name: str = camera.name) -> None:
                step(f"{name}: {text}", (done + share) / len(files))

            image, spent = traced(tracer, room, camera, inner, budget, tell)
            path = files[camera.name]
            path.parent.mkdir(exist_ok=True)
            save(stripped(scene, camera.name, image, remark), path)
            done += 1
            if budget is not None:
                least = ", the fewest that make a picture" if (spent.sky, spent.sun) == SHORT else ""
                notes.append(f"{camera.name}: {spent.sky} + {spent.sun} samples in {spent.seconds:.0f} s{least}")
    return notes


def traced(
    tracer: "Tracer", scene: Scene, camera: Viewpoint, size: tuple[int, int], budget: float | None, tell: Tell
) -> tuple[Pixels, Spent]:
    """One picture, without a strip."""
    start = time.monotonic()
    tell("guides", 0.0)
    albedo, normals, indoors = tracer.guides(camera, size, GUIDES)
    light, spent = _gathered(tracer, camera, size, budget, start, tell)
    ways = directions(camera, size).astype(np.float32)
    shader, gain = functions(PHOTO), np.array(scene.exposure, np.float32)
    beyond = np.array(scene.lights.outdoors, np.float32) * _each(shader["outdoors"], ways) / gain
    tell("denoising", 0.92)
    from lacunar.pictures.tracer import denoised

    clean = denoised(*(np.ascontiguousarray(one, np.float32) for one in (light, albedo, normals)))
    # What has no noise comes after: the denoiser would make thin bars waver before a bright sky.
    clean += (1.0 - indoors) * beyond + _glow(tracer, scene, camera, size, normals, ways)
    codes = _each(shader["film"], clean * gain)
    picture = with_bloom((np.clip(codes, 0.0, 1.0) * 255.0 + 0.5).astype(np.uint8))
    spent = Spent(sky=spent[0], sun=spent[1], seconds=time.monotonic() - start)
    return lettered(picture, scene, camera) if camera.letters else picture, spent


def _each(function: Callable[..., Floats], image: Floats) -> Floats:
    """A shader's function on every pixel."""
    return np.asarray(function(image.reshape(-1, 3)), dtype=np.float32).reshape(image.shape)


def _gathered(
    tracer: "Tracer", camera: Viewpoint, size: tuple[int, int], budget: float | None, start: float, tell: Tell
) -> tuple[Floats, tuple[int, int]]:
    """Light of both layers, and how many samples of each there are."""
    totals: dict[Layer, Floats] = {layer: np.zeros((size[1], size[0], 3), np.float32) for layer in LAYERS}
    counts = dict.fromkeys(LAYERS, 0)
    for number, share in enumerate(_rounds(budget, start, DENOISING * size[0] * size[1])):
        for layer, n in zip(LAYERS, ROUND if budget is None else SHORT, strict=True):
            tell(f"sample {sum(counts.values()) + 1}", 0.05 + 0.87 * share)
            totals[layer] += np.float32(n) * tracer.light(layer, camera, size, n, number)
            counts[layer] += n
    light = sum((totals[layer] / np.float32(counts[layer]) for layer in LAYERS), np.float32(0.0))
    return np.asarray(light, np.float32), (counts["sky"], counts["sun"])


def _rounds(budget: float | None, start: float, kept: float) -> Iterator[float]:
    """The share of the work that is done before each round; with a time given, as many as it allows, at least one."""
    if budget is None:
        yield from (number / USUAL for number in range(USUAL))
        return
    longest, before = 0.0, time.monotonic()
    while not longest or before + longest + kept < start + budget:
        yield min((before - start) / budget, 1.0)
        now = time.monotonic()
        longest, before = max(longest, now - before), now


def _glow(
    tracer: "Tracer",
    scene: Scene,
    camera: Viewpoint,
    size: tuple[int, int],
    normals: Floats,
    ways: Floats,
) -> Floats:
    """What glows itself, as the quick stills show it: a lamp's own light would be a white disc."""
    lit = [(k, scene.materials[name].glow) for k, name in enumerate(tracer.names) if max(scene.materials[name].glow)]
    out = np.zeros_like(normals)
    facing = 0.5 + 0.5 * np.clip(-np.sum(normals * ways, axis=2, keepdims=True), 0.0, 1.0)
    for seed in range(LOOKS if lit else 0):
        shown = tracer.shows(camera, size, seed)[..., None]
        for k, glow in lit:
            out += (shown == k) * facing * np.array(glow, np.float32) / LOOKS
    return out

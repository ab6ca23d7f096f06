"""Traced stills by samples, beside the quick still and plain PyVista of the same meshes: python tests/bench/traced.py.

Each in a process of its own, one after the other in one run; scene and textures are made before and are not counted.
A row of 8 samples takes one to four minutes. Quote ratios: a shared machine's seconds prove little.
"""
# VTK's classes have no types that a checker can follow.
# pyright: basic

import argparse
import pickle
import tempfile
from pathlib import Path

from bench import python, run  # pyright: ignore[reportAttributeAccessIssue]  a folder of that name is found first
from lacunar.config import read_config
from lacunar.job import run_job
from lacunar.pictures import can_trace, pictures_of, save, write_traced
from lacunar.scene import Scene, make_scene

ROOT = Path(__file__).resolve().parents[2]
COUNTS = (8, 16, 32)
ITSELF = "import sys; sys.path[:0] = sys.argv[1:2]; from traced import draw; draw(*sys.argv[2:])"


def plain(scene: Scene, view: str, path: Path, size: tuple[int, int]) -> None:
    """As a user of the library would do it: the same meshes and textures, its own light and its own smoothing."""
    import pyvista as pv

    from lacunar.pictures.stage import _by_material, _merged, _texture, aim

    plotter = pv.Plotter(off_screen=True, window_size=list(size))
    bodies = (body for body in scene.bodies if body.layer not in ("above", "pockets"))
    for name, group in _by_material(bodies).items():
        plotter.add_mesh(pv.wrap(_merged(group)), texture=pv.Texture(_texture(scene.materials[name])))
    plotter.camera_set = True
    plotter.enable_anti_aliasing("ssaa")
    aim(plotter.renderer, scene.cameras[view], size[0] / size[1])
    plotter.screenshot(str(path))


def draw(kind: str, pickled: str, view: str, out: str, width: str) -> None:
    """One picture of a scene that is there; `kind`: "plain", "quick", or how many samples of the sky."""
    from lacunar.pictures import traced

    scene, path, size = pickle.loads(Path(pickled).read_bytes()), Path(out), (int(width), round(int(width) / 1.6))
    if kind == "plain":
        plain(scene, view, path, size)
    elif kind == "quick":
        ((_, image),) = pictures_of(scene, [view], "fine", size)
        save(image, path)
    else:
        traced.USUAL = int(kind) // traced.ROUND[0]
        variant = can_trace().variant
        assert variant is not None
        write_traced(scene, {view: path}, variant, size, None, "", lambda _text, _share: None)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--room", default=str(ROOT / "configs" / "4-inch.toml"))
    parser.add_argument("--view", default="door")
    parser.add_argument("--width", type=int, default=1600)
    parser.add_argument("--keep", type=Path, help="a folder for the pictures")
    given = parser.parse_args()
    tracing = can_trace()
    kinds = ["plain", "quick", *(str(n) for n in COUNTS if tracing.variant)]
    with tempfile.TemporaryDirectory() as folder:
        job = run_job(read_config(Path(given.room)), weighed=False)
        pickled, out = Path(folder) / "scene", given.keep or Path(folder)
        pickled.write_bytes(pickle.dumps(make_scene(job.parts, job.room, job.config, job.layout)))
        print(tracing.variant or tracing.advice)  # noqa: T201
        print("| picture | wall s | CPU s | peak MB |\n|---|---|---|---|")  # noqa: T201
        for kind in kinds:
            arguments = (kind, str(pickled), given.view, str(out / f"{given.view}-{kind}.png"), str(given.width))
            took = run(python(ITSELF, str(Path(__file__).parent), *arguments))
            name = f"traced, {kind} + {int(kind) // 2}" if kind.isdigit() else kind
            print(f"| {name} | {took.wall:.1f} | {took.cpu:.1f} | {took.peak:.0f} |", flush=True)  # noqa: T201


if __name__ == "__main__":
    main()

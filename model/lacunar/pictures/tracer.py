"""The path tracer and the denoiser: the one module that speaks to them."""
# Neither library has types that a checker can follow, and neither need be installed.
# pyright: basic
# pyright: reportMissingImports=false

import math
from collections.abc import Iterable
from typing import Literal

import drjit as dr
import mitsuba as mi
import numpy as np
import pyoidn

from lacunar.pictures.probe import Variant
from lacunar.pictures.traced_scene import SPECULAR, Beam, Floats, Globe, Glow, Solid, globes, skylight, solids, sunbeams
from lacunar.scene import Appearance, Scene, Viewpoint

DEPTH = 6
"""Bounces after which a path ends, as in the baked light."""

MEMORY = 700
"""MB that the denoiser may take: it works in tiles then, to the same picture, and a picture of 1600 x 1000 in one piece
takes 450 more in the same time. Measured."""

ROUGHEST = 0.1
"""Least roughness: a sharper reflection is noise at so few samples."""


class Tracer:
    """A scene, ready to be looked at from anywhere."""

    def __init__(self, scene: Scene, variant: Variant) -> None:
        """Hand the scene over. Where the compiler's library is of the wrong version, the process ends here or later."""
        mi.set_variant(variant)
        things = solids(scene)
        self.names = tuple(solid.material.name for solid in things)
        meshes = {f"solid{k}": _mesh(solid) for k, solid in enumerate(things)}
        integrator = {"type": "path", "max_depth": DEPTH, "rr_depth": DEPTH - 1, "hide_emitters": True}
        glows = {f"glow{k}": _glow(one) for k, one in enumerate(skylight(scene.lights))}
        lamps = {f"lamp{k}": _globe(one) for k, one in enumerate(globes(scene.lights))}
        suns = {f"sun{k}": _beam(one) for k, one in enumerate(sunbeams(scene.lights.sun))}
        # The windows' own lights would stand in the sun's way.
        self.layers = {
            "sky": mi.load_dict({"type": "scene", "integrator": integrator, **meshes, **glows, **lamps}),
            "sun": mi.load_dict({"type": "scene", "integrator": integrator, **meshes, **suns}) if suns else None,
        }
        self._bare = mi.load_dict({"type": "scene", **meshes})
        self._guides = mi.load_dict(
            {"type": "aov", "aovs": "albedo:albedo,normal:sh_normal", "nested": {"type": "depth"}}
        )
        self._ids = mi.load_dict({"type": "aov", "aovs": "id:shape_index", "nested": {"type": "depth"}})

    def light(
        self, layer: Literal["sky", "sun"], camera: Viewpoint, size: tuple[int, int], n: int, seed: int
    ) -> Floats:
        """One layer's light as the camera sees it, mean of n samples, linear, shape (height, width, 3)."""
        scene = self.layers[layer]
        if scene is None:
            return np.zeros((size[1], size[0], 3), np.float32)
        return np.array(mi.render(scene, sensor=_sensor(camera, size, n), spp=n, seed=mi.UInt32(seed)))[..., :3]

    def guides(self, camera: Viewpoint, size: tuple[int, int], n: int) -> tuple[Floats, Floats, Floats]:
        """Albedo and normals, shape (height, width, 3), and how much of each pixel is not out of doors, (h, w, 1)."""
        image = np.array(mi.render(self._bare, sensor=_sensor(camera, size, n), integrator=self._guides, spp=n))
        return image[..., 4:7], image[..., 7:10], image[..., 3:4]

    def shows(self, camera: Viewpoint, size: tuple[int, int], seed: int) -> np.ndarray:
        """What is met somewhere in each pixel: an index into `names`, -1 out of doors."""
        image = np.array(
            mi.render(self._bare, sensor=_sensor(camera, size, 1), integrator=self._ids, spp=1, seed=mi.UInt32(seed))
        )
        return np.where(image[..., 3] > 0.5, np.rint(image[..., 4]) - 1, -1).astype(int)


def denoised(light: Floats, albedo: Floats, normals: Floats) -> Floats:
    """The picture without its noise."""
    dr.flush_malloc_cache()  # what is kept for the next picture would stand beside what the denoiser needs
    out = np.zeros_like(light)
    images = {"color": light, "albedo": albedo, "normal": normals, "output": out}
    with pyoidn.Device() as device:
        device.commit()
        with pyoidn.Filter(device, pyoidn.OIDN_FILTER_TYPE_RT) as work:
            for name, image in images.items():
                work.set_image(name, image, pyoidn.OIDN_FORMAT_FLOAT3)
            work.set_bool("hdr", True)
            work.set_bool("cleanAux", True)
            work.set_int("maxMemoryMB", MEMORY)
            work.commit()
            work.execute()
            if error := device.get_error():
                raise RuntimeError(f"the denoiser: {error}")
    return out


def _sensor(camera: Viewpoint, size: tuple[int, int], n: int):
    transform = mi.ScalarTransform4f()
    return mi.load_dict(
        {
            "type": "perspective",
            "fov_axis": "x",
            "fov": 2 * math.degrees(math.atan(camera.half_width)),
            "principal_point_offset_x": camera.shift[0] / 2,
            "principal_point_offset_y": -camera.shift[1] / 2,
            "near_clip": 0.01,
            "to_world": transform.look_at(origin=[*camera.eye], target=[*camera.towards], up=[*camera.up]),
            "film": {
                "type": "hdrfilm",
                "width": size[0],
                "height": size[1],
                "rfilter": {"type": "box"},  # a wider one leaves noise that the denoiser takes for detail
                "pixel_format": "rgba",
                "component_format": "float32",
            },
            "sampler": {"type": "multijitter" if n > 1 else "independent", "sample_count": n},
        }
    )


def _coat(material: Appearance):
    image = np.ascontiguousarray(material.albedo)
    even = image.shape[:2] == (1, 1)
    colour = {"type": "rgb", "value": [*material.mean]} if even else {"type": "bitmap", "bitmap": mi.Bitmap(image)}
    if material.shine <= 0.0:
        coat = {"type": "diffuse", "reflectance": colour}
    else:
        shine = min(1.0, SPECULAR * material.shine)
        coat = {
            "type": "principled",
            "base_color": colour,
            "roughness": max(material.rough, ROUGHEST),
            "specular": shine,
        }
    return mi.load_dict({"type": "twosided", "coat": coat})


def _filled(name: str, points: Floats, faces: np.ndarray, props, more: dict[str, np.ndarray]):
    smooth = "vertex_normals" in more
    mesh = mi.Mesh(name, len(points), len(faces), has_vertex_normals=smooth, has_vertex_texcoords=smooth, props=props)
    slots = mi.traverse(mesh)
    for key, values in {"vertex_positions": points, **more}.items():
        slots[key] = np.ascontiguousarray(values.ravel(), np.float32)
    slots["faces"] = np.ascontiguousarray(faces.ravel(), np.uint32)
    slots.update()
    return mesh


def _mesh(solid: Solid):
    props = mi.Properties()
    props["coat"] = _coat(solid.material)
    more = {"vertex_normals": solid.normals, "vertex_texcoords": solid.uv}
    return _filled(solid.material.name, solid.points, solid.faces, props, more)


def _area(radiance: Iterable[float]) -> dict[str, object]:
    return {"type": "area", "radiance": {"type": "rgb", "value": [*radiance]}}


def _glow(glow: Glow):
    props = mi.Properties()
    props["light"] = mi.load_dict(_area(glow.radiance))
    props["coat"] = mi.load_dict({"type": "diffuse", "reflectance": {"type": "rgb", "value": 0.0}})
    return _filled("window", glow.points, glow.faces, props, {})


def _globe(globe: Globe) -> dict[str, object]:
    return {"type": "sphere", "center": [*globe.centre], "radius": globe.radius, "light": _area(globe.radiance)}


def _beam(beam: Beam) -> dict[str, object]:
    power = {"type": "rgb", "value": [*beam.irradiance]}
    return {"type": "directional", "direction": [*beam.along], "irradiance": power}

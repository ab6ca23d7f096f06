"""A ball traced and denoised: run as a script in a child process, which a compiler's library may end.

Nothing of the package is imported: the answer should come quickly.
"""
# Neither library has types that a checker can follow, and neither need be installed.
# pyright: basic
# pyright: reportMissingImports=false

import sys


def tone(variant: str) -> float:
    """Mean of a small picture of a bright ball, denoised: every kind of thing that a scene is made of, once."""
    import mitsuba as mi
    import numpy as np
    import pyoidn

    mi.set_variant(variant)
    coat = {"type": "principled", "base_color": {"type": "rgb", "value": 0.5}, "roughness": 0.4}
    scene = mi.load_dict(
        {
            "type": "scene",
            "integrator": {"type": "path", "max_depth": 4},
            "sensor": {"type": "perspective", "film": {"type": "hdrfilm", "width": 16, "height": 16}},
            "ball": {"type": "sphere", "center": [0, 0, 3], "coat": {"type": "twosided", "coat": coat}},
            "lamp": {"type": "sphere", "center": [0, 2, 0], "radius": 0.5, "light": {"type": "area"}},
            "sun": {"type": "directional", "direction": [0.0, 0.0, 1.0]},
        }
    )
    image = np.ascontiguousarray(np.array(mi.render(scene, spp=2))[..., :3], dtype=np.float32)
    return float(pyoidn.denoise(image, hdr=True).mean())


if __name__ == "__main__":
    sys.exit(0 if 0.01 < tone(sys.argv[1]) < 10.0 else 3)

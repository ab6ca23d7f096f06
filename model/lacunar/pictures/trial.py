"""One triangle drawn with our own lines: run in a child process by the probe."""
# pyright: basic

import sys


def trial() -> None:
    """End the process with 0 if the triangle came out white on black."""
    import numpy as np

    from lacunar.pictures.shader import neutral
    from lacunar.pictures.stage import Stage
    from lacunar.scene import Body, Camera, Lights, Material, Scene, Sun

    points = np.array([[-1, -1, 0], [1, -1, 0], [0, 1, 0]], dtype=np.float32)
    body = Body(
        name="trial",
        kind="",
        layer="room",
        material="white",
        coffer=None,
        points=points,
        faces=np.array([[0, 1, 2]], dtype=np.int32),
        normals=np.array([[0, 0, 1]] * 3, np.float32),
        uv=np.zeros((3, 2), np.float32),
    )
    white = Material(name="white", albedo=np.full((2, 2, 3), 255, dtype=np.uint8), mean=(1.0, 1.0, 1.0))
    scene = Scene(
        title="",
        units="mm",
        bodies=(body,),
        materials={"white": white},
        cameras={},
        exposure=(1.0, 1.0, 1.0),
        letters=(),
        lights=Lights(windows=(), lamps=(), sun=Sun(towards=(0.0, 0.0, 1.0), power=(0.0, 0.0, 0.0))),
        outline=(),
        height=1.0,
    )
    stage = Stage(scene, (32, 32), 1)
    stage.clear("black")
    stage.dress(scene.bodies, lambda _body, _material: neutral())
    image = stage.picture(Camera(name="", eye=(0.0, 0.0, 2.0), towards=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0)))
    stage.close()
    sys.exit(0 if image[16, 16].min() > 60 and image[0, 0].max() < 10 else 3)

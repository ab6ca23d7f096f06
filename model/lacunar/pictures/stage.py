"""A scene on the graphics library's stage: the one module that builds actors and takes pictures."""
# VTK's classes have no types that a checker can follow.
# pyright: basic

from collections.abc import Callable, Iterable, Mapping

import numpy as np
import pyvista as pv
from vtkmodules.vtkCommonCore import vtkLogger
from vtkmodules.vtkCommonDataModel import vtkDataObject
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper, vtkRenderer

from lacunar.pictures.captions import Pixels
from lacunar.pictures.shader import VERTEX_DEC, VERTEX_IMPL
from lacunar.scene import Appearance, Body, Scene, Viewpoint

ATTRIBUTES = ("light", "place", "facing", "sees")

Code = Callable[[Body, Appearance], tuple[str, str]]
"""Declarations and body of the fragment code for a group of bodies, asked for the first of them."""


def _merged(bodies: list[Body]) -> pv.PolyData:
    """All bodies of one material as one mesh."""
    counts = np.cumsum([0, *(len(b.points) for b in bodies)])
    points = np.concatenate([b.points for b in bodies])
    faces = np.concatenate([b.faces + counts[i] for i, b in enumerate(bodies)])
    mesh = pv.PolyData.from_regular_faces(points, faces)
    mesh.point_data["light"] = np.concatenate([np.ones_like(b.points) if b.light is None else b.light for b in bodies])
    mesh.point_data["place"] = points
    mesh.point_data["facing"] = np.concatenate([b.normals for b in bodies])
    mesh.point_data["sees"] = np.concatenate(
        [np.ones((len(b.points), 2), np.float32) if b.sees is None else b.sees for b in bodies]
    )
    # Our images count their rows down, the library's up.
    uv = np.concatenate([b.uv for b in bodies]) * np.array([1, -1], np.float32) + np.array([0, 1], np.float32)
    mesh.active_texture_coordinates = uv
    return mesh


def _texture(material: Appearance) -> pv.Texture:
    texture = pv.Texture(material.albedo)
    texture.SetInterpolate(True)
    texture.MipmapOn()
    texture.SetRepeat(True)
    return texture


def _actor(mesh: pv.PolyData, texture: pv.Texture, code: tuple[str, str]) -> vtkActor:
    """An unlit actor whose colour is worked out by our own lines."""
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(mesh)
    mapper.ScalarVisibilityOff()
    for name in ATTRIBUTES:
        mapper.MapDataArrayToVertexAttribute(name, name, vtkDataObject.FIELD_ASSOCIATION_POINTS, -1)
    actor = vtkActor()
    actor.SetMapper(mapper)
    actor.SetTexture(texture)
    actor.GetProperty().SetLighting(False)
    shader = actor.GetShaderProperty()
    dec, impl = code
    shader.AddVertexShaderReplacement("//VTK::ValuePass::Dec", True, VERTEX_DEC, False)
    shader.AddVertexShaderReplacement("//VTK::ValuePass::Impl", True, VERTEX_IMPL, False)
    shader.AddFragmentShaderReplacement("//VTK::ValuePass::Dec", True, dec, False)
    shader.AddFragmentShaderReplacement("//VTK::TCoord::Impl", True, impl, False)
    shader.GetFragmentCustomUniforms().SetUniform3f("eye", [0.0, 0.0, 0.0])
    return actor


def _by_material(bodies: Iterable[Body]) -> Mapping[str, list[Body]]:
    out: dict[str, list[Body]] = {}
    for body in bodies:
        out.setdefault(body.material, []).append(body)
    return out


def _line_actor(lines: np.ndarray, colour: tuple[float, float, float], width: float, alpha: float) -> vtkActor:
    """Thin lines, shape (k, 2, 3)."""
    mesh = pv.PolyData()
    mesh.points = lines.reshape(-1, 3).astype(np.float32)
    cells = np.arange(2 * len(lines)).reshape(-1, 2)
    mesh.lines = np.column_stack([np.full(len(cells), 2), cells]).ravel()
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(mesh)
    actor = vtkActor()
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    look.SetLighting(False)
    look.SetColor(*colour)
    look.SetLineWidth(width)
    look.SetOpacity(alpha)
    actor.ForceTranslucentOn()
    return actor


def dressed(
    scene: Scene, bodies: Iterable[Body], code: Code, textures: dict[str, pv.Texture], *, clear: bool = False
) -> list[vtkActor]:
    """One actor a material. Textures go to the graphics library once; `clear`: see-through, as far as the code says."""
    out: list[vtkActor] = []
    for name, group in _by_material(bodies).items():
        material = scene.materials[name]
        if name not in textures:
            textures[name] = _texture(material)
        actor = _actor(_merged(group), textures[name], code(group[0], material))
        actor.GetProperty().SetBackfaceCulling(not material.pane)
        if clear:
            actor.GetProperty().SetOpacity(0.5)
            actor.ForceTranslucentOn()
        out.append(actor)
    return out


def tell_eye(renderer: vtkRenderer, actors: Iterable[vtkActor]) -> None:
    """Tell the actors' code where the eye is."""
    eye = list(renderer.GetActiveCamera().GetPosition())
    for actor in actors:
        actor.GetShaderProperty().GetFragmentCustomUniforms().SetUniform3f("eye", eye)


def aim(renderer: vtkRenderer, camera: Viewpoint, aspect: float) -> None:
    """Point the renderer's camera; the window's centre does a view camera's shift."""
    active = renderer.GetActiveCamera()
    active.SetPosition(*camera.eye)
    active.SetFocalPoint(*camera.towards)
    active.SetViewUp(*camera.up)
    active.SetViewAngle(2 * np.degrees(np.arctan(camera.half_width / aspect)))
    active.SetWindowCenter(camera.shift[0], camera.shift[1])
    active.SetParallelProjection(bool(camera.parallel > 0))
    if camera.parallel:
        active.SetParallelScale(camera.parallel)
    renderer.ResetCameraClippingRange()


class Stage:
    """An off-screen window; pictures are taken larger and averaged down."""

    def __init__(self, scene: Scene, size: tuple[int, int], samples: int) -> None:
        """Open the window. `samples`: pixels each way that are averaged to one."""
        # A machine without a screen is no reason to warn: nothing is shown on one.
        vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_ERROR)
        self.scene, self.size, self.samples = scene, size, samples
        self.textures: dict[str, pv.Texture] = {}
        self.plotter = pv.Plotter(off_screen=True, window_size=[size[0] * samples, size[1] * samples], lighting="none")
        # The library's own smoothing on top would cost ten times as much: it runs out of its bins in a large window.
        self.plotter.disable_anti_aliasing()
        window = self.plotter.render_window
        assert window is not None
        window.SetMultiSamples(0)
        self.plotter.renderer.camera_set = True
        self.actors: list[vtkActor] = []

    def dress(self, bodies: Iterable[Body], code: Code, *, clear: bool = False) -> None:
        """Put bodies on the stage (see `dressed`)."""
        for actor in dressed(self.scene, bodies, code, self.textures, clear=clear):
            self.actors.append(actor)
            self.plotter.renderer.AddActor(actor)

    def lines(
        self, lines: Iterable[np.ndarray], colour: tuple[float, float, float], width: float, alpha: float
    ) -> None:
        """Put edges on the stage. `width`: in pixels of the finished picture."""
        every = [edges for edges in lines if len(edges)]
        if every:
            actor = _line_actor(np.concatenate(every), colour, width * self.samples, alpha)
            self.plotter.renderer.AddActor(actor)

    def clear(self, background: str) -> None:
        """Take everything off the stage."""
        self.plotter.renderer.RemoveAllViewProps()
        self.plotter.renderer.set_background(background)
        self.actors = []

    def picture(self, camera: Viewpoint) -> Pixels:
        """What the camera sees, shape (height, width, 3)."""
        aim(self.plotter.renderer, camera, self.size[0] / self.size[1])
        tell_eye(self.plotter.renderer, self.actors)
        self.plotter.render()
        image = np.asarray(self.plotter.screenshot(None, return_img=True))
        return _averaged(image, self.samples)

    def close(self) -> None:
        """Let go of the window."""
        self.plotter.close()


def _averaged(image: Pixels, k: int) -> Pixels:
    """Each k x k pixels as one."""
    if k == 1:
        return image
    total = np.zeros((image.shape[0] // k, image.shape[1] // k, 3), dtype=np.uint16)
    for dy in range(k):
        for dx in range(k):
            total += image[dy::k, dx::k]
    return ((total + k * k // 2) // (k * k)).astype(np.uint8)

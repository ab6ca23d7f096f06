"""A scene on the graphics library's stage: the one module that builds actors and takes pictures."""
# VTK's classes have no types that a checker can follow.
# pyright: basic

import itertools
from collections.abc import Callable, Iterable, Mapping

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  what the window, the mappers and the textures are made by
from PIL import ImageColor
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray, vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkLogger, vtkPoints, vtkUnsignedCharArray
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkDataObject, vtkImageData, vtkPolyData
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper, vtkRenderer, vtkRenderWindow, vtkTexture

from lacunar.pictures.captions import Pixels
from lacunar.pictures.shader import VERTEX_DEC, VERTEX_IMPL
from lacunar.scene import Appearance, Body, Scene, Viewpoint

ATTRIBUTES = ("light", "place", "facing", "sees", "sunny")

Code = Callable[[Body, Appearance], tuple[str, str]]
"""Declarations and body of the fragment code for a group of bodies, asked for the first of them."""


def _mesh(points: np.ndarray, cells: np.ndarray, *, lines: bool = False) -> vtkPolyData:
    """Triangles or lines, each a row of places in `points`; the library keeps copies."""
    corners = vtkPoints()
    corners.SetData(numpy_to_vtk(np.ascontiguousarray(points, np.float32), deep=True))
    n = cells.shape[1]
    rows = vtkCellArray()
    starts = np.arange(0, n * len(cells) + 1, n, dtype=np.int64)
    rows.SetData(numpy_to_vtkIdTypeArray(starts, deep=True), numpy_to_vtkIdTypeArray(cells.ravel(), deep=True))
    mesh = vtkPolyData()
    mesh.SetPoints(corners)
    (mesh.SetLines if lines else mesh.SetPolys)(rows)
    return mesh


def _add(mesh: vtkPolyData, name: str, values: np.ndarray) -> None:
    array = numpy_to_vtk(np.ascontiguousarray(values, np.float32), deep=True)
    array.SetName(name)
    mesh.GetPointData().AddArray(array)


def _merged(bodies: list[Body]) -> vtkPolyData:
    """All bodies of one material as one mesh."""
    counts = np.cumsum([0, *(len(b.points) for b in bodies)])
    points = np.concatenate([b.points for b in bodies])
    mesh = _mesh(points, np.concatenate([b.faces + counts[i] for i, b in enumerate(bodies)]).astype(np.int64))
    _add(mesh, "light", np.concatenate([np.ones_like(b.points) if b.light is None else b.light for b in bodies]))
    _add(mesh, "place", points)
    _add(mesh, "facing", np.concatenate([b.normals for b in bodies]))
    sees = np.concatenate([np.ones((len(b.points), 5), np.float32) if b.sees is None else b.sees for b in bodies])
    _add(mesh, "sees", sees[:, :4])
    _add(mesh, "sunny", sees[:, 4])
    _add(mesh, "uv", np.concatenate([b.uv for b in bodies]))
    mesh.GetPointData().SetActiveTCoords("uv")
    return mesh


def _texture(material: Appearance) -> vtkTexture:
    """The library counts rows up, as we count v down: row for row, neither need be turned."""
    rows, columns = material.albedo.shape[:2]
    image = vtkImageData()
    image.SetDimensions(columns, rows, 1)
    image.GetPointData().SetScalars(numpy_to_vtk(np.ascontiguousarray(material.albedo).reshape(-1, 3)))
    texture = vtkTexture()
    texture.SetInputData(image)
    texture.InterpolateOn()
    texture.MipmapOn()
    texture.RepeatOn()
    return texture


def _actor(mesh: vtkPolyData, texture: vtkTexture, code: tuple[str, str]) -> vtkActor:
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
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(_mesh(lines.reshape(-1, 3), np.arange(2 * len(lines)).reshape(-1, 2), lines=True))
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
    scene: Scene, bodies: Iterable[Body], code: Code, textures: dict[int, vtkTexture], *, clear: bool = False
) -> list[vtkActor]:
    """One actor a material. Textures go to the graphics library once; `clear`: see-through, as far as the code says."""
    out: list[vtkActor] = []
    for name, group in _by_material(bodies).items():
        material = scene.materials[name]
        # Woods that look alike share their picture.
        key = id(material.albedo)
        if key not in textures:
            textures[key] = _texture(material)
        actor = _actor(_merged(group), textures[key], code(group[0], material))
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


EVEN = 10
"""Codes of 255. Where two pictures and all neighbours differ by no more, further ones would show nothing new."""


def _spots(n: int) -> list[tuple[float, float]]:
    """Places in a pixel, from its middle, no two in one row or column of an n by n grid; two far apart come first."""
    # Steps that share no divisor with n and keep neighbours apart: 2 of 5, 3 of 8.
    step = next(k for k in (3, 2, 1) if np.gcd(k, n) == 1 and k < n)
    order = sorted(range(n), key=lambda i: i not in (n // 4, n - n // 4))
    return [((i + 0.5) / n - 0.5, (step * i % n + 0.5) / n - 0.5) for i in order]


def _mean(pictures: Iterable[Pixels]) -> Pixels:
    """Of pictures as they come: never are all there at once."""
    every = iter(pictures)
    total, n = next(every).astype(np.uint16), 1
    for picture in every:
        total += picture
        n += 1
    return ((total + n // 2) // n).astype(np.uint8)


def _uneven(first: Pixels, second: Pixels) -> np.ndarray:
    """Which pixels differ between two pictures, or from a neighbour in either, by their green."""
    one, other = first[:, :, 1], second[:, :, 1]
    low, high = np.minimum(one, other), np.maximum(one, other)
    for axis in (0, 1):
        for bound, pick in ((low, np.minimum), (high, np.maximum)):
            here = bound.swapaxes(0, axis)
            spread = here.copy()
            pick(spread[1:], here[:-1], out=spread[1:])
            pick(spread[:-1], here[1:], out=spread[:-1])
            here[:] = spread
    return high - low > EVEN


class Stage:
    """An off-screen window. A picture is the mean of several, each moved by another part of a pixel.

    So a thin line at any slope is caught by as many of them; a regular grid in a larger window would break it.
    After two only pixels are drawn in which more would show: what shades them costs ten times what finds them.
    """

    def __init__(self, scene: Scene, size: tuple[int, int], samples: int) -> None:
        """Open the window. `samples`: pictures to one."""
        # A machine without a screen is no reason to warn: nothing is shown on one.
        vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_ERROR)
        self.scene, self.size, self.samples = scene, size, samples
        self.textures: dict[int, vtkTexture] = {}
        self.renderer = vtkRenderer()
        self.renderer.AutomaticLightCreationOff()
        self.window = vtkRenderWindow()
        self.window.SetOffScreenRendering(1)
        self.window.SetMultiSamples(0)
        self.window.AddRenderer(self.renderer)
        self.actors: list[vtkActor] = []

    def dress(self, bodies: Iterable[Body], code: Code, *, clear: bool = False) -> None:
        """Put bodies on the stage (see `dressed`)."""
        if clear:
            self.renderer.UseOITOn()
        for actor in dressed(self.scene, bodies, code, self.textures, clear=clear):
            self.actors.append(actor)
            self.renderer.AddActor(actor)

    def lines(
        self, lines: Iterable[np.ndarray], colour: tuple[float, float, float], width: float, alpha: float
    ) -> None:
        """Put edges on the stage. `width`: in pixels of the finished picture."""
        every = [edges for edges in lines if len(edges)]
        if every:
            self.renderer.AddActor(_line_actor(np.concatenate(every), colour, width, alpha))

    def clear(self, background: str) -> None:
        """Take everything off the stage."""
        self.renderer.RemoveAllViewProps()
        self.renderer.UseOITOff()
        self.renderer.SetBackground(*(code / 255 for code in ImageColor.getrgb(background)[:3]))
        self.actors = []

    def picture(self, camera: Viewpoint, size: tuple[int, int] | None = None) -> Pixels:
        """What the camera sees, shape (height, width, 3); of the stage's own size where none is given."""
        width, height = size or self.size
        self.window.SetSize(width, height)
        aim(self.renderer, camera, width / height)
        tell_eye(self.renderer, self.actors)
        x, y = self.renderer.GetActiveCamera().GetWindowCenter()

        def moved(spot: tuple[float, float]) -> Pixels:
            self.renderer.GetActiveCamera().SetWindowCenter(x + 2 * spot[0] / width, y + 2 * spot[1] / height)
            self.window.Render()
            return self._seen(width, height)

        if self.renderer.GetUseOIT():
            # Edges are everywhere, and the library's see-through things do without the depth that is kept below.
            return _mean(moved(spot) for spot in _spots(self.samples // 2 + 1))
        first, second, *others = _spots(self.samples)
        pair = [moved(first), moved(second)]
        uneven = _uneven(*pair)
        # What lies at the eye already lets nothing behind it be drawn.
        depth = numpy_to_vtk(uneven[::-1].astype(np.float32).ravel(), deep=True)
        self.renderer.PreserveDepthBufferOn()

        def again(spot: tuple[float, float]) -> Pixels:
            self.window.SetZbufferData(0, 0, width - 1, height - 1, depth)
            return moved(spot)

        mean = _mean(itertools.chain(pair, map(again, others)))
        self.renderer.PreserveDepthBufferOff()
        return np.where(uneven[:, :, None], mean, _mean(pair))

    def _seen(self, width: int, height: int) -> Pixels:
        """What stands in the window, its first row at the top."""
        pixels = vtkUnsignedCharArray()
        self.window.GetPixelData(0, 0, width - 1, height - 1, 0, pixels, 0)
        return np.asarray(vtk_to_numpy(pixels), dtype=np.uint8).reshape(height, width, 3)[::-1]

    def close(self) -> None:
        """Let go of the window."""
        self.window.Finalize()

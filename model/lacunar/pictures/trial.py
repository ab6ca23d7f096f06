"""One triangle drawn with lines of our own: run as a script in a child process, which it ends.

Nothing of the package is imported: the answer should come quickly.
"""
# VTK's classes have no types that a checker can follow.
# pyright: basic

import sys

ORANGE = (255, 128, 0)


def drawn() -> tuple[int, int, int]:
    """Colour of the middle of a picture that our own line of code paints orange."""
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  the library that may not be there
    from vtkmodules.vtkFiltersSources import vtkPlaneSource
    from vtkmodules.vtkRenderingCore import (
        vtkActor,
        vtkPolyDataMapper,
        vtkRenderer,
        vtkRenderWindow,
        vtkWindowToImageFilter,
    )

    plane = vtkPlaneSource()
    mapper = vtkPolyDataMapper()
    mapper.SetInputConnection(plane.GetOutputPort())
    actor = vtkActor()
    actor.SetMapper(mapper)
    ours = "fragOutput0 = vec4(1.0, 0.5, 0.0, 1.0);\n"
    actor.GetShaderProperty().AddFragmentShaderReplacement("//VTK::TCoord::Impl", True, ours, False)
    renderer = vtkRenderer()
    renderer.AddActor(actor)
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetSize(32, 32)
    window.AddRenderer(renderer)
    window.Render()
    grab = vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.Update()
    image = grab.GetOutput()
    red, green, blue = (int(image.GetScalarComponentAsDouble(16, 16, 0, k)) for k in range(3))
    return red, green, blue


def is_drawn() -> bool:
    """The picture is as it should be."""
    return all(abs(a - b) <= 3 for a, b in zip(drawn(), ORANGE, strict=True))


if __name__ == "__main__":
    sys.exit(0 if is_drawn() else 3)

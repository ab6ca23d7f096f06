"""A window to look round in: the lit scene, turned with the mouse, rebuilt when asked."""
# VTK's classes have no types that a checker can follow.
# pyright: basic

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pyvista as pv
from vtkmodules.vtkCommonCore import vtkCommand

from lacunar.pictures.shader import fragment
from lacunar.pictures.stage import aim, dressed, tell_eye
from lacunar.scene import Scene

EVERY = 500
"""ms between two looks at whether there is something new."""

KEYS = {"F1": "door", "F2": "seat", "F3": "up", "F4": "corner"}
"""Letters have meanings of the library's own."""


def show(
    scene: Scene, poll: Callable[[], Scene | None] | None = None, *, view: str = "door", off_screen: bool = False
) -> None:
    """Open a window on a lit scene and return when it is closed.

    Args:
        scene: lit.
        poll: asked twice a second; a new scene takes the old one's place, with the eye where it was.
        view: where to start; F1 to F4 lead to door, seat, up and corner.
        off_screen: no window, for tests: one picture is drawn, `poll` asked once and another drawn.
    """
    plotter = pv.Plotter(
        off_screen=off_screen, window_size=[1280, 800], lighting="none", title=f"{scene.title} - lacunar"
    )
    stage = _Living(plotter, scene)
    stage.go(view)
    for key, name in KEYS.items():
        plotter.add_key_event(key, partial(stage.go, name))  # pyright: ignore[reportArgumentType, reportCallIssue]
    if off_screen:
        plotter.render()
        stage.take(poll() if poll else None)
        plotter.render()
        plotter.close()
        return
    if poll is not None:
        plotter.add_timer_event(  # pyright: ignore[reportCallIssue]
            max_steps=2**31 - 1, duration=EVERY, callback=lambda _step: stage.take(poll())
        )
    plotter.show()


class _Living:
    """What stands in the window, and how it is exchanged."""

    def __init__(self, plotter: pv.Plotter, scene: Scene) -> None:
        self.plotter, self.scene = plotter, scene
        plotter.renderer.SetBackground(0.0, 0.0, 0.0)
        plotter.renderer.camera_set = True
        self.actors = []
        self._dress()
        # Before each picture, wherever the mouse has turned the eye to.
        plotter.renderer.AddObserver(
            vtkCommand.StartEvent, lambda _caller, _event: tell_eye(plotter.renderer, self.actors)
        )

    def _dress(self) -> None:
        scene = self.scene
        shown = [b for b in scene.bodies if b.layer not in ("pockets", "above")]
        self.actors = dressed(scene, shown, lambda _body, material: fragment(scene, material), {})
        for actor in self.actors:
            self.plotter.renderer.AddActor(actor)

    def go(self, view: str) -> None:
        """Stand at a view's place; the frame is not shifted, so that turning feels natural."""
        camera = self.scene.cameras.get(view)
        if camera is not None:
            aim(self.plotter.renderer, replace(camera, shift=(0.0, 0.0)), 1.6)
            self.plotter.render()

    def take(self, scene: Scene | None) -> None:
        """Show another scene from where the eye is."""
        if scene is None:
            return
        for actor in self.actors:
            self.plotter.renderer.RemoveActor(actor)
        self.scene = scene
        self._dress()
        self.plotter.render()

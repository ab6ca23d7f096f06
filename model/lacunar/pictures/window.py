"""A window to look round in: the lit scene, turned with the mouse, rebuilt when asked."""
# VTK's classes have no types that a checker can follow.
# pyright: basic

import os
import sys
import textwrap
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pyvista as pv
from vtkmodules.vtkCommonCore import vtkCommand

from lacunar.errors import ExportError, Problem
from lacunar.pictures.shader import fragment
from lacunar.pictures.signals import Remembered, remembered
from lacunar.pictures.stage import aim, dressed, tell_eye
from lacunar.scene import Scene

EVERY = 0.5
"""Seconds between two looks at whether there is something new."""

PAUSE = 0.02
"""Seconds between two looks at mouse and keys."""

LETTERS = 110
"""In a line of words over the picture."""

KEYS = {"F1": "door", "F2": "seat", "F3": "up", "F4": "corner"}
"""Letters have meanings of the library's own."""


News = Scene | str | None
"""Another scene; or what is wrong with it, in words; or nothing new."""


def show(scene: Scene, poll: Callable[[], News] | None = None, *, view: str = "door", off_screen: bool = False) -> None:
    """Open a window on a lit scene and return when it is closed; a signal ends it as it would end the caller.

    Args:
        scene: lit.
        poll: asked twice a second; a new scene takes the old one's place, with the eye where it was, and words
            stand over the old one until there is another.
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
    else:
        # The library's own loop runs no line of Python while nobody moves the mouse, so no signal would be heard.
        with remembered() as signals:
            plotter.show(interactive_update=True, auto_close=False)
            _check_screen(plotter)
            _live(plotter, stage, signals, poll)
    plotter.close()


def _check_screen(plotter: pv.Plotter) -> None:
    """Where nothing answers at DISPLAY the library draws without a screen.

    Raises:
        ExportError: so it does.
    """
    if sys.platform == "linux" and not plotter.render_window.IsA("vtkXOpenGLRenderWindow"):
        fix = f"no screen answers at DISPLAY={os.environ.get('DISPLAY', '')}; lacunar render makes a picture"
        raise ExportError([Problem(where="the window", what="cannot be opened", fix=fix)])


def _live(plotter: pv.Plotter, stage: "_Living", signals: Remembered, poll: Callable[[], News] | None) -> None:
    """Until the window is closed or a signal comes."""
    asked = time.monotonic()
    while not (plotter.iren.interactor.GetDone() or signals.come):
        plotter.iren.process_events()
        time.sleep(PAUSE)
        if poll is not None and time.monotonic() - asked > EVERY:
            with signals.heeded():
                news = poll()
            stage.take(news)
            asked = time.monotonic()


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

    def take(self, scene: News) -> None:
        """Show another scene from where the eye is, or words over this one."""
        if scene is None:
            return
        self.plotter.remove_actor("words", render=False)
        if isinstance(scene, str):
            lines = [part for line in scene.splitlines() for part in textwrap.wrap(line, LETTERS)]
            self.plotter.add_text("\n".join(lines), font_size=9, color="white", shadow=True, name="words")
            self.plotter.render()
            return
        for actor in self.actors:
            self.plotter.renderer.RemoveActor(actor)
        self.scene = scene
        self._dress()
        self.plotter.render()

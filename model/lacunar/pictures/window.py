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
from vtkmodules.vtkCommonCore import VTK_FONT_FILE, vtkCommand
from vtkmodules.vtkRenderingCore import vtkTextActor

from lacunar.drawings import font_folders
from lacunar.errors import ExportError, Problem
from lacunar.pictures.photo import UNSEEN
from lacunar.pictures.shader import fragment
from lacunar.pictures.stage import aim, dressed, tell_eye
from lacunar.scene import Scene

EVERY = 0.5
"""Seconds between two looks at whether there is something new."""

PAUSE = 0.02
"""Seconds between two looks at mouse and keys."""

FONT = "DejaVuSans.ttf"

LETTERS = 110
"""In a line of words over the picture."""

KEYS = {"F1": "door", "F2": "seat", "F3": "up", "F4": "corner"}
"""Letters have meanings of the library's own."""


News = Scene | str | None
"""Another scene; or what is wrong with it, in words; or nothing new."""


def show(scene: Scene, poll: Callable[[], News] | None = None, *, view: str = "door", off_screen: bool = False) -> None:
    """Open a window on a lit scene and return when it is closed.

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
        plotter.show(interactive_update=True, auto_close=False)
        check_screen(plotter)
        _live(plotter, stage, poll)
    plotter.close()


def check_screen(plotter: pv.Plotter) -> None:
    """Where nothing answers at DISPLAY the library draws without a screen.

    Raises:
        ExportError: so it does.
    """
    window = plotter.render_window
    if sys.platform == "linux" and window is not None and not window.IsA("vtkXOpenGLRenderWindow"):
        fix = f"no screen answers at DISPLAY={os.environ.get('DISPLAY', '')}; lacunar render makes a picture"
        raise ExportError([Problem(where="the window", what="cannot be opened", fix=fix)])


def _live(plotter: pv.Plotter, stage: "_Living", poll: Callable[[], News] | None) -> None:
    """Until the window is closed.

    The library's own loop runs no line of Python while nobody moves the mouse, so that no signal would be heard.
    """
    asked, hands = time.monotonic(), plotter.iren
    assert hands is not None
    assert hands.interactor is not None
    while not hands.interactor.GetDone():
        hands.process_events()
        time.sleep(PAUSE)
        if poll is not None and time.monotonic() - asked > EVERY:
            stage.take(poll())
            asked = time.monotonic()


class _Living:
    """What stands in the window, and how it is exchanged."""

    def __init__(self, plotter: pv.Plotter, scene: Scene) -> None:
        self.plotter, self.scene = plotter, scene
        self.words: vtkTextActor | None = None
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
        shown = [b for b in scene.bodies if b.layer not in UNSEEN]
        self.actors = dressed(scene, shown, lambda _body, material: fragment(scene, material), {})
        for actor in self.actors:
            self.plotter.renderer.AddActor(actor)

    def _say(self, text: str) -> None:
        """Words on a dark ground at the top."""
        font = next((str(f / FONT) for f in font_folders() if (f / FONT).exists()), None)
        self.words = vtkTextActor()
        self.words.SetInput(text)
        self.words.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
        self.words.SetPosition(0.01, 0.985)
        look = self.words.GetTextProperty()
        if font is not None:
            look.SetFontFamily(VTK_FONT_FILE)
            look.SetFontFile(font)
        look.SetFontSize(17)
        look.SetColor(1.0, 1.0, 1.0)
        look.SetVerticalJustificationToTop()
        look.SetBackgroundColor(0.12, 0.06, 0.04)
        look.SetBackgroundOpacity(0.85)
        self.plotter.renderer.AddActor(self.words)
        self.plotter.render()

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
        if self.words is not None:
            self.plotter.renderer.RemoveActor(self.words)
        if isinstance(scene, str):
            lines = [part for line in scene.splitlines() for part in textwrap.wrap(line, LETTERS)]
            self._say("\n".join(lines))
            return
        for actor in self.actors:
            self.plotter.renderer.RemoveActor(actor)
        self.scene = scene
        self._dress()
        self.plotter.render()

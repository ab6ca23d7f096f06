"""Pictures of a scene: photo-like (drawn or traced), exploded, cut and see-through; a window to look round in."""

from collections.abc import Callable

from lacunar.pictures.compare import side_by_side
from lacunar.pictures.probe import NO_OPENGL, UNTRACED, can_render, can_trace, unfit
from lacunar.pictures.traced import write_traced
from lacunar.pictures.write import SIZES, VIEWS, pictures_of, read, save, view_names, write_pictures
from lacunar.scene import Scene

__all__ = [
    "NO_OPENGL",
    "SIZES",
    "UNTRACED",
    "VIEWS",
    "can_render",
    "can_trace",
    "pictures_of",
    "read",
    "save",
    "show",
    "side_by_side",
    "unfit",
    "view_names",
    "write_pictures",
    "write_traced",
]


def show(scene: Scene, poll: Callable[[], Scene | None] | None = None) -> None:
    """Open a window on a lit scene; see `lacunar.pictures.window.show`, which is loaded only now."""
    from lacunar.pictures.window import show as open_window

    open_window(scene, poll)

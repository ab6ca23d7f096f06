"""Pictures of a scene: photo-like ones, and exploded, cut and see-through ones; and a window to look round in."""

from collections.abc import Callable

from lacunar.pictures.compare import Variant, comparison, side_by_side
from lacunar.pictures.probe import NO_OPENGL, can_render, unfit
from lacunar.pictures.states import STATES, parted
from lacunar.pictures.write import APART, UNSTATED, VIEWS, WORDS, pictures_of, save, view_names, write_pictures
from lacunar.scene import Scene

__all__ = [
    "APART",
    "NO_OPENGL",
    "STATES",
    "UNSTATED",
    "VIEWS",
    "WORDS",
    "Variant",
    "can_render",
    "comparison",
    "parted",
    "pictures_of",
    "save",
    "show",
    "side_by_side",
    "unfit",
    "view_names",
    "write_pictures",
]


def show(scene: Scene, poll: Callable[[], Scene | str | None] | None = None) -> None:
    """Open a window on a lit scene; see `lacunar.pictures.window.show`, which is loaded only now."""
    from lacunar.pictures.window import show as open_window

    open_window(scene, poll)

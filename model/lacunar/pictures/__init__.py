"""Pictures of a scene: photo-like (drawn or traced), exploded, cut and see-through; a window to look round in."""

from collections.abc import Callable

from lacunar.pictures.compare import Variant, comparison, side_by_side
from lacunar.pictures.probe import NO_OPENGL, UNTRACED, can_render, can_trace, unfit
from lacunar.pictures.shader import SHADING
from lacunar.pictures.states import STATES, parted
from lacunar.pictures.traced import write_traced
from lacunar.pictures.write import (
    APART,
    SIZES,
    UNSTATED,
    VIEWS,
    WORDS,
    pictures_of,
    save,
    view_names,
    write_pictures,
)
from lacunar.scene import Scene

__all__ = [
    "APART",
    "NO_OPENGL",
    "SHADING",
    "SIZES",
    "STATES",
    "UNSTATED",
    "UNTRACED",
    "VIEWS",
    "WORDS",
    "Variant",
    "can_render",
    "can_trace",
    "comparison",
    "parted",
    "pictures_of",
    "save",
    "show",
    "side_by_side",
    "unfit",
    "view_names",
    "write_pictures",
    "write_traced",
]


def show(scene: Scene, poll: Callable[[], Scene | str | None] | None = None) -> None:
    """Open a window on a lit scene; see `lacunar.pictures.window.show`, which is loaded only now."""
    from lacunar.pictures.window import show as open_window

    open_window(scene, poll)

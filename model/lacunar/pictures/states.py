"""A room in its states: as it will be by day, which needs no word; as it is today; by lamplight in the evening."""

from collections.abc import Iterator
from dataclasses import replace

from lacunar.scene import Scene, Viewpoint, by_lamplight

STATES = ("today", "evening")
"""First words of views: `today` is seen from the door, `today-seat` from a seat, and so on for every camera."""


def parted(name: str) -> tuple[str, str]:
    """State and camera of a view: "today-seat" is ("today", "seat"), "today" ("today", "door"), "up" ("", "up")."""
    state, _, camera = name.partition("-")
    return (state, camera or "door") if state in STATES else ("", name)


def in_state(scene: Scene, state: str) -> Scene:
    """The scene as it is to be seen; today's must have been made."""
    if state == "today":
        assert scene.today is not None
        return scene.today
    return by_lamplight(scene) if state == "evening" else scene


def seen_in(scene: Scene, views: tuple[str, ...]) -> list[tuple[Scene, list[Viewpoint]]]:
    """Views by camera as scenes, each with the cameras that look at it; they bear the views' names.

    Who looks up from the floor sees no furniture: what stands there would hide the ceiling.
    """
    groups: dict[str, list[Viewpoint]] = {}
    for name in views:
        state, camera = parted(name)
        groups.setdefault(state, []).append(replace(scene.cameras[camera], name=name))
    return [one for state, cameras in groups.items() for one in _unhidden(in_state(scene, state), cameras)]


def _unhidden(scene: Scene, cameras: list[Viewpoint]) -> Iterator[tuple[Scene, list[Viewpoint]]]:
    bare = tuple(body for body in scene.bodies if body.layer != "furniture")
    upward = [camera for camera in cameras if len(bare) < len(scene.bodies) and not camera.up[2]]
    level = [camera for camera in cameras if camera not in upward]
    yield from ((one, these) for one, these in ((scene, level), (replace(scene, bodies=bare), upward)) if these)

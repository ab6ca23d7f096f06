"""A room in its states: as it will be by day, which needs no word; as it is today; by lamplight in the evening."""

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
    """Views by camera as scenes, each with the cameras that look at it; they bear the views' names."""
    groups: dict[str, list[Viewpoint]] = {}
    for name in views:
        state, camera = parted(name)
        groups.setdefault(state, []).append(replace(scene.cameras[camera], name=name))
    return [(in_state(scene, state), cameras) for state, cameras in groups.items()]

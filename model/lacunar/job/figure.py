"""The page's 3D figure of a job and its alternatives. Scenes are loaded only here."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from lacunar.job.alternatives import AS_PLANNED
from lacunar.job.run import Job, report_of, silent

if TYPE_CHECKING:
    from lacunar.share import Figure


def figure_of(job: Job, on_step: Callable[[str, float], None] = silent) -> "Figure":
    """The figure, its light worked out with few rays: seen as small as it is, more would not show."""
    from lacunar.scene import make_scene
    from lacunar.share import Shown, figure_parts

    designs = [(one.row.name, one.job) for one in job.alternatives if one.job] or [(AS_PLANNED, job)]
    shown: list[Shown] = []
    for done, (name, one) in enumerate(designs):
        on_step(f"light of {name}", done / len(designs))
        scene = make_scene(one.parts, one.room, one.config, one.layout, quality="draft", evening=False)
        shown.append(Shown(name=name, scene=scene, report=report_of(one)))
    return figure_parts(shown)

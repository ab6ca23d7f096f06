"""A small room with one of everything, run through the stages that a scene needs."""

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

from lacunar.config import Config, read_config
from lacunar.job import Job, run_job
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.scene import Flat, Quality, Scene, flat_of, make_scene
from lacunar.survey import Room

TEXT = """
title = "Box room"
units = "mm"
[room]
height = 2600
[room.measured]
AB = 3200
BC = 2800
CD = 3180
DA = 2810
AC = 4250
[[window]]
wall = "BC"
from = "B"
at = 800
width = 1100
sill = 800
head = 2100
[[door]]
wall = "DA"
from = "D"
at = 300
width = 800
[[beam]]
width = 90
depth = 140
ends = [ { wall = "AB", from = "A", at = 1500 }, { wall = "CD", from = "D", at = 1495 } ]
[cross_beams]
width = 70
depth = 140
rows = 1
[slats]
width = 90
thickness = 18
species = "eastern white pine"
gap = 8
[trim]
width = 20
height = 20
[[fixture]]
name = "light"
size = 100
canopy = 130
at = { AB = 700, DA = 700 }
[finish]
behind = "flat black"
coats = [ { kind = "gel stain", colour = "tobacco brown" }, { kind = "clear", sheen = "satin" } ]
[[camera]]
name = "shelf"
at = { BC = 600, CD = 500 }
eye = 1500
look_at = "C1"
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """What a scene is made of."""

    job: Job

    @property
    def parts(self) -> tuple[Part, ...]:
        return self.job.parts

    @property
    def room(self) -> Room:
        return self.job.room

    @property
    def config(self) -> Config:
        return self.job.config

    @property
    def layout(self) -> Layout:
        return self.job.layout

    @property
    def flat(self) -> Flat:
        return flat_of(self.parts, self.layout, self.job.analysis, self.config)

    def scene(
        self, quality: Quality = "draft", *, light: bool = True, today: bool = False, evening: bool = True
    ) -> Scene:
        made = (self.parts, self.room, self.config, self.layout)
        scene = make_scene(*made, quality=quality, light=light, today=today, evening=evening)
        return replace(scene, flat=self.flat)


def sample(text: str = TEXT) -> Sample:
    """A config's text as a job."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "room.toml"
        path.write_text(text, encoding="utf-8")
        return Sample(job=run_job(read_config(path), weighed=False))


@lru_cache(maxsize=1)
def box_room() -> Sample:
    """The room of `TEXT`."""
    return sample()


@lru_cache(maxsize=1)
def box_scene() -> Scene:
    """Its scene, lit, with the room as it is."""
    return box_room().scene(today=True)

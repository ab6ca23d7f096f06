"""Days of a job: by hand for a few tasks, and what must hold of every shipped room."""

import math
from dataclasses import fields, replace
from pathlib import Path

import pytest

from lacunar.config import read_config
from lacunar.job import Job, run_job
from lacunar.schedule import Task, dated

ROOMS = ("3-square", "4-inch", "6-sagging", "8-l-shaped")


@pytest.fixture(scope="module", params=ROOMS)
def job(request: pytest.FixtureRequest, configs: Path) -> Job:
    return run_job(read_config(configs / f"{request.param}.toml"), weighed=False)


def test_by_hand() -> None:
    """Seven hours a day. A and B at once, 3 and 5 h; C takes both people 10 h, after A that dries 20 h: on day 2, and
    3 h of day 3; D waits for nothing but a free person: with B's end it begins on day 1.
    """
    tasks = (
        Task(name="A", hours=(3.0, 3.0), wait=(20.0, 20.0)),
        Task(name="B", hours=(5.0, 5.0), where="saw"),
        Task(name="C", after=("A",), people=2, hours=(10.0, 10.0)),
        Task(name="D", hours=(2.0, 30.0), where="away"),
    )
    calendar = dated(tasks, 2, 7.0)
    found = {task.name: (task.begins, task.ends, task.beside) for task in calendar.tasks}
    # D is done at 5 h where it is quick: C begins in the morning of day 2, when A is dry (23 h is night).
    # Where D is slow it goes on to the middle of day 5 (4 + 7 + 7 + 7 + 5 h), and C after it: 2 h, 7 h, 1 h, to day 7.
    assert found["A"] == ((1, 1), (1, 1), ("B",))
    assert found["B"] == ((1, 1), (1, 1), ("A", "D"))
    assert found["C"] == ((2, 5), (3, 7), ())
    assert found["D"] == ((1, 1), (1, 5), ("B",))
    assert calendar.person_hours == (3 + 5 + 20 + 2, 3 + 5 + 20 + 30)
    assert calendar.days == (3, 7)
    assert calendar.room_days == (3, 7)


def test_one_person_alone_takes_twice_as_long_and_is_told_so() -> None:
    calendar = dated((Task(name="lift", people=2, hours=(7.0, 14.0)),), 1, 7.0)
    assert calendar.days == (2, 4)
    assert calendar.notes[1:] == ("two people and a prop are wanted to lift: somebody must be asked",)


def test_nothing_begins_before_what_it_waits_for_is_done(job: Job) -> None:
    rows = {row.name: row for row in job.calendar.tasks}
    for row in rows.values():
        for name in row.after:
            assert list(rows).index(name) < list(rows).index(row.name)
            assert all(a >= b for a, b in zip(row.begins, rows[name].ends, strict=True))
            dries = [math.floor(hours / 24.0) for hours in rows[name].wait]
            assert all(a - b >= n for a, b, n in zip(row.begins, rows[name].ends, dries, strict=True))


def test_nobody_works_more_than_the_day_has(job: Job) -> None:
    calendar = job.calendar
    for way in (0, 1):
        spent = calendar.person_hours[way]
        assert spent <= calendar.people * calendar.hours_a_day * calendar.days[way] + 1e-9
    assert calendar.days[0] <= calendar.days[1]
    assert calendar.room_days <= calendar.days


def test_every_measure_is_a_gate_before_its_wood_is_cut(job: Job) -> None:
    rows = {row.name: row for row in job.calendar.tasks}
    gates = {row.gate: row.name for row in rows.values() if row.gate}
    assert gates == {
        "openings": "measure openings",
        "coffers": "measure coffers",
        "last": "measure last holes",
        "trim": "measure sides",
    }
    for gate, cut in (("openings", "beams"), ("coffers", "slats"), ("trim", "trim")):
        assert gates[gate] in rows[f"cut {cut}"].after
    assert rows["rip last slats"].after == ("measure last holes",)


def test_rates_of_the_config_are_certain(configs: Path, tmp_path: Path) -> None:
    text = (configs / "3-square.toml").read_text("utf-8")
    path = tmp_path / "room.toml"
    path.write_text(f'{text}\n[crew]\npeople = 3\nhours = 4\nrates = {{ slat = 6, "trim strip" = 9 }}\n', "utf-8")
    job = run_job(read_config(path), weighed=False)
    rows = {row.name: row for row in job.calendar.tasks}
    slats = [part for part in job.parts if part.kind == "slat" and not any(part.sawn_edges)]
    strips = [part for part in job.parts if part.kind == "trim"]
    assert rows["put up slats"].hours == pytest.approx((len(slats) / 10.0,) * 2)
    assert rows["put up trim"].hours == pytest.approx((len(strips) * 0.15,) * 2)
    assert rows["cut slats"].what == f"{len(slats)} slats"
    assert (job.calendar.people, job.calendar.hours_a_day) == (3, 4)


def test_what_a_job_does_not_have_is_left_out(job: Job) -> None:
    names = {row.name for row in job.calendar.tasks}
    assert ("put up furring" in names) == any(part.kind == "furring" for part in job.parts)
    finish = job.config.finish
    assert ("paint behind the gaps" in names) == (finish is not None and finish.behind is not None)
    assert sum(name.startswith("finish, coat") for name in names) == (len(finish.coats) if finish else 0)


def test_a_task_less_is_no_longer_job(job: Job) -> None:
    tasks = [Task(**{field.name: getattr(row, field.name) for field in fields(Task)}) for row in job.calendar.tasks]
    gone = next(task for task in tasks if task.name == "cut trim")
    rest = [
        replace(task, after=gone.after) if task.after == ("cut trim",) else task for task in tasks if task is not gone
    ]
    assert all(a <= b for a, b in zip(dated(rest, 2, 7.0).days, dated(tasks, 2, 7.0).days, strict=True))


def test_tasks_that_wait_for_each_other_are_refused() -> None:
    both = (Task(name="A", after=("B",), hours=(1.0, 1.0)), Task(name="B", after=("A",), hours=(1.0, 1.0)))
    with pytest.raises(ValueError, match="empty"):
        dated(both, 2, 7.0)


def test_areas_are_told_in_the_units_of_the_room(job: Job) -> None:
    areas = [task.what for task in job.calendar.tasks if task.smells]
    assert all("sq ft" in area for area in areas)
    assert areas or job.config.finish is None

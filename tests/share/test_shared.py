"""Which bodies are one shape: those that are turned, shifted and sloped, with grain of their own; no others."""

from dataclasses import replace

import numpy as np
import pytest

from lacunar.scene import Body
from lacunar.share.shared import patterns_of, shared
from share.figure_page import shown


@pytest.fixture(scope="module")
def slat() -> Body:
    return next(body for body in shown("4-inch", light=False).scene.bodies if body.kind == "slat")


def moved(body: Body, angle: float, slope: float = 0.0) -> Body:
    turn = np.array([[np.cos(angle), -np.sin(angle), 0.0], [np.sin(angle), np.cos(angle), 0.0], [0.0, 0.0, 1.0]])
    points = body.points.astype(float) @ turn.T + (1.0, 2.0, 0.1)
    points[:, 2] += slope * points[:, 0]
    normals = body.normals.astype(float) @ turn.T
    return replace(body, points=points.astype(np.float32), normals=normals.astype(np.float32))


def grained(body: Body, u: float) -> Body:
    """Its grain the other way round and farther along, ends as they are."""
    uv = body.uv.copy()
    ways = body.points[:, :2].astype(float) - body.points[:, :2].mean(axis=0)
    along = np.linalg.svd(ways, full_matrices=False)[2][0]
    sides = np.abs(body.normals[:, :2] @ along) < 0.5
    uv[sides, 0] = u - uv[sides, 0]
    uv[sides, 1] += 0.3
    return replace(body, uv=uv)


def count(*bodies: Body) -> int:
    return len(patterns_of(bodies))


def test_a_turned_shifted_and_sloped_body_is_the_same_shape(slat: Body) -> None:
    other = moved(slat, 1.1, 0.01)
    (pattern,) = patterns_of([slat, other])
    for placed in pattern.placed:
        there = pattern.points @ placed.rows[:, :3].T + placed.rows[:, 3]
        assert np.abs(there - placed.body.points).max() < 2e-4


def test_its_grain_may_lie_elsewhere_and_the_other_way(slat: Body) -> None:
    assert count(slat, grained(slat, 1.7)) == 1


def test_grain_that_is_stretched_in_one_place_is_not_the_same(slat: Body) -> None:
    uv = slat.uv.copy()
    uv[len(uv) // 2] += 0.01
    assert count(slat, replace(slat, uv=uv)) == 2


def test_a_longer_or_bent_body_is_another_shape(slat: Body) -> None:
    longer, bent = slat.points.copy(), slat.points.copy()
    longer[:, :2] *= 1.002
    bent[np.argmax(bent[:, 0]), 1] += 0.001
    assert count(slat, replace(slat, points=longer), replace(slat, points=bent)) == 3


def test_what_only_one_body_has_is_left_to_be_merged(slat: Body) -> None:
    longer = slat.points.copy()
    longer[:, :2] *= 1.002
    alone = replace(slat, points=longer, name="alone")
    often, rare = shared(patterns_of([slat, moved(slat, 0.4), alone]), 2)
    assert [len(pattern.placed) for pattern in often] == [2]
    assert [body.name for body in rare] == ["alone"]

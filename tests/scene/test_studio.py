"""Light for the ceiling taken apart."""

import numpy as np
import pytest

from lacunar.pictures.exploded import apart
from lacunar.scene import studio_light, vector
from scene.sample_room import box_room


def test_bodies_stand_where_the_exploded_view_has_them_and_have_light() -> None:
    bodies = apart([b for b in box_room().scene(light=False).bodies if b.layer in ("beams", "slats", "above")])
    for body, lit in zip(bodies, studio_light(bodies), strict=True):
        assert lit.name == body.name
        assert np.allclose(lit.points, body.points + np.array(body.explode), atol=1e-6)
        assert lit.light is not None
        assert lit.light.shape == lit.points.shape
        assert 0.05 < lit.light.min() <= lit.light.max() < 1.5


def test_a_vector_is_three_plain_numbers() -> None:
    assert vector(np.array([1000.0, 0.0, -250.0]), 1000.0) == pytest.approx((1.0, 0.0, -0.25))
    assert all(type(number) is float for number in vector(np.zeros(3, np.float32)))

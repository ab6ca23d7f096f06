"""Lines of the graphics library's language, run by numpy."""

import numpy as np
import pytest

from lacunar.pictures.glsl import functions
from lacunar.pictures.shader import PHOTO

TEXT = """
vec3 mixed(vec3 a, float share) {
  const mat3 turned = mat3(0.0, 1.0, 0.0,  0.0, 0.0, 1.0,  1.0, 0.0, 0.0);  // columns
  float x = clamp(a.x, 0.0, 1.0), step = smoothstep(0.0, 2.0, a.y);
  vec3 b = turned * a;
  b *= 2.0;
  return mix(b, vec3(x, step, length(a.xy)), share);
}
float twice(float x) { return 2.0 * x;
}
vec3 branching(vec3 a) {
  if (a.x > 0.0) return a;
  return -a;
}
"""


def test_lines_do_what_the_language_says() -> None:
    """A matrix is given by columns, so this one turns (3, 1, 4) into (4, 3, 1); smoothstep of a half is a half."""
    given = np.array([[3.0, 1.0, 4.0]])
    mixed = functions(TEXT)["mixed"]
    assert np.asarray(mixed(given, [[0.0]])) == pytest.approx(np.array([[8.0, 6.0, 2.0]]))
    assert np.asarray(mixed(given, [[1.0]])) == pytest.approx(np.array([[1.0, 0.5, np.sqrt(10.0)]]))
    assert given.tolist() == [[3.0, 1.0, 4.0]]


def test_what_is_no_straight_line_is_refused() -> None:
    with pytest.raises(SyntaxError):
        functions(TEXT)["branching"]([[1.0, 2.0, 3.0]])


def test_the_film_s_curve_rises_and_keeps_grey_grey() -> None:
    greys = np.repeat(np.geomspace(1e-3, 10.0, 60)[:, None], 3, axis=1)
    codes = np.asarray(functions(PHOTO)["film"](greys))
    assert np.ptp(codes, axis=1).max() < 0.005
    assert (np.diff(codes[:, 1]) > 0).all()
    assert codes[0, 1] < 0.1
    assert 0.9 < codes[-1, 1] <= 1.0

"""Numbers packed for a page: quantised, one array after the other, deflated, as text."""

import zlib
from base64 import b64encode
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Doubles = npt.NDArray[np.float64]
Shorts = npt.NDArray[np.uint16]

STEPS = 65535
"""Of a box's side: in a room of 12 m a step is 0.2 mm."""


@dataclass(frozen=True, slots=True)
class Box:
    """From where to where numbers of each column run."""

    low: tuple[float, ...]
    size: tuple[float, ...]

    @classmethod
    def around(cls, values: npt.ArrayLike) -> "Box":
        """The box of rows; a side without extent has one of a ten thousandth."""
        rows = np.asarray(values, dtype=float)
        low, high = rows.min(axis=0), rows.max(axis=0)
        return cls(tuple(map(float, low)), tuple(map(float, np.maximum(high - low, 1e-4))))

    def steps(self, values: npt.ArrayLike) -> Shorts:
        """Each number as whole steps from the box's low side."""
        share = (np.asarray(values, dtype=float) - np.array(self.low)) / np.array(self.size)
        return np.round(np.clip(share, 0.0, 1.0) * STEPS).astype(np.uint16)

    @property
    def told(self) -> list[list[float]]:
        """For the page."""
        return [list(self.low), list(self.size)]


class Packer:
    """Arrays in the order in which the page reads them, each starting at a multiple of four bytes.

    Wider numbers are kept byte plane by byte plane, which deflates to about two thirds.
    """

    def __init__(self) -> None:
        """Empty."""
        self._parts: list[bytes] = []

    def add(self, values: npt.NDArray[np.generic]) -> None:
        """The next array; numbers are told low byte first."""
        flat = np.ascontiguousarray(values).ravel()
        little = flat.astype(flat.dtype.newbyteorder("<"), copy=False)
        planes = little.view(np.uint8).reshape(-1, flat.dtype.itemsize).T
        data = np.ascontiguousarray(planes).tobytes()
        self._parts.append(data + b"\0" * (-len(data) % 4))

    def text(self) -> str:
        """All of them, deflated, in base 64."""
        return b64encode(zlib.compress(b"".join(self._parts), 9)).decode()

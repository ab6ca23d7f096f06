"""Single parts for tests, as plain as can be."""

from lacunar.geometry import Plane
from lacunar.parts import Part


def slat() -> Part:
    """A slat 1000 by 80 by 20 mm, its axis along x from the origin, its top at 2700."""
    return Part(
        id="C1-S01",
        kind="slat",
        face="F1",
        coffer="C1",
        stock="1x4",
        species="eastern white pine",
        outline=((0.0, -40.0), (1000.0, -40.0), (1000.0, 40.0), (0.0, 40.0)),
        bottom=Plane(z0=2680.0),
        top=Plane(z0=2700.0),
        axis=((0.0, 0.0), (1000.0, 0.0)),
        length=1000.0,
        width=80.0,
        thickness=20.0,
        interval=(980.0, 1010.0),
        meets=("E1", "E2"),
        beside=("AB", "X1-1"),
        bought=True,
    )

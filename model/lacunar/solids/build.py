"""Solids of parts, proved against their closed forms; parts that are alike share one."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lacunar.errors import ExportError, Problem
from lacunar.parts import Part, drillings, volume
from lacunar.solids.place import Placed, Placement, share_shapes
from lacunar.tolerances import VOLUME_RELATIVE


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solids:
    """The wood as the geometry kernel holds it.

    Attributes:
        shapes: one TopoDS_Solid for each shape, in its own frame.
        placed: part id to shape and place, in the order of the parts.
    """

    shapes: tuple[Any, ...]
    placed: Mapping[str, Placed]


def build_solids(parts: Sequence[Part], on_step: Callable[[int, int], None] | None = None) -> Solids:
    """Make and prove a solid of every part.

    Args:
        parts: any parts; pockets that cannot be drilled as drawn are left out (see `lacunar.parts.undrilled`).
        on_step: told (shapes made, shapes in all) after each.

    Raises:
        ExportError: a solid that the kernel calls invalid, or whose volume is not the closed form's; all of them.
    """
    sharing = share_shapes(parts)
    shapes: list[Any] = []
    problems: list[Problem] = []
    for number, pattern in enumerate(sharing.patterns):
        solid, fault = _proved(pattern)
        shapes.append(solid)
        if fault:
            problems.append(Problem(where=pattern.id, what=fault))
        if on_step:
            on_step(number + 1, len(sharing.patterns))
    if problems:
        raise ExportError(problems)
    return Solids(shapes=tuple(shapes), placed=sharing.placed)


def solid_of(solids: Solids, part: str) -> Any:
    """One part's TopoDS_Solid where it stands in the room; it shares its faces with those alike."""
    from lacunar.solids import kernel

    placed = solids.placed[part]
    return kernel.moved(solids.shapes[placed.pattern], placed.placement)


def location_of(placement: Placement) -> Any:
    """A placement as the kernel's TopLoc_Location."""
    from lacunar.solids import kernel

    return kernel.location(placement)


def _proved(pattern: Part) -> tuple[Any, str]:
    """A solid, and what is wrong with it."""
    from lacunar.solids import kernel

    holes = drillings(pattern)
    solid = kernel.make(pattern, holes)
    if solid is None:
        return None, f"the kernel makes no solid of {len(pattern.outline)} corners and {len(holes)} pockets"
    if not kernel.is_valid(solid):
        return solid, "the kernel's check finds the solid invalid"
    expected = volume(pattern)
    fault = _volume_fault(kernel.volume_of(solid, fine=False), expected)
    # The fixed rule is good to 1e-11 on these bores and seven times as fast: doubt it before the solid.
    return solid, _volume_fault(kernel.volume_of(solid, fine=True), expected) if fault and holes else fault


def _volume_fault(found: float, expected: float) -> str:
    if abs(found - expected) <= VOLUME_RELATIVE * expected:
        return ""
    return f"solid of {found:.6f} mm3, closed form {expected:.6f} mm3, must agree to {VOLUME_RELATIVE:.0e}"

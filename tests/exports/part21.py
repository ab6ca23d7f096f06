"""A small reader of STEP's Part 21 text that knows nothing of the kernel that wrote it: flat-faced solids, in mm."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]

_TOKEN = re.compile(r"'(?:[^']|'')*'|#\d+|[-+]?\d+\.?\d*(?:E[-+]?\d+)?|\.\w+\.|\w+|[(),$*=;]", re.ASCII)


@dataclass(frozen=True)
class Occurrence:
    """One use of a product: its name, the product's, and the way from the product's frame to the parent's."""

    name: str
    parent: str
    product: str
    frame: Vector


class Part21:
    """Entities by number, each the text of its type and arguments."""

    def __init__(self, path: Path) -> None:
        text = path.read_text(encoding="ascii")
        self.header, rest = text.split("DATA;", 1)
        self.data, self.tail = rest.rsplit("ENDSEC;", 1)
        self.entities: dict[int, list[str]] = {}
        for statement in _statements(self.data):
            assert statement[1] == "=", statement
            self.entities[int(statement[0][1:])] = statement[2:]

    def dangling(self) -> set[int]:
        """Numbers that are referred to and not there."""
        used = {int(token[1:]) for tokens in self.entities.values() for token in tokens if token[0] == "#"}
        return used - set(self.entities)

    def of_type(self, kind: str) -> list[int]:
        return [number for number, tokens in self.entities.items() if tokens[0] == kind]

    def refs(self, number: int) -> list[int]:
        return [int(token[1:]) for token in self.entities[number] if token[0] == "#"]

    def words(self, number: int) -> list[str]:
        return [token[1:-1].replace("''", "'") for token in self.entities[number] if token[0] == "'"]

    def numbers(self, number: int) -> Vector:
        return np.array([float(t) for t in self.entities[number] if re.match(r"[-+]?\d", t)])

    def products(self) -> list[str]:
        return [self.words(number)[0] for number in self.of_type("PRODUCT")]

    def occurrences(self) -> Iterator[Occurrence]:
        for number in self.of_type("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"):
            relation, shape = self.refs(number)
            usage = self.refs(shape)[0]
            parent, product = (self._product(definition) for definition in self.refs(usage))
            inner, outer = self.refs(self.refs(relation)[2])
            frame = self._frame(outer) @ np.linalg.inv(self._frame(inner))
            yield Occurrence(self.words(usage)[1], parent, product, frame)

    def solids(self) -> dict[str, int]:
        """The one solid of each product that has one."""
        found: dict[str, int] = {}
        for number in self.of_type("SHAPE_DEFINITION_REPRESENTATION"):
            shape, representation = self.refs(number)
            definition = self.refs(shape)[0]
            if self.entities[definition][0] != "PRODUCT_DEFINITION":
                continue
            breps = [ref for ref in self.refs(representation) if self.entities[ref][0] == "MANIFOLD_SOLID_BREP"]
            if breps:
                (found[self._product(definition)],) = breps
        return found

    def is_flat(self, solid: int) -> bool:
        shell = self.refs(solid)[0]
        return all(self.entities[self.refs(face)[-1]][0] == "PLANE" for face in self.refs(shell))

    def corners(self, solid: int) -> Vector:
        """Every corner of every face, (n, 3)."""
        return np.concatenate(list(self._loops(solid)))

    def volume(self, solid: int) -> float:
        """By the divergence theorem over the faces' polygons, measured from the first corner."""
        loops = list(self._loops(solid))
        start, total = loops[0][0], 0.0
        for loop in loops:
            ring = loop - start
            area = np.cross(ring[1:-1] - ring[0], ring[2:] - ring[0]).sum(axis=0) / 2.0
            total += float(ring[0] @ area) / 3.0
        return total

    def _loops(self, solid: int) -> Iterator[Vector]:
        for face in self.refs(self.refs(solid)[0]):
            for bound in self.refs(face)[:-1]:
                ring = np.array([self._start(edge) for edge in self.refs(self.refs(bound)[0])])
                yield ring if self.entities[bound][-2] == ".T." else ring[::-1]

    def _start(self, oriented: int) -> Vector:
        """Where an oriented edge starts."""
        edge = self.refs(oriented)[0]
        first, last = self.refs(edge)[:2]
        vertex = first if self.entities[oriented][-2] == ".T." else last
        return self.numbers(self.refs(vertex)[0])

    def _product(self, definition: int) -> str:
        formation = self.refs(definition)[0]
        return self.words(self.refs(formation)[0])[0]

    def _frame(self, placement: int) -> Vector:
        origin, z, x = (self.numbers(ref) for ref in self.refs(placement))
        frame = np.eye(4)
        frame[:3, 2] = z / np.linalg.norm(z)
        x = x - (x @ frame[:3, 2]) * frame[:3, 2]
        frame[:3, 0] = x / np.linalg.norm(x)
        frame[:3, 1] = np.cross(frame[:3, 2], frame[:3, 0])
        frame[:3, 3] = origin
        return frame


def _statements(text: str) -> Iterator[list[str]]:
    tokens: list[str] = []
    for match in _TOKEN.finditer(text):
        if match.group() == ";":
            yield tokens
            tokens = []
        else:
            tokens.append(match.group())

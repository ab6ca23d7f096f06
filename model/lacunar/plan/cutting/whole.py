"""A program in whole numbers, solved. Also the child process that does so where it may have to be killed.

It stands alone, so that a child starts in a third of a second: nothing of ours is imported here.
"""

import io
import os
import sys
import threading
from dataclasses import dataclass, fields
from typing import Any

import highspy
import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Indices = npt.NDArray[np.int32]

LARGEST = 1e9
"""No plan has as many boards: what the solver gives beyond is no answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeProgram:
    """Least costs of whole numbers from 0 up to `most`, with every row between two bounds.

    Attributes:
        costs: (columns,).
        most: (columns,); may be infinite.
        lower: (rows,).
        upper: (rows,); may be infinite.
        starts: (columns + 1,); the entries of column j are those from starts[j] to starts[j + 1].
        rows: (entries,), row of each.
        values: (entries,).
        first: (columns,), numbers to start from; empty for none.
        nodes: of the solver's tree, at most; less than 0 for any number.
        seconds: an outer safety. The solver looks at its clock now and then only.
        share: of the cost, that is as good as none.
        gap: in cost, likewise.
    """

    costs: Floats
    most: Floats
    lower: Floats
    upper: Floats
    starts: Indices
    rows: Indices
    values: Floats
    first: Floats
    nodes: int
    seconds: float
    share: float
    gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeAnswer:
    """What the solver found.

    Attributes:
        numbers: (columns,); None where there are none.
        iterations: of the simplex method.
        by_clock: the seconds ran out: another machine may find another answer.
    """

    numbers: Ints | None
    iterations: int
    by_clock: bool


def quiet_solver() -> highspy.Highs:
    """On one thread, with a fixed seed, and silent."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 1)
    return solver


def solve_here(program: WholeProgram) -> WholeAnswer:
    """In this process, which it may hold up beyond the limit."""
    solver = quiet_solver()
    solver.setOptionValue("mip_rel_gap", program.share)
    solver.setOptionValue("mip_abs_gap", program.gap)
    solver.setOptionValue("time_limit", program.seconds)
    solver.setOptionValue("presolve", "on")
    if program.nodes >= 0:
        solver.setOptionValue("mip_max_nodes", program.nodes)
    count = len(program.costs)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = count, len(program.lower)
    model.col_cost_, model.col_lower_, model.col_upper_ = program.costs, np.zeros(count), program.most
    model.row_lower_, model.row_upper_ = program.lower, program.upper
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_, model.a_matrix_.index_ = program.starts, program.rows
    model.a_matrix_.value_ = program.values
    model.integrality_ = [highspy.HighsVarType.kInteger] * count
    solver.passModel(model)
    if len(program.first):
        plan = highspy.HighsSolution()
        plan.col_value = program.first.tolist()
        solver.setSolution(plan)
    solver.run()
    found = np.array(solver.getSolution().col_value)
    is_whole = len(found) == count and bool((np.abs(found) < LARGEST).all())
    return WholeAnswer(
        numbers=np.round(found).astype(np.int64) if is_whole else None,
        iterations=max(int(solver.getInfo().simplex_iteration_count), 0),
        by_clock=solver.getModelStatus() == highspy.HighsModelStatus.kTimeLimit,
    )


def packed(program: WholeProgram) -> bytes:
    """Arrays and numbers alone, for a pipe."""
    buffer = io.BytesIO()
    held: dict[str, Any] = {field.name: getattr(program, field.name) for field in fields(program)}
    np.savez(buffer, **held)
    return buffer.getvalue()


def unpacked_answer(data: bytes) -> WholeAnswer:
    """What a child wrote.

    Raises:
        ValueError, KeyError, OSError, EOFError, BadZipFile: it is no answer.
    """
    with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
        numbers = arrays["numbers"].astype(np.int64)
        return WholeAnswer(
            numbers=numbers if arrays["found"] else None,
            iterations=int(arrays["iterations"]),
            by_clock=bool(arrays["by_clock"]),
        )


def _unpacked(data: bytes) -> WholeProgram:
    with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
        held = {name: arrays[name] for name in arrays.files}
    return WholeProgram(**{name: array.item() if array.ndim == 0 else array for name, array in held.items()})


def _packed_answer(answer: WholeAnswer) -> bytes:
    buffer = io.BytesIO()
    found = answer.numbers is not None
    numbers = answer.numbers if answer.numbers is not None else np.zeros(0, dtype=np.int64)
    np.savez(buffer, found=found, numbers=numbers, iterations=answer.iterations, by_clock=answer.by_clock)
    return buffer.getvalue()


def _end_with_parent() -> None:
    """The parent holds our input open for as long as it wants an answer."""
    os.read(0, 1)
    os._exit(1)


def _serve() -> None:
    """One program from the input, its answer to the output."""
    out = os.dup(1)
    os.dup2(2, 1)  # whatever the solver prints is no answer
    source = sys.stdin.buffer
    program = _unpacked(source.read(int.from_bytes(source.read(8), "little")))
    threading.Thread(target=_end_with_parent, daemon=True).start()
    with os.fdopen(out, "wb") as target:
        target.write(_packed_answer(solve_here(program)))
    os._exit(0)  # the thread still reads


if __name__ == "__main__":
    _serve()

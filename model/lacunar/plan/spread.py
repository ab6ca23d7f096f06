"""What is left of boards given to the slats on them, so that they are no nearer to the short end than they must be."""

from collections.abc import Mapping, Sequence

from lacunar.plan.cutting import BoardProblem, BoardSolution
from lacunar.plan.pieces import BoardPiece


def spread(
    pieces: Sequence[BoardPiece],
    ticks: Sequence[int],
    problem: BoardProblem,
    solution: BoardSolution,
    wished: Mapping[str, int],
    mark: int,
) -> Mapping[str, int]:
    """Part id to a length that the same boards give, ticks: up to the wished one, what lacks most first.

    Args:
        pieces: that the boards give; two rips in one section stay as they are.
        ticks: of the board that each takes.
        problem: that the solution solves.
        solution: what is cut from which board.
        wished: part id to what it would be at least.
        mark: lengths grow by so many ticks at a time.
    """
    lengths = list(ticks)

    def lacks(i: int) -> int:
        sticks = pieces[i].sticks
        return wished[sticks[0].id] - lengths[i] if len(sticks) == 1 and pieces[i].is_free else 0

    waiting: dict[int, list[int]] = {}
    for i in sorted(range(len(pieces)), key=lacks):
        waiting.setdefault(ticks[i], []).append(i)
    boards = [
        (problem.capacity(row.stock) - sum(n * problem.weight(demand) for demand, n in row.pieces), row.pieces)
        for row in solution.patterns
        for _ in range(row.times)
    ]
    for left, cuts in sorted(boards, key=lambda board: -board[0]):
        mine = [waiting[problem.demands[demand].length].pop() for demand, n in cuts for _ in range(n)]
        for _ in range(left // mark):
            least = max(mine, key=lacks)
            lengths[least] += mark if lacks(least) > 0 else 0
    return {piece.sticks[0].id: n for piece, n in zip(pieces, lengths, strict=True) if len(piece.sticks) == 1}

"""Branching on how many boards of each stock: depth first, with the best plan's cost as cut-off."""

from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.certificate import LEAF, Certificate
from lacunar.plan.cutting.dive import dive
from lacunar.plan.cutting.fixing import WHOLE
from lacunar.plan.cutting.knapsack import Floats, Ints
from lacunar.plan.cutting.problem import BoardProblem
from lacunar.plan.cutting.program import program
from lacunar.plan.cutting.relax import relax
from lacunar.plan.cutting.search import Search

PROGRAM_NODES = 10
"""Of the solver's tree, where a dive at whole counts finds no plan."""


@dataclass(slots=True)
class Node:
    """A box of counts: closed by a proof, split, or still open (its proof then gives a bound all the same)."""

    lo: Ints
    hi: Ints
    proof: int = -1
    least: int = 0
    split: tuple[int, int] | None = None
    treated: bool = False
    children: "tuple[Node, Node] | None" = None


def root_node(search: Search) -> Node:
    """All counts that a plan may have."""
    return Node(np.zeros_like(search.instance.supply), search.instance.supply.copy())


def grow(search: Search, root: Node) -> None:
    """Close every open leaf that the budget allows, finding better plans on the way."""
    stack = [leaf for leaf in reversed(open_leaves(search, root)) if not leaf.treated]
    while stack and search.budget.is_left():
        stack.extend(reversed(_treat(search, stack.pop())))


def open_leaves(search: Search, root: Node) -> list[Node]:
    """Those that may hold a cheaper plan, from the first to the last."""
    out: list[Node] = []
    stack = [root]
    while stack:
        node = stack.pop()
        stack.extend(reversed(node.children or ()))
        if node.children is None and not search.is_closed(node.least, node.lo, _cut(search, node)):
            out.append(node)
    return out


def _treat(search: Search, node: Node) -> list[Node]:
    """Close the node, or split it and return the parts, the more promising first."""
    lo, hi = node.lo, _cut(search, node)
    node.treated = True
    search.budget.flat(1)
    if (lo > hi).any():
        return []
    by_best_proof(search, node, lo, hi)
    if search.is_closed(node.least, lo, hi):
        return []
    relaxed = relax(
        search.master,
        search.instance.counts,
        lo,
        hi,
        search.budget,
        is_enough=lambda bound, _value: search.is_closed_by(bound, lo, hi),
    )
    _record(search, node, search.prove(relaxed.piece_values), lo, hi)
    if search.is_closed(node.least, lo, hi) or not relaxed.complete or not np.isfinite(relaxed.value):
        return []
    counts = _counts(search, relaxed.use)
    off = np.abs(counts - np.round(counts))
    if off.max() > WHOLE:
        stock = int(np.argmax(off))
        return _split(node, stock, int(np.floor(counts[stock])), float(counts[stock]) % 1.0 > 0.5)
    whole = np.round(counts).astype(np.int64)
    for attempt in (0, 1, 2):
        if attempt == 1:
            program(search, whole, whole, PROGRAM_NODES)
        else:
            dive(search, whole, whole, seed=attempt)
        if search.is_closed(node.least, lo, hi):
            return []
    return _isolate(node, whole, lo, hi)


def _cut(search: Search, node: Node) -> Ints:
    """Counts above these cost as much as the best plan on their own."""
    prices = search.instance.prices
    most = np.where(prices > 0, (search.cost - 1) // np.maximum(prices, 1), node.hi)
    return np.minimum(node.hi, most)


def by_best_proof(search: Search, node: Node, lo: Ints, hi: Ints) -> None:
    """Keep what the best of all proofs gives within the box."""
    _record(search, node, int(np.argmax(search.proofs.bounds(search.instance.prices, lo, hi))), lo, hi)


def _record(search: Search, node: Node, proof: int, lo: Ints, hi: Ints) -> None:
    """Keep the proof where it gives more than the one before."""
    least = search.proofs.bound(proof, search.instance.prices, lo, hi)
    if node.proof < 0 or least > node.least:
        node.proof, node.least = proof, least


def _counts(search: Search, use: Floats) -> Floats:
    counts = np.zeros(len(search.instance.prices))
    np.add.at(counts, np.array(search.master.stocks[: len(use)], dtype=np.int64), use)
    return counts


def _split(node: Node, stock: int, at: int, upper_first: bool) -> list[Node]:
    """At most `at` boards of the stock in one part, more in the other."""
    less, more = Node(node.lo.copy(), node.hi.copy()), Node(node.lo.copy(), node.hi.copy())
    less.hi[stock], more.lo[stock] = at, at + 1
    for part in (less, more):
        part.proof, part.least = node.proof, node.least
    node.split, node.children = (stock, at), (less, more)
    return [more, less] if upper_first else [less, more]


def _isolate(node: Node, whole: Ints, lo: Ints, hi: Ints) -> list[Node]:
    """No plan was found with these counts: split them off, so that the rest can be closed."""
    for stock in np.flatnonzero(hi > lo).tolist():
        count = int(whole[stock])
        if count > lo[stock]:
            return list(reversed(_split(node, stock, count - 1, False)))
        return _split(node, stock, count, False)
    return []


def certify(problem: BoardProblem, search: Search, root: Node) -> Certificate:
    """The tree as a certificate for the best bound that it proves."""
    bound = min([search.cost, *(leaf.least for leaf in open_leaves(search, root))])
    used: dict[int, int] = {}
    nodes: list[tuple[int, int]] = []
    stack = [root]
    while stack:
        node = stack.pop()
        proof = _closing(search, node, bound)
        if node.children is None or node.split is None or proof is not None:
            nodes.append((LEAF, used.setdefault(node.proof if proof is None else proof, len(used))))
        else:
            nodes.append(node.split)
            stack.extend(reversed(node.children))
    values = tuple(tuple(search.proofs.values[i].tolist()) for i in used)
    return Certificate(bound=bound, scale=search.proofs.scale, values=values, nodes=tuple(nodes))


def _closing(search: Search, node: Node, bound: int) -> int | None:
    """A proof that closes the whole box below the bound, if one is known."""
    prices = search.instance.prices
    hi = np.where(prices > 0, np.minimum(node.hi, max(bound - 1, 0) // np.maximum(prices, 1)), node.hi)
    bounds = search.proofs.bounds(prices, node.lo, hi)
    best = int(np.argmax(bounds))
    return best if search.is_closed(bounds[best], node.lo, hi, bound) else None

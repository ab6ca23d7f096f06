"""How small a misreading the other readings would find, and tell from every other one."""

import math

import numpy as np

from lacunar.survey.chance import ALONE, W_CRITICAL
from lacunar.survey.system import Array

FOUND = 2.054
"""Standard normal quantile of 98 %: what is said to be found is found in 98 of 100 surveys. Source: standard table."""

NAMED = 1.645
"""Standard normal quantile of 95 %: what is said to be named is named in 95 of 100 surveys. Source: standard table."""

FINDS = W_CRITICAL + FOUND
"""Expected |w| of a misreading that is found so often. Source: non-centrality as Baarda 1968, with 98 % for his 80."""

TELLS = NAMED + math.sqrt(NAMED**2 + ALONE)
"""Expected misfit, in standard deviations, that the wrong one of two readings leaves where the right one is named so
often: w squared of the right one exceeds the other's by TELLS squared, give or take 2 TELLS, and must by ALONE."""

TWINS = 0.999
"""Two readings whose w are so closely correlated cannot be told apart, however large the misreading."""

NOTHING = 1e-6
"""A share below it is rounding."""


def correlations(shares: Array) -> Array:
    """Of the readings' w with each other; 0 where nothing checks one of them. `shares` as of `residual_shares`."""
    size = np.sqrt(np.maximum(np.diagonal(shares), 0.0))
    known = size > math.sqrt(NOTHING)
    scale = np.where(known, 1.0 / np.where(known, size, 1.0), 0.0)
    return np.asarray(shares * scale[:, None] * scale, dtype=np.float64)


def smallest_told(shares: Array, sds: Array) -> Array:
    """Least error of one reading (row), mm, that would be found, and told from an error in another (column).

    On the diagonal: that would be found. Infinite where it never would.
    """
    own = np.maximum(np.diagonal(shares), 0.0)
    rho = correlations(shares)
    apart = own[:, None] * np.where(np.abs(rho) > TWINS, 0.0, 1.0 - rho * rho)
    side = np.arange(len(own))
    apart[side, side] = own
    needed = np.full(apart.shape, TELLS)
    needed[side, side] = FINDS
    least = np.full(apart.shape, np.inf)
    firm = apart > NOTHING
    least[firm] = (needed * sds[:, None])[firm] / np.sqrt(apart[firm])
    return least

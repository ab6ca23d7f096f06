"""What chance alone does: limits of the normal and the chi-square distribution, from their own series."""

import math
from statistics import NormalDist

ALONE = 3.84
"""How much more of the misfit one reading must explain than the next one: chi-square, 95 %, one degree of freedom.
Source: standard table, from memory."""

WRONG = 0.999
"""Share of honest surveys that pass the global test: one in a thousand does not, as with |w|."""

STEPS = 80


def normal_limit(share: float) -> float:
    """The value that |w| of an honest reading stays below with a probability of `share`: two-sided."""
    return NormalDist().inv_cdf(0.5 + share / 2.0)


W_CRITICAL = normal_limit(WRONG)
"""Critical value of |w|: 3.29. Source: two-sided at 0.1 %, Baarda 1968, from memory."""


def chi_square_share(value: float, dof: int) -> float:
    """Share of chance results below `value`: the regularised lower incomplete gamma function.

    Source: NIST Digital Library of Mathematical Functions, 8.11.4 (series), from memory.
    """
    if value <= 0.0:
        return 0.0
    a, x = dof / 2.0, value / 2.0
    term = total = 1.0 / a
    n = 0
    while term > total * 1e-16:
        n += 1
        term *= x / (a + n)
        total += term
    return total * math.exp(a * math.log(x) - x - math.lgamma(a))


def agree(chi2: float, dof: int) -> bool:
    """Whether readings fit within reading error; those that nothing checks do."""
    return dof <= 0 or chi2 <= chi_square_limit(dof, WRONG)


def chi_square_limit(dof: int, share: float) -> float:
    """The value that chance stays below with a probability of `share`; dof 1 or more, 0 < share < 1."""
    low, high = 0.0, dof + 10.0
    while chi_square_share(high, dof) < share:
        high *= 2.0
    for _ in range(STEPS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if chi_square_share(middle, dof) < share else (low, middle)
    return (low + high) / 2.0

"""Exact intervals of what was counted: shares (Clopper and Pearson, 1934), Poisson rates, counts to come."""

from typing import Final

import numpy as np
from scipy.special import betainc, betaincinv, gammaincinv

from estate.domain.forecast import LEVEL, Expected, Ranged

JEFFREYS: Final = 0.5
"""Half an event more than was counted: the reference prior of a Poisson rate, Gamma(½, 0)."""


def share_of(count: int, of: int, level: float = LEVEL) -> Ranged | None:
    """A share with its Clopper–Pearson interval; None of nothing.

    Args:
        count: how many had it.
        of: how many were looked at.
        level: of the interval, two-sided.
    """
    if of == 0:
        return None
    tail = (1 - level) / 2
    low = float(betaincinv(count, of - count + 1, tail)) if count else 0.0
    high = float(betaincinv(count + 1, of - count, 1 - tail)) if count < of else 1.0
    return Ranged(count / of, low, high)


def rate_of(count: int, years: float, level: float = LEVEL) -> Ranged | None:
    """A rate per year with its exact Poisson interval; None without any time.

    Args:
        count: events.
        years: time over which they would have been seen.
        level: of the interval, two-sided.
    """
    if years <= 0:
        return None
    tail = (1 - level) / 2
    low = float(gammaincinv(count, tail)) if count else 0.0
    return Ranged(count / years, low / years, float(gammaincinv(count + 1, 1 - tail)) / years)


def count_to_come(count: float, years: float, ahead_years: float, level: float = LEVEL) -> Expected | None:
    """Events expected in a time ahead, from those counted in a time before; None without any.

    With the Jeffreys prior the rate is Gamma(count + ½, years), so that the count to come is negative
    binomial. Its mean is (count + ½)·ahead/years; the interval is the central one.

    Args:
        count: events seen.
        years: time over which they would have been seen.
        ahead_years: time ahead over the same kind of exposure.
        level: of the prediction interval.
    """
    if years <= 0:
        return None
    shape, share = count + JEFFREYS, years / (years + ahead_years)
    tail, mean = (1 - level) / 2, shape * ahead_years / years
    most = int(mean + 12 * np.sqrt(mean * (1 + ahead_years / years)) + 40)
    up_to = betainc(shape, np.arange(most) + 1, share)
    low, high = (int(np.searchsorted(up_to, at)) for at in (tail, 1 - tail))
    return Expected(mean, low, high)

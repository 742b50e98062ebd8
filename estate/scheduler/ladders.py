"""Intervals that step up and down by the last result: two published recalibration methods."""

import numpy as np

from estate.scheduler.arrays import Flags, Floats


def staircase(interval: Floats, error: Floats, permissible: float, up: float, down: float) -> Floats:
    """The automatic (staircase) adjustment, method 1 of ILAC-G24 / OIML D 10 (INT-02).

    Longer where the error is within 80 % of the maximum permissible one, shorter where it is outside it,
    else as it was. The publication leaves the factors open.

    Args:
        interval: (n,) present intervals, any unit.
        error: (n,) reading less set value; NaN changes nothing.
        permissible: maximum permissible error, in the unit of `error`.
        up, down: factors.
    """
    size = np.abs(error)
    return np.where(
        size > permissible, interval * down, np.where(size <= 0.8 * permissible, interval * up, interval)
    )


def simple_response(interval: Floats, in_tolerance: Flags, a: float, target: float) -> Floats:
    """The simple response, method A1 of NCSLI RP-1 (INT-07): I(1 + a) if in tolerance, else I(1 − b).

    Args:
        interval: (n,) present intervals, any unit.
        in_tolerance: (n,) whether the item was found in tolerance.
        a: share by which an interval grows, above 0.
        target: reliability aimed at, between 0 and 1.
    """
    return np.where(in_tolerance, interval * (1 + a), interval * (1 - shrinkage(a, target)))


def shrinkage(a: float, target: float) -> float:
    """The b of method A1, 1 − (1 + a)^(−R/(1 − R)): at reliability R the mean of ln I stays."""
    return 1 - float((1 + a) ** (-target / (1 - target)))

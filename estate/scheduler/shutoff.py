"""The chance that a valve no longer shuts: a hidden failure that only a test can show (D08-97).

The failure rate λ of a valve is constant, and drawn from its group: λ ~ Gamma(a, b years). A test passed τ
years after the shut-off was last in order contributes exp(−λτ), a failed one 1 − exp(−λτ).

The posterior of λ is kept as a sum over points: the trapezoidal rule in a stretched logarithm of λ. All its
weights are positive, so nothing cancels, where the exact alternating sum of gamma functions loses a few
digits with each failure.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln

from estate.scheduler.arrays import Floats

WEEKS_PER_YEAR = 52.1775
_POINTS = 32
_TAIL = 36.0
"""The sum stops where the density has fallen by exp(−36) from its peak: 2e-16."""


@dataclass(frozen=True, slots=True)
class ShutOffPrior:
    """Failure rates of a group of valves: Gamma with mean a/b per year.

    Attributes:
        a: shape.
        b_years: rate of the distribution, years.
    """

    a: float
    b_years: float


@dataclass(frozen=True, slots=True)
class PriorColumns:
    """The same for n valves of different groups, each (n,)."""

    a: Floats
    b_years: Floats


@dataclass(frozen=True, slots=True)
class RatePosterior:
    """What n valves' own tests and their groups say of their failure rates.

    Attributes:
        rate: (n, k) points, failures per year.
        weight: (n, k) weights of the points; a row adds up to 1.
        log_evidence: (n,) logarithm of the probability of the valve's results in its group.
    """

    rate: Floats
    weight: Floats
    log_evidence: Floats

    def mean(self, values: Floats) -> Floats:
        """Expectation (n,) of a function of the rate given at the points, (n, k)."""
        found: Floats = np.einsum("nk,nk->n", self.weight, values)
        return found


def posterior(
    prior: ShutOffPrior | PriorColumns, passed_years: Floats, failed_years: Floats
) -> RatePosterior:
    """The posterior of the failure rates.

    Args:
        prior: of all valves' group, or one row for each.
        passed_years: (n,) years over which tests were passed, added up.
        failed_years: (n, f) years before each failed test, above zero; NaN beyond the last.
    """
    failures = np.count_nonzero(~np.isnan(failed_years), axis=1)
    shape = np.broadcast_to(prior.a, passed_years.shape) + failures
    until = prior.b_years + passed_years
    log_rate, log_step = _points(shape, until, until + np.nansum(failed_years, axis=1))
    rate = np.exp(log_rate)
    log_density = np.reshape(prior.a, (-1, 1)) * log_rate - until[:, None] * rate
    for column in failed_years.T:
        failed = ~np.isnan(column)
        log_density[failed] += np.log(-np.expm1(-rate[failed] * column[failed, None]))
    log_term = log_density + log_step
    peak = log_term.max(axis=1, keepdims=True)
    term = np.exp(log_term - peak)
    total = term.sum(axis=1)
    log_evidence = prior.a * np.log(prior.b_years) - gammaln(prior.a) + peak[:, 0] + np.log(total)
    return RatePosterior(rate, term / total[:, None], log_evidence)


def _points(shape: Floats, least_years: Floats, most_years: Floats) -> tuple[Floats, Floats]:
    """Logarithms of the points and of their steps, both (n, k).

    With x = log λ the density behaves as exp(shape·x) far to the left and falls as exp(−b·λ) to the
    right. With x = z + 1 − exp(−z) both tails fall twice exponentially in z (Takahasi and Mori, 1974), and
    equal steps in z are accurate to rounding even where the shape is near zero.
    """
    fall = _TAIL / shape
    near = np.sqrt(2 * fall)
    left, right = _depth(fall, -near - fall), _depth(fall, np.log1p(fall + near))
    low, high = -np.log1p(-left), right + np.log(most_years / least_years)
    z = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, _POINTS)
    peak = np.log(shape / most_years)
    step = (high - low)[:, None] / (_POINTS - 1) * (1 + np.exp(-z))
    return peak[:, None] + z + 1 - np.exp(-z), np.log(step)


def _depth(fall: Floats, start: Floats) -> Floats:
    """The x on the side of `start`, beyond the root, where exp(x) − 1 − x = `fall` (Newton, from outside)."""
    x = start
    for _ in range(8):
        x = x - (np.expm1(x) - x - fall) / np.expm1(x)
    return x


def mean_rate(rates: RatePosterior) -> Floats:
    """Mean failure rate of each valve, per year, (n,)."""
    return rates.mean(rates.rate)


def failed_by(rates: RatePosterior, years: float | Floats) -> Floats:
    """Probability (n,) that a shut-off in order today fails within `years`, E[1 − exp(−λ·years)]."""
    return rates.mean(-np.expm1(-rates.rate * np.reshape(years, (-1, 1))))


def average_unavailability(rates: RatePosterior, interval_years: float | Floats) -> Floats:
    """Share of the time between tests in which the shut-off does not work, (n,).

    E[1 − (1 − exp(−λT))/(λT)] over the posterior of λ (PFD-01, PFD-02).

    Args:
        rates: of n valves.
        interval_years: T, time between tests, years, one or (n,), above zero.
    """
    return rates.mean(_unavailable(rates.rate * np.reshape(interval_years, (-1, 1))))


def _unavailable(x: Floats) -> Floats:
    """1 − (1 − exp(−x))/x, by its series where the difference would cancel."""
    small = x < 1e-3
    near = np.where(small, x, 0.0)
    far = np.where(small, 1.0, x)
    return np.where(small, near * (0.5 - near * (1 / 6 - near / 24)), 1 + np.expm1(-far) / far)


def longest_interval(rates: RatePosterior, accepted: float | Floats, longest_years: float | Floats) -> Floats:
    """Longest interval (n,) in years whose average unavailability stays within what is accepted.

    The unavailability is concave and rises with the interval, so that Newton's steps from below never
    pass the root.

    Args:
        rates: of n valves.
        accepted: average unavailability, between 0 and 1, one or (n,).
        longest_years: the answer where even this interval is within what is accepted, years.
    """
    goal = np.broadcast_to(accepted, rates.log_evidence.shape)
    interval = 2 * goal / mean_rate(rates)
    most = np.broadcast_to(longest_years, goal.shape)
    step = interval
    while np.any((step > 1e-9 * interval) & (interval < most)):
        interval = np.minimum(interval, most)
        x = rates.rate * interval[:, None]
        value = rates.mean(_unavailable(x))
        step = (goal - value) * interval / (rates.mean(-np.expm1(-x)) - value)
        interval = interval + step
    return np.asarray(np.minimum(interval, most), np.float64)

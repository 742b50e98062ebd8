"""Proof tests: the published formula (PFD-01, PFD-02) and a worked example worked out three ways.

The example: failure rates Gamma with a = 2 and b = 40 years, tests passed over 3.0 years in all and one
failed after 0.5 year. The numbers stand here as printed in the specification of the computation. The second
way is the exact sum of gamma functions, the third draws failure rates and lives.
"""

import math

import numpy as np
import pytest

from estate.scheduler.arrays import Floats
from estate.scheduler.shutoff import (
    WEEKS_PER_YEAR,
    PriorColumns,
    ShutOffPrior,
    average_unavailability,
    longest_interval,
    mean_rate,
    posterior,
)

A, B, PASSED, FAILED = 2.0, 40.0, 3.0, 0.5
PRINTED = [(8, 0.005293), (13, 0.008576), (26, 0.017021), (52, 0.033533)]
RATES = posterior(ShutOffPrior(A, B), np.array([PASSED]), np.array([[FAILED]]))
PASSES_ONLY = posterior(ShutOffPrior(A, B), np.array([PASSED]), np.array([[np.nan]]))


def gamma_sum(power: float, more_years: float = 0.0) -> float:
    """∫ λ^(power − 1) exp(−λ·years) (1 − exp(−λ·0.5)) dλ / Γ(power), term by term."""
    years = B + PASSED + more_years
    return float(years**-power - (years + FAILED) ** -power)


def unavailable_by_gamma_sum(interval_years: float) -> float:
    """1 − the mean over the interval of E[exp(−λt)]; with a = 2 each term integrates to 1/years."""

    def integral(years: float) -> float:
        return 1 / years - 1 / (years + interval_years)

    working = integral(B + PASSED) - integral(B + PASSED + FAILED)
    return 1 - working / interval_years / gamma_sum(A)


def drawn() -> Floats:
    """Failure rates that agree with the example's results, by drawing and keeping."""
    random = np.random.default_rng(20261125)
    rate = random.gamma(A, 1 / B, 20_000_000)
    agrees = (random.exponential(1 / rate) > PASSED) & (random.exponential(1 / rate) < FAILED)
    return rate[agrees]


def test_that_the_example_gives_its_printed_mean_rate() -> None:
    assert mean_rate(RATES)[0] == pytest.approx(0.0693673, abs=5e-8)
    assert mean_rate(PASSES_ONLY)[0] == pytest.approx(2 / 43, rel=1e-12)


def test_that_the_example_is_the_exact_ratio_of_gamma_sums() -> None:
    assert mean_rate(RATES)[0] == pytest.approx(A * gamma_sum(A + 1) / gamma_sum(A), rel=1e-12)
    assert RATES.log_evidence[0] == pytest.approx(math.log(B**A * gamma_sum(A)), rel=1e-12)


@pytest.mark.parametrize(("weeks", "printed"), PRINTED)
def test_that_the_example_gives_its_printed_unavailability(weeks: int, printed: float) -> None:
    years = weeks / WEEKS_PER_YEAR
    found = average_unavailability(RATES, years)[0]
    assert found == pytest.approx(printed, abs=5e-7)
    assert found == pytest.approx(unavailable_by_gamma_sum(years), rel=1e-8)


@pytest.mark.parametrize(("accepted", "printed_weeks"), [(0.01, 15.18), (0.02, 30.63)])
def test_that_the_example_gives_its_printed_intervals(accepted: float, printed_weeks: float) -> None:
    years = longest_interval(RATES, accepted, 10.0)
    assert years[0] * WEEKS_PER_YEAR == pytest.approx(printed_weeks, abs=0.005)
    assert average_unavailability(RATES, years)[0] == pytest.approx(accepted, rel=1e-9)


def test_that_drawn_failure_rates_agree_with_the_example() -> None:
    rate = drawn()
    interval = 26 / WEEKS_PER_YEAR
    down = np.maximum(interval - np.random.default_rng(1).exponential(1 / rate), 0) / interval
    for draws, worked_out in [(rate, 0.0693673), (down, 0.017021)]:
        error = draws.std() / math.sqrt(len(draws))
        assert error < 0.01 * worked_out
        assert abs(draws.mean() - worked_out) < 3 * error


@pytest.mark.parametrize(
    ("years", "exact", "halved"), [(0.5, 0.012396, 0.0125), (1, 0.024588, 0.025), (2, 0.048374, 0.05)]
)
def test_that_a_known_rate_gives_the_published_formula(years: float, exact: float, halved: float) -> None:
    """PFD-02 with λ = 0.05 a year, and PFD-01, λT/2, which it stays below."""
    known = posterior(ShutOffPrior(1e8, 2e9), np.zeros(1), np.full((1, 1), np.nan))
    found = average_unavailability(known, float(years))[0]
    assert found == pytest.approx(exact, abs=1e-6)
    assert found < 0.05 * years / 2 == pytest.approx(halved)


def test_that_each_valve_may_have_a_group_of_its_own() -> None:
    groups = PriorColumns(np.array([2.0, 5.0]), np.array([40.0, 50.0]))
    both = posterior(groups, np.full(2, PASSED), np.full((2, 1), FAILED))
    assert mean_rate(both)[0] == pytest.approx(mean_rate(RATES)[0], rel=1e-13)
    assert mean_rate(both)[1] > mean_rate(both)[0]

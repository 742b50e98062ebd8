import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from estate.scheduler.shutoff import (
    ShutOffPrior,
    average_unavailability,
    failed_by,
    longest_interval,
    mean_rate,
    posterior,
)

NOTHING_FAILED = np.full((1, 1), np.nan)


def by_quadrature(a: float, b: float, passed: float, failed: list[float], power: int) -> float:
    """∫ λ^power of prior and results over ln λ, up to the constant of the prior."""

    def density(log_rate: float) -> float:
        rate = math.exp(log_rate)
        value = (a + power) * log_rate - (b + passed) * rate
        return math.exp(value + sum(math.log(-math.expm1(-rate * each)) for each in failed))

    peak = math.log((a + len(failed)) / (b + passed + sum(failed)))
    ends = np.linspace(peak - 8 - 40 / (a + len(failed)), peak + 12, 25)
    parts = [quad(density, low, high, epsabs=0, epsrel=1e-11)[0] for low, high in pairwise(ends)]
    return float(sum(parts))


@pytest.mark.filterwarnings("ignore::scipy.integrate.IntegrationWarning")  # quad is warier than it need be
@settings(max_examples=60, deadline=None)
@given(
    a=st.floats(0.3, 30),
    b=st.floats(1, 500),
    passed=st.floats(0, 50),
    failed=st.lists(st.floats(0.01, 5), max_size=12),
)
def test_that_the_posterior_agrees_with_adaptive_quadrature(
    a: float, b: float, passed: float, failed: list[float]
) -> None:
    rates = posterior(ShutOffPrior(a, b), np.array([passed]), np.array([failed or [np.nan]]))
    weight, mean = (by_quadrature(a, b, passed, failed, power) for power in (0, 1))
    assert mean_rate(rates)[0] == pytest.approx(mean / weight, rel=1e-6)
    evidence = a * math.log(b) - math.lgamma(a) + math.log(weight)
    assert rates.log_evidence[0] == pytest.approx(evidence, rel=1e-6, abs=1e-6)


def test_that_forty_failures_of_one_valve_lose_no_digits() -> None:
    """The alternating gamma sum would have 2⁴⁰ terms that cancel; equal failures have a binomial form."""
    failed = np.full((1, 40), 0.25)
    rates = posterior(ShutOffPrior(2, 40), np.array([3.0]), failed)
    assert mean_rate(rates)[0] == pytest.approx(
        by_quadrature(2, 40, 3, [0.25] * 40, 1) / by_quadrature(2, 40, 3, [0.25] * 40, 0), rel=1e-9
    )


@given(st.floats(0.5, 10), st.floats(5, 200), st.floats(0, 20), st.floats(1e-6, 3))
def test_that_without_failures_everything_has_a_closed_form(
    a: float, b: float, passed: float, years: float
) -> None:
    rates = posterior(ShutOffPrior(a, b), np.array([passed]), NOTHING_FAILED)
    assert mean_rate(rates)[0] == pytest.approx(a / (b + passed), rel=1e-9)
    assert failed_by(rates, years)[0] == pytest.approx(
        -math.expm1(-a * math.log1p(years / (b + passed))), rel=1e-8
    )
    assert rates.log_evidence[0] == pytest.approx(-a * math.log1p(passed / b), abs=1e-9)


def test_that_passes_lower_the_rate_and_failures_raise_it() -> None:
    passed = np.array([0.0, 5.0, 5.0])
    failed = np.array([[np.nan], [np.nan], [0.5]])
    untested, passing, failing = mean_rate(posterior(ShutOffPrior(2, 40), passed, failed))
    assert passing < untested < failing


def test_that_a_shut_off_that_fails_rarely_is_not_short_of_digits() -> None:
    """Average unavailability of a tiny λT is λT/2 to rounding: the difference would cancel."""
    rates = posterior(ShutOffPrior(2, 40e9), np.zeros(1), NOTHING_FAILED)
    assert average_unavailability(rates, 1.0)[0] == pytest.approx(0.05e-9 / 2, rel=1e-9)


def test_that_unavailability_rises_with_the_interval_to_certain_failure() -> None:
    rates = posterior(ShutOffPrior(2, 40), np.array([3.0]), np.array([[0.5]]))
    found = [average_unavailability(rates, years)[0] for years in (1e-6, 0.1, 1, 10, 1000, 1e7)]
    assert found == sorted(found)
    assert found[0] < 1e-7
    assert found[-1] == pytest.approx(1, abs=1e-3)


@given(st.floats(1e-4, 0.9), st.floats(0, 30), st.floats(0.05, 3))
def test_that_the_longest_interval_uses_up_what_is_accepted(
    accepted: float, passed: float, failed: float
) -> None:
    rates = posterior(ShutOffPrior(2, 40), np.array([passed]), np.array([[failed]]))
    years = longest_interval(rates, accepted, 1e6)
    assert average_unavailability(rates, years)[0] == pytest.approx(accepted, rel=1e-8)


def test_that_no_interval_is_longer_than_the_longest() -> None:
    rates = posterior(ShutOffPrior(2, 40), np.array([3.0, 3.0]), np.array([[0.5], [np.nan]]))
    years = longest_interval(rates, np.array([0.02, 0.5]), np.array([1.0, 1.0]))
    assert years[0] == pytest.approx(30.63 / 52.1775, abs=1e-4)
    assert years[1] == 1.0


def test_that_an_estate_without_valves_gives_nothing() -> None:
    rates = posterior(ShutOffPrior(2, 40), np.zeros(0), np.zeros((0, 1)))
    assert longest_interval(rates, 0.02, 1.0).shape == mean_rate(rates).shape == (0,)

"""Intervals of counts against scipy's and statsmodels' own, and against what they promise."""

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats import proportion  # type: ignore[import-untyped]  # carries no types

from estate.domain.forecast import Expected
from estate.scheduler.counting import count_to_come, rate_of, share_of


@pytest.mark.parametrize(("count", "of"), [(0, 10), (0, 28), (1, 7), (3, 40), (20, 20), (113, 900)])
def test_that_a_share_has_the_interval_of_clopper_and_pearson(count: int, of: int) -> None:
    found = share_of(count, of)
    assert found is not None
    low, high = proportion.proportion_confint(count, of, alpha=0.05, method="beta")
    assert (found.value, found.low, found.high) == pytest.approx((count / of, low, high))
    exact = stats.binomtest(count, of).proportion_ci(method="exact")
    assert (found.low, found.high) == pytest.approx((exact.low, exact.high))


@pytest.mark.parametrize(
    ("of", "level", "limit"), [(10, 0.95, 0.6915), (28, 0.95, 0.8766), (59, 0.90, 0.9505)]
)
def test_that_no_failure_in_n_gives_the_published_limit(of: int, level: float, limit: float) -> None:
    """INT-13: the lower limit of the share that was in order."""
    found = share_of(of, of, level)
    assert found is not None
    assert found.low == pytest.approx(limit, abs=5e-5)


@pytest.mark.parametrize(("count", "years"), [(0, 12.0), (1, 5.0), (7, 31.5), (240, 4000.0)])
def test_that_a_rate_has_the_exact_interval_of_poisson(count: int, years: float) -> None:
    found = rate_of(count, years)
    assert found is not None
    low = stats.chi2.ppf(0.025, 2 * count) / 2 / years if count else 0.0
    high = stats.chi2.ppf(0.975, 2 * count + 2) / 2 / years
    assert (found.value, found.low, found.high) == pytest.approx((count / years, low, high))


def test_that_the_ends_of_a_rate_are_where_the_count_just_stops_being_surprising() -> None:
    found = rate_of(4, 10.0)
    assert found is not None
    assert found.low is not None
    assert found.high is not None
    assert stats.poisson.sf(3, found.low * 10) == pytest.approx(0.025)
    assert stats.poisson.cdf(4, found.high * 10) == pytest.approx(0.025)


@pytest.mark.parametrize(("count", "years", "ahead"), [(0, 10.0, 5.0), (3, 20.0, 12.0), (60, 900.0, 300.0)])
def test_that_a_count_to_come_is_negative_binomial(count: int, years: float, ahead: float) -> None:
    law = stats.nbinom(count + 0.5, years / (years + ahead))
    found = count_to_come(count, years, ahead)
    assert found is not None
    assert found.mean == pytest.approx(law.mean())
    assert (found.low, found.high) == (law.ppf(0.025), law.ppf(0.975))


@pytest.mark.parametrize("rate", [0.02, 0.2])
def test_that_counts_to_come_fall_inside_as_often_as_they_say(rate: float) -> None:
    chance = np.random.default_rng(7)
    seen, later = chance.poisson(rate * 60, 1500), chance.poisson(rate * 40, 1500)
    inside = []
    for before, after in zip(seen.tolist(), later.tolist(), strict=True):
        found = count_to_come(before, 60.0, 40.0)
        assert found is not None
        inside.append(found.low <= after <= found.high)
    assert np.mean(inside) > 0.94


def test_that_of_nothing_nothing_is_told() -> None:
    assert share_of(0, 0) is None
    assert rate_of(0, 0.0) is None
    assert count_to_come(0, 0.0, 1.0) is None
    assert count_to_come(0, 10.0, 0.0) == Expected(0.0, 0, 0)

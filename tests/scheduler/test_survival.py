"""The product-limit estimate against statsmodels' own, and delayed entry against a known truth."""

import numpy as np
import pytest
from statsmodels.duration.survfunc import SurvfuncRight  # type: ignore[import-untyped]  # carries no types  # type: ignore[import-untyped]  # it has no types

from estate.scheduler.survival import Lifetimes, age_when_left, product_limit, still_in_place


def watched(bodies: int, seed: int, mean_years: float = 9.0) -> Lifetimes:
    """Bodies that live by a Weibull law, watched from some age on, for some years."""
    chance = np.random.default_rng(seed)
    life = mean_years * chance.weibull(2.0, 4 * bodies)
    entry = np.where(chance.random(4 * bodies) < 0.3, 0.0, chance.uniform(0, 8, 4 * bodies))
    chosen = np.flatnonzero(life > entry)[:bodies]
    life, entry = life[chosen], entry[chosen]
    until = entry + chance.uniform(0.5, 6, len(chosen))
    return Lifetimes(entry, np.minimum(life, until), life <= until)


@pytest.mark.parametrize("seed", range(2, 6))
def test_that_the_curve_and_its_error_are_those_of_statsmodels(seed: int) -> None:
    lives = watched(80, seed)
    curve = product_limit(lives)
    other = SurvfuncRight(lives.exit, lives.replaced.astype(int), entry=lives.entry)
    times = np.isin(other.surv_times, curve.age)
    assert curve.age == pytest.approx(other.surv_times[times])
    assert curve.share == pytest.approx(other.surv_prob[times])
    assert curve.at_risk.tolist() == other.n_risk[times].tolist()
    some = curve.share > 0
    error = curve.share[some] * np.sqrt(curve.greenwood[some])
    assert error == pytest.approx(other.surv_prob_se[times][some])
    assert len(error) > 3


def test_that_the_log_log_interval_and_the_median_are_those_of_statsmodels() -> None:
    chance = np.random.default_rng(3)
    life, until = 6 * chance.weibull(1.5, 120), chance.uniform(1, 12, 120)
    lives = Lifetimes(np.zeros(120), np.minimum(life, until), life <= until)
    other = SurvfuncRight(lives.exit, lives.replaced.astype(int))
    found = age_when_left(lives)
    assert found is not None
    assert found.value == pytest.approx(other.quantile(0.5))
    low, high = other.quantile_ci(0.5, method="cloglog")
    assert (found.low, found.high) == pytest.approx((low, high))


def test_that_the_freireich_remission_times_give_the_published_curve() -> None:
    """Freireich et al., Blood 1963;21:699, 6-MP arm: 0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448."""
    weeks = [6, 6, 6, 7, 10, 13, 16, 22, 23, 6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    ended = np.arange(21) < 9
    curve = product_limit(Lifetimes(np.zeros(21), np.array(weeks, np.float64), ended))
    assert curve.age.tolist() == [6, 7, 10, 13, 16, 22, 23]
    assert np.round(curve.share, 3).tolist() == [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448]
    assert np.round(curve.share * np.sqrt(curve.greenwood), 4).tolist() == [
        *(0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346)
    ]


def test_that_delayed_entry_gives_the_truth_and_leaving_it_out_flatters() -> None:
    lives = watched(4000, 11)
    truth = float(np.exp(-((5 / 9.0) ** 2)))
    (with_entry,) = still_in_place(lives, (5.0,))
    (without,) = still_in_place(Lifetimes(np.zeros(4000), lives.exit, lives.replaced), (5.0,))
    assert with_entry.share.value == pytest.approx(truth, abs=0.02)
    assert without.share.value > truth + 0.05


def test_that_ages_reached_by_few_are_not_told() -> None:
    lives = Lifetimes(np.zeros(6), np.array([3.0, 6, 6, 6, 6, 6]), np.array([True, *[False] * 5]))
    assert [each.age_years for each in still_in_place(lives)] == [1.0, 2.0, 3.0, 5.0]
    _, new, _, old = still_in_place(lives)
    assert (new.share.value, new.share.low, new.at_risk) == (1.0, None, 6)
    assert old.share.value == pytest.approx(5 / 6)
    assert old.share.low is not None
    assert old.share.high is not None
    assert 0 < old.share.low < old.share.value < old.share.high < 1


def test_that_a_share_that_rests_on_an_age_watched_by_few_is_not_told() -> None:
    entry, left = np.array([0.0, *[1.5] * 9]), np.array([1.0, *[6.0] * 9])
    lives = Lifetimes(entry, left, np.array([True, *[False] * 9]))
    assert still_in_place(lives) == ()
    assert age_when_left(lives) is None


def test_that_half_is_told_only_once_reached_and_with_the_ends_that_were() -> None:
    lives = Lifetimes(np.zeros(12), np.arange(1.0, 13), np.arange(12) < 8)
    found = age_when_left(lives)
    assert found is not None
    assert found.value == 6
    assert found.low is not None
    assert found.low < 6
    assert found.high is None
    assert age_when_left(Lifetimes(np.zeros(12), np.arange(1.0, 13), np.arange(12) < 2)) is None
    assert age_when_left(Lifetimes(np.zeros(3), np.ones(3), np.zeros(3, np.bool_))) is None

"""Replacements to come: by hand, by simulation, and as often inside as they say."""

import numpy as np
import pytest
from scipy import integrate, stats

from estate.scheduler.replacing import AgeBands, bands_of, one_band, replacements_to_come
from estate.scheduler.survival import Lifetimes


def lived(*ages: tuple[float, int, bool]) -> Lifetimes:
    """Bodies watched from new: age at the end, how many, whether they were replaced."""
    exits = np.concatenate([np.full(many, age) for age, many, _ in ages])
    return Lifetimes(
        np.zeros(len(exits)), exits, np.concatenate([np.full(many, was) for _, many, was in ages])
    )


def test_that_years_and_replacements_are_counted_in_the_band_of_their_age() -> None:
    found = bands_of(lived((1.5, 2, True), (3.0, 10, True), (20.0, 1, False)))
    assert found.begin.tolist() == [0.0, 2.0]
    assert found.replaced.tolist() == [2, 10]
    assert found.years.tolist() == pytest.approx([2 * 1.5 + 11 * 2, 10 * 1 + 18])
    assert found.of(np.array([0.0, 1.99, 2.0, 30.0])).tolist() == [0, 0, 1, 1]


def test_that_ages_at_which_none_was_replaced_stand_apart_from_those_at_which_they_were() -> None:
    found = bands_of(lived((8.0, 12, True), (6.0, 6, False)))
    assert found.begin.tolist() == [0.0, 4.0]
    assert found.replaced.tolist() == [0, 12]


def test_that_few_replacements_give_one_rate_for_all_ages() -> None:
    found = bands_of(lived((1.0, 1, True), (5.0, 1, True), (9.0, 1, True), (16.0, 1, True), (3.0, 1, False)))
    assert (found.begin.tolist(), found.replaced.tolist()) == ([0.0], [4])
    assert found.years.tolist() == pytest.approx([34.0])


def test_that_old_ages_watched_too_little_join_the_band_before() -> None:
    found = bands_of(lived((1.5, 10, True), (4.0, 6, True), (9.0, 1, True)))
    assert found.begin.tolist() == [0.0, 2.0]
    assert found.replaced.tolist() == [10, 7]


def test_that_watching_that_began_late_counts_no_years_before_it() -> None:
    found = bands_of(Lifetimes(np.array([3.0]), np.array([4.5]), np.array([False])))
    assert found.years.tolist() == pytest.approx([1.5])


def test_that_the_chance_of_a_year_is_averaged_over_the_rate() -> None:
    (found,) = one_band(40.0, 3).chances()
    law = stats.gamma(3.5, scale=1 / 40)
    mean, _ = integrate.quad(lambda rate: (1 - np.exp(-rate)) * law.pdf(rate), 0, 2)
    assert found.value == pytest.approx(mean)
    assert (found.low, found.high) == pytest.approx(tuple(-np.expm1(-law.ppf([0.025, 0.975]))))


def test_that_the_prediction_agrees_with_a_simulation() -> None:
    bands = AgeBands(np.array([0.0, 5.0]), np.array([300.0, 80.0]), np.array([6, 12]))
    found = replacements_to_come(bands, np.array([120, 40]))
    chance = np.random.default_rng(5)
    drawn = sum(
        chance.binomial(bodies, -np.expm1(-chance.gamma(replaced + 0.5, 1 / years, 100_000)))
        for bodies, years, replaced in ((120, 300.0, 6), (40, 80.0, 12))
    )
    assert found.mean == pytest.approx(np.mean(drawn), rel=0.01)
    assert (found.low, found.high) == pytest.approx(tuple(np.quantile(drawn, [0.025, 0.975])), abs=1)


def test_that_nothing_in_place_needs_nothing() -> None:
    found = replacements_to_come(one_band(50.0, 2), np.array([0]))
    assert (found.mean, found.low, found.high) == (0.0, 0, 0)


@pytest.mark.parametrize(("bodies", "rate"), [(15, 0.03), (60, 0.10)])
def test_that_replacements_fall_inside_as_often_as_they_say(bodies: int, rate: float) -> None:
    chance = np.random.default_rng(23)
    inside = []
    for _ in range(400):
        seen = chance.poisson(rate * bodies * 4)
        later = chance.binomial(bodies, -np.expm1(-rate))
        found = replacements_to_come(one_band(bodies * 4.0, int(seen)), np.array([bodies]))
        inside.append(found.low <= later <= found.high)
    assert np.mean(inside) > 0.935


def test_that_few_years_watched_give_a_wide_interval() -> None:
    little = replacements_to_come(one_band(10.0, 1), np.array([40]))
    much = replacements_to_come(one_band(1000.0, 100), np.array([40]))
    assert little.high - little.low > 2 * (much.high - much.low)

"""The chance to reach the ceiling by a day."""

from dataclasses import replace
from datetime import timedelta
from math import erfc, exp, sqrt

import pytest

from estate.domain.browsing import OutletPage
from estate.operations.foresee import chance_by
from tests.window.builders import GROUP, drift, learned, page


def phi(x: float) -> float:
    return erfc(-x / sqrt(2)) / 2


def known(level_sd: float, slope: float, slope_sd: float = 0.0) -> OutletPage:
    estimate = drift(level_sd_k=level_sd, drift_k_per_week=slope, drift_sd=slope_sd, covariance=0.0)
    return page(learned=learned(drift=estimate))


@pytest.mark.parametrize("slope", [-0.02, 0.0, 0.05])
def test_that_a_level_and_drift_known_exactly_give_the_inverse_gaussian_law(slope: float) -> None:
    weeks, room, spread = 26, 43.0 - 41.5, GROUP.sigma * sqrt(26)
    there = phi((slope * weeks - room) / spread)
    expected = there + exp(2 * slope * room / GROUP.sigma**2) * phi((-slope * weeks - room) / spread)
    found = chance_by(known(0.0, slope), drift().at + timedelta(weeks=weeks))
    assert found == pytest.approx(expected, rel=1e-6, abs=1e-12)


def test_that_the_chance_grows_with_time_from_that_of_the_last_visit() -> None:
    at, some = drift().at, known(0.5, 0.02, 0.01)
    chances = [chance_by(some, at + timedelta(weeks=weeks)) for weeks in (0, 4, 13, 52)]
    assert chances[0] == pytest.approx(1 - phi((43.0 - 41.5) / 0.5), abs=1e-6)
    assert None not in chances
    assert chances == sorted(chances, key=lambda each: each or 0.0)
    assert len(set(chances)) == 4


def test_that_without_ceiling_or_knowledge_no_chance_is_told() -> None:
    some = known(0.5, 0.02)
    day = drift().at + timedelta(days=7)
    assert chance_by(replace(some, ceiling_c=None), day) is None
    assert chance_by(replace(some, learned=None), day) is None
    assert chance_by(replace(some, learned=learned(drift=None)), day) is None
    assert chance_by(some, drift().at - timedelta(days=1)) is None

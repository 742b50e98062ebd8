"""First passage of Brownian motion with drift: R. S. Chhikara, J. L. Folks (1989); G. A. Whitmore (1986).

Check values: 2 K of room, 0.02 K/week, 0.1 K/√week, so mean 100 weeks and shape 400.
"""

import numpy as np
import pytest
from scipy import integrate, stats

from estate.scheduler.drift import DriftState
from estate.scheduler.passage import fallen, longest_horizon, reached

WEEKS = np.array([20.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0])
PRINTED = [2.9292e-4, 0.043119, 0.204642, 0.412309, 0.594411, 0.859303, 0.954276]


def known(level: float, slope: float, slope_sd: float = 0.0) -> DriftState:
    """A level that is known, and a slope that may be."""
    return DriftState(*(np.array([each]) for each in (level, slope, 0.0, 0.0, slope_sd**2)))


def test_that_a_known_drift_gives_the_printed_values() -> None:
    found = reached(known(41.0, 0.02), 0.1, 43.0, WEEKS)[0]
    assert found == pytest.approx(PRINTED, abs=5e-7)


@pytest.mark.parametrize(("slope", "sigma"), [(0.02, 0.1), (0.05, 0.1), (0.5, 0.05), (0.02, 0.02)])
def test_that_a_known_drift_gives_the_inverse_gaussian_law(slope: float, sigma: float) -> None:
    mean, shape = 2 / slope, (2 / sigma) ** 2
    law = stats.invgauss(mu=mean / shape, scale=shape)
    weeks = mean * np.array([0.3, 0.7, 1.0, 1.5, 3.0])
    assert reached(known(41.0, slope), sigma, 43.0, weeks)[0] == pytest.approx(law.cdf(weeks), abs=1e-7)


def test_that_a_drift_away_from_the_limit_may_never_reach_it() -> None:
    ever = np.exp(-2 * 0.02 * 0.5 / 0.1**2)
    assert reached(known(42.5, -0.02), 0.1, 43.0, np.array([1e5]))[0] == pytest.approx(ever, abs=1e-6)


@pytest.mark.parametrize("slope", [-0.02, 0.0, 0.03])
def test_that_an_uncertain_drift_gives_the_average_law(slope: float) -> None:
    def weighed(drift: float) -> float:
        chance = reached(known(42.0, drift), 0.1, 43.0, np.array([26.0]))[0, 0]
        return float(chance * stats.norm.pdf(drift, slope, 0.02))

    average, _ = integrate.quad(weighed, slope - 0.16, slope + 0.16, epsabs=1e-9)
    found = reached(known(42.0, slope, 0.02), 0.1, 43.0, np.array([26.0]))[0, 0]
    assert found == pytest.approx(average, abs=1e-6)


def test_that_a_lower_limit_is_the_same_sum_mirrored() -> None:
    down = fallen(known(41.0, -0.02), 0.1, 39.0, WEEKS)[0]
    assert down == pytest.approx(PRINTED, abs=5e-7)


def test_that_the_horizon_is_the_quantile_of_the_inverse_gaussian_law() -> None:
    law = stats.invgauss(mu=100 / 400, scale=400)
    found = longest_horizon(known(41.0, 0.02), 0.1, 43.0, 0.05, 520.0, 1e-6)[0]
    assert found == pytest.approx(law.ppf(0.05), abs=1e-4)

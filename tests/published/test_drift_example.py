"""Worked example A of the documentation, by the code and by second ways that share nothing with it.

μ 0.02, ω 0.03, σ 0.10, s 0.25; set 41, ceiling 43. Left at 41.0 in week 0; 41.6 found in week 7; 42.1 found
and 41.0 left in week 13; 41.9 found in week 26.
"""

import numpy as np
import pytest
from scipy import stats

from estate.scheduler.arrays import Floats
from estate.scheduler.drift import DriftState, run_filter
from estate.scheduler.passage import above, longest_horizon, reached
from estate.scheduler.states import forecast
from tests.scheduler.histories import EXAMPLE, TRUTH, panel

HORIZONS = np.array([4.0, 8.0, 13.0, 26.0, 52.0])
MEANS = [42.045756, 42.249670, 42.504562, 43.167281, 44.492718]
SPREADS = [0.329199, 0.422524, 0.533559, 0.810379, 1.347904]
ABOVE = [0.001874, 0.037881, 0.176560, 0.581770, 0.865947]
REACHED = [0.002615, 0.048438, 0.210235, 0.632766, 0.893951]

STEPS = [
    (41.140000, 0.488979, 0.460000, 41.479757, 0.032120, 0.046163, 0.001647, 0.000734),
    (41.672480, 0.463517, 0.427520, 41.975633, 0.044161, 0.044319, 0.001760, 0.000564),
    (41.574090, 0.591817, 0.325910, 41.841843, 0.050978, 0.051347, 0.001307, 0.000410),
]

# Independent causes: error of the first level, slope, three wanderings, error of the second level, three
# reading errors; what each of the three readings and (level, slope) after the last are made of.
CAUSES_SD = np.array([0.25, 0.03, 0.1 * 7**0.5, 0.1 * 6**0.5, 0.1 * 13**0.5, 0.25, 0.25, 0.25, 0.25])
READ_FROM = np.array(
    [
        [1, 7, 1, 0, 0, 0, 1, 0, 0],
        [1, 13, 1, 1, 0, 0, 0, 1, 0],
        [0, 13, 0, 0, 1, 1, 0, 0, 1],
    ],
    np.float64,
)
STATE_FROM = np.array([[0, 13, 0, 0, 1, 1, 0, 0, 0], [0, 1, 0, 0, 0, 0, 0, 0, 0]], np.float64)
READINGS = np.array([41.6, 42.1, 41.9])
EXPECTED = 41.0 + READ_FROM[:, 1] * 0.02


def example_state() -> DriftState:
    return run_filter(panel(EXAMPLE), TRUTH).state


def joint() -> tuple[Floats, Floats, float]:
    """Mean and covariance of (level, slope) given the readings, and the readings' log density, at one go."""
    of_readings = READ_FROM @ np.diag(CAUSES_SD**2) @ READ_FROM.T
    across = STATE_FROM @ np.diag(CAUSES_SD**2) @ READ_FROM.T
    before = STATE_FROM @ np.diag(CAUSES_SD**2) @ STATE_FROM.T
    gain = across @ np.linalg.inv(of_readings)
    mean = np.array([41.0 + 13 * 0.02, 0.02]) + gain @ (READINGS - EXPECTED)
    density = float(stats.multivariate_normal(EXPECTED, of_readings).logpdf(READINGS))
    return mean, before - gain @ across.T, density


@pytest.mark.parametrize("number", [1, 2, 3])
def test_that_each_step_has_the_printed_digits(number: int) -> None:
    printed = STEPS[number - 1]
    before_reset = panel((*EXAMPLE[:number], (*EXAMPLE[number][:2], float("nan"))))
    run = run_filter(before_reset, TRUTH)
    state = run.state
    found = [run.predicted[0, -1], run.predicted_sd[0, -1], run.innovation[0, -1], state.level[0]]
    found += [state.slope[0], state.var_level[0], state.cov[0], state.var_slope[0]]
    assert np.round(found, 6).tolist() == list(printed)


def test_that_the_log_likelihood_has_the_printed_digits() -> None:
    assert round(float(run_filter(panel(EXAMPLE), TRUTH).log_likelihood[0]), 6) == -1.767388


def test_that_the_joint_gaussian_gives_the_same_state_and_likelihood() -> None:
    mean, covariance, density = joint()
    run = run_filter(panel(EXAMPLE), TRUTH)
    state = run.state
    assert [state.level[0], state.slope[0]] == pytest.approx(mean, abs=1e-12)
    assert [state.var_level[0], state.cov[0], state.var_slope[0]] == pytest.approx(
        [covariance[0, 0], covariance[0, 1], covariance[1, 1]], abs=1e-12
    )
    assert run.log_likelihood[0] == pytest.approx(density, abs=1e-12)


def test_that_the_forecast_has_the_printed_digits() -> None:
    mean, spread = forecast(example_state(), 0.10, HORIZONS)
    assert np.round(mean[0], 6).tolist() == MEANS
    assert np.round(spread[0], 6).tolist() == SPREADS
    assert np.round(above(example_state(), 0.10, 43.0, HORIZONS)[0], 6).tolist() == ABOVE


def test_that_the_chance_of_passage_has_the_printed_digits() -> None:
    assert np.round(reached(example_state(), 0.10, 43.0, HORIZONS)[0], 6).tolist() == REACHED


def test_that_a_product_rule_over_level_and_slope_gives_the_same_chances() -> None:
    mean, covariance, _ = joint()
    node, weight = np.polynomial.hermite_e.hermegauss(60)
    weight = weight / weight.sum()
    root = np.linalg.cholesky(covariance)
    level = mean[0] + root[0, 0] * node[:, None]
    slope = mean[1] + root[1, 0] * node[:, None] + root[1, 1] * node
    room = np.maximum(43.0 - level, 0.0)
    for weeks, printed in zip(HORIZONS, REACHED, strict=True):
        spread = 0.10 * np.sqrt(weeks)
        gone = stats.norm.cdf((slope * weeks - room) / spread) + np.exp(
            2 * slope * room / 0.01 + stats.norm.logcdf((-room - slope * weeks) / spread)
        )
        assert weight @ np.minimum(gone, 1.0) @ weight == pytest.approx(printed, abs=2e-6)


def test_that_simulated_passage_times_give_the_same_chances() -> None:
    mean, covariance, _ = joint()
    chance, draws = np.random.default_rng(20261125), 400_000
    level, slope = chance.multivariate_normal(mean, covariance, draws).T
    room = np.maximum(43.0 - level, 1e-9)
    ever = np.where(slope > 0, 1.0, np.exp(2 * slope * room / 0.01))
    times = chance.wald(room / np.abs(slope), room**2 / 0.01)
    times[chance.uniform(size=draws) > ever] = np.inf
    for weeks, printed in zip(HORIZONS, REACHED, strict=True):
        error = (printed * (1 - printed) / draws) ** 0.5
        assert np.mean(times <= weeks) == pytest.approx(printed, abs=4 * error)


@pytest.mark.parametrize(("risk", "weeks"), [(0.05, 8.071), (0.01, 5.396)])
def test_that_the_horizon_of_a_risk_has_the_printed_digits(risk: float, weeks: float) -> None:
    assert round(float(longest_horizon(example_state(), 0.10, 43.0, risk, 104.0, 1e-5)[0]), 3) == weeks

"""The drift filter without wandering is a regression: certified and published ones, digit for digit."""

import numpy as np
import pytest

from estate.scheduler.drift import DriftParameters, run_filter, smooth
from estate.scheduler.fit import fit_pooled
from estate.scheduler.panel import Panel
from estate.scheduler.screening import UNSCREENED
from tests.scheduler.histories import NOTHING, panel

# Norris, NIST Statistical Reference Datasets (NIST-01, NIST-02).
NORRIS_Y = np.fromstring(
    "0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8 "
    "557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 "
    "0.2",
    sep=" ",
)
NORRIS_X = np.fromstring(
    "0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6 "
    "556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 "
    "0.5",
    sep=" ",
)
B0, B0_SD = -0.262323073774029, 0.232818234301152
B1, B1_SD = 1.00211681802045, 0.429796848199937e-03
RESIDUAL_SD, SSE = 0.884796396144373, 26.6173985294224

# Travel of an ultrasonic wave in six railway rails, three measurements each (J. L. Devore, Probability and
# Statistics; "Rail"), in ns less 40; its mean squares are those of the trade facts 7.5.
RAIL = ((55, 53, 54), (26, 37, 32), (78, 91, 85), (92, 100, 96), (49, 51, 50), (80, 85, 83))
MSW, MSB = 16.166667, 1862.1


def norris() -> Panel:
    order = np.argsort(NORRIS_X, kind="stable")
    weeks = NORRIS_X[order] - NORRIS_X[order][0]
    return panel([(week, y, NOTHING) for week, y in zip(weeks, NORRIS_Y[order], strict=True)])


FLAT = DriftParameters(mu=1.0, omega=10.0, sigma=0.0, s=RESIDUAL_SD)
"""The prior of the slope is flat: it weighs 2e-9 of what the readings weigh."""


def test_that_norris_has_its_certified_slope_and_standard_deviation() -> None:
    state = run_filter(norris(), FLAT, UNSCREENED).state
    assert state.slope[0] == pytest.approx(B1, abs=1e-10)
    assert np.sqrt(state.var_slope[0]) == pytest.approx(B1_SD, rel=1e-8)


def test_that_norris_has_its_certified_intercept_and_standard_deviation() -> None:
    state = run_filter(norris(), FLAT, UNSCREENED).state
    back = NORRIS_X.max()
    variance = state.var_level - 2 * back * state.cov + back**2 * state.var_slope
    assert (state.level - back * state.slope)[0] == pytest.approx(B0, abs=1e-8)
    assert np.sqrt(variance)[0] == pytest.approx(B0_SD, rel=1e-7)


def test_that_the_innovations_of_norris_add_up_to_its_certified_residuals() -> None:
    run = run_filter(norris(), FLAT, UNSCREENED)
    scaled = run.innovation / run.predicted_sd * RESIDUAL_SD
    assert np.nansum(scaled**2) == pytest.approx(SSE, rel=1e-6)


def test_that_all_smoothed_levels_of_norris_lie_on_its_line() -> None:
    levels = smooth(norris(), FLAT, UNSCREENED).found[0]
    assert levels == pytest.approx(B0 + B1 * np.sort(NORRIS_X), abs=1e-7)


def test_that_a_fit_without_wandering_finds_the_variance_components_of_the_rails() -> None:
    # Every rail is a valve left at 0 and read three times a week later: the slope is the rail's travel, the
    # first level's error adds s² to its variance. Balanced, so the maximum has a closed form.
    rails = panel(*([(0, NOTHING, 0.0), *((1, travel, NOTHING) for travel in rail)] for rail in RAIL))
    fit = fit_pooled(rails, held={"sigma": 0.0}, screen=UNSCREENED)
    found = fit.parameters
    assert found.mu == pytest.approx(66.5, abs=2e-3)
    assert found.s == pytest.approx(np.sqrt(MSW), abs=1e-3)
    between = np.sqrt(found.omega**2 + found.s**2)
    assert between == pytest.approx(np.sqrt((MSB * 5 / 6 - MSW) / 3), abs=1e-3)
    assert fit.standard_errors.mu == pytest.approx(9.2848, abs=1e-3)
    assert fit.log_likelihood == pytest.approx(-64.2800, abs=1e-4)


def test_that_the_rails_are_those_of_the_published_mean_squares() -> None:
    rails = np.array(RAIL, np.float64)
    means = rails.mean(axis=1)
    assert ((rails - means[:, None]) ** 2).sum() / 12 == pytest.approx(MSW, abs=1e-6)
    assert 3 * ((means - rails.mean()) ** 2).sum() / 5 == pytest.approx(MSB, abs=1e-6)

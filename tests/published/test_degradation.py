"""Degradation of 15 lasers against the published estimates (DEG-02 to DEG-05).

Current rise in per cent at 0, 250 ... 4000 h: W. Q. Meeker, L. A. Escobar, Statistical Methods for
Reliability Data (1998), table C.17, two decimals. Failure is a rise of 10 %.
"""

import numpy as np
import pytest
from scipy import stats

from estate.scheduler.drift import DriftParameters, DriftState, run_filter
from estate.scheduler.fit import fit_pooled
from estate.scheduler.panel import Panel
from estate.scheduler.passage import reached
from estate.scheduler.screening import UNSCREENED
from tests.scheduler.histories import NOTHING, panel

RISES = np.fromstring(
    """
    0 .47 .93 2.11 2.72 3.51 4.34 4.91 5.48 5.99 6.72 7.13 8.00 8.92 9.49 9.87 10.94
    0 .71 1.22 1.90 2.30 2.86 3.75 4.42 4.99 5.51 6.07 6.64 7.16 7.78 8.42 8.91 9.28
    0 .71 1.17 1.73 1.99 2.53 2.97 3.30 3.94 4.16 4.45 4.89 5.27 5.69 6.02 6.45 6.88
    0 .36 .62 1.36 1.95 2.30 2.95 3.39 3.79 4.11 4.50 4.72 4.98 5.28 5.62 5.95 6.14
    0 .27 .61 1.11 1.77 2.06 2.58 2.99 3.38 4.05 4.63 5.24 5.62 6.04 6.32 7.10 7.59
    0 .36 1.39 1.95 2.86 3.46 3.81 4.53 5.35 5.92 6.71 7.70 8.61 9.15 9.95 10.49 11.01
    0 .36 .92 1.21 1.46 1.93 2.39 2.68 2.94 3.42 4.09 4.58 4.84 5.11 5.57 6.11 7.17
    0 .46 1.07 1.42 1.77 2.11 2.40 2.78 3.02 3.29 3.75 4.16 4.76 5.16 5.46 5.81 6.24
    0 .51 .93 1.57 1.96 2.59 3.29 3.61 4.11 4.60 4.91 5.34 5.84 6.40 6.84 7.20 7.88
    0 .41 1.49 2.38 3.00 3.84 4.50 5.25 6.26 7.05 7.80 8.32 8.93 9.55 10.45 11.28 12.21
    0 .44 1.00 1.57 1.96 2.51 2.84 3.47 4.01 4.51 4.80 5.20 5.66 6.20 6.54 6.96 7.42
    0 .39 .80 1.35 1.74 2.98 3.59 4.03 4.44 4.79 5.22 5.48 5.96 6.23 6.99 7.37 7.88
    0 .30 .74 1.52 1.85 2.39 2.95 3.51 3.92 5.03 5.47 5.84 6.50 6.94 7.39 7.85 8.09
    0 .44 .70 1.05 1.35 1.80 2.55 2.83 3.39 3.72 4.09 4.83 5.41 5.76 6.14 6.51 6.88
    0 .51 .83 1.29 1.52 1.91 2.27 2.78 3.42 3.78 4.11 4.38 4.63 5.38 5.84 6.16 6.62
    """,
    sep=" ",
).reshape(15, 17)
HOURS = np.arange(17) * 250.0

FAILURE_HOURS = [3702, 4195, 5849, 6172, 5300, 3592, 6052, 6541, 5112, 3307, 5327, 4995, 4718, 5690, 6103]
"""DEG-03: line through all points of each unit, extrapolated; the book's own, less rounding (DEG-02)."""

BOOK_HOURS = [3702, 4194, 5847, 6172, 5301, 3592, 6051, 6538, 5110, 3306, 5326, 4995, 4721, 5689, 6102]


def lasers() -> Panel:
    """Hours in the place of weeks, per cent in the place of °C; the first reading begins the level."""
    return panel(*([(hour, rise, NOTHING) for hour, rise in zip(HOURS, unit, strict=True)] for unit in RISES))


def own_lines() -> DriftState:
    """Each unit for itself: no wandering, and a flat prior of its slope."""
    return run_filter(lasers(), DriftParameters(0.002, 100.0, 0.0, 0.1), UNSCREENED).state


def test_that_each_unit_fails_when_its_own_line_says() -> None:
    state = own_lines()
    hours = 4000 + (10 - state.level) / state.slope
    assert np.round(hours).tolist() == FAILURE_HOURS
    assert hours == pytest.approx(BOOK_HOURS, abs=4)


def test_that_the_lognormal_of_the_failure_times_has_the_published_parameters() -> None:  # DEG-04
    state = own_lines()
    logs = np.log(4000 + (10 - state.level) / state.slope)
    assert logs.mean() == pytest.approx(8.51843, abs=1e-4)
    assert logs.std() == pytest.approx(0.20759, abs=1e-4)


def test_that_the_pooled_wiener_process_has_the_published_parameters() -> None:  # DEG-05
    # The published figures are of the unrounded readings; rounding to 0.01 moves them by 4 in 10,000.
    fit = fit_pooled(lasers(), held={"omega": 0.0, "s": 1e-6}, screen=UNSCREENED)
    assert fit.readings == 240
    assert fit.parameters.mu == pytest.approx(2.03791e-3, rel=5e-4)
    assert fit.parameters.sigma**2 == pytest.approx(1.60267e-4, rel=2e-3)


def test_that_the_pooled_wiener_process_is_that_of_the_increments() -> None:
    fit = fit_pooled(lasers(), held={"omega": 0.0, "s": 1e-6}, screen=UNSCREENED)
    steps = np.diff(RISES, axis=1)
    mu = steps.sum() / (15 * 4000)
    assert fit.parameters.mu == pytest.approx(mu, rel=1e-6)
    assert fit.parameters.sigma**2 == pytest.approx(np.mean((steps - mu * 250) ** 2) / 250, rel=1e-5)


def test_that_the_pooled_wiener_process_reaches_the_limit_by_the_published_law() -> None:  # DEG-05
    new = DriftState(*(np.array([each]) for each in (0.0, 2.03791e-3, 0.0, 0.0, 0.0)))
    mean, shape = 4907.0, 623_958.0
    hours = np.array([3500.0, 4500.0, 4907.0, 6000.0])
    law = stats.invgauss(mu=mean / shape, scale=shape).cdf(hours)
    assert reached(new, np.sqrt(1.60267e-4), 10.0, hours)[0] == pytest.approx(law, abs=1e-4)

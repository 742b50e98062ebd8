"""What the scheduler's mathematics cost, as a ratio against statsmodels on some of the same valves.

Seconds depend on the machine and say nothing here; the ratio is asserted with much to spare.
"""

from collections.abc import Callable
from time import process_time

import numpy as np
import pytest

from estate.scheduler.drift import ParameterColumns, run_filter
from estate.scheduler.groups import fit_groups
from estate.scheduler.passage import longest_horizon, reached
from estate.scheduler.states import parameter_columns
from tests.scheduler.histories import TRUTH, Simulated, simulated
from tests.scheduler.test_drift import rows_of, statsmodels_of

VALVES, SAMPLE, VISITS = 4000, 40, 20


@pytest.fixture(scope="module")
def estate() -> Simulated:
    return simulated(VALVES, VISITS, seed=23)


def cost(work: Callable[[], object], valves: int) -> float:
    """Least processor time a valve of three goes, seconds."""
    times = []
    for _ in range(3):
        began = process_time()
        work()
        times.append(process_time() - began)
    return min(times) / valves


def one_pass_of_statsmodels(estate: Simulated) -> float:
    sample = [rows_of(estate.panel, valve) for valve in range(0, VALVES, VALVES // SAMPLE)]
    return cost(lambda: [statsmodels_of(rows, TRUTH).filter() for rows in sample], SAMPLE)


def whole(estate: Simulated) -> ParameterColumns:
    """Fit the groups, filter, and work out risks and horizons of every valve."""
    names = [(f"M{valve % 8} at S{valve % 3}", f"M{valve % 8}", "estate") for valve in range(VALVES)]
    columns = parameter_columns([each.fit.parameters for each in fit_groups(estate.panel, names)])
    state = run_filter(estate.panel, columns).state
    reached(state, columns.sigma, 43.0, np.array([4.0, 8.0, 13.0, 26.0, 52.0]))
    longest_horizon(state, columns.sigma, 43.0, 0.05, 520.0)
    return columns


def test_that_the_filter_costs_a_small_part_of_one_pass_of_statsmodels(estate: Simulated) -> None:
    ours = cost(lambda: run_filter(estate.panel, TRUTH), VALVES)
    assert ours < one_pass_of_statsmodels(estate) / 20


def test_that_fit_risks_and_horizons_cost_less_than_one_pass_of_statsmodels(estate: Simulated) -> None:
    assert cost(lambda: whole(estate), VALVES) < one_pass_of_statsmodels(estate)


def test_that_twice_the_visits_cost_about_twice_as_much(estate: Simulated) -> None:
    half = simulated(VALVES, VISITS // 2, seed=23).panel
    ratio = cost(lambda: run_filter(estate.panel, TRUTH), 1) / cost(lambda: run_filter(half, TRUTH), 1)
    assert ratio < 4

"""What the scheduler's work costs, as a ratio against statsmodels on some of the same valves.

Seconds depend on the machine and say nothing in a test; only ratios are asserted, with much to spare. To see
seconds of each part for 20,000 valves with 400,000 visits: `python -m tests.benchmarks.test_scheduler_speed`.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from time import perf_counter, process_time

import numpy as np
import pytest

from estate.scheduler.drift import ParameterColumns, run_filter
from estate.scheduler.estimates import Estimates
from estate.scheduler.fitting import fit_estate
from estate.scheduler.groups import fit_groups
from estate.scheduler.lives import Lives
from estate.scheduler.panel import Panel
from estate.scheduler.passage import longest_horizon, reached
from estate.scheduler.planning import windows_of
from estate.scheduler.states import parameter_columns
from tests.scheduler.estates import LargeEstate, large_estate
from tests.scheduler.histories import TRUTH, Simulated, simulated
from tests.scheduler.test_drift import rows_of, statsmodels_of

VALVES, SAMPLE, VISITS = 4000, 40, 20
LARGE = 20_000
TODAY = date(2026, 11, 25)


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


def one_pass_of_statsmodels(panel: Panel) -> float:
    """Processor time a valve of filtering its readings once, with parameters that are known."""
    plain = replace(panel, left=np.where(panel.reset, panel.left, np.nan))
    valves = range(0, len(panel.count), len(panel.count) // SAMPLE)
    sample = [rows_of(plain, valve)[: panel.count[valve]] for valve in valves]
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
    assert ours < one_pass_of_statsmodels(estate.panel) / 20


def test_that_fit_risks_and_horizons_cost_less_than_one_pass_of_statsmodels(estate: Simulated) -> None:
    assert cost(lambda: whole(estate), VALVES) < one_pass_of_statsmodels(estate.panel)


def test_that_all_from_the_rows_to_the_reasons_costs_less_than_one_pass_of_statsmodels() -> None:
    """Rows as a database gives them; fit, risks, windows, and the words of the reason of every valve."""
    large = large_estate(VALVES, VISITS, seed=23)
    assert cost(lambda: Work(large).all(), VALVES) < one_pass_of_statsmodels(large.lives().panel)


def test_that_twice_the_visits_cost_about_twice_as_much(estate: Simulated) -> None:
    half = simulated(VALVES, VISITS // 2, seed=23).panel
    ratio = cost(lambda: run_filter(estate.panel, TRUTH), 1) / cost(lambda: run_filter(half, TRUTH), 1)
    assert ratio < 4


@dataclass
class Work:
    """All that planning an estate takes, part by part; each part leaves what the next ones need."""

    estate: LargeEstate

    def all(self) -> int:
        """Do every part; gives the number of letters in all reasons."""
        for part in (self.lay_out, self.fit, self.drift, self.shut_off, self.regulation, self.plan):
            part()
        return self.say_why()

    def lay_out(self) -> None:
        """Rows of the database to columns, panel and shut-off evidence."""
        self.lives: Lives = self.estate.lives()
        self.lives.panel, self.lives.supplies  # noqa: B018 - worked out when they are looked at

    def fit(self) -> None:
        """Drift and shut-off of every group."""
        limits = [each.residual_ml_min for each in self.estate.asked]
        fits = {each.name: each for each in fit_estate(self.lives, self.estate.names, limits, TODAY)}
        groups = [next(fits[name] for name in each if name in fits) for each in self.estate.names]
        self.estimates = Estimates(self.lives, groups, self.estate.asked)

    def drift(self) -> None:
        """Levels, five risks and the horizon of every valve."""
        self.estimates.chances, self.estimates.drift_weeks  # noqa: B018

    def shut_off(self) -> None:
        """Rates, five shares of time and the interval of every valve."""
        self.estimates.unavailability, self.estimates.mean_rate, self.estimates.shut_off_weeks  # noqa: B018

    def regulation(self) -> None:
        """Whether every valve regulates."""
        self.estimates.regulations  # noqa: B018

    def plan(self) -> None:
        """The last day of every candidate of every valve, and which one binds."""
        self.windows = windows_of(self.lives, self.estate.rules, TODAY, self.estimates)
        self.windows.ends.binding  # noqa: B018

    def say_why(self) -> int:
        """The window of every valve, with both days, code, words and source of the reason that binds."""
        bound = [self.windows.window(row).binding for row in range(len(self.estate.names))]
        reasons = [(each.not_before, each.not_after, each.reason.code, each.reason.source) for each in bound]
        return len(reasons) + sum(len(each.reason.words) for each in bound)


def seconds(work: Callable[[], object]) -> tuple[float, float]:
    """On the clock, and of the processor."""
    began, busy = perf_counter(), process_time()
    work()
    return perf_counter() - began, process_time() - busy


def show(goes: int = 3) -> None:
    """Write the seconds of each part for a large estate, and its ratio to statsmodels: best of some goes."""
    large = large_estate(LARGE, VISITS, seed=23)
    runs = []
    for _ in range(goes):
        work = Work(large)
        parts = (work.lay_out, work.fit, work.drift, work.shut_off, work.regulation, work.plan, work.say_why)
        runs.append({part.__name__.replace("_", " "): seconds(part) for part in parts})
    best = min(runs, key=lambda run: sum(clock for clock, _ in run.values()))
    together = (sum(clock for clock, _ in best.values()), sum(busy for _, busy in best.values()))
    theirs = one_pass_of_statsmodels(work.lives.panel) * LARGE
    rows = [f"{LARGE:,} valves, {len(large.columns.valve_ids):,} visits; seconds, the best of {goes} goes"]
    for name, (clock, busy) in (*best.items(), ("together", together)):
        rows.append(f"  {name:<11}{clock:8.3f} on the clock{busy:8.3f} of the processor")
    rows.append(f"One pass of statsmodels over the same valves, by a sample: {theirs:.1f} of the processor")
    rows.append(f"Ratio: {together[1] / theirs:.4f}")
    sys.stdout.write("\n".join(rows) + "\n")


if __name__ == "__main__":
    show()

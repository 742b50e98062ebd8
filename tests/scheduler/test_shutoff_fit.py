import numpy as np
import pytest

from estate.scheduler.arrays import Floats
from estate.scheduler.life import ValveLife
from estate.scheduler.proof_tests import ShutOffEvidence, evidence_from, evidence_of
from estate.scheduler.shutoff import ShutOffPrior, posterior
from estate.scheduler.shutoff_fit import START, ShutOffFit, fit_shut_off
from estate.scheduler.visit_table import table_in_order

DAYS_APART = 182
SERVICE, LIMIT = 2, 120.0


def simulated(valves: int, truth: ShutOffPrior, tests: int, seed: int) -> ShutOffEvidence:
    """Commissioned on day 0, tested twice a year, mended when found failed."""
    random = np.random.default_rng(seed)
    a_day = random.gamma(truth.a, 1 / truth.b_years, valves) / 365.2425
    fails: Floats = random.exponential(1 / a_day)
    shut: list[Floats] = [np.full(valves, np.nan, np.float64)]
    kinds = [np.zeros(valves, np.int64)]
    days = [np.zeros(valves, np.int64)]
    for test in range(1, tests + 1):
        failed = fails <= test * DAYS_APART
        fails = np.where(failed, test * DAYS_APART + random.exponential(1 / a_day), fails)
        shut += [np.where(failed, 0.0, 1.0), np.where(failed, 1.0, np.nan)]
        kinds += [np.ones(valves, np.int64), np.where(failed, SERVICE, 1)]
        days += [np.full(valves, test * DAYS_APART)] * 2
    rows = np.tile(np.arange(valves), len(days))
    flow = np.where(np.concatenate(shut) == 0, 2 * LIMIT, np.concatenate(shut))
    unsaid = np.full(len(rows), np.nan)
    measured = (unsaid, unsaid, unsaid, unsaid, unsaid, flow, unsaid, unsaid)
    table = table_in_order(rows, valves, np.concatenate(days), np.concatenate(kinds), *measured)
    return evidence_from(table, np.full(valves, LIMIT))


def untested_valves(valves: int) -> ShutOffEvidence:
    return evidence_of([ValveLife(None, ())] * valves, [LIMIT] * valves)


def penalised(fit: ShutOffFit, evidence: ShutOffEvidence, rate_by: float, shape_by: float) -> float:
    """What the fit maximises, away from its peak by two factors."""
    a = fit.prior.a * shape_by
    rate = fit.prior.a / fit.prior.b_years * rate_by
    found = posterior(ShutOffPrior(a, a / rate), evidence.passed_years, evidence.failed_years)
    return float(found.log_evidence.sum() + 0.5 * np.log(rate) - 10 * rate - np.log(a / 2) ** 2 / 2)


@pytest.mark.parametrize("truth", [ShutOffPrior(2, 40), ShutOffPrior(1, 100), ShutOffPrior(8, 40)])
def test_that_simulated_rates_are_recovered_within_their_errors(truth: ShutOffPrior) -> None:
    fit = fit_shut_off(simulated(3000, truth, 12, seed=11))
    off = np.log((fit.prior.a / fit.prior.b_years) / (truth.a / truth.b_years)) / fit.log_rate_error
    assert fit.log_rate_error < 0.1
    assert abs(off) < 2.5
    assert abs(np.log(fit.prior.a / truth.a)) < 2.5 * fit.log_shape_error


@pytest.mark.parametrize(("valves", "tests"), [(1, 1), (3, 4), (40, 6), (800, 12)])
def test_that_no_rates_nearby_are_likelier(valves: int, tests: int) -> None:
    evidence = simulated(valves, ShutOffPrior(2, 8), tests, seed=3)
    fit = fit_shut_off(evidence)
    peak = penalised(fit, evidence, 1, 1)
    for factor in (0.99, 1.01):
        assert penalised(fit, evidence, factor, 1) < peak
        assert penalised(fit, evidence, 1, factor) < peak


def test_that_errors_are_the_curvature_at_the_peak() -> None:
    """Profile of the penalised likelihood by differences, a second way to the standard errors."""
    evidence = simulated(800, ShutOffPrior(2, 20), 12, seed=5)
    fit = fit_shut_off(evidence)
    up, down = np.exp(1e-3), np.exp(-1e-3)

    def at(rate_by: float, shape_by: float) -> float:
        return penalised(fit, evidence, rate_by, shape_by)

    both = (at(up, up) - at(up, down) - at(down, up) + at(down, down)) / 4
    rate, shape = (at(up, 1) - 2 * at(1, 1) + at(down, 1)), (at(1, up) - 2 * at(1, 1) + at(1, down))
    errors = np.sqrt(np.diag(np.linalg.inv(-np.array([[rate, both], [both, shape]]) / 1e-6)))
    assert [fit.log_rate_error, fit.log_shape_error] == pytest.approx(errors, rel=1e-3)


def test_that_a_group_that_never_failed_keeps_a_rate() -> None:
    quiet = ShutOffEvidence(
        np.full(100, 6.0),
        np.full((100, 1), np.nan),
        np.full(100, 12),
        np.full(100, 1.0),
        np.zeros(100, np.bool_),
    )
    fit = fit_shut_off(quiet)
    assert 0.2 / 610 < fit.prior.a / fit.prior.b_years < 1 / 610
    assert (fit.failures, fit.tests, fit.valves) == (0, 1200, 100)


@pytest.mark.parametrize("valves", [0, 3])
def test_that_without_a_test_the_start_stands(valves: int) -> None:
    fit = fit_shut_off(untested_valves(valves))
    assert (fit.prior.a, fit.prior.b_years) == pytest.approx((START.a, START.b_years), rel=1e-9)


def test_that_a_small_group_leans_on_the_wider_one_and_a_big_one_does_not() -> None:
    wider = ShutOffPrior(4.0, 400.0)
    untested = fit_shut_off(untested_valves(3), wider).prior
    assert (untested.a, untested.b_years) == pytest.approx((4.0, 400.0), rel=1e-9)
    evidence = simulated(2000, ShutOffPrior(2, 40), 12, seed=8)
    alone, leaning = fit_shut_off(evidence), fit_shut_off(evidence, wider)
    rates = [each.prior.a / each.prior.b_years for each in (alone, leaning)]
    assert rates[0] == pytest.approx(rates[1], rel=0.02)


def test_that_a_lemon_among_good_valves_is_told_apart() -> None:
    """Nine valves never failed; one fails every half year: its own rate is far above the group's."""
    passed = np.full(10, 6.0)
    passed[0] = 0.0
    failed = np.full((10, 12), np.nan)
    failed[0] = 0.5
    evidence = ShutOffEvidence(passed, failed, np.full(10, 12), np.full(10, 1.0), np.zeros(10, np.bool_))
    fit = fit_shut_off(evidence)
    rates = posterior(fit.prior, passed, failed)
    own = rates.mean(rates.rate)
    assert own[0] > 20 * own[1]


def test_that_the_same_tests_give_the_same_fit() -> None:
    evidence = simulated(200, ShutOffPrior(2, 40), 12, seed=2)
    assert fit_shut_off(evidence) == fit_shut_off(evidence)

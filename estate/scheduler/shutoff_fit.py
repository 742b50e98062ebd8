"""The failure rates of a group, from the tests of all its valves."""

from dataclasses import dataclass

import numpy as np
from scipy.special import digamma, polygamma

from estate.scheduler.arrays import Flags, Floats
from estate.scheduler.proof_tests import ShutOffEvidence
from estate.scheduler.shutoff import ShutOffPrior, posterior

VERSION = 1
"""Raised when the same tests would give another fit."""
START = ShutOffPrior(2.0, 40.0)
"""A group without a test: 0.05 failures a year. Own default: no field rate is published (PH-11)."""
_ADDED_FAILURES = 0.5
_SPREAD_LOG_SHAPE = 1.0
_LOG_BOUNDS = (np.log([1e-5, 0.1]), np.log([50.0, 100.0]))
_NEAR, _LEAST_CURVATURE, _MOST_STEPS = 1e-7, 1e-3, 60


@dataclass(frozen=True, slots=True)
class ShutOffFit:
    """The fitted failure rates of one group.

    Attributes:
        prior: the fit.
        log_rate_error: standard error of the logarithm of the mean rate a/b.
        log_shape_error: standard error of the logarithm of the shape a.
        log_evidence: logarithm of the probability of all results.
        valves, tests, failures: what it rests on.
        version: of the method.
    """

    prior: ShutOffPrior
    log_rate_error: float
    log_shape_error: float
    log_evidence: float
    valves: int
    tests: int
    failures: int
    version: int = VERSION


@dataclass(frozen=True, slots=True)
class _Slopes:
    """First (2,) and second (2, 2) derivative of the penalised log-likelihood by ln(a/b) and ln a."""

    first: Floats
    second: Floats


def fit_shut_off(evidence: ShutOffEvidence, wider: ShutOffPrior = START) -> ShutOffFit:
    """Fit a and b to a group by the pooled marginal likelihood of its tests.

    Half a failure at the wider group's rate is added, so that a group that has never failed keeps a rate
    (half a failure is Jeffreys' choice for a Poisson rate); ln a is held near the wider group's with
    standard deviation 1, because a few failures say little of how valves differ. Newton's method in
    ln(a/b) and ln a, with exact first and second derivatives (Fisher's and Louis's identities);
    deterministic.

    Args:
        evidence: of the group's valves.
        wider: fit of the next wider group; for the estate what is assumed of any.
    """
    at = np.log([wider.a / wider.b_years, wider.a])
    slopes = _slopes(at, evidence, wider)
    step, steps_left = np.ones(2), _MOST_STEPS
    while steps_left and np.max(np.abs(step)) >= _NEAR:
        step, slopes = _step_from(at, slopes, evidence, wider)
        at, steps_left = at + step, steps_left - 1
    errors = np.sqrt(np.diag(np.linalg.inv(_positive(-slopes.second))))
    prior = _prior(at)
    return ShutOffFit(
        prior,
        float(errors[0]),
        float(errors[1]),
        _log_evidence(prior, evidence),
        len(evidence.tests),
        int(evidence.tests.sum()),
        int(np.count_nonzero(~np.isnan(evidence.failed_years))),
    )


def _prior(at: Floats) -> ShutOffPrior:
    return ShutOffPrior(float(np.exp(at[1])), float(np.exp(at[1] - at[0])))


def _step_from(
    at: Floats, slopes: _Slopes, evidence: ShutOffEvidence, wider: ShutOffPrior
) -> tuple[Floats, _Slopes]:
    """Newton's step, at most a unit in either logarithm, halved while it leads far beyond the peak."""
    step = np.asarray(np.linalg.solve(_positive(-slopes.second), slopes.first), np.float64)
    step = step / max(1.0, float(np.max(np.abs(step))))
    step = np.clip(at + step, *_LOG_BOUNDS) - at
    there = _slopes(at + step, evidence, wider)
    while np.max(np.abs(step)) >= _NEAR and there.first @ step < -0.5 * (slopes.first @ step):
        step = step / 2
        there = _slopes(at + step, evidence, wider)
    return step, there


def _positive(curvature: Floats) -> Floats:
    """The same with positive eigenvalues, so that a step far from the peak still leads uphill."""
    values, vectors = np.linalg.eigh(curvature)
    return np.asarray((vectors * np.maximum(np.abs(values), _LEAST_CURVATURE)) @ vectors.T, np.float64)


def _slopes(at: Floats, evidence: ShutOffEvidence, wider: ShutOffPrior) -> _Slopes:
    prior = _prior(at)
    a, b = prior.a, prior.b_years
    means, spread = _moments(prior, evidence)
    valves = len(evidence.tests)
    by = means - valves * np.array([digamma(a) - np.log(b), -a / b])
    twice = spread - valves * np.array([[polygamma(1, a), -1 / b], [-1 / b, a / b**2]])
    turn = np.array([[0.0, a], [-b, b]])
    first = turn.T @ by
    second = turn.T @ twice @ turn + by[1] * b * np.array([[1, -1], [-1, 1]]) + by[0] * a * np.diag([0, 1])
    added = _ADDED_FAILURES * (a / b) / (wider.a / wider.b_years)
    held = np.array([_ADDED_FAILURES - added, (np.log(wider.a) - at[1]) / _SPREAD_LOG_SHAPE**2])
    return _Slopes(first + held, second - np.diag([added, 1 / _SPREAD_LOG_SHAPE**2]))


def _failing(evidence: ShutOffEvidence) -> Flags:
    """Valves with a failed test; of the others everything is known in closed form."""
    return np.asarray(~np.isnan(evidence.failed_years).all(axis=1))


def _log_evidence(prior: ShutOffPrior, evidence: ShutOffEvidence) -> float:
    failing = _failing(evidence)
    found = posterior(prior, evidence.passed_years[failing], evidence.failed_years[failing])
    closed = -prior.a * np.log1p(evidence.passed_years[~failing] / prior.b_years)
    return float(found.log_evidence.sum() + closed.sum())


def _moments(prior: ShutOffPrior, evidence: ShutOffEvidence) -> tuple[Floats, Floats]:
    """Posterior means (2,) and covariances (2, 2) of ln λ and −λ, added over the valves."""
    failing, passed = _failing(evidence), evidence.passed_years
    found = posterior(prior, passed[failing], evidence.failed_years[failing])
    values = np.stack((np.log(found.rate), -found.rate))
    means = np.einsum("nk,cnk->cn", found.weight, values)
    spread = np.einsum("nk,cnk,dnk->cd", found.weight, values, values, optimize=True) - means @ means.T
    one = 1 / (prior.b_years + passed[~failing])
    closed = np.array([np.sum(digamma(prior.a) + np.log(one)), -np.sum(prior.a * one)])
    cross, rates = -one.sum(), prior.a * np.sum(one**2)
    closed_spread = np.array([[polygamma(1, prior.a) * len(one), cross], [cross, rates]])
    return means.sum(axis=1) + closed, spread + closed_spread

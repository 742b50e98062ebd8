"""From readings and fitted groups to what is known of each valve: drift, shut-off, regulation."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from estate.domain.learned import (
    DriftEstimate,
    GroupParameters,
    Learned,
    RegulationEstimate,
    ShutOffEstimate,
)
from estate.domain.visits import VisitDraft
from estate.scheduler.arrays import Flags, Floats
from estate.scheduler.drift import run_filter
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import Panel, panel_of
from estate.scheduler.passage import longest_horizon, reached
from estate.scheduler.proof_tests import evidence_of
from estate.scheduler.regulation import regulation, supplies_of
from estate.scheduler.shutoff import (
    WEEKS_PER_YEAR,
    PriorColumns,
    average_unavailability,
    longest_interval,
    mean_rate,
    posterior,
)
from estate.scheduler.states import DriftParameters, parameter_columns, predictive_interval

HORIZONS = (4, 8, 13, 26, 52)
"""Weeks for which chances are told."""
LONGEST_WEEKS = 520.0
"""No horizon is told beyond ten years: no register has shown one."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What has to be known of a valve.

    Attributes:
        ceiling_c: its ceiling, °C; None where there is none.
        accepted_risk: chance accepted of reaching it before the next test.
        accepted_share: share of time accepted without a working shut-off.
        residual_ml_min: flow accepted with a supply isolated.
    """

    ceiling_c: float | None = None
    accepted_risk: float | None = None
    accepted_share: float | None = None
    residual_ml_min: float | None = None


def group_names(model: str, site: str) -> tuple[str, ...]:
    """The groups of a valve, narrowest first: its model at the site's water, its model, all (INT-11)."""
    return (f"{model} at {site}", model, "the whole estate")


def learn(
    lives: Sequence[ValveLife], groups: Sequence[GroupParameters], asked: Sequence[Asked]
) -> list[Learned]:
    """Work out what is known of n valves after their last visits.

    Args:
        lives: their visits.
        groups: the fitted group that each is taken from.
        asked: limits and accepted risks of each.

    Returns:
        One for each valve, in order; parts of which nothing can be said are None.
    """
    if not lives:
        return []
    panel = panel_of(lives)
    drifts = _drifts(lives, panel, groups, asked)
    shut_offs = _shut_offs(lives, groups, asked)
    regulations = _regulations(lives, panel, groups)
    return [Learned(*each) for each in zip(groups, drifts, shut_offs, regulations, strict=True)]


def _drifts(
    lives: Sequence[ValveLife], panel: Panel, groups: Sequence[GroupParameters], asked: Sequence[Asked]
) -> list[DriftEstimate | None]:
    columns = parameter_columns([DriftParameters(each.mu, each.omega, each.sigma, each.s) for each in groups])
    state = run_filter(panel, columns).state
    ever_read: Flags = np.asarray((np.isfinite(panel.found) | np.isfinite(panel.left)).any(axis=1))
    ceiling = _column([each.ceiling_c for each in asked], np.inf)
    accepted = _column([each.accepted_risk for each in asked], 1.0)
    known = np.isfinite(ceiling)
    chances = np.full((len(lives), len(HORIZONS)), np.nan)
    horizon = np.full(len(lives), np.nan)
    if known.any():
        some = type(state)(*(getattr(state, name)[known] for name in state.__slots__))
        sigma = columns.sigma[known]
        weeks = np.array(HORIZONS, np.float64)
        chances[known] = reached(some, sigma, ceiling[known], weeks)
        horizon[known] = longest_horizon(some, sigma, ceiling[known], accepted[known], LONGEST_WEEKS)
    return [
        DriftEstimate(
            at=life.last.on,
            level_c=float(state.level[row]),
            level_sd_k=float(np.sqrt(state.var_level[row])),
            drift_k_per_week=float(state.slope[row]),
            drift_sd=float(np.sqrt(state.var_slope[row])),
            covariance=float(state.cov[row]),
            risk=_pairs(chances[row]) if known[row] else (),
            horizon_weeks=float(horizon[row]) if known[row] else None,
            accepted_risk=asked[row].accepted_risk,
        )
        if life.last is not None and ever_read[row]
        else None
        for row, life in enumerate(lives)
    ]


def _shut_offs(
    lives: Sequence[ValveLife], groups: Sequence[GroupParameters], asked: Sequence[Asked]
) -> list[ShutOffEstimate | None]:
    evidence = evidence_of(lives, [each.residual_ml_min for each in asked])
    prior = PriorColumns(np.array([each.a for each in groups]), np.array([each.b_years for each in groups]))
    rates = posterior(prior, evidence.passed_years, evidence.failed_years)
    accepted = _column([each.accepted_share for each in asked], 0.999)
    longest = longest_interval(rates, accepted, LONGEST_WEEKS / WEEKS_PER_YEAR) * WEEKS_PER_YEAR
    shares = np.stack([average_unavailability(rates, weeks / WEEKS_PER_YEAR) for weeks in HORIZONS], axis=1)
    mean = mean_rate(rates)
    failures = (~np.isnan(evidence.failed_years)).sum(axis=1)
    return [
        ShutOffEstimate(
            passed_years=float(evidence.passed_years[row]),
            failures=int(failures[row]),
            rate_per_year=float(mean[row]),
            unavailability=_pairs(shares[row]),
            horizon_weeks=None if asked[row].accepted_share is None else float(longest[row]),
            accepted_share=asked[row].accepted_share,
        )
        if life.last is not None
        else None
        for row, life in enumerate(lives)
    ]


def _regulations(
    lives: Sequence[ValveLife], panel: Panel, groups: Sequence[GroupParameters]
) -> list[RegulationEstimate | None]:
    hot, cold = supplies_of(lives, panel)
    found = regulation(panel, hot, cold, np.array([each.s for each in groups]))
    return [
        RegulationEstimate(
            float(found.index[row]), float(found.low[row]), float(found.high[row]), int(found.readings[row])
        )
        if np.isfinite(found.index[row])
        else None
        for row in range(len(lives))
    ]


def _unread(visit: VisitDraft) -> bool:
    return visit.readings.found_c is None and visit.readings.left_c is None


def _column(values: Sequence[float | None], missing: float) -> Floats:
    return np.array([missing if each is None else each for each in values], np.float64)


def _pairs(values: Floats) -> tuple[tuple[int, float], ...]:
    return tuple((weeks, float(value)) for weeks, value in zip(HORIZONS, values, strict=True))


def expected_reading(life: ValveLife, group: GroupParameters, on: date) -> tuple[float, float] | None:
    """Interval, °C, in which 99.9 % of as-found readings of a day are expected; None without a level."""
    if life.last is None or on < life.last.on or all(_unread(each) for each in life.visits):
        return None
    drift = DriftParameters(group.mu, group.omega, group.sigma, group.s)
    state = run_filter(panel_of([life]), drift).state
    low, high = predictive_interval(state, drift, (on - life.last.on).days / 7)
    return float(low[0]), float(high[0])

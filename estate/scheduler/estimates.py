"""What is known of many valves after their last visits, as columns; each worked out when it is asked for."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from estate.domain.learned import (
    DriftEstimate,
    GroupParameters,
    Learned,
    RegulationEstimate,
    ShutOffEstimate,
)
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.drift import last_state
from estate.scheduler.lives import Lives
from estate.scheduler.passage import longest_horizon, reached
from estate.scheduler.proof_tests import ShutOffEvidence, evidence_from
from estate.scheduler.regulation import Regulation, regulation
from estate.scheduler.shutoff import (
    WEEKS_PER_YEAR,
    PriorColumns,
    RatePosterior,
    average_unavailability,
    longest_interval,
    mean_rate,
    posterior,
)
from estate.scheduler.states import DriftState, ParameterColumns

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


@dataclass(frozen=True)
class Estimates:
    """Drift, shut-off and regulation of n valves.

    Attributes:
        lives: their visits.
        groups: the fitted group that each is taken from.
        asked: limits and accepted risks of each.
    """

    lives: Lives
    groups: Sequence[GroupParameters]
    asked: Sequence[Asked]

    @cached_property
    def parameters(self) -> ParameterColumns:
        """Drift parameters of their groups."""
        return ParameterColumns(*self._of_groups("mu", "omega", "sigma", "s"))

    @cached_property
    def state(self) -> DriftState:
        """Level and drift after the last visit."""
        return last_state(self.lives.steps, self.parameters)

    @cached_property
    def level_known(self) -> Flags:
        """(n,) whether a temperature was ever read."""
        panel = self.lives.panel
        read = np.asarray((np.isfinite(panel.found) | np.isfinite(panel.left)).any(axis=1))
        return read & self.lives.visited

    @cached_property
    def ceiling(self) -> Floats:
        """(n,) °C; infinite where there is none."""
        return _column([each.ceiling_c for each in self.asked], np.inf)

    @cached_property
    def chances(self) -> Floats:
        """(n, 5) chance to reach the ceiling within each of `HORIZONS`; NaN without a ceiling."""
        known = np.isfinite(self.ceiling)
        found = np.full((len(known), len(HORIZONS)), np.nan)
        weeks = np.array(HORIZONS, np.float64)
        found[known] = reached(
            of_some(self.state, known), self.parameters.sigma[known], self.ceiling[known], weeks
        )
        return found

    @cached_property
    def horizon_weeks(self) -> Floats:
        """(n,) longest time within the accepted risk; NaN without a ceiling."""
        known = np.isfinite(self.ceiling)
        accepted = _column([each.accepted_risk for each in self.asked], 1.0)[known]
        found = np.full(len(known), np.nan)
        state, sigma = of_some(self.state, known), self.parameters.sigma[known]
        found[known] = longest_horizon(state, sigma, self.ceiling[known], accepted, LONGEST_WEEKS)
        return found

    @cached_property
    def drift_weeks(self) -> Floats:
        """(n,) the same; NaN too where nothing was read or no risk is accepted."""
        accepted = _column([each.accepted_risk for each in self.asked], np.nan)
        return np.where(self.level_known & ~np.isnan(accepted), self.horizon_weeks, np.nan)

    @cached_property
    def evidence(self) -> ShutOffEvidence:
        """What the tests of the shut-off prove."""
        limits = np.array([each.residual_ml_min for each in self.asked], np.float64)
        return evidence_from(self.lives.table, limits)

    @cached_property
    def failures(self) -> Whole:
        """(n,) tests that found the shut-off failed."""
        return np.asarray((~np.isnan(self.evidence.failed_years)).sum(axis=1), np.int64)

    @cached_property
    def rates(self) -> RatePosterior:
        """Failure rates of the shut-offs."""
        prior = PriorColumns(*self._of_groups("a", "b_years"))
        return posterior(prior, self.evidence.passed_years, self.evidence.failed_years)

    @cached_property
    def mean_rate(self) -> Floats:
        """(n,) failures a year."""
        return mean_rate(self.rates)

    @cached_property
    def unavailability(self) -> Floats:
        """(n, 5) share of time without a working shut-off if tested every so many weeks of `HORIZONS`."""
        shares = [average_unavailability(self.rates, weeks / WEEKS_PER_YEAR) for weeks in HORIZONS]
        return np.stack(shares, axis=1)

    @cached_property
    def interval_weeks(self) -> Floats:
        """(n,) longest interval within the accepted share; any where none is accepted."""
        accepted = _column([each.accepted_share for each in self.asked], 0.999)
        return longest_interval(self.rates, accepted, LONGEST_WEEKS / WEEKS_PER_YEAR) * WEEKS_PER_YEAR

    @cached_property
    def shut_off_weeks(self) -> Floats:
        """(n,) the same; NaN where no share is accepted or the valve was never visited."""
        accepted = _column([each.accepted_share for each in self.asked], np.nan)
        return np.where(self.lives.visited & ~np.isnan(accepted), self.interval_weeks, np.nan)

    @cached_property
    def regulations(self) -> Regulation:
        """Whether the elements regulate."""
        return regulation(self.lives.panel, *self.lives.supplies, self.parameters.s)

    def learned(self, row: int) -> Learned:
        """All of it for one valve."""
        drift = self.drift(row, _pairs(self.chances[row]) if np.isfinite(self.ceiling[row]) else ())
        shut_off = self.shut_off(row, _pairs(self.unavailability[row]))
        return Learned(self.groups[row], drift, shut_off, self.regulation(row))

    def drift(self, row: int, risk: tuple[tuple[int, float], ...] = ()) -> DriftEstimate | None:
        """Level and drift of one valve; its chances are left out unless they are given."""
        if not self.level_known[row]:
            return None
        state, horizon = self.state, float(self.horizon_weeks[row])
        return DriftEstimate(
            at=self.lives.last_on(row),
            level_c=float(state.level[row]),
            level_sd_k=float(np.sqrt(state.var_level[row])),
            drift_k_per_week=float(state.slope[row]),
            drift_sd=float(np.sqrt(state.var_slope[row])),
            covariance=float(state.cov[row]),
            risk=risk,
            horizon_weeks=None if np.isnan(horizon) else horizon,
            accepted_risk=self.asked[row].accepted_risk,
        )

    def shut_off(
        self, row: int, unavailability: tuple[tuple[int, float], ...] = ()
    ) -> ShutOffEstimate | None:
        """Shut-off of one valve; its shares of time are left out unless they are given."""
        if not self.lives.visited[row]:
            return None
        accepted = self.asked[row].accepted_share
        return ShutOffEstimate(
            passed_years=float(self.evidence.passed_years[row]),
            failures=int(self.failures[row]),
            rate_per_year=float(self.mean_rate[row]),
            unavailability=unavailability,
            horizon_weeks=None if accepted is None else float(self.interval_weeks[row]),
            accepted_share=accepted,
        )

    def regulation(self, row: int) -> RegulationEstimate | None:
        """Whether one valve regulates; None where its readings can't say."""
        found = self.regulations
        if not np.isfinite(found.index[row]):
            return None
        ends = float(found.index[row]), float(found.low[row]), float(found.high[row])
        return RegulationEstimate(*ends, int(found.readings[row]))

    def _of_groups(self, *names: str) -> Floats:
        """A row for each name, (k, n)."""
        kinds = {id(each): each for each in self.groups}
        places = {kind: place for place, kind in enumerate(kinds)}
        table = np.array([[getattr(each, name) for each in kinds.values()] for name in names], np.float64)
        place = np.fromiter((places[id(each)] for each in self.groups), np.int64, len(self.groups))
        columns: Floats = table[:, place]
        return columns


def of_some(state: DriftState, chosen: Flags) -> DriftState:
    """The state of some of the valves."""
    return DriftState(
        state.level[chosen],
        state.slope[chosen],
        state.var_level[chosen],
        state.cov[chosen],
        state.var_slope[chosen],
    )


def _column(values: Sequence[float | None], missing: float) -> Floats:
    return np.array([missing if each is None else each for each in values], np.float64)


def _pairs(values: Floats) -> tuple[tuple[int, float], ...]:
    return tuple((weeks, float(value)) for weeks, value in zip(HORIZONS, values, strict=True))

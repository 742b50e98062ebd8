"""Interval policies to compare: when to test a valve again, from its record alone."""

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from estate.scheduler.arrays import Floats
from estate.scheduler.drift import run_filter
from estate.scheduler.fit import ASSUMED, Prior, fit_pooled
from estate.scheduler.ladders import simple_response, staircase
from estate.scheduler.panel import Panel
from estate.scheduler.passage import longest_horizon
from estate.scheduler.staging import staged_weeks
from estate.scheduler.states import DriftParameters, DriftState

FLOOR_WEEKS, LONGEST_WEEKS = 4.0, 52.0
LARGE_CHANGE_K = 2.0


class Policy(Protocol):
    """A rule for intervals."""

    @property
    def name(self) -> str:
        """The policy in words."""

    def learned(self, panel: Panel) -> "Policy":
        """The same policy after it has looked at the whole estate's records."""

    def weeks_to_next(self, panel: Panel) -> Floats:
        """Weeks (n,) from the last visit of each valve to the next, from their records."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """The same interval for every valve."""

    weeks: float

    @property
    def name(self) -> str:
        """The policy in words."""
        return f"every {self.weeks:g} weeks"

    def learned(self, panel: Panel) -> "Fixed":
        """Nothing is learned."""
        return self

    def weeks_to_next(self, panel: Panel) -> Floats:
        """The interval."""
        return np.full(len(panel.count), self.weeks)


@dataclass(frozen=True, slots=True)
class Stages:
    """The published stages after commissioning and service, then the interval shown (D08-80..86).

    Attributes:
        growth: factor by which an interval may pass what tests have shown.
    """

    growth: float = 1.0

    @property
    def name(self) -> str:
        """The policy in words."""
        return f"published stages, then shown × {self.growth:g}"

    def learned(self, panel: Panel) -> "Stages":
        """Nothing is learned."""
        return self

    def weeks_to_next(self, panel: Panel) -> Floats:
        """The end of the window."""
        return np.clip(staged_weeks(panel, self.growth), 1.0, LONGEST_WEEKS)


@dataclass(frozen=True, slots=True)
class Staircase:
    """Method 1 of ILAC-G24 (INT-02); the maximum permissible error is the way from setting to ceiling.

    Attributes:
        set_c, permissible_k: set temperature, °C, and maximum permissible error, K.
        start: first interval, weeks.
        up, down: factors; left open by the publication, chosen here.
    """

    set_c: float = 41.0
    permissible_k: float = 2.0
    start: float = 26.0
    up: float = 1.25
    down: float = 0.5

    @property
    def name(self) -> str:
        """The policy in words."""
        return f"ILAC-G24 staircase × {self.up:g} / × {self.down:g}"

    def learned(self, panel: Panel) -> "Staircase":
        """Nothing is learned."""
        return self

    def weeks_to_next(self, panel: Panel) -> Floats:
        """Every step since commissioning, again."""
        interval = np.full(len(panel.count), self.start)
        for found in panel.found.T:
            interval = staircase(interval, found - self.set_c, self.permissible_k, self.up, self.down)
            interval = np.clip(interval, FLOOR_WEEKS, LONGEST_WEEKS)
        return interval


@dataclass(frozen=True, slots=True)
class SimpleResponse:
    """Method A1 of NCSLI RP-1 (INT-07), in tolerance up to the ceiling.

    Attributes:
        set_c, tolerance_k: set temperature, °C, and tolerance, K.
        start: first interval, weeks.
        a, target: growth and the reliability aimed at.
    """

    set_c: float = 41.0
    tolerance_k: float = 2.0
    start: float = 26.0
    a: float = 0.10
    target: float = 0.95

    @property
    def name(self) -> str:
        """The policy in words."""
        return f"NCSLI A1, a {self.a:g}, reliability {self.target:.0%}"

    def learned(self, panel: Panel) -> "SimpleResponse":
        """Nothing is learned."""
        return self

    def weeks_to_next(self, panel: Panel) -> Floats:
        """Every response since commissioning, again."""
        interval = np.full(len(panel.count), self.start)
        for found in panel.found.T:
            inside = np.abs(found - self.set_c) <= self.tolerance_k
            stepped = simple_response(interval, inside, self.a, self.target)
            interval = np.where(np.isnan(found), interval, np.clip(stepped, FLOOR_WEEKS, LONGEST_WEEKS))
        return interval


@dataclass(frozen=True, slots=True)
class DriftRisk:
    """The longest time within an accepted chance of reaching the ceiling, and within a small change.

    Attributes:
        risk: chance accepted between two tests.
        ceiling_c: °C.
        parameters: of the estate; at first what is assumed of any, then fitted to its records.
        floor, longest: of an interval, weeks.
        growth: None, or the stages come first and an interval passes what tests have shown by no more
            than this factor, as the register plans.
    """

    risk: float = 0.05
    ceiling_c: float = 43.0
    parameters: DriftParameters = ASSUMED
    floor: float = FLOOR_WEEKS
    longest: float = LONGEST_WEEKS
    growth: float | None = None

    @property
    def name(self) -> str:
        """The policy in words."""
        staged = "" if self.growth is None else f", stages first, shown × {self.growth:g}"
        return f"drift within a risk of {self.risk:.1%}{staged}"

    def learned(self, panel: Panel) -> "DriftRisk":
        """Fit the parameters to the estate's records."""
        return replace(self, parameters=fit_pooled(panel, Prior(ASSUMED)).parameters)

    def weeks_to_next(self, panel: Panel) -> Floats:
        """The earliest of what drift, change and, if they come first, the stages allow."""
        state = run_filter(panel, self.parameters).state
        within = longest_horizon(state, self.parameters.sigma, self.ceiling_c, self.risk, self.longest)
        weeks = np.clip(np.minimum(within, small_change_weeks(state)), self.floor, self.longest)
        if self.growth is None:
            return weeks
        return np.clip(staged_weeks(panel, self.growth), 1.0, weeks)


def small_change_weeks(state: DriftState, large_k: float = LARGE_CHANGE_K) -> Floats:
    """Weeks until the expected change passes a small one (D08-86), (n,).

    Args:
        state: n valves after their last visit.
        large_k: end of a small change, K.
    """
    return np.asarray(large_k / np.maximum(np.abs(state.slope), 1e-9), np.float64)

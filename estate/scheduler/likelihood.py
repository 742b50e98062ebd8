"""The pooled likelihood of a group's readings, with its slope and its curvature in the parameters.

Derivatives go forward through the filter's recursion beside the states; the curvature is the expected
one, which needs first derivatives only. Sources: F. C. Schweppe (1965), likelihood from innovations;
R. F. Engle, M. W. Watson (1981), scoring through the recursion.
"""

from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.screening import Treatment
from estate.scheduler.steps import Steps
from estate.scheduler.track import LOG_2_PI, Trail

MU, DRIFT, WANDER, NOISE = range(4)
"""Places of μ, ω², σ², s² in a vector of figures: variances, so that nothing is odd at zero."""

AT_ONCE = 2048
"""Valves worked on at once, so that they stay in the processor's cache."""


@dataclass(frozen=True, slots=True)
class Course:
    """What the likelihood needs of n valves over m visits once every reading has been treated; (m, n).

    Attributes:
        active: (m,) valves that have a visit of that number, the first columns.
        elapsed: weeks since the visit before.
        reading: readings used, °C, else NaN.
        begins: temperature at which a level began, °C, else NaN.
    """

    active: Whole
    elapsed: Floats
    reading: Floats
    begins: Floats


def course_of(steps: Steps, run: Trail) -> Course:
    """The course that a run of the filter took."""
    reading = np.where(run.treatment == Treatment.USED, steps.found, np.nan)
    return Course(steps.active, steps.elapsed, reading, run.begins)


@dataclass(frozen=True, slots=True)
class Likelihood:
    """Log-likelihood with its gradient (4,) and expected information (4, 4) in μ, ω², σ², s²."""

    value: float
    gradient: Floats
    information: Floats

    def plus(self, other: "Likelihood") -> "Likelihood":
        """Of both together."""
        return Likelihood(
            self.value + other.value,
            self.gradient + other.gradient,
            self.information + other.information,
        )


def likelihood(course: Course, figures: Floats) -> Likelihood:
    """Likelihood of a course.

    Args:
        course: n valves, m visits.
        figures: (4,) μ in K/week, ω² in (K/week)², σ² in K²/week, s² in K², the last above 0.
    """
    total = Likelihood(0.0, np.zeros(4), np.zeros((4, 4)))
    for first in range(0, course.elapsed.shape[1], AT_ONCE):
        part = slice(first, first + AT_ONCE)
        active = np.clip(course.active - first, 0, AT_ONCE)
        some = Course(active, course.elapsed[:, part], course.reading[:, part], course.begins[:, part])
        total = total.plus(_of_some(some, figures))
    return total


class _Rates:
    """States of the valves and their rates of change with the four figures."""

    def __init__(self, valves: int, figures: Floats) -> None:
        self.noise, self.wander = figures[NOISE], figures[WANDER]
        self.level, self.slope = np.zeros(valves), np.full(valves, figures[MU])
        self.p11, self.p12, self.p22 = np.zeros(valves), np.zeros(valves), np.full(valves, figures[DRIFT])
        self.d_level, self.d_slope, self.d11, self.d12, self.d22 = np.zeros((5, 4, valves))
        self.d_slope[MU], self.d22[DRIFT] = 1.0, 1.0

    def cut(self, valves: int) -> None:
        """Keep the first valves only: the others have no visit left."""
        for name, values in vars(self).items():
            if isinstance(values, np.ndarray):
                setattr(self, name, values[..., :valves])

    def advance(self, elapsed: Floats) -> None:
        self.level += elapsed * self.slope
        self.p11 += elapsed * (2 * self.p12 + elapsed * self.p22 + self.wander)
        self.p12 += elapsed * self.p22
        self.d_level += elapsed * self.d_slope
        self.d11 += elapsed * (2 * self.d12 + elapsed * self.d22)
        self.d11[WANDER] += elapsed
        self.d12 += elapsed * self.d22

    def use(self, reading: Floats) -> Likelihood:
        """Learn from the readings, and say how likely they were."""
        used = ~np.isnan(reading)
        variance = self.p11 + self.noise
        scale, miss = np.where(used, 1 / variance, 0.0), np.where(used, reading - self.level, 0.0)
        d_variance = self.d11.copy()
        d_variance[NOISE] += 1.0
        said = self._said(used, variance, scale, miss, d_variance)
        gain_level, gain_slope = self.p11 * scale, self.p12 * scale
        dg_level = (self.d11 - gain_level * d_variance) * scale
        dg_slope = (self.d12 - gain_slope * d_variance) * scale
        self.level += gain_level * miss
        self.slope += gain_slope * miss
        self.d_slope += dg_slope * miss - gain_slope * self.d_level
        self.d_level += dg_level * miss - gain_level * self.d_level
        self.d22 -= dg_slope * self.p12 + gain_slope * self.d12
        self.p22 -= gain_slope * self.p12
        kept = 1 - gain_level
        self.d12 = self.d12 * kept - dg_level * self.p12
        self.d11 = self.d11 * kept - dg_level * self.p11
        self.p12 *= kept
        self.p11 *= kept
        return said

    def _said(
        self, used: Flags, variance: Floats, scale: Floats, miss: Floats, d_variance: Floats
    ) -> Likelihood:
        density = np.where(used, np.log(variance), 0.0) + miss**2 * scale
        relative, moved = d_variance * scale, self.d_level * np.sqrt(scale)
        gradient = relative @ (miss**2 * scale - 1) / 2 + self.d_level @ (miss * scale)
        information = relative @ relative.T / 2 + moved @ moved.T
        value = -(density.sum() + used.sum() * LOG_2_PI) / 2
        return Likelihood(float(value), gradient, information)

    def begin(self, begins: Floats) -> None:
        new = ~np.isnan(begins)
        np.copyto(self.level, begins, where=new)
        np.copyto(self.p11, self.noise, where=new)
        for values in (self.p12, self.d_level, self.d11, self.d12):
            np.copyto(values, 0.0, where=new)
        self.d11[NOISE, new] = 1.0


def _of_some(course: Course, figures: Floats) -> Likelihood:
    total = Likelihood(0.0, np.zeros(4), np.zeros((4, 4)))
    rates = _Rates(course.elapsed.shape[1], figures)
    for visit, active in enumerate(course.active):
        if not active:
            break
        rates.cut(active)
        rates.advance(course.elapsed[visit, :active])
        total = total.plus(rates.use(course.reading[visit, :active]))
        rates.begin(course.begins[visit, :active])
    return total

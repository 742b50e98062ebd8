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
        group: (n,) number of the valve's group.
        active: (m,) valves that have a visit of that number, the first columns.
        elapsed: weeks since the visit before.
        reading: readings used, °C, else NaN.
        begins: temperature at which a level began, °C, else NaN.
    """

    group: Whole
    active: Whole
    elapsed: Floats
    reading: Floats
    begins: Floats

    def columns(self, chosen: Flags | slice) -> "Course":
        """The course of some of the valves."""
        among = np.zeros(len(self.group) + 1, np.int64)
        among[1:][chosen] = 1
        counts = np.cumsum(among)
        here = (slice(None), chosen)
        return Course(
            self.group[chosen],
            counts[self.active],
            self.elapsed[here],
            self.reading[here],
            self.begins[here],
        )


def course_of(steps: Steps, run: Trail, group: Whole) -> Course:
    """The course that a run of the filter took; `group` is in the order of the panel."""
    reading = np.where(run.treatment == Treatment.USED, steps.found, np.nan)
    return Course(group[steps.order], steps.active, steps.elapsed, reading, run.begins)


@dataclass(frozen=True, slots=True)
class Likelihood:
    """Log-likelihood of g groups, (g,), its gradient (g, 4) and expected information (g, 4, 4)."""

    value: Floats
    gradient: Floats
    information: Floats

    def plus(self, other: "Likelihood") -> "Likelihood":
        """Of both together."""
        return Likelihood(
            self.value + other.value,
            self.gradient + other.gradient,
            self.information + other.information,
        )

    def where(self, chosen: Flags, other: "Likelihood") -> "Likelihood":
        """This one of the groups chosen, the other of the rest."""
        return Likelihood(
            np.where(chosen, self.value, other.value),
            np.where(chosen[:, None], self.gradient, other.gradient),
            np.where(chosen[:, None, None], self.information, other.information),
        )


def likelihood(course: Course, figures: Floats) -> Likelihood:
    """Likelihood of a course, group by group.

    Args:
        course: n valves, m visits.
        figures: (g, 4) μ in K/week, ω² in (K/week)², σ² in K²/week, s² in K², the last above 0.
    """
    groups = len(figures)
    total = Likelihood(np.zeros(groups), np.zeros((groups, 4)), np.zeros((groups, 4, 4)))
    for first in range(0, len(course.group), AT_ONCE):
        some = course.columns(slice(first, first + AT_ONCE))
        total = total.plus(_of_some(some, figures))
    return total


def _of_some(course: Course, figures: Floats) -> Likelihood:
    rates = _Rates(figures[course.group].T)
    for visit, active in enumerate(course.active):
        if not active:
            break
        rates.narrow(active)
        rates.advance(course.elapsed[visit, :active])
        rates.use(course.reading[visit, :active])
        rates.begin(course.begins[visit, :active])
    sums: Floats = np.zeros((len(figures), 21))
    for place, row in enumerate(rates.said):
        sums[:, place] = np.bincount(course.group, row, len(figures))
    return Likelihood(sums[:, 0], sums[:, 1:5], sums[:, 5:].reshape(-1, 4, 4))


class _Rates:
    """States of some valves, their rates of change with the four figures, and what was said so far."""

    def __init__(self, figures: Floats) -> None:
        valves = figures.shape[1]
        mu, drift, self.wander, self.noise = figures
        self.level, self.slope = np.zeros(valves), mu.copy()
        self.p11, self.p12, self.p22 = np.zeros(valves), np.zeros(valves), drift.copy()
        self.d_level, self.d_slope, self.d11, self.d12, self.d22 = np.zeros((5, 4, valves))
        self.d_slope[MU], self.d22[DRIFT] = 1.0, 1.0
        self.said = np.zeros((21, valves))
        self.telling = self.said

    def narrow(self, valves: int) -> None:
        """Go on with the first valves only: the others have no visit left."""
        for name in vars(self):
            if name != "said":
                setattr(self, name, getattr(self, name)[..., :valves])

    def advance(self, elapsed: Floats) -> None:
        self.level += elapsed * self.slope
        self.p11 += elapsed * (2 * self.p12 + elapsed * self.p22 + self.wander)
        self.p12 += elapsed * self.p22
        self.d_level += elapsed * self.d_slope
        self.d11 += elapsed * (2 * self.d12 + elapsed * self.d22)
        self.d11[WANDER] += elapsed
        self.d12 += elapsed * self.d22

    def use(self, reading: Floats) -> None:
        """Learn from the readings, and add how likely they were."""
        used = ~np.isnan(reading)
        variance = self.p11 + self.noise
        scale, miss = np.where(used, 1 / variance, 0.0), np.where(used, reading - self.level, 0.0)
        d_variance = self.d11.copy()
        d_variance[NOISE] += 1.0
        self._say(used, variance, scale, miss, d_variance)
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

    def _say(self, used: Flags, variance: Floats, scale: Floats, miss: Floats, d_variance: Floats) -> None:
        square = miss**2 * scale
        relative, moved = d_variance * scale, self.d_level * np.sqrt(scale)
        self.telling[0] -= np.where(used, np.log(variance) + square + LOG_2_PI, 0.0) / 2
        self.telling[1:5] += relative * ((square - 1) / 2) + self.d_level * (miss * scale)
        both = relative[:, None] * (relative / 2) + moved[:, None] * moved
        self.telling[5:] += both.reshape(16, -1)

    def begin(self, begins: Floats) -> None:
        new = ~np.isnan(begins)
        np.copyto(self.level, begins, where=new)
        np.copyto(self.p11, self.noise, where=new)
        for values in (self.p12, self.d_level, self.d11, self.d12):
            np.copyto(values, 0.0, where=new)
        self.d11[NOISE, new] = 1.0

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

AT_ONCE = 4096
"""Valves worked on at once, so that they stay in the processor's cache."""


@dataclass(frozen=True, slots=True)
class Course:
    """What the likelihood needs of n valves over m visits once every reading has been treated; (m, n).

    Attributes:
        group: (n,) number of the valve's group.
        active: (m,) valves that have a visit of that number, the first columns.
        elapsed: weeks since the visit before.
        used: 1 where a reading is used, else 0.
        reading: readings used, °C, else 0.
        kept: 0 where a level began, else 1.
        begins: temperature at which a level began, °C, else 0.
    """

    group: Whole
    active: Whole
    elapsed: Floats
    used: Floats
    reading: Floats
    kept: Floats
    begins: Floats

    def columns(self, chosen: Flags | slice) -> "Course":
        """The course of some of the valves."""
        among = np.zeros(len(self.group) + 1, np.int64)
        among[1:][chosen] = 1
        counts = np.cumsum(among)
        here = (slice(None), chosen)
        grids = (self.elapsed, self.used, self.reading, self.kept, self.begins)
        return Course(self.group[chosen], counts[self.active], *(each[here] for each in grids))

    def of_groups(self, chosen: Flags) -> "Course":
        """The course of the valves of some groups."""
        return self if chosen.all() else self.columns(chosen[self.group])


def course_of(steps: Steps, run: Trail, group: Whole) -> Course:
    """The course that a run of the filter took; `group` is in the order of the panel."""
    used, begun = run.treatment == Treatment.USED, ~np.isnan(run.begins)
    return Course(
        group[steps.order],
        steps.active,
        steps.elapsed,
        used.astype(np.float64),
        np.where(used, steps.found, 0.0),
        (~begun).astype(np.float64),
        np.where(begun, run.begins, 0.0),
    )


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
        some = course if len(course.group) <= AT_ONCE else course.columns(slice(first, first + AT_ONCE))
        total = total.plus(_of_some(some, figures))
    return total


def _of_some(course: Course, figures: Floats) -> Likelihood:
    rates = _Rates(figures[course.group].T)
    for visit, active in enumerate(course.active):
        if not active:
            break
        now = (visit, slice(active))
        rates.narrow(active)
        rates.advance(course.elapsed[now])
        rates.use(course.reading[now], course.used[now])
        rates.begin(course.begins[now], course.kept[now])
    groups = len(figures)
    sums: Floats = np.zeros((groups, 13))
    for place, row in enumerate(rates.said):
        sums[:, place] = np.bincount(course.group, row, groups)
    readings = np.bincount(course.group, course.used.sum(axis=0), groups).astype(np.float64)
    return _with_noise(sums, readings, figures)


def _with_noise(sums: Floats, readings: Floats, figures: Floats) -> Likelihood:
    """Derivatives by the noise too, from those by the other figures and by the scale of all variances.

    If ω², σ² and s² grow by one factor, so does every variance, and no gain changes. So what a rate of change
    with s² is follows from those with ω² and σ²: s² ∂F/∂s² = F − ω² ∂F/∂ω² − σ² ∂F/∂σ², and s² ∂x/∂s² =
    −ω² ∂x/∂ω² − σ² ∂x/∂σ² for a mean x (L. Euler's theorem on homogeneous functions).
    """
    logs, square = sums[:, 0], sums[:, 1]
    value = -(logs + square + readings * LOG_2_PI) / 2
    by_scale = (square - readings) / 2
    gradient = np.concatenate((sums[:, 2:5], by_scale[:, None]), axis=1)
    information = np.zeros((len(sums), 4, 4))
    rows, columns = _PAIRS
    information[:, rows, columns] = information[:, columns, rows] = sums[:, 5:13]
    information[:, NOISE, NOISE] = readings / 2
    turn = np.tile(np.eye(4), (len(sums), 1, 1))
    turn[:, NOISE, DRIFT : NOISE + 1] = -figures[:, DRIFT : NOISE + 1]
    turn[:, NOISE, NOISE] = 1.0
    turn[:, NOISE] /= figures[:, NOISE, None]
    return Likelihood(
        value,
        np.einsum("gij,gj->gi", turn, gradient),
        np.einsum("gij,gjk,glk->gil", turn, information, turn),
    )


_PAIRS = (
    np.array([MU, MU, MU, DRIFT, DRIFT, WANDER, DRIFT, WANDER]),
    np.array([MU, DRIFT, WANDER, DRIFT, WANDER, WANDER, NOISE, NOISE]),
)
"""Places in the information of the products that are added up, in their order."""


class _Rates:
    """States of some valves, their rates of change with μ, ω² and σ², and what was said so far.

    No variance changes with μ, so that only the means have a row for it.
    """

    def __init__(self, figures: Floats) -> None:
        valves = figures.shape[1]
        mu, drift, self.wander, self.noise = figures
        self.level, self.slope = np.zeros(valves), mu.copy()
        self.p11, self.p12, self.p22 = np.zeros(valves), np.zeros(valves), drift.copy()
        self.d_level, self.d_slope = np.zeros((2, 3, valves))
        self.d11, self.d12, self.d22 = np.zeros((3, 2, valves))
        self.d_slope[MU], self.d22[0] = 1.0, 1.0
        self.said = np.zeros((13, valves))
        self.telling = self.said

    def narrow(self, valves: int) -> None:
        """Go on with the first valves only: the others have no visit left."""
        if valves == len(self.level):
            return
        for name in vars(self):
            if name != "said":
                setattr(self, name, getattr(self, name)[..., :valves])

    def advance(self, elapsed: Floats) -> None:
        self.level += elapsed * self.slope
        self.p11 += elapsed * (2 * self.p12 + elapsed * self.p22 + self.wander)
        self.p12 += elapsed * self.p22
        self.d_level += elapsed * self.d_slope
        moved = elapsed * self.d22
        self.d11 += elapsed * (2 * self.d12 + moved)
        self.d11[1] += elapsed
        self.d12 += moved

    def use(self, reading: Floats, used: Floats) -> None:
        """Learn from the readings, and add how likely they were."""
        variance = self.p11 + self.noise
        scale, miss = used / variance, used * (reading - self.level)
        relative = self.d11 * scale
        self._say(used * np.log(variance), scale, miss, relative)
        gain_level, gain_slope = self.p11 * scale, self.p12 * scale
        kept = 1 - gain_level
        dg_level = relative * kept
        dg_slope = self.d12 * scale - gain_slope * relative
        self.level += gain_level * miss
        self.slope += gain_slope * miss
        self.d_slope -= gain_slope * self.d_level
        self.d_slope[DRIFT:] += dg_slope * miss
        self.d_level *= kept
        self.d_level[DRIFT:] += dg_level * miss
        self.d22 -= dg_slope * self.p12 + gain_slope * self.d12
        self.p22 -= gain_slope * self.p12
        self.d12 *= kept
        self.d12 -= dg_level * self.p12
        self.d11 *= kept * kept
        self.p12 *= kept
        self.p11 *= kept

    def _say(self, logs: Floats, scale: Floats, miss: Floats, relative: Floats) -> None:
        weighed = miss * scale
        square = miss * weighed
        self.telling[0] += logs
        self.telling[1] += square
        self.telling[2:5] += self.d_level * weighed
        self.telling[3:5] += relative * ((square - 1) / 2)
        moved, half = self.d_level * np.sqrt(scale), relative / 2
        self.telling[5:8] += moved[MU] * moved
        self.telling[8:10] += moved[DRIFT] * moved[DRIFT:] + half[0] * relative
        self.telling[10] += moved[WANDER] * moved[WANDER] + half[1] * relative[1]
        self.telling[11:13] += half

    def begin(self, begins: Floats, kept: Floats) -> None:
        self.level *= kept
        self.level += begins
        self.p11 *= kept
        self.p11 += (1 - kept) * self.noise
        self.p12 *= kept
        self.d_level *= kept
        self.d11 *= kept
        self.d12 *= kept

"""An interval policy on trial: an estate whose truth is known, visited as the policy says."""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from estate.scheduler.arrays import Whole
from estate.scheduler.panel import Panel
from estate.scheduler.policies import Policy
from estate.scheduler.records import Records
from estate.scheduler.truths import MODEL, WEEKS_PER_YEAR, Truth, World

LEARN_EVERY_WEEKS = 26


@dataclass(frozen=True, slots=True)
class Practice:
    """What is done at a visit; the same under every policy.

    Attributes:
        set_c, ceiling_c: set temperature and ceiling of a washbasin (D08-32), °C.
        adjusted_beyond_k: found further than this from the set temperature, it is set again (D08-72).
        serviced_beyond_k: found further than this, it is serviced first, and commissioned (D08-74).
    """

    set_c: float = 41.0
    ceiling_c: float = 43.0
    adjusted_beyond_k: float = 1.0
    serviced_beyond_k: float = 2.0


@dataclass(frozen=True, slots=True)
class Trial:
    """An estate to try policies on.

    Attributes:
        truth: what happens to its valves.
        valves, years: how many, and for how long from their commissioning.
        seed: of the random numbers; the same seed makes the same estate for every policy.
        practice: what is done at a visit.
    """

    truth: Truth = MODEL
    valves: int = 4000
    years: float = 6.0
    seed: int = 1
    practice: Practice = field(default_factory=Practice)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a policy did.

    Attributes:
        policy, truth: their names.
        visits_a_year: visits per valve and year, commissioning not counted.
        weeks_above: share of valve-weeks in which the true temperature was above the ceiling.
        weeks_above_error: standard error of that share, between valves.
        found_above: share of visits whose reading was above the ceiling.
        adjusted: share of visits at which the valve was set again.
    """

    policy: str
    truth: str
    visits_a_year: float
    weeks_above: float
    weeks_above_error: float
    found_above: float
    adjusted: float


def simulate(policy: Policy, trial: Trial, progress: Callable[[float], None] | None = None) -> Outcome:
    """Run an estate under a policy.

    Args:
        policy: learns from the records every half year, and is asked after each visit.
        trial: the estate.
        progress: told the share of weeks done.
    """
    course = _Course(policy, trial)
    weeks = round(trial.years * WEEKS_PER_YEAR)
    for week in range(1, weeks + 1):
        course.pass_week(week)
        if progress is not None:
            progress(week / weeks)
    return course.outcome(weeks)


def recorded(policy: Policy, trial: Trial) -> Panel:
    """The records (n, m) that an estate under a policy leaves behind, for fits and back-tests."""
    course = _Course(policy, trial)
    for week in range(1, round(trial.years * WEEKS_PER_YEAR) + 1):
        course.pass_week(week)
    return course.records.panel()


class _Course:
    """An estate on its way through the weeks."""

    def __init__(self, policy: Policy, trial: Trial) -> None:
        self._policy, self._trial = policy, trial
        self._world = World(trial.truth, trial.valves, trial.seed)
        self.records = Records(trial.valves, trial.practice.set_c)
        self._world.set_to(np.ones(trial.valves, np.bool_), trial.practice.set_c)
        self._due = self._next(np.arange(trial.valves), 0)
        self._above = np.zeros(trial.valves)
        self._visits = self._found_above = self._adjusted = 0

    def pass_week(self, week: int) -> None:
        """One week: what is above the ceiling is counted, then the valves due are visited."""
        self._world.pass_week()
        self._above += self._world.mixed > self._trial.practice.ceiling_c
        self._visit(week)
        if week % LEARN_EVERY_WEEKS == 0:
            self._policy = self._policy.learned(self.records.panel())

    def _visit(self, week: int) -> None:
        practice = self._trial.practice
        shown, written = self._world.read()
        off, due = np.abs(np.round(shown - practice.set_c, 6)), self._due == week
        adjusted, serviced = (
            due & (off > practice.adjusted_beyond_k),
            due & (off > practice.serviced_beyond_k),
        )
        self._world.service(serviced)
        self._world.set_to(adjusted, practice.set_c)
        rows = np.flatnonzero(due)
        if not len(rows):
            return
        left = np.where(adjusted[rows], practice.set_c, np.nan)
        self.records.add(rows, week, written[rows], left, serviced[rows])
        self._due[rows] = self._next(rows, week)
        self._visits += len(rows)
        self._adjusted += int(adjusted.sum())
        self._found_above += int((shown[rows] > practice.ceiling_c).sum())

    def _next(self, rows: Whole, week: int) -> Whole:
        weeks = self._policy.weeks_to_next(self.records.panel(rows))
        return week + np.maximum(np.floor(weeks + 1e-9), 1).astype(np.int64)

    def outcome(self, weeks: int) -> Outcome:
        """What came of it."""
        shares, visits = self._above / weeks, max(self._visits, 1)
        return Outcome(
            self._policy.name,
            self._trial.truth.name,
            self._visits / len(shares) / weeks * WEEKS_PER_YEAR,
            float(shares.mean()),
            float(shares.std(ddof=1) / np.sqrt(len(shares))),
            self._found_above / visits,
            self._adjusted / visits,
        )

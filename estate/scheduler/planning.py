"""The next test windows of a whole estate at once: what `estate.scheduler.interval.plan` says of each valve.

Which candidate binds at each valve is worked out for all as arrays. Its dates, words and source are made by
the very functions that plan a single valve; those of the other candidates only when they are looked at.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, overload

import numpy as np

from estate.domain.rules.values import RuleSet
from estate.domain.windows import Candidate, Window
from estate.scheduler import candidates, horizons
from estate.scheduler.candidates import StageFacts
from estate.scheduler.estimates import Estimates
from estate.scheduler.interval import in_order
from estate.scheduler.lives import Lives
from estate.scheduler.rule_columns import RuleColumns
from estate.scheduler.stage_days import NONE_COMES, STAGES
from estate.scheduler.window_ends import WindowEnds


def windows_of(
    lives: Lives, rules: Sequence[RuleSet], today: date, estimates: Estimates | None = None
) -> "Windows":
    """Work out the next windows of n valves.

    Args:
        lives: their visits and last judgements.
        rules: the rule set in force at each; the same object where the same rules hold.
        today: used only for a valve never tested whose day of fitting is not recorded.
        estimates: drift and shut-off of the same valves; None where no group has been fitted yet.
    """
    columns = RuleColumns(rules)
    return Windows(WindowEnds(lives, columns, estimates), columns, today)


@dataclass(frozen=True, slots=True)
class Windows:
    """The windows of n valves.

    Attributes:
        ends: of all candidates.
        rules: the rule set in force at each.
        today: for a valve never tested whose day of fitting is not recorded.
    """

    ends: WindowEnds
    rules: RuleColumns
    today: date

    def window(self, row: int) -> Window:
        """The window of one valve."""
        return Window(_Candidates(self, row, self.first(row)))

    def first(self, row: int) -> Candidate:
        """The candidate that binds at one valve."""
        if not self.ends.lives.visited[row]:
            return self.all(row)[0]
        binding = _MAKERS[self.ends.binding[row]](self, row, self.rules.at(row))
        return binding or self.all(row)[0]

    def all(self, row: int) -> tuple[Candidate, ...]:
        """Every candidate of one valve, the earliest first."""
        lives = self.ends.lives
        if not lives.visited[row]:
            return (candidates.never_tested(lives.fitted_on[row], self.today),)
        rules = self.rules.at(row)
        return in_order(lives.last_on(row), [made(self, row, rules) for made in _MAKERS])

    def retest(self, row: int, rules: RuleSet) -> Candidate | None:
        """The retest that the last visit's findings ask for, by any rules."""
        return candidates.retest_candidate(self._last(row), self.ends.lives.judgements[row])

    def stage(self, row: int, rules: RuleSet) -> Candidate | None:
        """The published stage that comes next."""
        stages, lives = self.ends.stages, self.ends.lives
        if stages.coming[row] == NONE_COMES:
            return None
        weeks = float(stages.weeks_from[row]), float(stages.weeks_to[row])
        began, kind = date.fromordinal(int(stages.began[row])), lives.kind_of(int(stages.reference[row]))
        facts = StageFacts(STAGES[stages.coming[row]], weeks, began, kind, self._last(row))
        return candidates.stage_candidate(facts, rules)

    def shown(self, row: int, rules: RuleSet) -> Candidate | None:
        """After the stages, the interval that tests have shown."""
        stages = self.ends.stages
        if stages.coming[row] != NONE_COMES:
            return None
        days = stages.shown[row]
        shown = None if np.isnan(days) else timedelta(days=int(days))
        return candidates.shown_candidate(self._last(row), int(stages.tests[row]), shown, rules)

    def drift(self, row: int, rules: RuleSet) -> Candidate | None:
        """What the drift asks for."""
        estimates = self.ends.estimates
        known = estimates.drift(row) if estimates else None
        return horizons.drift_candidate(self._last(row), rules, known)

    def shut_off(self, row: int, rules: RuleSet) -> Candidate | None:
        """What the shut-off asks for."""
        estimates = self.ends.estimates
        known = estimates.shut_off(row) if estimates else None
        return horizons.shut_off_candidate(self._last(row), rules, known)

    def longest(self, row: int, rules: RuleSet) -> Candidate | None:
        """The rule set's longest interval."""
        return candidates.longest_candidate(self._last(row), rules)

    def strainers(self, row: int, rules: RuleSet) -> Candidate | None:
        """What the strainers ask for."""
        lives = self.ends.lives
        cleaned = date.fromordinal(int(lives.cleaned_day[row])) if lives.has_strainers[row] else None
        return candidates.strainers_candidate(cleaned, rules)

    def _last(self, row: int) -> date:
        return self.ends.lives.last_on(row)


_Maker = Callable[[Windows, int, RuleSet], Candidate | None]
_MAKERS: tuple[_Maker, ...] = (
    Windows.retest,
    Windows.stage,
    Windows.shown,
    Windows.drift,
    Windows.shut_off,
    Windows.longest,
    Windows.strainers,
)
"""In the order of `estate.scheduler.window_ends`."""


class _Candidates(Sequence[Candidate]):
    """The candidates of one valve: the first, and the others made when looked at; equal to their tuple."""

    __slots__ = ("_all", "_first", "_row", "_windows")

    def __init__(self, windows: Windows, row: int, first: Candidate) -> None:
        self._windows, self._row, self._first = windows, row, first
        self._all: tuple[Candidate, ...] | None = None

    @overload
    def __getitem__(self, place: int) -> Candidate: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[Candidate, ...]: ...
    def __getitem__(self, place: int | slice) -> Candidate | tuple[Candidate, ...]:
        return self._first if place == 0 else self._whole()[place]

    def __len__(self) -> int:
        return int(self._windows.ends.count[self._row])

    def _whole(self) -> tuple[Candidate, ...]:
        if self._all is None:
            self._all = self._windows.all(self._row)
        return self._all

    def __eq__(self, other: object) -> bool:
        return isinstance(other, tuple | _Candidates) and self._whole() == tuple(other)

    def __hash__(self) -> int:
        return hash(self._whole())

    def __repr__(self) -> str:
        return repr(self._whole())

    def __reduce__(self) -> tuple[Any, ...]:
        return tuple, (self._whole(),)

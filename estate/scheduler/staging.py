"""The published stages and the interval that tests have shown, for many valves at once (D08-80..86).

The same rules as `estate.domain.stages` and `estate.scheduler.life`, in weeks; tests hold the two together.
"""

from dataclasses import dataclass, field

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.panel import Panel

_UNKNOWN = -1
_SMALL, _LARGE = 1, 2


@dataclass(frozen=True, slots=True)
class StageWeeks:
    """First and last week of each stage after commissioning, and the edges of a small change.

    Attributes:
        first, second, third_long, third_short: weeks.
        small_k, large_k: K.
        early_weeks: a test this much early still counts as its stage's own.
    """

    first: tuple[float, float] = (6, 8)
    second: tuple[float, float] = (12, 15)
    third_long: tuple[float, float] = (24, 28)
    third_short: tuple[float, float] = (18, 21)
    small_k: float = 1.0
    large_k: float = 2.0
    early_weeks: float = 1.0


PUBLISHED = StageWeeks()


@dataclass
class _Tally:
    """What has been seen of each valve since its reference; all (n,)."""

    valves: int
    reference: Floats = field(init=False)
    settled: Floats = field(init=False)
    before: Floats = field(init=False)
    level: Floats = field(init=False)
    shown: Floats = field(init=False)
    early: Whole = field(init=False)
    second: Whole = field(init=False)
    tests: Whole = field(init=False)

    def __post_init__(self) -> None:
        self.reference, self.settled, self.before = (np.zeros(self.valves) for _ in range(3))
        self.level, self.shown = (np.full(self.valves, np.nan) for _ in range(2))
        self.early, self.second = (np.full(self.valves, _UNKNOWN) for _ in range(2))
        self.tests = np.zeros(self.valves, np.int64)

    def refer(self, here: Flags, week: Floats, left: Floats) -> None:
        """A commissioning or a service, or for want of one the first visit."""
        for values in (self.reference, self.settled, self.before):
            np.copyto(values, week, where=here)
        np.copyto(self.level, left, where=here)
        np.copyto(self.shown, np.nan, where=here)
        np.copyto(self.early, _UNKNOWN, where=here)
        np.copyto(self.second, _UNKNOWN, where=here)
        np.copyto(self.tests, 0, where=here)

    def test(self, here: Flags, week: Floats, change: Whole, second_from: float) -> None:
        """A test with its class of change; `_UNKNOWN` where a value is missing."""
        self.tests[here] += 1
        counted = np.where(change == _UNKNOWN, _SMALL, change)
        late = here & (week - self.reference >= second_from)
        np.copyto(self.early, np.maximum(self.early, counted), where=here & ~late)
        np.copyto(self.second, counted, where=late & (self.second == _UNKNOWN))
        held = week - np.where(self.tests == 3, self.settled, self.before)
        np.copyto(self.shown, np.fmax(self.shown, held), where=here & (change != _UNKNOWN))
        np.copyto(self.shown, np.nan, where=here & (change == _LARGE))
        np.copyto(self.before, week, where=here)

    def settle(self, reset: Flags, here: Flags, week: Floats, left: Floats) -> None:
        """After a test: where a new level began, and where none was known."""
        np.copyto(self.settled, week, where=reset)
        np.copyto(self.level, left, where=reset | (here & np.isnan(self.level)))


def staged_weeks(panel: Panel, growth: float = 1.0, stages: StageWeeks = PUBLISHED) -> Floats:
    """Weeks from the last visit to the end of the window of the stages, then of the interval shown.

    Args:
        panel: n valves with at least one visit each.
        growth: factor by which an interval may pass what tests have shown (1: D08-86 read strictly).
        stages: weeks of the stages.

    Returns:
        (n,) weeks, below zero where the window has passed.
    """
    tally = _tally(panel, stages)
    since = tally.before - tally.reference
    first = np.where(since >= stages.first[0] - stages.early_weeks, stages.second[1], stages.first[1])
    early = np.where(tally.early == _UNKNOWN, tally.second, tally.early)
    both_small = (early == _SMALL) & (tally.second == _SMALL)
    short = both_small | (early == _LARGE) | (tally.second == _LARGE)
    third, third_from = (np.where(short, stages.third_short[end], stages.third_long[end]) for end in (1, 0))
    in_third = tally.second != _UNKNOWN
    done = in_third & (since >= third_from - stages.early_weeks)
    last = panel.weeks[np.arange(len(since)), panel.count - 1]
    ends = np.where(in_third, third, first) - (last - tally.reference)
    cap = stages.third_short[1]
    unshown = np.isnan(tally.shown) | ((tally.tests < 2) & (tally.shown > cap))
    return np.where(done, np.where(unshown, cap, tally.shown * growth), ends)


def _tally(panel: Panel, stages: StageWeeks) -> _Tally:
    tally = _Tally(len(panel.count))
    for visit in range(panel.weeks.shape[1]):
        active = visit < panel.count
        week, found, reset = panel.weeks[:, visit], panel.found[:, visit], panel.reset[:, visit] & active
        left = np.where(reset, panel.left[:, visit], found)
        refers = active & (panel.kind_sets_reference[:, visit] | (visit == 0))
        here = active & ~refers & ~np.isnan(found)
        size = np.round(np.abs(found - tally.level), 6)
        change = np.where(size < stages.small_k, 0, np.where(size <= stages.large_k, _SMALL, _LARGE))
        change = np.where(np.isnan(size), _UNKNOWN, change)
        tally.test(here, week, change, stages.second[0] - stages.early_weeks)
        tally.settle(reset & here, here, week, left)
        tally.refer(refers, week, left)
    return tally

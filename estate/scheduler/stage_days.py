"""The published stages and the interval that tests have shown, by the day, for many valves (D08-80..86).

The same rules as `estate.domain.stages` and `estate.scheduler.life`, with the numbers of each valve's own
rule set; tests hold the two together. `estate.scheduler.staging` is the same in weeks for simulated estates.
"""

from dataclasses import dataclass

import numpy as np

from estate.domain.stages import EARLY_DAYS, Stage
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.lives import Lives
from estate.scheduler.rule_columns import RuleColumns

STAGES = tuple(Stage)
NONE_COMES = -1
_UNKNOWN = -1
_SMALL, _LARGE = 1, 2


@dataclass(frozen=True, slots=True)
class StageDays:
    """Where n valves stand, each (n,).

    Attributes:
        reference: place in the table of the reference visit.
        began: its day; 0 for a valve without a visit.
        coming: place in `STAGES` of the stage that comes next; `NONE_COMES` where none does.
        weeks_from, weeks_to: its first and last week after the reference.
        tests: how many there were since the reference.
        shown: days of the longest interval that they have shown; NaN where nothing has been.
    """

    reference: Whole
    began: Whole
    coming: Whole
    weeks_from: Floats
    weeks_to: Floats
    tests: Whole
    shown: Floats


def stage_days(lives: Lives, rules: RuleColumns) -> StageDays:
    """Work out stages and shown intervals of n valves after their last visits."""
    reference = _references(lives)
    began = np.append(lives.table.day, 0)[reference]
    seen = _seen(lives, reference, began, rules)
    coming, weeks = _coming(seen, began, rules)
    return StageDays(reference, began, coming, *weeks, seen.tests, seen.shown)


def _references(lives: Lives) -> Whole:
    """The last commissioning or service of each valve; else its first visit; -1 for a valve without one."""
    table = lives.table
    found = np.where(lives.visited, table.first, -1)
    setting = np.flatnonzero(table.sets_reference)
    found[table.row[setting]] = setting
    return found


class _Seen:
    """What tests have shown of each valve since its reference; changed in place, test by test."""

    def __init__(self, valves: int, began: Whole, level: Floats, second_from: Floats) -> None:
        self.began, self.level, self.second_from = began, level, second_from
        self.settled, self.before = began.copy(), began.copy()
        self.shown = np.full(valves, np.nan)
        self.early, self.second = np.full((2, valves), _UNKNOWN)
        self.tests = np.zeros(valves, np.int64)

    def test(self, here: Whole, day: Whole, change: Whole, reset: Flags, left: Floats) -> None:
        """One test of each of some valves."""
        self.tests[here] += 1
        counted = np.where(change == _UNKNOWN, _SMALL, change)
        late = day >= self.second_from[here]
        early = here[~late]
        self.early[early] = np.maximum(self.early[early], counted[~late])
        second = late & (self.second[here] == _UNKNOWN)
        self.second[here[second]] = counted[second]
        held = day - np.where(self.tests[here] == 3, self.settled[here], self.before[here])
        shown = np.where(change == _UNKNOWN, self.shown[here], np.fmax(self.shown[here], held))
        self.shown[here] = np.where(change == _LARGE, np.nan, shown)
        self.settled[here[reset]] = day[reset]
        self.before[here] = day
        told = reset | np.isnan(self.level[here])
        self.level[here[told]] = left[told]


def _seen(lives: Lives, reference: Whole, began: Whole, rules: RuleColumns) -> _Seen:
    """Go through the tests since the reference, all valves at once, one test after the other."""
    table = lives.table
    as_left = np.where(np.isnan(table.left) & (table.adjusted == 0), table.found, table.left)
    differs = ~np.isnan(table.left) & (table.left != table.found)
    reset = np.where(np.isnan(table.adjusted), differs, table.adjusted == 1)
    small, large = rules.number("change.small"), rules.number("change.large")
    second_from = began + rules.days("stage.2.from") - EARLY_DAYS
    seen = _Seen(len(began), began, np.append(as_left, np.nan)[reference], second_from)
    tests = np.flatnonzero((np.arange(len(table.day)) > reference[table.row]) & ~np.isnan(table.found))
    count = np.bincount(table.row[tests], minlength=len(began))
    number = np.arange(len(tests)) - np.repeat(np.cumsum(count) - count, count)
    for turn in range(int(count.max(initial=0))):
        now = tests[number == turn]
        here = table.row[now]
        size = np.round(np.abs(table.found[now] - seen.level[here]), 6)
        change = np.where(size < small[here], 0, np.where(size <= large[here], _SMALL, _LARGE))
        change[np.isnan(size + small[here] + large[here])] = _UNKNOWN
        seen.test(here, table.day[now], change, reset[now], as_left[now])
    return seen


def _coming(seen: _Seen, began: Whole, rules: RuleColumns) -> tuple[Whole, tuple[Floats, Floats]]:
    """The stage that comes next, and its first and last week."""
    first_week, last_week = (
        np.stack([rules.number(f"stage.{stage}.{end}") for stage in STAGES]) for end in ("from", "to")
    )
    known = ~np.isnan(first_week + last_week)
    changes_known = ~np.isnan(rules.number("change.small") + rules.number("change.large"))
    tested = changes_known & (seen.tests > 0)
    reached = tested & known & (seen.before - began >= np.rint(first_week * 7) - EARLY_DAYS)
    in_third = changes_known & (seen.second != _UNKNOWN)
    early = np.where(seen.early == _UNKNOWN, seen.second, seen.early)
    both_small = (early == _SMALL) & (seen.second == _SMALL)
    short = both_small | (early == _LARGE) | (seen.second == _LARGE)
    first, second, third_long, third_short = range(4)
    third = np.where(short, third_short, third_long)
    stage = np.where(in_third, third, np.where(reached[first], second, first))
    valve = np.arange(len(began))
    comes = known[second] & known[third_long] & known[stage, valve] & ~(in_third & reached[third, valve])
    weeks = (first_week[stage, valve], last_week[stage, valve])
    return np.where(comes, stage, NONE_COMES), weeks

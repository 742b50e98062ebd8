"""The last day of every candidate window of many valves, as arrays; the earliest binds."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.candidates import MOST_BEFORE_STAGES, SHOWN_STAGE, retest_asked
from estate.scheduler.estimates import Estimates
from estate.scheduler.lives import Lives
from estate.scheduler.rule_columns import RuleColumns
from estate.scheduler.stage_days import NONE_COMES, StageDays, stage_days

RETEST, STAGE, SHOWN, DRIFT, SHUT_OFF, LONGEST, STRAINERS = range(7)
"""Candidates in the order in which the first of two that end on one day binds."""

RECURRING = (SHOWN, DRIFT, SHUT_OFF, LONGEST)
"""Those that come back year after year: retests, strainers and stages do not."""

_EPOCH = 719163
"""Ordinal number of the day from which numpy counts."""


@dataclass(frozen=True)
class WindowEnds:
    """The windows of n valves by their ends.

    Attributes:
        lives: their visits and last judgements.
        rules: the rule set in force at each.
        estimates: drift and shut-off of the same valves; None where no group has been fitted yet.
    """

    lives: Lives
    rules: RuleColumns
    estimates: Estimates | None

    @cached_property
    def stages(self) -> StageDays:
        """Where they stand in the published stages."""
        return stage_days(self.lives, self.rules)

    @cached_property
    def days(self) -> Floats:
        """(7, n) last day of each candidate as an ordinal number; infinite where a valve has none."""
        found = np.full((7, len(self.lives.last)), np.nan)
        found[RETEST] = self._retest()
        found[STAGE] = self._stage()
        found[SHOWN] = self._shown()
        if self.estimates is not None:
            found[DRIFT] = self._within(self._steady_weeks(self.estimates))
            found[SHUT_OFF] = self._within(self.estimates.shut_off_weeks)
        last = self.lives.last_day.astype(np.float64)
        found[LONGEST] = months_after(last, self.rules.months("test.maximum-interval"))
        cleaned = np.where(self.lives.has_strainers, self.lives.cleaned_day, np.nan)
        found[STRAINERS] = months_after(cleaned, self.rules.months("strainers.interval"))
        return np.where(np.isnan(found) | ~self.lives.visited, np.inf, found)

    @cached_property
    def binding(self) -> Whole:
        """(n,) the candidate that binds; the first where a valve has none."""
        return np.asarray(self.days.argmin(axis=0), np.int64)

    @cached_property
    def count(self) -> Whole:
        """(n,) how many candidates a valve has; one says so where there would be none."""
        return np.asarray(np.maximum(1, np.isfinite(self.days).sum(axis=0)), np.int64)

    @cached_property
    def recurring_weeks(self) -> Floats:
        """(n,) weeks from the last visit to the earliest end of the `RECURRING`; 0 where there is none."""
        days = self.days[list(RECURRING)].min(axis=0) - self.lives.last_day
        return np.where(np.isfinite(days), days, 0.0) / 7

    def _retest(self) -> Floats:
        asked = [retest_asked(each) for each in self.lives.judgements]
        weeks = np.array([np.nan if each is None else each[0][1] for each in asked], np.float64)
        return np.asarray(self.lives.last_day + np.rint(weeks * 7), np.float64)

    def _stage(self) -> Floats:
        ends = self.stages.began + np.rint(self.stages.weeks_to * 7)
        return np.where(self._in_stages, ends, np.nan)

    @property
    def _in_stages(self) -> Flags:
        return np.asarray(self.stages.coming != NONE_COMES)

    def _shown(self) -> Floats:
        """The interval shown; the short third stage while fewer than two tests have shown a longer one."""
        shown, growth = self.stages.shown, self.rules.number("policy.growth", 1.0)
        cap = self.rules.days(f"stage.{MOST_BEFORE_STAGES}.to", 0.0)
        unshown = np.isnan(shown) | ((self.stages.tests < 2) & (shown > cap))
        days = np.where(unshown, cap, np.floor(shown * np.where(growth == 0, 1.0, growth)))
        known = ~self._in_stages & ~np.isnan(self.rules.number(SHOWN_STAGE))
        return np.where(known, self.lives.last_day + days, np.nan)

    def _steady_weeks(self, estimates: Estimates) -> Floats:
        """Weeks within the accepted chance, and within a small expected change."""
        weeks, slope = estimates.drift_weeks, np.abs(estimates.state.slope)
        large = self.rules.number("change.large")
        steep = slope * weeks > large
        return np.where(steep, large / np.where(steep, slope, 1.0), weeks)

    def _within(self, weeks: Floats) -> Floats:
        floor = self.rules.number("policy.floor")
        return np.asarray(self.lives.last_day + np.floor(np.where(weeks < floor, floor, weeks) * 7))


def months_after(day: Floats, months: Floats) -> Floats:
    """The same day of a later month, or that month's last where it is shorter.

    Args:
        day: (n,) ordinal numbers, NaN where not known.
        months: (n,) whole months, NaN where not known.
    """
    known = ~np.isnan(day + months)
    days = (np.where(known, day, 1.0).astype(np.int64) - _EPOCH).astype("datetime64[D]")
    begins = days.astype("datetime64[M]")
    then = begins + np.where(known, months, 0.0).astype(np.int64)
    longest = (then + 1).astype("datetime64[D]") - then.astype("datetime64[D]") - 1
    on = then.astype("datetime64[D]") + np.minimum(days - begins.astype("datetime64[D]"), longest)
    return np.where(known, on.astype(np.int64) + _EPOCH, np.nan)

"""What the tests of a shut-off prove: years passed, years before each failure, when last in order."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife
from estate.scheduler.shutoff import WEEKS_PER_YEAR
from estate.scheduler.visit_table import VisitTable, table_of

_DAYS_PER_YEAR = 7 * WEEKS_PER_YEAR


@dataclass(frozen=True, slots=True)
class ShutOffEvidence:
    """What the tests of n valves prove.

    Attributes:
        passed_years: (n,) years over which tests were passed, added up.
        failed_years: (n, f) years before each failed test; NaN beyond the last.
        tests: (n,) in-service tests in which the shut-off was measured.
        shown_day: (n,) day of the last visit that showed it to be in order, as an ordinal number; NaN if
            it never was, or was found failed since.
        found_failed: (n,) whether the last thing known is that it does not shut.
    """

    passed_years: Floats
    failed_years: Floats
    tests: Whole
    shown_day: Floats
    found_failed: Flags

    def rows(self, chosen: Whole | Flags) -> "ShutOffEvidence":
        """The evidence of some of the valves."""
        return ShutOffEvidence(
            self.passed_years[chosen],
            self.failed_years[chosen],
            self.tests[chosen],
            self.shown_day[chosen],
            self.found_failed[chosen],
        )


def shut_then(table: VisitTable, limit_ml_min: Floats) -> Floats:
    """Whether each visit showed that the valve shuts when the cold supply is isolated.

    A tick without a measured flow is no proof that it shuts; a "no" is proof that it does not.

    Args:
        table: visits of n valves.
        limit_ml_min: (n,) residual flow accepted at each (TP-02), ml/min; NaN where the rule set has none.

    Returns:
        (N,) 1 where it was measured that it shuts, 0 where it does not, NaN where neither is known.
    """
    limit, flow = np.repeat(limit_ml_min, table.count), table.residual_ml_min
    measured = np.where(np.isnan(flow) | np.isnan(limit), np.nan, flow <= limit)
    return np.where(table.said_to_shut == 0, 0.0, measured)


def evidence_of(lives: Sequence[ValveLife], limit_ml_min: Sequence[float | None]) -> ShutOffEvidence:
    """What the visits that count of each life prove; see `evidence_from`."""
    return evidence_from(table_of(lives), np.array(limit_ml_min, np.float64))


def evidence_from(table: VisitTable, limit_ml_min: Floats) -> ShutOffEvidence:
    """What the visits of n valves prove.

    The clock starts at a visit that shows the shut-off in order and at a commissioning or service that does
    not show the contrary; a result measured there came after the work and says nothing of the time
    before. A failure stops the clock until one of these, and an in-service test on a stopped clock is left
    out whatever it showed, so that a failure found twice counts once and the rate stays unbiased.
    A failure within a day counts as one day.

    Args:
        table: the visits.
        limit_ml_min: (n,) residual flow accepted at each, ml/min; NaN where the rule set has none.
    """
    valves, row, sets = len(table.count), table.row, table.sets_reference
    shut_at, day = shut_then(table, limit_ml_min), table.day.astype(np.float64)
    starts = (shut_at == 1) | (sets & np.isnan(shut_at))
    tested = ~sets & ~np.isnan(shut_at)
    years = (day - _clock(row, day, starts, shut_at == 0)) / _DAYS_PER_YEAR
    counts = tested & ~np.isnan(years)
    passed, failed = counts & (shut_at == 1), counts & (shut_at == 0)
    shown, found_failed = _last_known(row, day, shut_at, valves)
    return ShutOffEvidence(
        np.bincount(row[passed], years[passed], valves).astype(np.float64),
        _side_by_side(row[failed], np.maximum(years[failed], 1 / _DAYS_PER_YEAR), valves),
        np.bincount(row[tested], minlength=valves),
        shown,
        found_failed,
    )


def _clock(row: Whole, day: Floats, starts: Flags, stops: Flags) -> Floats:
    """Day on which the clock that runs before each visit was started; NaN where none runs."""
    at = np.maximum.accumulate(np.where(starts | stops, np.arange(len(row)), -1))
    before = np.concatenate((np.full(1, -1), at))[: len(row)]
    runs = (before >= 0) & (row[before] == row) & starts[before]
    return np.where(runs, day[before], np.nan)


def _last_known(row: Whole, day: Floats, shut_then: Floats, valves: int) -> tuple[Floats, Flags]:
    """Day each valve was last shown to shut, NaN where it is not known to; whether it is known not to."""
    known = np.flatnonzero(~np.isnan(shut_then))
    last = np.full(valves, -1)
    last[row[known]] = known
    result = np.where(last >= 0, np.append(shut_then, np.nan)[last], np.nan)
    return np.where(result == 1, np.append(day, np.nan)[last], np.nan), result == 0


def _side_by_side(row: Whole, years: Floats, valves: int) -> Floats:
    """A flat list of values, in order of rows, as one row for each valve with NaN beyond its last."""
    count = np.bincount(row, minlength=valves)
    place = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
    wide = np.full((valves, max(1, int(count.max(initial=0)))), np.nan)
    wide[row, place] = years
    return wide

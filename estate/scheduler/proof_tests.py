"""What the tests of a shut-off prove: years passed, years before each failure, when last in order."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.domain.visits import Readings
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife
from estate.scheduler.shutoff import WEEKS_PER_YEAR

_DAYS_PER_YEAR = 7 * WEEKS_PER_YEAR


@dataclass(frozen=True, slots=True)
class ShutOffColumns:
    """The visits of n valves as one flat list of N, in any order.

    Attributes:
        row: (N,) row of the valve.
        day: (N,) day of the visit as an ordinal number.
        shut: (N,) 1 if it was measured that it shuts, 0 if it did not, NaN if neither.
        sets_reference: (N,) whether the visit was a commissioning or a service.
    """

    row: Whole
    day: Whole
    shut: Floats
    sets_reference: Flags


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


def shut(readings: Readings, limit_ml_min: float | None) -> bool | None:
    """Whether the valve shut when the cold supply was isolated; None if that was not measured.

    A tick without a measured flow is no proof that it shuts; a "no" is proof that it does not.

    Args:
        readings: of one visit.
        limit_ml_min: residual flow accepted (TP-02), ml/min; None where the rule set has none.
    """
    cold = readings.cold_isolated
    flow = cold.residual_ml_min
    measured = None if flow is None or limit_ml_min is None else flow <= limit_ml_min
    return False if cold.said_to_shut is False else measured


def evidence_of(lives: Sequence[ValveLife], limit_ml_min: Sequence[float | None]) -> ShutOffEvidence:
    """What the visits that count of each life prove.

    Args:
        lives: the valves.
        limit_ml_min: residual flow accepted at each, ml/min.
    """
    rows = [
        (row, visit.on.toordinal(), shut(visit.readings, limit), visit.kind.sets_reference)
        for row, (life, limit) in enumerate(zip(lives, limit_ml_min, strict=True))
        for visit in life.visits
    ]
    table = np.array(rows, np.float64).reshape(-1, 4)
    row, day = table[:, 0].astype(np.int64), table[:, 1].astype(np.int64)
    return evidence_from(ShutOffColumns(row, day, table[:, 2], table[:, 3] == 1), len(lives))


def evidence_from(columns: ShutOffColumns, valves: int) -> ShutOffEvidence:
    """What a flat list of visits proves.

    The clock starts at a visit that shows the shut-off in order and at a commissioning or service that does
    not show the contrary; a result measured there came after the work and says nothing of the time
    before. A failure stops the clock until one of these, and an in-service test on a stopped clock is left
    out whatever it showed, so that a failure found twice counts once and the rate stays unbiased.
    Visits of one day keep the order in which they came; a failure within a day counts as one day.

    Args:
        columns: the visits.
        valves: n.
    """
    order = np.lexsort((columns.day, columns.row))
    row, shut_then, sets = columns.row[order], columns.shut[order], columns.sets_reference[order]
    day = columns.day[order].astype(np.float64)
    starts = (shut_then == 1) | (sets & np.isnan(shut_then))
    tested = ~sets & ~np.isnan(shut_then)
    years = (day - _clock(row, day, starts, shut_then == 0)) / _DAYS_PER_YEAR
    counts = tested & ~np.isnan(years)
    passed, failed = counts & (shut_then == 1), counts & (shut_then == 0)
    shown, found_failed = _last_known(row, day, shut_then, valves)
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

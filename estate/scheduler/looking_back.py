"""The visits of valves as far as past days knew them: one row for each valve and last visit looked at."""

from collections.abc import Sequence
from dataclasses import fields

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.planning import Windows
from estate.scheduler.visit_table import VisitTable

_MORE_THAN_ANY_DAY = 4_000_000
"""Above every ordinal number of a day, so that valve and day sort as one number."""


def visits_until(table: VisitTable, day: int) -> Whole:
    """(n,) how many visits each valve had up to and with a day, an ordinal number."""
    sorted_by = table.row * _MORE_THAN_ANY_DAY + table.day
    ends = np.arange(len(table.count)) * _MORE_THAN_ANY_DAY + day
    return np.asarray(np.searchsorted(sorted_by, ends, side="right") - table.first, np.int64)


def table_until(table: VisitTable, rows: Sequence[int], counts: Sequence[int]) -> VisitTable:
    """The first visits of some valves; a valve may come several times, with fewer or more of them.

    Args:
        table: of all valves.
        rows: which valves.
        counts: how many visits of each are taken.
    """
    chosen, count = np.array(rows, np.int64), np.array(counts, np.int64)
    begins = np.cumsum(count) - count
    place = np.arange(int(count.sum())) + np.repeat(table.first[chosen] - begins, count)
    names = [each.name for each in fields(table)[1:]]
    return VisitTable(count, *(getattr(table, name)[place] for name in names))


def last_days(windows: Windows) -> Floats:
    """(n,) the last day of the windows of valves with a visit, as ordinal numbers.

    Where no rule gives an interval it is the day of the last visit, as for a single valve.
    """
    ends = windows.ends.days.min(axis=0)
    known: Flags = np.isfinite(ends)
    return np.asarray(np.where(known, ends, windows.ends.lives.last_day), np.float64)

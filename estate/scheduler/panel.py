"""The readings of many valves side by side, one row a valve, one column a visit."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife
from estate.scheduler.visit_table import VisitTable, table_of


@dataclass(frozen=True, slots=True)
class Panel:
    """Mixed temperatures of n valves over at most m visits; NaN where not measured and beyond the last visit.

    Attributes:
        weeks: (n, m) weeks since the valve's first visit, not falling along a row.
        found: (n, m) mixed temperature as found, °C.
        left: (n, m) mixed temperature as left, °C; used only where `reset`.
        reset: (n, m) whether the visit began a new level.
        kind_sets_reference: (n, m) whether the visit was a commissioning or a service.
        count: (n,) visits of each valve.
    """

    weeks: Floats
    found: Floats
    left: Floats
    reset: Flags
    kind_sets_reference: Flags
    count: Whole

    def rows(self, chosen: Whole | Flags) -> "Panel":
        """The panel of some of the valves, cut to their own longest history."""
        count = self.count[chosen]
        width = int(count.max(initial=0))
        here = (chosen, slice(width))
        return Panel(
            self.weeks[here],
            self.found[here],
            self.left[here],
            self.reset[here],
            self.kind_sets_reference[here],
            count,
        )


def panel_of(lives: Sequence[ValveLife]) -> Panel:
    """Lay out the visits that count of each life; a life without visits is a row without visits.

    Returns:
        One row for each life, in their order; m is at least 1.
    """
    return panel_from(table_of(lives))


def panel_from(table: VisitTable) -> Panel:
    """Lay out the visits of a table.

    A visit begins a new level if it is a commissioning or a service, if the adjuster was turned, or if
    the as-left value differs from the as-found one. Where it is said that nothing was adjusted and no
    other value was left, the as-left value is the as-found one: nothing begins (not a second
    measurement).
    """
    found, left = table.found, table.left
    adjusted, sets = table.adjusted, table.sets_reference
    untouched = (adjusted == 0) & (np.isnan(left) | (left == found) | (np.isnan(found) & ~sets))
    found = np.where(untouched & np.isnan(found), left, found)
    differs = ~np.isnan(left) & (left != found)
    reset = ~untouched & (sets | (adjusted == 1) | differs)
    days = table.day - np.repeat(_firsts(table), table.count)
    weeks = table.grid(days / 7.0)
    flags = np.zeros((2, *weeks.shape), np.bool_)
    flags[0, table.row, table.place], flags[1, table.row, table.place] = reset, sets
    return Panel(weeks, table.grid(found), table.grid(left), flags[0], flags[1], table.count)


def _firsts(table: VisitTable) -> Whole:
    """Day of the first visit of each valve; anything for a valve without one."""
    if not len(table.day):
        return np.zeros(len(table.count), np.int64)
    firsts: Whole = table.day[np.minimum(table.first, len(table.day) - 1)]
    return firsts

"""The readings of many valves side by side, one row a valve, one column a visit."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.domain.visits import VisitKind
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife


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


@dataclass(frozen=True, slots=True)
class VisitColumns:
    """The same visits as one flat list of N, in any order, as they come from a database.

    Attributes:
        row: (N,) row of the valve in the panel.
        day: (N,) day of the visit as an ordinal number.
        found, left: (N,) °C, NaN where not measured.
        adjusted: (N,) 1 if the adjuster was turned, 0 if it is said that it was not, NaN if not said.
        sets_reference: (N,) whether the visit was a commissioning or a service.
    """

    row: Whole
    day: Whole
    found: Floats
    left: Floats
    adjusted: Floats
    sets_reference: Flags


def panel_of(lives: Sequence[ValveLife]) -> Panel:
    """Lay out the visits that count of each life; a life without visits is a row without visits.

    Returns:
        One row for each life, in their order; m is at least 1.
    """
    visits = [visit for life in lives for visit in life.visits]
    readings = [visit.readings for visit in visits]
    counts = np.fromiter((len(life.visits) for life in lives), np.int64, len(lives))
    columns = VisitColumns(
        np.repeat(np.arange(len(lives)), counts),
        np.fromiter((visit.on.toordinal() for visit in visits), np.int64, len(visits)),
        np.array([each.found_c for each in readings], np.float64),
        np.array([each.left_c for each in readings], np.float64),
        np.array([each.adjusted for each in readings], np.float64),
        np.array([visit.kind is not VisitKind.IN_SERVICE for visit in visits], np.bool_),
    )
    return panel_from(columns, len(lives))


def panel_from(columns: VisitColumns, valves: int) -> Panel:
    """Lay out a flat list of visits.

    A visit begins a new level if it is a commissioning or a service, if the adjuster was turned, or if
    the as-left value differs from the as-found one. Where it is said that nothing was adjusted and no
    other value was left, the as-left value is the as-found one: nothing begins (not a second
    measurement). Visits are put in order of day; those of one day keep the order in which they came.

    Args:
        columns: the visits.
        valves: rows n of the panel.
    """
    order = np.lexsort((columns.day, columns.row))
    row, day = columns.row[order], columns.day[order]
    found, left = _finite(columns.found[order]), _finite(columns.left[order])
    adjusted, sets = columns.adjusted[order], columns.sets_reference[order]
    untouched = (adjusted == 0) & (np.isnan(left) | (left == found) | (np.isnan(found) & ~sets))
    found = np.where(untouched & np.isnan(found), left, found)
    differs = ~np.isnan(left) & (left != found)
    reset = ~untouched & (sets | (adjusted == 1) | differs)
    count = np.bincount(row, minlength=valves)
    place = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
    width = max(1, int(count.max(initial=0)))
    weeks = (day - np.repeat(_firsts(day, count), count)) / 7.0

    def grid(values: Floats) -> Floats:
        wide = np.full((valves, width), np.nan)
        wide[row, place] = values
        return wide

    flags = np.zeros((2, valves, width), np.bool_)
    flags[0, row, place], flags[1, row, place] = reset, sets
    return Panel(grid(weeks), grid(found), grid(left), flags[0], flags[1], count)


def _finite(values: Floats) -> Floats:
    return np.where(np.isfinite(values), values, np.nan)


def _firsts(day: Whole, count: Whole) -> Whole:
    """Day of the first visit of each valve; anything for a valve without one."""
    if not len(day):
        return np.zeros(len(count), np.int64)
    firsts: Whole = day[np.minimum(np.cumsum(count) - count, len(day) - 1)]
    return firsts

"""The visits of many valves as columns: made once, and shared by fits, estimates and windows."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date
from functools import cached_property
from typing import Any

import numpy as np

from estate.domain.visits import VisitDraft, VisitKind
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife

Measured = Sequence[float | None] | Floats
"""A column of what was measured: None or NaN where nothing was."""

KINDS = tuple(VisitKind)
_KIND_PLACE = {kind: place for place, kind in enumerate(KINDS)}
_KIND_WORD_PLACE = {kind.value: place for place, kind in enumerate(KINDS)}
_SETS_REFERENCE = np.array([kind.sets_reference for kind in KINDS])


@dataclass(frozen=True)
class VisitTable:
    """The visits that count of n valves, valve by valve in order of day; N in all.

    What was said but not measured is 1 or 0; everything is NaN where nothing was entered.

    Attributes:
        count: (n,) visits of each valve.
        day: (N,) day of the visit as an ordinal number.
        kind: (N,) place of its kind in `KINDS`.
        found, left: (N,) mixed temperature, °C.
        adjusted: (N,) whether the adjuster was turned.
        hot, cold: (N,) supplies, °C.
        residual_ml_min: (N,) flow with the cold supply isolated.
        said_to_shut: (N,) whether it is said to shut then.
        strainers_cleaned: (N,) whether the strainers were cleaned.
    """

    count: Whole
    day: Whole
    kind: Whole
    found: Floats
    left: Floats
    adjusted: Floats
    hot: Floats
    cold: Floats
    residual_ml_min: Floats
    said_to_shut: Floats
    strainers_cleaned: Floats

    @cached_property
    def row(self) -> Whole:
        """(N,) row of the valve of each visit."""
        return np.repeat(np.arange(len(self.count)), self.count)

    @cached_property
    def first(self) -> Whole:
        """(n,) place of the first visit of each valve; of a valve without one that of the next."""
        return np.cumsum(self.count) - self.count

    @cached_property
    def place(self) -> Whole:
        """(N,) number of each visit among those of its valve, from 0."""
        return np.arange(len(self.day)) - np.repeat(self.first, self.count)

    @cached_property
    def sets_reference(self) -> Flags:
        """(N,) whether the visit was a commissioning or a service."""
        sets: Flags = _SETS_REFERENCE[self.kind]
        return sets

    def of(self, rows: Sequence[int]) -> "VisitTable":
        """The visits of some of the valves, in the order in which they are given; one may come twice."""
        chosen = np.array(rows, np.int64)
        count = self.count[chosen]
        begins = np.cumsum(count) - count
        place = np.arange(int(count.sum())) + np.repeat(self.first[chosen] - begins, count)
        names = [each.name for each in fields(self)[1:]]
        return VisitTable(count, *(getattr(self, name)[place] for name in names))

    def grid(self, values: Floats) -> Floats:
        """(n, m) values (N,) side by side, m at least 1; NaN beyond the last visit."""
        wide = np.full((len(self.count), max(1, int(self.count.max(initial=0)))), np.nan)
        wide[self.row, self.place] = values
        return wide


def table_of(lives: Sequence[ValveLife]) -> VisitTable:
    """Lay out the visits that count of each life; a life without visits is a row without visits."""
    counts = np.fromiter((len(life.visits) for life in lives), np.int64, len(lives))
    visits = [visit for life in lives for visit in life.visits]
    return table_of_visits(np.repeat(np.arange(len(lives)), counts), len(lives), visits)


def table_of_visits(row: Whole, valves: int, visits: Sequence[VisitDraft]) -> VisitTable:
    """Lay out visits that count; those of one valve and day keep the order they came in.

    Args:
        row: (N,) row of the valve of each visit.
        valves: n.
        visits: (N,) the visits.
    """
    readings = [visit.readings for visit in visits]
    return table_in_order(
        row,
        valves,
        np.fromiter([visit.on.toordinal() for visit in visits], np.int64, len(visits)),
        np.fromiter([_KIND_PLACE[visit.kind] for visit in visits], np.int64, len(visits)),
        [each.found_c for each in readings],
        [each.left_c for each in readings],
        [each.adjusted for each in readings],
        [each.hot_c for each in readings],
        [each.cold_c for each in readings],
        [each.cold_isolated.residual_ml_min for each in readings],
        [each.cold_isolated.said_to_shut for each in readings],
        [each.strainers_cleaned for each in readings],
    )


def table_in_order(row: Whole, valves: int, day: Whole, kind: Whole, *measured: Measured) -> VisitTable:
    """Put a flat list of visits in order of valve and day; those of one day keep the order they came in.

    Args:
        row: (N,) row of the valve.
        valves: n.
        day: (N,) ordinal number.
        kind: (N,) place in `KINDS`.
        measured: the other columns of a `VisitTable` in their order, None or NaN where nothing was entered.
    """
    columns = [np.array(each, np.float64) for each in measured]
    for temperature in columns[:2]:
        temperature[~np.isfinite(temperature)] = np.nan
    count = np.bincount(row, minlength=valves)
    step = np.diff(row)
    if np.all((step > 0) | ((step == 0) & (np.diff(day) >= 0))):
        return VisitTable(count, day, kind, *columns)
    order = np.lexsort((day, row))
    return VisitTable(count, day[order], kind[order], *(each[order] for each in columns))


def kinds_of(words: Sequence[str]) -> Whole:
    """Places in `KINDS` of kinds as they are written."""
    return np.fromiter(map(_KIND_WORD_PLACE.__getitem__, words), np.int64, len(words))


class _Days(dict[Any, int]):
    """Days as a driver gives them to ordinal numbers; each of the few distinct ones is read once."""

    def __missing__(self, told: date | str) -> int:
        day = date.fromisoformat(told) if isinstance(told, str) else told
        number = self[told] = day.toordinal()
        return number


def days_of(told: Sequence[date | str]) -> Whole:
    """Ordinal numbers of days, given as dates or as a database writes them, such as 2026-11-25."""
    return np.fromiter(map(_Days().__getitem__, told), np.int64, len(told))

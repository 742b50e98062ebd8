"""The days of a sheet's rows, and which rows stand far from the others."""

from collections.abc import Iterable
from datetime import date
from functools import cached_property
from statistics import median

FEWEST = 5
"""Rows from which on a sheet has a middle day that its rows can be far from."""
FAR_DAYS, FAR_SPREADS = 28, 6
"""A row is far where it is both so many days and so many usual distances from the middle day."""


class SheetDays:
    """The middle of a sheet's days and how far its rows usually lie from it.

    Args:
        days: of every row.
    """

    def __init__(self, days: Iterable[date]) -> None:
        self._days = list(days)
        numbers = sorted(day.toordinal() for day in self._days)
        self._middle = median(numbers) if len(numbers) >= FEWEST else None
        away = [abs(number - self._middle) for number in numbers] if self._middle is not None else [0]
        self._far = max(FAR_DAYS, FAR_SPREADS * median(away))

    @cached_property
    def each(self) -> frozenset[date]:
        """The days on which rows stand."""
        return frozenset(self._days)

    def far_before(self, day: date) -> bool:
        """Whether a day lies far before the others of its sheet, as a day with a slip in it does."""
        return self._middle is not None and self._middle - day.toordinal() > self._far

"""Cells as words for paper."""

from datetime import date

from estate.domain.dates import day_words
from estate.reports.document import Cell, Kind
from estate.reports.wording import number_words


def cell_words(cell: Cell, kind: Kind) -> str:
    """A cell as it is read on paper; units stand in the column's heading."""
    if cell is None or kind is Kind.BAR:
        return ""
    if isinstance(cell, date):
        return day_words(cell)
    if isinstance(cell, int | float):
        return _number(cell, kind)
    return str(cell)


def _number(number: float, kind: Kind) -> str:
    if kind is Kind.SHARE:
        return f"{number * 100:.1f}"
    return number_words(int(number)) if kind is Kind.WHOLE else f"{number:g}"

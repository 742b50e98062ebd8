"""What the name of a sheet and the lines above its table say of when the visits were."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from estate.intake.grid import Grid, is_blank, words_of
from estate.intake.words import Words, fold

MOST_LINES = 30
"""Lines above a table that are looked at."""

_LONGEST = 120
_MONTH_AND_YEAR = re.compile(r"(?<![\d/.-])(0?[1-9]|1[0-2])[/.-]((?:19|20)\d\d)(?![\d/.-])")
_YEAR_AND_MONTH = re.compile(r"(?<![\d/.-])((?:19|20)\d\d)-(0[1-9]|1[0-2])(?:-\d\d)?(?![\d/.-])")
_YEAR = re.compile(r"(?:19|20)\d\d")


@dataclass(frozen=True, slots=True)
class SaidDates:
    """The years, and the months with their years, that are said; none where nothing is."""

    years: frozenset[int] = frozenset()
    months: frozenset[tuple[int, int]] = frozenset()


def said_dates(grid: Grid, header: int, words: Words) -> SaidDates:
    """Read the lines above a header and the name of the sheet.

    A line that speaks of other days, such as a form's issue or the next calibration, counts for nothing. A
    year alone counts in the name of the sheet only: in a title it may be that of a standard.

    Args:
        grid: the sheet.
        header: 0-based row of the header.
        words: names of months, and words of other days.
    """
    months = {pair for text in _lines(grid, header) for pair in _months_in(text, words)}
    for row in grid.rows[: min(header, MOST_LINES)]:
        if not any(_is_of_other_days(words_of(cell), words) for cell in row if isinstance(cell, str)):
            months |= {(cell.year, cell.month) for cell in row if isinstance(cell, date)}
    named = {int(year) for year in _YEAR.findall(grid.name) if len(re.findall(r"\d", grid.name)) == len(year)}
    return SaidDates(frozenset({year for year, _ in months} | named), frozenset(months))


def _lines(grid: Grid, header: int) -> Iterator[str]:
    yield grid.name
    for row in grid.rows[: min(header, MOST_LINES)]:
        yield from (words_of(cell) for cell in row if isinstance(cell, str) and not is_blank(cell))


def _months_in(text: str, words: Words) -> set[tuple[int, int]]:
    if len(text) > _LONGEST or _is_of_other_days(text, words):
        return set()
    found = {(int(year), int(month)) for month, year in _MONTH_AND_YEAR.findall(text)}
    found |= {(int(year), int(month)) for year, month in _YEAR_AND_MONTH.findall(text)}
    pieces = fold(text).split()
    years = {int(piece) for piece in pieces if _YEAR.fullmatch(piece)}
    if len(years) == 1:
        found |= {(year, words.months[piece]) for year in years for piece in pieces if piece in words.months}
    return found


def _is_of_other_days(text: str, words: Words) -> bool:
    return not words.labels["other_days"].isdisjoint(fold(text).split())

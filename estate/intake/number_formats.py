"""What a number format makes of a number: a date, a time, a duration, or what it is."""

import re
from datetime import date, datetime, time, timedelta
from enum import Enum

from estate.intake.grid import Cell

_BUILT_IN_DATES = frozenset({*range(14, 23), *range(27, 37), 45, 47, *range(50, 59)})
_BUILT_IN_DURATION = 46
_ASIDE = re.compile(r'"[^"]*"?|\\.|[_*].|general|e[+-]', re.IGNORECASE | re.DOTALL)
_ELAPSED = re.compile(r"\[(?:h+|m+|s+)\]", re.IGNORECASE)
_BRACKETS = re.compile(r"\[[^\]]*\]?")
_DATE_LETTERS = frozenset("dmyhs")
_SECONDS_A_DAY = 86_400
_LAST_SERIAL = 2_958_466
"""The day after 31 December 9999."""


class Shown(Enum):
    """How a cell shows its number."""

    NUMBER = "number"
    DATE = "date"
    DURATION = "duration"


def built_in(number: int) -> Shown:
    """What a format that every program knows by its number shows."""
    if number == _BUILT_IN_DURATION:
        return Shown.DURATION
    return Shown.DATE if number in _BUILT_IN_DATES else Shown.NUMBER


def written(pattern: str) -> Shown:
    """What a format written out shows, by its first section."""
    plain = _ASIDE.sub("", pattern).split(";")[0]
    if _ELAPSED.search(plain):
        return Shown.DURATION
    return Shown.DATE if _DATE_LETTERS & set(_BRACKETS.sub("", plain).lower()) else Shown.NUMBER


def value_of(number: float, shown: Shown, epoch: date) -> Cell:
    """A cell's value as it is shown.

    Args:
        number: the number kept, in days for dates, times and durations.
        shown: how it is shown.
        epoch: the day counted from.

    Returns:
        The number itself where no date or time can be made of it.
    """
    if shown is Shown.NUMBER or not 0 <= number < _LAST_SERIAL:
        return number
    since = timedelta(seconds=round(number * _SECONDS_A_DAY))
    if shown is Shown.DURATION:
        return since
    if since < timedelta(days=1):
        return (datetime.min + since).time()
    try:
        moment = datetime.combine(epoch, time()) + since
    except OverflowError:
        return number
    return moment.date() if moment.time() == time() else moment

"""Dates in cells: real ones, serial numbers and text, whose order is told from the whole column."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from estate.intake.grid import Cell, is_blank, shown
from estate.intake.values import Doubt, trouble_in
from estate.intake.words import Words, fold

_ZONE = r"(?:Z|[+-][0-9]{2}:?[0-9]{2})?"
_TIME = rf"(?:[T ]+[0-9]{{1,2}}[:.][0-9]{{2}}(?:[:.][0-9]{{2}}(?:[.,][0-9]+)?)?(?: ?[ap]m)?{_ZONE})?"
_ISO = re.compile(rf"([0-9]{{4}})([-/.])([0-9]{{1,2}})\2([0-9]{{1,2}}){_TIME}", re.IGNORECASE)
_COMPACT = re.compile(r"((?:19|20)[0-9]{2})([0-9]{2})([0-9]{2})")
_PARTS = re.compile(
    rf"([0-9]{{1,2}})([-/. ])\s?([0-9]{{1,2}})\2\s?([0-9]{{4}}|[0-9]{{2}}){_TIME}", re.IGNORECASE
)
_SERIAL = re.compile(r"[0-9]{5}(?:[.,][0-9]+)?")
_END_TIME = re.compile(r",? [0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?(?: ?[ap]m)?$", re.IGNORECASE)
_ORDINAL = re.compile(r"\b([0-9]{1,2})(?:st|nd|rd|th|er)\b", re.IGNORECASE)
_FIRST, _LAST = date(1970, 1, 1), date(2099, 12, 31)
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class DateOrder:
    """What a column tells about its dates.

    Attributes:
        day_first, month_first: whether a date in it can only be read so.
        swapped: whether its real dates may be month-first misreadings of day-first text.
        year_first: whether its dates with a two-digit year may begin with the year.
    """

    day_first: bool = False
    month_first: bool = False
    swapped: bool = False
    year_first: bool = False


def order_of(cells: Iterable[Cell]) -> DateOrder:
    """Tell from a whole column which order its written dates have."""
    everything = list(cells)
    written = list(_parted(everything))
    slashed = [parts for parts in written if parts[2] != "."]
    firsts, seconds = {int(parts[1]) for parts in slashed}, {int(parts[3]) for parts in slashed}
    short = [parts for parts in written if len(parts[4]) == 2]
    # A program set to the other order turns 05/10 into a real date, wrongly, and leaves 15/10 as text.
    days = {cell.day for cell in everything if isinstance(cell, date)}
    return DateOrder(
        day_first=any(12 < part <= 31 for part in firsts),
        month_first=any(12 < part <= 31 for part in seconds),
        swapped=bool(days and slashed) and max(days) <= 12 < max(min(firsts), min(seconds)),
        # In a round the days differ and the year is one; the other way about, the year stands first.
        year_first=len({parts[4] for parts in short}) > len({parts[1] for parts in short}),
    )


def _parted(cells: Iterable[Cell]) -> Iterator[re.Match[str]]:
    for cell in cells:
        if (
            isinstance(cell, str)
            and len(cell) <= _LONGEST
            and (parts := _PARTS.fullmatch(" ".join(cell.split())))
        ):
            yield parts


def read_date(cell: Cell, order: DateOrder, words: Words, epoch: date) -> date | Doubt | None:
    """The day a cell says.

    Args:
        cell: its content.
        order: what the whole column tells.
        words: names of months.
        epoch: day 0 of the file's serial dates.

    Returns:
        None where the cell is blank.
    """
    if is_blank(cell):
        return None
    if doubt := trouble_in(cell):
        return doubt
    if isinstance(cell, date):
        day = cell.date() if isinstance(cell, datetime) else cell
        return _ambiguous() if order.swapped and day.day != day.month else _sensible(day)
    text = " ".join(shown(cell).split())
    if isinstance(cell, bool) or len(text) > _LONGEST:
        return _unreadable()
    if _SERIAL.fullmatch(text):
        return _sensible(epoch + timedelta(days=int(text[:5])))
    return _written(text, order, words)


def _written(text: str, order: DateOrder, words: Words) -> date | Doubt:
    if iso := _ISO.fullmatch(text):
        return _day(iso[1], iso[3], iso[4])
    if compact := _COMPACT.fullmatch(text):
        return _day(*compact.groups())
    if parts := _PARTS.fullmatch(text):
        if len(parts[4]) == 2 and order.year_first:
            return _ambiguous()
        return _in_order(int(parts[1]), int(parts[3]), _full_year(parts[4]), parts[2] == ".", order)
    return _named(text, words)


def _in_order(first: int, second: int, year: str, dotted: bool, order: DateOrder) -> date | Doubt:
    if dotted or first > 12 or first == second:
        return _day(year, second, first)
    if second > 12:
        return _day(year, first, second)
    if order.day_first == order.month_first:
        return _ambiguous()
    return _day(year, second, first) if order.day_first else _day(year, first, second)


def _named(text: str, words: Words) -> date | Doubt:
    """A date with the name of its month, such as 17 Oct 2026, 17-Oct-26, October 17th, 2026."""
    plain = _ORDINAL.sub(r"\1", _END_TIME.sub("", text))
    pieces = fold(plain).split()
    months = [words.months[piece] for piece in pieces if piece in words.months]
    numbers = [piece for piece in pieces if re.fullmatch(r"[0-9]{1,4}", piece)]
    known = len(months) + len(numbers)
    spare = [piece for piece in pieces if piece not in words.months and piece not in numbers]
    if len(months) != 1 or len(numbers) != 2 or len(pieces) - known > 1 or any(map(_has_digit, spare)):
        return _unreadable()
    day, year = numbers
    if len(day) > 2 or len(year) not in (2, 4) or (spare and pieces[0] != spare[0]):
        return _unreadable()
    return _day(_full_year(year), months[0], day)


def _has_digit(text: str) -> bool:
    return any(map(str.isdigit, text))


def _full_year(year: str) -> str:
    if len(year) == 4:
        return year
    return f"19{year}" if int(year) >= 70 else f"20{year}"


def _day(year: str | int, month: str | int, day: str | int) -> date | Doubt:
    try:
        return _sensible(date(int(year), int(month), int(day)))
    except ValueError:
        return _unreadable()


def _sensible(day: date) -> date | Doubt:
    return day if _FIRST <= day <= _LAST else _unreadable()


def _unreadable() -> Doubt:
    return Doubt("unreadable-date", "Write the date as day, name of the month and year, such as 17 Oct 2026.")


def _ambiguous() -> Doubt:
    return Doubt(
        "ambiguous-date", "Day and month can't be told apart in this column: write it such as 17 Oct 2026."
    )

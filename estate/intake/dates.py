"""Dates in cells: real ones, serial numbers and text, with every day that each may mean."""

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta

from estate.domain.layouts import DateOrder as Order
from estate.domain.phrases import phrase
from estate.intake.grid import Cell, is_blank, shown
from estate.intake.values import Doubt, trouble_in
from estate.intake.words import Words, fold

REAL = "real dates"

_ZONE = r"(?:Z|[+-][0-9]{2}:?[0-9]{2})?"
_SECONDS = r"(?:[:.][0-9]{2}(?:[.,][0-9]+)?)?"
_CLOCK = rf"[0-9]{{1,2}}[:.h][0-9]{{2}}{_SECONDS}(?: ?[ap]\.?m\.?)?{_ZONE}(?: ?uhr| ?hrs?)?"
_TIME = rf"(?:(?:T|,? ?(?:at|um|à)? ){_CLOCK})?"
_ISO = re.compile(rf"([0-9]{{4}})([-/.])([0-9]{{1,2}})\2([0-9]{{1,2}}){_TIME}", re.IGNORECASE)
_COMPACT = re.compile(r"((?:19|20)[0-9]{2})([0-9]{2})([0-9]{2})")
_PARTS = re.compile(
    rf"([0-9]{{1,2}})([-/. ])\s?([0-9]{{1,2}})\2\s?('?[0-9]{{2}}|[0-9]{{4}}){_TIME}", re.IGNORECASE
)
_SHORT = re.compile(r"([0-9]{1,2})(?:/([0-9]{1,2})|\. ?([0-9]{1,2})\.)")
_SERIAL = re.compile(r"[0-9]{5}(?:[.,][0-9]+)?")
_END_TIME = re.compile(rf",? (?:at |um |à )?{_CLOCK}$", re.IGNORECASE)
_ORDINAL = re.compile(r"\b([0-9]{1,2})(?:st|nd|rd|th|er|e)\b", re.IGNORECASE)
_LEADING_WORD = re.compile(r"([^\W\d_]+)\.?,?\s+(?=[0-9])")
_WHOLE = re.compile(r"[0-9]{1,4}")
_FIRST, _LAST = date(1970, 1, 1), date(2099, 12, 31)
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class Days:
    """The days that a cell may mean; None where it can't be read in that order.

    Attributes:
        plain: whether it can only be read in one way, whatever the column says.
        manner: how a plain one is written: an order, or ``real dates``.
        parts: first and second number of a date written in numbers; empty for any other.
        dotted: whether points stand between them.
        short_year: the last number where it has two digits.
    """

    day_first: date | None
    month_first: date | None
    year_first: date | None = None
    plain: bool = False
    manner: str = ""
    parts: tuple[int, ...] = ()
    dotted: bool = False
    short_year: str = ""


@dataclass(frozen=True)
class DayReader:
    """Reads the cells of one column of dates.

    Attributes:
        epoch: day 0 of the file's serial dates.
        years: the years that the title and the name of the sheet say of the visits.
        months: the years and months that they say.
    """

    words: Words
    epoch: date = date(1899, 12, 30)
    years: Collection[int] = ()
    months: Collection[tuple[int, int]] = ()
    _known: dict[Cell, Days | Doubt | None] = field(default_factory=dict)

    def days(self, cell: Cell) -> Days | Doubt | None:
        """What a cell may mean; None where it is blank. Each content is read once."""
        if isinstance(cell, bool):
            return unreadable()
        if cell not in self._known:
            self._known[cell] = self._days(cell)
        return self._known[cell]

    def _days(self, cell: Cell) -> Days | Doubt | None:
        if is_blank(cell):
            return None
        if doubt := trouble_in(cell):
            return doubt
        if isinstance(cell, date):
            return _plain(cell.date() if isinstance(cell, datetime) else cell, REAL)
        text = " ".join(shown(cell).split())
        if len(text) > _LONGEST:
            return unreadable()
        if _SERIAL.fullmatch(text):
            return _plain(self.epoch + timedelta(days=int(text[:5])), REAL)
        if not isinstance(cell, str) and not _COMPACT.fullmatch(text):
            return unreadable()
        return self._written(text)

    def _written(self, text: str) -> Days | Doubt:
        head = _LEADING_WORD.match(text)
        weekday = self.words.weekdays.get(fold(head[1]), 0) if head else 0
        if head and weekday:
            rest = text[head.end() :]
            found = self._numbered(rest) or self._named(rest)
            # "Mar" is a month and, in other languages, a Tuesday.
            if isinstance(found, Days) or fold(head[1]) not in self.words.months:
                return found if isinstance(found, Doubt) else _on_weekday(found, weekday)
        return self._numbered(text) or self._named(text)

    def _numbered(self, text: str) -> Days | Doubt | None:
        if iso := _ISO.fullmatch(text):
            return _plain(_day(iso[1], iso[3], iso[4]), Order.YEAR_FIRST)
        if compact := _COMPACT.fullmatch(text):
            return _plain(_day(*compact.groups()), Order.YEAR_FIRST)
        if parts := _PARTS.fullmatch(text):
            return _parted(parts[1], parts[3], parts[4].lstrip("'"), dotted=parts[2] == ".")
        if short := _SHORT.fullmatch(text):
            return self._yearless(int(short[1]), int(short[2] or short[3]), dotted=short[2] is None)
        return None

    def _yearless(self, first: int, second: int, dotted: bool) -> Days | Doubt:
        year = self._year()
        found = _parted(str(first), str(second), str(year), dotted) if year else unreadable()
        if isinstance(found, Doubt):
            return found
        day_first, month_first = map(self._if_said, (found.day_first, found.month_first))
        if day_first is None and month_first is None:
            return unreadable()
        return replace(found, day_first=day_first, month_first=month_first)

    def _year(self) -> int | None:
        """The one year that the lines above say; None where they say none or several."""
        return next(iter(self.years)) if len(self.years) == 1 else None

    def _if_said(self, day: date | None) -> date | None:
        """A day without a year of its own, if the lines above name its month or no month at all."""
        return day if day and (not self.months or (day.year, day.month) in self.months) else None

    def _named(self, text: str) -> Days | Doubt:
        """A date with the name of its month, such as 17 Oct 2026, 17-Oct-26, October 17th, 2026."""
        plain = _ORDINAL.sub(r"\1", _END_TIME.sub("", text))
        around = self.words.answers["around_dates"]
        pieces = [piece for piece in fold(plain).split() if piece not in around]
        if pieces and pieces[0] in self.words.weekdays:
            found = self._of_pieces(pieces[1:])
            if isinstance(found, Days):
                return _on_weekday(found, self.words.weekdays[pieces[0]])
        return self._of_pieces(pieces)

    def _of_pieces(self, pieces: Sequence[str]) -> Days | Doubt:
        months = [place for place, piece in enumerate(pieces) if piece in self.words.months]
        numbers = [piece for piece in pieces if _WHOLE.fullmatch(piece)]
        if len(months) != 1 or len(pieces) != len(numbers) + 1 or months[0] > 1 or len(numbers[0]) > 2:
            return unreadable()
        month = self.words.months[pieces[months[0]]]
        if len(numbers) == 1 and months[0] == 1 and (year := self._year()):
            day = self._if_said(_day(year, month, numbers[0]))
            return _plain(day, Order.DAY_FIRST)
        # "Oct 12-14" may be three days: with the month first, only a whole year is one.
        if len(numbers) != 2 or len(numbers[1]) not in ((4,) if months[0] == 0 else (2, 4)):
            return unreadable()
        manner = Order.DAY_FIRST if months[0] else Order.MONTH_FIRST
        return _plain(_day(full_year(numbers[1]), month, numbers[0]), manner)


def _parted(first: str, second: str, year: str, dotted: bool) -> Days | Doubt:
    """A date in numbers: with points the day is first; else both orders that are possible."""
    long = full_year(year)
    day_first, month_first = _day(long, second, first), None if dotted else _day(long, first, second)
    short = year if len(year) == 2 else ""
    year_first = _day(full_year(f"{int(first):02}"), second, year) if short else None
    if day_first is None and month_first is None and year_first is None:
        return unreadable()
    return Days(
        day_first,
        month_first,
        year_first,
        plain=dotted or day_first == month_first,
        manner=Order.DAY_FIRST if dotted else "",
        parts=(int(first), int(second)),
        dotted=dotted,
        short_year=short,
    )


def _on_weekday(days: Days, weekday: int) -> Days | Doubt:
    """Those days that fall on the weekday which the cell names."""
    first, second = (day if _falls(day, weekday) else None for day in (days.day_first, days.month_first))
    if first is None and second is None:
        return Doubt(
            "unreadable-date", phrase("The day of the week does not fit the date: look at both again.")
        )
    return replace(days, day_first=first, month_first=second, year_first=None, short_year="")


def _falls(day: date | None, weekday: int) -> bool:
    return day is not None and day.isoweekday() == weekday


def full_year(year: str) -> str:
    """A year of two digits with its century; from 70 on it is of the last one."""
    if len(year) != 2:
        return year
    return f"19{year}" if int(year) >= 70 else f"20{year}"


def _day(year: str | int, month: str | int, day: str | int) -> date | None:
    try:
        found = date(int(year), int(month), int(day))
    except ValueError:
        return None
    return found if _FIRST <= found <= _LAST else None


def _plain(day: date | None, manner: str) -> Days | Doubt:
    if day is None or not _FIRST <= day <= _LAST:
        return unreadable()
    return Days(day, day, plain=True, manner=manner)


def unreadable() -> Doubt:
    """The doubt about what is no date."""
    return Doubt(
        "unreadable-date", phrase("Write the date as day, name of the month and year, such as 17 Oct 2026.")
    )


def ambiguous() -> Doubt:
    """The doubt about a date that has two readings."""
    return Doubt(
        "ambiguous-date",
        phrase("Day and month can't be told apart in this column: write it such as 17 Oct 2026."),
    )

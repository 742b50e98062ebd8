"""Axes of a chart: what range they show, where their ticks stand, and where a value lies on paper."""

from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median

from estate.window import words
from estate.window.models.drift_course import HALF_95, Course

_FARTHEST_K = 12.0
"""A reading farther than this from the middle one does not stretch the axis; it is shown at its edge."""
_FAN_BEYOND_K = 4.0
_LEAST_K = 4.0
_STEPS_K = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
_STEPS_MONTHS = (1, 2, 3, 6, 12, 24, 36, 60, 120)
_DAYS_A_YEAR = 365.25
_ARROW = 13.0


@dataclass(frozen=True, slots=True)
class Range:
    """What the axes show: days, and temperatures in °C."""

    first: date
    last: date
    low_c: float
    high_c: float


@dataclass(frozen=True, slots=True)
class Axes:
    """A range laid on a rectangle, in pixels; y counts downwards."""

    shown: Range
    left: float
    top: float
    right: float
    bottom: float

    def x(self, on: date) -> float:
        """Where a day lies."""
        days = (self.shown.last - self.shown.first).days
        return self.left + (self.right - self.left) * (on - self.shown.first).days / days

    def y(self, celsius: float) -> float:
        """Where a temperature lies."""
        share = (celsius - self.shown.low_c) / (self.shown.high_c - self.shown.low_c)
        return self.bottom - (self.bottom - self.top) * share

    def held_y(self, celsius: float) -> float:
        """Where a temperature lies, held at the edge where it is outside."""
        return min(max(self.y(celsius), self.top), self.bottom)

    def mark_y(self, celsius: float) -> float:
        """Where its mark lies: for a temperature outside, within the edge with room for an arrow."""
        held = self.held_y(celsius)
        if held == self.y(celsius):
            return held
        return held + (_ARROW if held == self.top else -_ARROW)

    def day_at(self, x: float) -> date:
        """The day nearest to a place."""
        days = (self.shown.last - self.shown.first).days
        share = (x - self.left) / (self.right - self.left)
        return self.shown.first + timedelta(days=round(days * share))


def range_of(course: Course, years: int | None = None) -> Range:
    """The range that shows a course, or its last years."""
    first, last = _days(course, years)
    return Range(first, last, *_temperatures(course, first))


def _days(course: Course, years: int | None) -> tuple[date, date]:
    days = [stop.on for stop in course.stops] + [each.on for each in course.fan]
    days += [on for on, _ in course.bodies] + [course.today]
    first, last = min(days), max(days)
    if years is not None:
        first = max(first, course.today - timedelta(days=round(years * _DAYS_A_YEAR)))
    room = timedelta(days=max(14, round((last - first).days * 0.025)))
    return first - room, last + room


def _temperatures(course: Course, first: date) -> tuple[float, float]:
    read = [value for stop in course.stops if stop.on >= first for value in stop.values]
    kept = _near(read)
    kept += [value for value in (course.set_c, course.ceiling_c) if value is not None]
    if course.fan:
        kept.append(course.fan[0].mean_c)
    if not kept:
        return 30.0, 50.0
    low, high = min(kept), max(kept)
    ends = [end for each in course.fan for end in each.between(HALF_95)]
    if ends:
        low, high = max(min(low, *ends), low - _FAN_BEYOND_K), min(max(high, *ends), high + _FAN_BEYOND_K)
    missing = max(0.0, _LEAST_K - (high - low)) / 2
    low, high = low - missing, high + missing
    room = (high - low) * 0.08
    return low - room, max(high + room, _above(course.ceiling_c, low, high))


def _above(ceiling_c: float | None, low: float, high: float) -> float:
    """Room above the ceiling for its band and the words in it."""
    return high if ceiling_c is None else ceiling_c + (ceiling_c - low) * 0.24


def _near(read: list[float]) -> list[float]:
    """Readings without those that a slip of the pen has thrown far off."""
    middle = median(read) if read else 0.0
    return [value for value in read if abs(value - middle) <= _FARTHEST_K]


def ticks_c(shown: Range, most: int) -> tuple[float, ...]:
    """Round temperatures inside a range, `most` at most, °C."""
    span = shown.high_c - shown.low_c
    step = next((each for each in _STEPS_K if span / each <= most), span)
    first = -(-shown.low_c // step)
    numbers = range(int(first), int(shown.high_c // step) + 1)
    return tuple(number * step for number in numbers)


def ticks_days(shown: Range, most: int) -> tuple[tuple[date, str], ...]:
    """Firsts of months inside a range with their words, `most` at most."""
    months = (shown.last - shown.first).days * 12 / _DAYS_A_YEAR
    step = next((each for each in _STEPS_MONTHS if months / each <= most), _STEPS_MONTHS[-1])
    begin = shown.first.year * 12 + shown.first.month - 1
    begin += -begin % step if step < 12 else -begin % 12
    end = shown.last.year * 12 + shown.last.month
    days = (date(number // 12, number % 12 + 1, 1) for number in range(begin, end, step))
    return tuple((day, _tick_words(day, step)) for day in days if shown.first <= day <= shown.last)


def _tick_words(on: date, step: int) -> str:
    return str(on.year) if step >= 12 else words.month(on)

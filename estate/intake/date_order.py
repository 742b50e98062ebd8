"""In which order the dates of a column are written, told from the whole column, its sheet or a person."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from estate.domain.layouts import DateOrder as Order
from estate.domain.questions import Choice
from estate.intake.dates import REAL, Days, ambiguous, unreadable
from estate.intake.values import Doubt

MONTH_DAYS = 31
"""The days of a round lie within so many days of each other."""
APART_DAYS = 60
"""Read in the wrong order, the days of a round lie at least so far apart."""
FEWEST_DAYS = 3
"""So many different written days tell a round from a few visits, at least."""


@dataclass(frozen=True, slots=True)
class DateOrder:
    """What a column tells about its dates.

    Attributes:
        day_first, month_first: whether a date in it can only be read so.
        swapped: whether its real dates may be month-first misreadings of day-first text.
        year_first: whether its dates with a two-digit year may begin with the year.
        settled: the order that a layout, the title or the days tell; it never goes against a proof.
    """

    day_first: bool = False
    month_first: bool = False
    swapped: bool = False
    year_first: bool = False
    settled: Order | None = None

    @property
    def proved(self) -> Order | None:
        """The one order that some date of the column proves; None where none or both are proved."""
        if self.day_first == self.month_first:
            return None
        return Order.DAY_FIRST if self.day_first else Order.MONTH_FIRST


def order_of(days: Iterable[Days], settled: Order | None = None) -> DateOrder:
    """Tell from a whole column which order its written dates have.

    Args:
        days: what each of its cells may mean.
        settled: what a remembered layout says.
    """
    everything = list(days)
    written = [each for each in everything if each.parts]
    slashed = [each for each in written if not each.dotted]
    firsts, seconds = {each.parts[0] for each in slashed}, {each.parts[1] for each in slashed}
    short = [each for each in written if each.short_year]
    # A program set to the other order turns 05/10 into a real date, wrongly, and leaves 15/10 as text.
    real = {each.day_first.day for each in everything if each.manner == REAL and each.day_first}
    return DateOrder(
        day_first=any(each.month_first is None and each.day_first for each in slashed),
        month_first=any(each.day_first is None and each.month_first for each in slashed),
        swapped=bool(real and slashed) and max(real) <= 12 < max(min(firsts), min(seconds)),
        # In a round the days differ and the year is one; the other way about, the year stands first.
        year_first=len({each.short_year for each in short}) > len({each.parts[0] for each in short}),
        settled=settled,
    )


def told_by_months(days: Iterable[Days], months: Collection[tuple[int, int]]) -> Order | None:
    """The order in which all open dates lie in the months that lines above name, where the other has none."""
    both = _open(days)
    in_months = [[(day.year, day.month) in months for day in order] for order in zip(*both, strict=True)]
    return _the_one(*[all(each) for each in in_months], *[any(each) for each in in_months]) if both else None


def told_by_closeness(days: Sequence[Days]) -> Order | None:
    """The order in which the dates of one round lie close together, as those of a round do.

    A visit to each outlet in turn on one day of every month would look the same the other way about; but such
    a day falls on a week-end now and then, when nobody tests. So the days must lie within a month in one
    order, months apart in the other, and only the other may have a Saturday or a Sunday.

    Args:
        days: of a table that names no outlet twice.
    """
    both = sorted(set(_open(days)))
    if len(both) < FEWEST_DAYS:
        return None
    plain = [day for each in days if each.plain and (day := each.day_first)]
    first, second = ([*order, *plain] for order in zip(*both, strict=True))
    close = [_span(order) <= timedelta(MONTH_DAYS) for order in (first, second)]
    apart = [_span(order) >= timedelta(APART_DAYS) for order in (first, second)]
    idle = [any(day.isoweekday() > 5 for day in order) for order in zip(*both, strict=True)]
    if close[0] and apart[1] and idle[1] and not idle[0]:
        return Order.DAY_FIRST
    return Order.MONTH_FIRST if close[1] and apart[0] and idle[0] and not idle[1] else None


def is_open(days: Days) -> bool:
    """Whether a date has two readings."""
    return bool(days.day_first and days.month_first) and days.day_first != days.month_first


def _open(days: Iterable[Days]) -> list[tuple[date, date]]:
    """Both readings of each date that has two."""
    both = ((each.day_first, each.month_first) for each in days)
    return [(first, second) for first, second in both if first and second and first != second]


def _the_one(all_first: bool, all_second: bool, any_first: bool, any_second: bool) -> Order | None:
    if all_first and not any_second:
        return Order.DAY_FIRST
    return Order.MONTH_FIRST if all_second and not any_first else None


def _span(days: Sequence[date]) -> timedelta:
    return max(days) - min(days)


def settle(days: Days, order: DateOrder, answer: Choice | None = None) -> tuple[date, str] | Doubt:
    """The day that a cell means, and how it is written.

    Args:
        days: what it may mean.
        order: what the column tells.
        answer: what a person says of a date that has two readings.
    """
    if days.manner == REAL and order.swapped and days.day_first:
        return _unswapped(days.day_first, order, answer)
    if days.short_year and (order.year_first or order.settled is Order.YEAR_FIRST):
        return _with_short_year(days, order, answer)
    if days.plain and days.day_first:
        return days.day_first, days.manner
    if days.day_first is None or days.month_first is None:
        return _read(days, Order.MONTH_FIRST if days.day_first is None else Order.DAY_FIRST)
    told = _answered(answer) or _told(order)
    return _read(days, told) if told else ambiguous()


def _told(order: DateOrder) -> Order | None:
    if order.day_first and order.month_first:
        return None
    if order.settled not in (None, Order.YEAR_FIRST) and order.proved not in (None, order.settled):
        return None
    return order.proved or (None if order.settled is Order.YEAR_FIRST else order.settled)


def _answered(answer: Choice | None) -> Order | None:
    return (
        {Choice.DAY_FIRST: Order.DAY_FIRST, Choice.MONTH_FIRST: Order.MONTH_FIRST}.get(answer)
        if answer
        else None
    )


def _read(days: Days, order: Order) -> tuple[date, str] | Doubt:
    day = days.day_first if order is Order.DAY_FIRST else days.month_first
    return (day, order) if day else unreadable()


def _with_short_year(days: Days, order: DateOrder, answer: Choice | None) -> tuple[date, str] | Doubt:
    if told := _answered(answer):
        return _read(days, told)
    if order.settled is Order.YEAR_FIRST and days.year_first:
        return days.year_first, Order.YEAR_FIRST
    return ambiguous()


def _unswapped(day: date, order: DateOrder, answer: Choice | None) -> tuple[date, str] | Doubt:
    """A real date that a program may have made of text in the other order; a person can say which."""
    if day.day == day.month:
        return day, REAL
    told = _answered(answer)
    if told is None:
        return ambiguous()
    # The text that stayed text shows how the program reads: the other way about.
    return (day.replace(month=day.day, day=day.month), told) if told is order.proved else (day, told)

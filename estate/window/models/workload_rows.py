"""The coming work as bars and as a table: what is overdue, then week by week."""

from dataclasses import dataclass
from datetime import date

from estate.domain.today import Behind, ListAsked, Workload
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar.

    Attributes:
        number: its place, from 0.
        from_on: None of what is overdue.
        this_week: whether today lies in it.
    """

    number: int
    name: str
    count: int
    asks: ListAsked
    from_on: date | None = None
    this_week: bool = False

    @property
    def overdue(self) -> bool:
        """Whether it counts what is past its window."""
        return self.from_on is None

    @property
    def words(self) -> str:
        """What it says."""
        if self.overdue:
            return f"{words.count(self.count, 'valve')} overdue"
        verb = "ends" if self.count == 1 else "end"
        return f"{self.name}: {words.count(self.count, 'window')} {verb}"


def bars_of(load: Workload) -> tuple[Bar, ...]:
    """The bar of what is overdue, then one a week."""
    late = ListAsked(Behind.OVERDUE, "Overdue", frozenset(load.overdue))
    bars = [Bar(0, "Overdue", len(load.overdue), late)]
    for number, week in enumerate(load.weeks):
        span = words.span(week.from_on, week.until_on)
        name = f"This week, {span}" if number == 0 else span
        bars.append(Bar(number + 1, words.sentence(name), week.count, week.asks, week.from_on, number == 0))
    return tuple(bars)


def in_words(load: Workload) -> str:
    """The coming work in one or two sentences."""
    coming = [each for each in load.weeks if each.count]
    of = sum(each.count for each in load.weeks)
    weeks = words.count(len(load.weeks), "week")
    if not coming:
        return f"No window ends in the next {weeks}. {_beside(load)}"
    most = max(coming, key=lambda each: each.count)
    busiest = f"{most.count:,} at most in one week, from {words.day(most.from_on)}"
    verb = "ends" if of == 1 else "end"
    return f"{words.count(of, 'window')} {verb} in the next {weeks}; {busiest}. {_beside(load)}"


def _beside(load: Workload) -> str:
    late = f"{words.count(len(load.overdue), 'valve')} overdue" if load.overdue else "Nothing is overdue"
    return f"{late}; {load.later:,} end{'s' if load.later == 1 else ''} later."


def workload_model() -> TableModel[Bar]:
    """The bars as a table."""
    columns: tuple[Column[Bar], ...] = (
        Column("Window ends", _name, "This week, 25 Nov 2026 to 29 Nov 2026", stretches=True, marked=True),
        Column("Valves", lambda row: cells.figure(row.count, 0), "1,000 "),
    )
    return TableModel(columns, lambda row: row.number)


def _name(bar: Bar) -> Cell:
    mark = Mark.LOZENGE if bar.overdue else (Mark.TARGET if bar.this_week else None)
    return Cell(bar.name, float(bar.number), mark)

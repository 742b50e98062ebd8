"""The coming work as bars and as a table: what is overdue, then week by week."""

from dataclasses import dataclass
from datetime import date

from estate.domain.today import Behind, ListAsked, Workload
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count


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
            return tr_count(self.count, "{n:,} valve overdue", "{n:,} valves overdue")
        return tr_count(self.count, "{name}: {n:,} window ends", "{name}: {n:,} windows end", name=self.name)


def bars_of(load: Workload) -> tuple[Bar, ...]:
    """The bar of what is overdue, then one a week."""
    late = ListAsked(Behind.OVERDUE, tr("Overdue"), frozenset(load.overdue))
    bars = [Bar(0, tr("Overdue"), len(load.overdue), late)]
    for number, week in enumerate(load.weeks):
        span = words.span(week.from_on, week.until_on)
        name = tr("This week, {span}", span=span) if number == 0 else span
        bars.append(Bar(number + 1, words.sentence(name), week.count, week.asks, week.from_on, number == 0))
    return tuple(bars)


def in_words(load: Workload) -> str:
    """The coming work in one or two sentences."""
    coming = [each for each in load.weeks if each.count]
    of = sum(each.count for each in load.weeks)
    weeks = tr_count(len(load.weeks), "{n:,} week", "{n:,} weeks")
    if not coming:
        return tr("No window ends in the next {weeks}. {beside}", weeks=weeks, beside=_beside(load))
    most = max(coming, key=lambda each: each.count)
    busiest = tr("{count:,} at most in one week, from {day}", count=most.count, day=words.day(most.from_on))
    return tr_count(
        of,
        "{n:,} window ends in the next {weeks}; {busiest}. {beside}",
        "{n:,} windows end in the next {weeks}; {busiest}. {beside}",
        weeks=weeks,
        busiest=busiest,
        beside=_beside(load),
    )


def _beside(load: Workload) -> str:
    late = (
        tr_count(len(load.overdue), "{n:,} valve overdue", "{n:,} valves overdue")
        if load.overdue
        else tr("Nothing is overdue")
    )
    return tr_count(load.later, "{late}; {n:,} ends later.", "{late}; {n:,} end later.", late=late)


def workload_model() -> TableModel[Bar]:
    """The bars as a table."""
    columns: tuple[Column[Bar], ...] = (
        Column(
            said("Window ends"),
            _name,
            "This week, 25 Nov 2026 to 29 Nov 2026",
            stretches=True,
            marked=True,
            id="window-ends",
        ),
        Column(said("Valves"), lambda row: cells.figure(row.count, 0), "1,000 ", id="valves"),
    )
    return TableModel(columns, lambda row: row.number)


def _name(bar: Bar) -> Cell:
    mark = Mark.LOZENGE if bar.overdue else (Mark.TARGET if bar.this_week else None)
    return Cell(bar.name, float(bar.number), mark)

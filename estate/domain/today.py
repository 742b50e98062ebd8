"""What an officer has to know on opening the register: figures, each with the list behind it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from estate.domain.life.outlet_use import UseOfOutlet
from estate.domain.phrases import together
from estate.domain.places import Outlet


class Behind(StrEnum):
    """The list that a figure counts."""

    STOP = "valves to be taken out of use that still run"
    OUT_OF_USE = "outlets out of use"
    PUT_RIGHT = "valves to be put right"
    ACTIONS_LATE = "actions past their target date"
    UNOWNED = "actions without an owner"
    OVERDUE = "valves past their test window"
    NOT_TESTED = "valves of which something required was not measured"
    DUE_SOON = "valves due soon"
    OUT_OF_CALIBRATION = "instruments without a calibration that holds"
    CALIBRATION_ENDS = "instruments soon out of calibration"
    NOT_COMPETENT = "people without a competence that holds"
    COMPETENCE_ENDS = "people whose competence ends soon"
    FLUSHING = "outlets to be flushed"
    SHOWER_HEADS = "shower heads to be cleaned and descaled"
    REVIEWS = "outlets of which it is to be asked whether the valve is still needed"
    NOT_IN_DATE = "valves without a satisfactory test in date"
    WEEK = "valves whose window ends in a week"


class Weight(StrEnum):
    """Why a figure matters, what hurts first."""

    HARM = "could hurt"
    WITHDRAWN = "withdrawn"
    MEND = "put right"
    LATE = "late"
    SETTLE = "to settle"
    UNKNOWN = "not known"
    COMING = "coming"


class Part(StrEnum):
    """The parts of the page, in their order."""

    SAFETY = "Safety"
    TESTS = "Tests"
    MEANS = "Instruments and people"
    UPKEEP = "Upkeep between tests"


@dataclass(frozen=True, slots=True)
class ListAsked:
    """A list to be shown.

    Attributes:
        outlet_ids: the outlets on it, where it lists valves or outlets.
        words: what it lists, for its heading.
        from_on, until_on: its days, where it has some.
    """

    behind: Behind
    words: str
    outlet_ids: frozenset[int] = frozenset()
    from_on: date | None = None
    until_on: date | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """A number and what it says, such as 3 outlets / are out of use.

    Attributes:
        counted: the count and what is counted.
        words: the rest of the sentence.
        more: a further sentence; empty where there is none.
        nothing: what is said, in a row of such, where the count is 0; empty where another says it.
        unknown: whether 0 comes from nothing being on record, and so says nothing.
    """

    part: Part
    weight: Weight
    count: int
    counted: str
    words: str
    nothing: str
    asks: ListAsked
    more: str = ""
    unknown: bool = False

    @property
    def sentence(self) -> str:
        """All of it in words."""
        return together(self.counted, self.words, self.more)


@dataclass(frozen=True, slots=True)
class Share:
    """Valves with a satisfactory test in date on one day.

    Attributes:
        valves: in place that day.
        good: those with a satisfactory test, their window not past.
    """

    on: date
    valves: int
    good: int

    @property
    def of_one(self) -> float | None:
        """The share, 0 to 1; None where no valve was in place."""
        return self.good / self.valves if self.valves else None


@dataclass(frozen=True, slots=True)
class Week:
    """The valves whose window ends in a week; `from_on` is a Monday, or today in the first."""

    from_on: date
    until_on: date
    outlet_ids: tuple[int, ...]

    @property
    def count(self) -> int:
        """How many."""
        return len(self.outlet_ids)

    @property
    def asks(self) -> ListAsked:
        """The list behind the count."""
        return ListAsked(Behind.WEEK, Behind.WEEK, frozenset(self.outlet_ids), self.from_on, self.until_on)


@dataclass(frozen=True, slots=True)
class Workload:
    """Windows by the week in which they end.

    Attributes:
        overdue: outlets of valves whose window is past; in no week.
        later: how many windows end after the last week.
    """

    overdue: tuple[int, ...]
    weeks: tuple[Week, ...]
    later: int


@dataclass(frozen=True, slots=True)
class OutOfUse:
    """An outlet out of use, and how that came."""

    outlet: Outlet
    use: UseOfOutlet


@dataclass(frozen=True, slots=True)
class Today:
    """Everything the first page shows.

    Attributes:
        valves: in place that serve an outlet in use.
        figures: every one, also those that count nothing, in their order.
        shares: the ends of the last months, the oldest first, then today.
        not_in_date: the list of what today's share leaves out.
        workload: of the next weeks.
        out_of_use: outlets out of use, the longest first.
    """

    today: date
    estate: str
    valves: int
    figures: tuple[Figure, ...]
    shares: tuple[Share, ...]
    not_in_date: ListAsked
    workload: Workload
    out_of_use: tuple[OutOfUse, ...] = ()

    @property
    def share(self) -> Share:
        """Today's."""
        return self.shares[-1]

    def of(self, part: Part) -> tuple[Figure, ...]:
        """The figures of a part."""
        return tuple(each for each in self.figures if each.part is part)


def month_ends(today: date, months: int) -> tuple[date, ...]:
    """The last days of the months before this one, the oldest first."""
    ends: list[date] = []
    first = today.replace(day=1)
    for _ in range(months):
        ends.append(first - timedelta(days=1))
        first = ends[-1].replace(day=1)
    return tuple(reversed(ends))


def weeks_from(today: date, weeks: int) -> Iterator[tuple[date, date]]:
    """First and last day of this week from today on, and of those after it, Monday to Sunday."""
    monday = today - timedelta(days=today.weekday())
    for week in range(weeks):
        begins = monday + timedelta(weeks=week)
        yield max(begins, today), begins + timedelta(days=6)

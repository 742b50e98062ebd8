"""What a change of policy would mean for the estate, before it is adopted."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Workload:
    """What the windows of an estate ask for.

    Attributes:
        visits_a_year: tests a year if every valve were tested at the end of the interval that comes back:
            of drift, shut-off, what tests have shown and the longest; retests and stages come on top.
        weeks_above_a_year: valve-weeks a year above the ceiling that the estimates expect; None while
            nothing has been learned of any valve with a ceiling.
        by_month: (first day of month, windows that end in it) for twelve months; what is late counts
            in the first.
    """

    visits_a_year: float
    weeks_above_a_year: float | None
    by_month: tuple[tuple[date, int], ...]


@dataclass(frozen=True, slots=True)
class Move:
    """A valve whose last day would change."""

    ref: str
    before: date
    after: date

    @property
    def days(self) -> int:
        """Days later; negative is sooner."""
        return (self.after - self.before).days


@dataclass(frozen=True, slots=True)
class PolicyPreview:
    """The estate before and after a change, and the valves that would move most, furthest first."""

    key: str
    place: str
    before_value: float | str | None
    after_value: float | str | None
    before: Workload
    after: Workload
    moved: int
    moves: tuple[Move, ...]

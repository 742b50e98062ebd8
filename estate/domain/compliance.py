"""The compliance summary, worked out from the due lines alone."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.rules.values import Override, RuleValue

AGE_BANDS: tuple[tuple[str, int, int], ...] = (
    ("up to 4 weeks", 1, 28),
    ("4 to 13 weeks", 29, 91),
    ("13 to 26 weeks", 92, 182),
    ("over 26 weeks", 183, 10**6),
)


@dataclass(frozen=True, slots=True)
class Tally:
    """Counts for one site or building; each valve is in exactly one of the five parts.

    Attributes:
        good: in date and satisfactory.
        not_satisfactory: in date, last visit to put right, out of use or not tested.
        overdue: window past, last visit satisfactory.
        overdue_not_satisfactory: window past and last visit not satisfactory.
        never: no test on record.
    """

    site: str
    building: str
    valves: int
    good: int
    not_satisfactory: int
    overdue: int
    overdue_not_satisfactory: int
    never: int

    @property
    def share_good(self) -> float | None:
        """Share of valves in date and satisfactory, 0 to 1; None where there is no valve."""
        return self.good / self.valves if self.valves else None


@dataclass(frozen=True, slots=True)
class Compliance:
    """The first form of the compliance summary.

    Attributes:
        by_building: one tally a building, then `by_site`, then `total`.
        overdue_by_age: (band, count) pairs, every band present.
        failures_by_age: failures whose retest is still to come, by age of the failing visit.
        coming: (first day of week, valves whose window ends in it) for 12 weeks.
    """

    today: date
    by_building: tuple[Tally, ...]
    by_site: tuple[Tally, ...]
    total: Tally
    overdue_by_age: tuple[tuple[str, int], ...]
    failures_by_age: tuple[tuple[str, int], ...]
    failures: tuple[DueLine, ...]
    coming: tuple[tuple[date, int], ...]
    rules: tuple[RuleValue, ...] = ()
    overrides: tuple[Override, ...] = field(default=())


def _tally(site: str, building: str, lines: Sequence[DueLine]) -> Tally:
    parts = Counter(_part(line) for line in lines)
    return Tally(
        site,
        building,
        len(lines),
        parts["good"],
        parts["not satisfactory"],
        parts["overdue"],
        parts["overdue, not satisfactory"],
        parts["never"],
    )


def _part(line: DueLine) -> str:
    if line.verdict is None:
        return "never"
    if line.verdict.satisfactory:
        return "overdue" if line.overdue else "good"
    return "overdue, not satisfactory" if line.overdue else "not satisfactory"


def _by_age(days: Iterable[int]) -> tuple[tuple[str, int], ...]:
    ages = list(days)
    return tuple((name, sum(low <= age <= high for age in ages)) for name, low, high in AGE_BANDS)


def summarise(
    lines: Sequence[DueLine],
    today: date,
    rules: tuple[RuleValue, ...] = (),
    overrides: tuple[Override, ...] = (),
    weeks: int = 12,
) -> Compliance:
    """Summarise the due lines of an estate on one day.

    Args:
        lines: every valve in place, in walking order.
        today: the as-at day.
        rules, overrides: values in force and the site's own values, to be listed.
        weeks: how many weeks of coming work to count.

    Returns:
        Counts that add up: each valve is counted once in its building, its site and the total.
    """
    buildings: dict[tuple[str, str], list[DueLine]] = {}
    sites: dict[str, list[DueLine]] = {}
    for line in lines:
        buildings.setdefault((line.path.site, line.path.building), []).append(line)
        sites.setdefault(line.path.site, []).append(line)
    monday = today - timedelta(days=today.weekday())
    starts = [monday + timedelta(weeks=week) for week in range(weeks)]
    failing = [line for line in lines if line.verdict in (Verdict.PUT_RIGHT, Verdict.OUT_OF_USE)]
    return Compliance(
        today=today,
        by_building=tuple(_tally(*names, group) for names, group in buildings.items()),
        by_site=tuple(_tally(site, "", group) for site, group in sites.items()),
        total=_tally("", "", lines),
        overdue_by_age=_by_age(line.days_late for line in lines if line.overdue),
        failures_by_age=_by_age(
            max(1, (today - line.last_visit).days) for line in failing if line.last_visit
        ),
        failures=tuple(failing),
        coming=tuple((start, _ending(lines, start, today)) for start in starts),
        rules=rules,
        overrides=overrides,
    )


def _ending(lines: Sequence[DueLine], start: date, today: date) -> int:
    end = start + timedelta(days=6)
    return sum(max(start, today) <= line.window.not_after <= end for line in lines)

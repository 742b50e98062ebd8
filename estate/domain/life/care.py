"""Upkeep between tests: little-used outlets flushed, shower heads cleaned, valves asked for anew."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from estate.domain.phrases import phrase
from estate.domain.places import Outlet, Use


class CareKind(StrEnum):
    """What was done."""

    FLUSHED = "flushed"
    SHOWER_HEAD = "shower head cleaned and descaled"
    DISINFECTED = "disinfected"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class CareDraft:
    """Upkeep before it is in the register; `duration_s` is None where it was not timed."""

    outlet_id: int
    kind: CareKind
    on: date
    person: str = ""
    duration_s: float | None = None
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class Care:
    """Upkeep in the register.

    Attributes:
        at: moment of entry, UTC.
        withdrawn: why it no longer counts; empty if it does.
    """

    id: int
    draft: CareDraft
    who: str
    at: datetime
    withdrawn: str = ""


@dataclass(frozen=True, slots=True)
class ReviewDraft:
    """Whether an outlet's valve is still needed, before it is in the register (HSE-09)."""

    outlet_id: int
    on: date
    person: str
    needed: bool
    why: str


@dataclass(frozen=True, slots=True)
class Review:
    """Whether an outlet's valve is still needed, in the register; `withdrawn` says why it counts no more."""

    id: int
    draft: ReviewDraft
    who: str
    at: datetime
    withdrawn: str = ""


class CareAsked(StrEnum):
    """What upkeep is asked for at an outlet."""

    FLUSHING = "flush"
    SHOWER_HEAD = "clean and descale the shower head"
    REVIEW = "is the valve still needed?"


@dataclass(frozen=True, slots=True)
class CareLine:
    """One line of the list of upkeep.

    Attributes:
        last: the day it was last done; None where nothing is on record.
        due_on: the day by which it is due; None where nothing is on record or no interval is set: it is due
            at once.
        source: where the interval comes from.
        words: what was said the last time, where it matters.
    """

    outlet: Outlet
    asked: CareAsked
    last: date | None
    due_on: date | None
    source: str
    words: str = ""

    def due(self, today: date) -> bool:
        """Whether it is due; what is not on record is, and what has no interval."""
        return self.due_on is None or self.due_on <= today

    def days_late(self, today: date) -> int:
        """Days past the day it was due; 0 in time, and where nothing is on record."""
        return 0 if self.due_on is None else max(0, (today - self.due_on).days)


@dataclass(frozen=True, slots=True)
class Intervals:
    """How often upkeep is asked for, each with its source; None where no interval is set: then it is due.

    Attributes:
        flushing_days: days between two flushes of a little-used outlet.
        shower_months, review_months: whole months.
    """

    flushing_days: float | None
    flushing_source: str
    shower_months: int | None
    shower_source: str
    review_months: int | None
    review_source: str


def care_lines(
    outlet: Outlet,
    cares: Iterable[Care],
    reviews: Sequence[Review],
    intervals: Intervals,
    stands: bool = False,
) -> tuple[CareLine, ...]:
    """What upkeep an outlet asks for, and when.

    Args:
        outlet: the outlet.
        cares, reviews: what is on record of it; withdrawn entries don't count.
        intervals: of the rules in force there.
        stands: whether it is out of use, so that water stands in it as in a little-used one.
    """
    last: dict[CareKind, date] = {}
    for each in cares:
        if not each.withdrawn:
            last[each.draft.kind] = max(each.draft.on, last.get(each.draft.kind, each.draft.on))
    lines: list[CareLine] = []
    if outlet.little_used or stands:
        flushed = last.get(CareKind.FLUSHED)
        due = _after_days(flushed, intervals.flushing_days)
        lines.append(CareLine(outlet, CareAsked.FLUSHING, flushed, due, intervals.flushing_source))
    if outlet.use is Use.SHOWER:
        cleaned = last.get(CareKind.SHOWER_HEAD)
        due = _after_months(cleaned, intervals.shower_months)
        lines.append(CareLine(outlet, CareAsked.SHOWER_HEAD, cleaned, due, intervals.shower_source))
    counting = [each for each in reviews if not each.withdrawn]
    review = max(counting, key=lambda each: (each.draft.on, each.id), default=None)
    asked = None if review is None else review.draft.on
    due = _after_months(asked, intervals.review_months)
    words = ""
    if review is not None and not review.draft.needed:
        words = phrase("Not needed, said {who}: {why}", who=review.draft.person, why=review.draft.why)
    lines.append(CareLine(outlet, CareAsked.REVIEW, asked, due, intervals.review_source, words))
    return tuple(lines)


def _after_days(last: date | None, days: float | None) -> date | None:
    return None if last is None or days is None else last + timedelta(days=days)


def _after_months(last: date | None, months: int | None) -> date | None:
    return None if last is None or months is None else months_after(last, months)


def months_after(day: date, months: int) -> date:
    """The same day so many months later; the last of the month where it has no such day."""
    total = day.month - 1 + months
    year, month = day.year + total // 12, total % 12 + 1
    first_of_next = date(year + month // 12, month % 12 + 1, 1)
    return date(year, month, min(day.day, (first_of_next - timedelta(days=1)).day))

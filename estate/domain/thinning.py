"""Which backups are kept as they grow old: all of late, then one a day, then one a month."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

_DAYS_A_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Keep:
    """How long backups are kept.

    Attributes:
        all_days: every backup of so many days.
        daily_days: then the last one of each day (UTC), for so many days from now.
        monthly_years: then the last one of each month, for so many years from now.
    """

    all_days: int = 1
    daily_days: int = 31
    monthly_years: int = 10


@dataclass(frozen=True, slots=True)
class Aged:
    """A backup as thinning sees it: its name, its moment (UTC), and whether it can be gone on from."""

    name: str
    at: datetime
    good: bool = True


def too_many(backups: Sequence[Aged], now: datetime, keep: Keep) -> tuple[Aged, ...]:
    """The backups to remove, oldest first; never the newest, and never the last good one.

    Of a day or a month the last good one stays; one that is not good stays only where the day has no other.

    Args:
        backups: in any order.
        now: the moment that ages are counted to; a backup dated later is kept.
        keep: for how long.
    """
    newest_first = sorted(backups, key=lambda each: (each.at, each.name), reverse=True)
    kept: dict[Hashable, Aged] = {}
    for each in newest_first:
        place = _place(each, now, keep)
        if place is not None and (place not in kept or (each.good and not kept[place].good)):
            kept[place] = each
    good = [each for each in newest_first if each.good]
    staying = {each.name for each in (*kept.values(), *newest_first[:1], *good[:1])}
    return tuple(each for each in reversed(newest_first) if each.name not in staying)


def _place(each: Aged, now: datetime, keep: Keep) -> Hashable | None:
    """What a backup is the only one of; None for one that has grown too old."""
    age = now - each.at
    moment = each.at.astimezone(UTC)
    if age <= timedelta(days=keep.all_days):
        return each.name
    if age <= timedelta(days=keep.daily_days):
        return moment.date()
    if age <= timedelta(days=keep.monthly_years * _DAYS_A_YEAR):
        return moment.year, moment.month
    return None

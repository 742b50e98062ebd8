"""Over which time each body was watched, and how that ended."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from estate.scheduler.arrays import Floats
from estate.scheduler.survival import Lifetimes

DAYS_PER_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class WatchedBody:
    """One body at one position.

    Attributes:
        model: make and model.
        ref: reference of the outlet there.
        valve: words for the body.
        born: day on which the body was first fitted anywhere; None if not on record.
        entered: first day of which something is on record; None if it was never watched.
        left: day on which it went from there; None while in place.
        replaced: whether another body took its place.
    """

    model: str
    ref: str
    valve: str
    born: date | None
    entered: date | None
    left: date | None = None
    replaced: bool = False

    def years_watched(self, as_at: date) -> float:
        """Years over which its replacement would have been seen."""
        if self.entered is None:
            return 0.0
        return max(0, ((self.left or as_at) - self.entered).days) / DAYS_PER_YEAR

    def age_years(self, as_at: date) -> float | None:
        """Its age; None where the day of fitting is not on record."""
        return None if self.born is None else (as_at - self.born).days / DAYS_PER_YEAR


def lifetimes_of(bodies: Sequence[WatchedBody], as_at: date) -> Lifetimes:
    """The watched lives of bodies whose age is known, as ages; those not watched for a day are left out."""
    rows = [
        ((each.entered - each.born).days, ((each.left or as_at) - each.born).days, each.replaced)
        for each in bodies
        if each.born is not None and each.entered is not None and each.years_watched(as_at) > 0
    ]
    entry, left, replaced = (
        np.array(column) for column in (zip(*rows, strict=True) if rows else ([], [], []))
    )
    return Lifetimes(entry / DAYS_PER_YEAR, left / DAYS_PER_YEAR, replaced.astype(np.bool_))


def ages_in_place(bodies: Sequence[WatchedBody], as_at: date) -> tuple[Floats, int]:
    """Ages of the bodies in place, years, and how many more there are whose age is not known."""
    ages = [each.age_years(as_at) for each in bodies if each.left is None]
    known = [each for each in ages if each is not None]
    return np.array(known, np.float64), len(ages) - len(known)

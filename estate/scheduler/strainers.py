"""How many cleanings of strainers fall due within a year."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from estate.scheduler.lives import Lives
from estate.scheduler.watched import DAYS_PER_YEAR

MONTHS_PER_YEAR = 12


def cleanings_due(lives: Lives, every_months: Sequence[float | None], as_at: date) -> tuple[int, int]:
    """Valves whose strainers fall due within a year, and the cleanings that makes.

    Strainers that are overdue, or of which no cleaning is on record, are due now. Without strainers, or
    without an interval in the rule set, nothing falls due.

    Args:
        lives: bodies in place.
        every_months: longest time between cleanings of each, months.
        as_at: the year begins here.
    """
    every = np.array(every_months, np.float64) * DAYS_PER_YEAR / MONTHS_PER_YEAR
    asked = lives.has_strainers & (every > 0)
    wait = np.maximum(0.0, np.nan_to_num(lives.cleaned_day + every - as_at.toordinal(), nan=0.0))
    within = asked & (wait < DAYS_PER_YEAR)
    left = DAYS_PER_YEAR - wait[within] - 1e-6
    return int(within.sum()), int((1 + left // every[within]).sum())

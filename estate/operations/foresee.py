"""What is to be expected of an outlet's valve by a day."""

from datetime import date

from estate.domain.browsing import OutletPage
from estate.scheduler.foresight import chance_within


def chance_by(page: OutletPage, day: date) -> float | None:
    """Chance that the mixed temperature reaches the ceiling between the last visit and a day.

    None where there is no ceiling, nothing is known of the drift, or the day is before the last visit.
    """
    drift = page.learned.drift if page.learned is not None else None
    if page.learned is None or drift is None or page.ceiling_c is None or day < drift.at:
        return None
    weeks = (day - drift.at).days / 7
    return chance_within(drift, page.learned.group.sigma, page.ceiling_c, weeks)

"""Which groups a valve belongs to, and what its next reading is expected to be."""

from datetime import date

from estate.domain.learned import GroupParameters
from estate.domain.visits import VisitDraft
from estate.scheduler.drift import run_filter
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import panel_of
from estate.scheduler.states import DriftParameters, predictive_interval


def group_names(model: str, site: str) -> tuple[str, ...]:
    """The groups of a valve, narrowest first: its model at the site's water, its model, all (INT-11)."""
    return (f"{model} at {site}", model, "the whole estate")


def _unread(visit: VisitDraft) -> bool:
    return visit.readings.found_c is None and visit.readings.left_c is None


def expected_reading(life: ValveLife, group: GroupParameters, on: date) -> tuple[float, float] | None:
    """Interval, °C, in which 99.9 % of as-found readings of a day are expected; None without a level."""
    if life.last is None or on < life.last.on or all(_unread(each) for each in life.visits):
        return None
    drift = DriftParameters(group.mu, group.omega, group.sigma, group.s)
    state = run_filter(panel_of([life]), drift).state
    low, high = predictive_interval(state, drift, (on - life.last.on).days / 7)
    return float(low[0]), float(high[0])

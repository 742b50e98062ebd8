"""Expected time above the ceiling if a valve is tested at the end of each interval."""

from collections.abc import Sequence

import numpy as np

from estate.domain.learned import DriftEstimate, Learned
from estate.scheduler.arrays import Floats
from estate.scheduler.passage import above
from estate.scheduler.shutoff import WEEKS_PER_YEAR
from estate.scheduler.states import DriftState

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


def weeks_above_a_year(
    learned: Sequence[Learned], ceilings_c: Sequence[float], intervals_weeks: Sequence[float]
) -> Floats:
    """Weeks a year above the ceiling, expected from what is known of each valve after its last visit.

    The chance to be above at a time h is averaged over the interval (16 Gauss-Legendre nodes) and taken
    for the whole year: what one interval exposes, the next ones are taken to expose too.

    Args:
        learned: of n valves whose drift is known.
        ceilings_c: °C, (n,).
        intervals_weeks: from the last visit to the end of the window, weeks, (n,).

    Returns:
        (n,) weeks a year.
    """
    drifts = [each.drift for each in learned if each.drift is not None]
    if not drifts:
        return np.zeros(0)
    state = _state(drifts)
    sigma = np.array([each.group.sigma for each in learned], np.float64)
    ends = np.maximum(np.array(intervals_weeks, np.float64), 1e-6)
    horizons = 0.5 * ends[:, None] * (_NODES + 1)
    chances = above(state, sigma, np.array(ceilings_c, np.float64), horizons)
    averaged: Floats = chances @ (_WEIGHTS / 2) * WEEKS_PER_YEAR
    return averaged


def _state(drifts: Sequence[DriftEstimate]) -> DriftState:
    table = np.array(
        [
            (each.level_c, each.drift_k_per_week, each.level_sd_k**2, each.covariance, each.drift_sd**2)
            for each in drifts
        ],
        np.float64,
    )
    return DriftState(*table.T)

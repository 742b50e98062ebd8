"""Expected time above the ceiling if each valve is tested at the end of each interval."""

import numpy as np

from estate.scheduler.arrays import Floats
from estate.scheduler.estimates import Estimates, of_some
from estate.scheduler.passage import above
from estate.scheduler.shutoff import WEEKS_PER_YEAR

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


def weeks_above_a_year(estimates: Estimates, intervals_weeks: Floats) -> float | None:
    """Valve-weeks a year above the ceiling, expected from what is known of each valve after its last visit.

    The chance to be above at a time h is averaged over the interval (16 Gauss-Legendre nodes) and taken
    for the whole year: what one interval exposes, the next ones are taken to expose too.

    Args:
        estimates: of n valves.
        intervals_weeks: (n,) weeks that each interval lasts; a valve with none, or without a level or a
            ceiling, is left out.

    Returns:
        Weeks a year of all valves together; None where not one can be counted.
    """
    counted = estimates.level_known & np.isfinite(estimates.ceiling) & (intervals_weeks > 0)
    if not counted.any():
        return None
    state = of_some(estimates.state, counted)
    horizons = 0.5 * intervals_weeks[counted, None] * (_NODES + 1)
    chances = above(state, estimates.parameters.sigma[counted], estimates.ceiling[counted], horizons)
    return float((chances @ (_WEIGHTS / 2)).sum() * WEEKS_PER_YEAR)

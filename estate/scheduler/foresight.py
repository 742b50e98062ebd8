"""The chance that one valve reaches its ceiling by any day, from what was kept of its drift."""

import numpy as np

from estate.domain.learned import DriftEstimate
from estate.scheduler.passage import reached
from estate.scheduler.states import DriftState


def chance_within(drift: DriftEstimate, sigma: float, ceiling_c: float, weeks: float) -> float:
    """Chance that the true temperature reaches the ceiling within some weeks of the last visit.

    Args:
        drift: level and drift after that visit.
        sigma: wander of its group, K per square root of a week.
        ceiling_c: °C.
        weeks: not negative.
    """
    state = DriftState(
        *(
            np.array([value])
            for value in (
                drift.level_c,
                drift.drift_k_per_week,
                drift.level_sd_k**2,
                drift.covariance,
                drift.drift_sd**2,
            )
        )
    )
    return float(reached(state, sigma, ceiling_c, np.array([weeks]))[0, 0])

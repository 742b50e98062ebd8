"""Between which values the next readings of many valves are expected."""

from collections.abc import Sequence
from itertools import chain

import numpy as np

from estate.domain.learned import GroupParameters
from estate.domain.visits import VisitDraft
from estate.scheduler.drift import run_filter
from estate.scheduler.panel import panel_from
from estate.scheduler.states import DriftParameters, parameter_columns, predictive_interval
from estate.scheduler.visit_table import table_of_visits


def expected_readings(
    visits: Sequence[Sequence[VisitDraft]], groups: Sequence[GroupParameters], weeks: Sequence[float]
) -> list[tuple[float, float]]:
    """Intervals, °C, in which 99.9 % of as-found readings are expected.

    Args:
        visits: of each of n valves before the reading, in order of date, one at least with a mixed value.
        groups: the fitted group of each.
        weeks: from the last visit of each to the reading, weeks, not negative.
    """
    if not visits:
        return []
    columns = parameter_columns([DriftParameters(each.mu, each.omega, each.sigma, each.s) for each in groups])
    row = np.repeat(np.arange(len(visits)), [len(each) for each in visits])
    panel = panel_from(table_of_visits(row, len(visits), list(chain.from_iterable(visits))))
    state = run_filter(panel, columns).state
    low, high = predictive_interval(state, columns, np.array(weeks, np.float64))
    return list(zip(low.tolist(), high.tolist(), strict=True))

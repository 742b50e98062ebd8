"""The drift of each model, by its own readings alone, with intervals."""

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.special import ndtri

from estate.domain.forecast import LEVEL, Drift, Ranged
from estate.scheduler.arrays import Whole
from estate.scheduler.fit import Fit, fit_each
from estate.scheduler.groups import ENOUGH_READINGS, ENOUGH_VALVES
from estate.scheduler.panel import Panel

MOST_VALVES = 1000
"""Of a model with more valves, this many are fitted, evenly spread."""


def drift_by_group(panel: Panel, groups: Mapping[str, Whole]) -> dict[str, Drift]:
    """Fit each group for itself; one with too few valves or readings is left out.

    Args:
        panel: n valves.
        groups: rows of each group, by its name; a valve may be in several.
    """
    chosen = {name: _spread(rows[panel.count[rows] > 1]) for name, rows in groups.items()}
    chosen = {name: rows for name, rows in chosen.items() if len(rows) >= ENOUGH_VALVES}
    if not chosen:
        return {}
    rows = np.concatenate(list(chosen.values()))
    number = np.repeat(np.arange(len(chosen)), [len(each) for each in chosen.values()])
    nothing: Sequence[None] = [None] * len(chosen)
    fits = fit_each(panel.rows(rows), number, nothing)
    return {
        name: _drift(fit)
        for name, fit in zip(chosen, fits, strict=True)
        if fit.valves >= ENOUGH_VALVES and fit.readings >= ENOUGH_READINGS
    }


def _drift(fit: Fit) -> Drift:
    half = float(ndtri(0.5 + LEVEL / 2)) * fit.standard_errors.mu
    mean = Ranged(fit.parameters.mu, fit.parameters.mu - half, fit.parameters.mu + half)
    return Drift(mean, fit.parameters.omega, fit.valves, fit.readings)


def _spread(rows: Whole) -> Whole:
    return rows[:: max(1, -(-len(rows) // MOST_VALVES))]

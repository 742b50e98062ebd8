"""Which valves learn from each other: model at the site's water, widened while a group is too small.

Readings of one valve alone can hardly ever justify an interval (INT-11). A group stands alone from
`ENOUGH_VALVES` valves and `ENOUGH_READINGS` readings that were compared with a prediction; a smaller one
takes the parameters of the next wider group. A group that stands alone still leans a little on the wider
one, so that nothing jumps on the day it becomes big enough, and the estate leans on what is assumed; with
hundreds of readings neither can be seen.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Whole
from estate.scheduler.drift import run_filter
from estate.scheduler.fit import ASSUMED, Fit, Prior, fit_each
from estate.scheduler.panel import Panel
from estate.scheduler.screening import SCREEN, Screen, Treatment

ENOUGH_VALVES = 20
ENOUGH_READINGS = 100

MOST_VALVES = 1000
"""Of the widest group that many valves are fitted, evenly spread: narrower groups only lean on it."""


@dataclass(frozen=True, slots=True)
class GroupFit:
    """The group that a valve's parameters are taken from.

    Attributes:
        name: of the group.
        level: how far it had to be widened: 0 for the narrowest.
        fit: its parameters and what they rest on.
    """

    name: str
    level: int
    fit: Fit


def fit_groups(panel: Panel, names: Sequence[Sequence[str]], screen: Screen = SCREEN) -> tuple[GroupFit, ...]:
    """Fit the groups of an estate and choose one for each valve.

    Args:
        panel: n valves.
        names: for each valve its groups, narrowest first, equally many for all; each group lies wholly
            in one of the next wider, and the last is the whole estate.
        screen: when a reading is not taken at its word.

    Returns:
        One for each valve, in order; valves of one group share one `GroupFit`.
    """
    if not names:
        return ()
    widest = len(names[0]) - 1
    everyone = np.arange(len(names))
    estate = _fits(panel, {names[0][widest]: everyone}, [Prior(ASSUMED)], widest, screen)[0]
    chosen = [estate] * len(names)
    treatment = run_filter(panel, estate.fit.parameters, screen).treatment
    used = (treatment == Treatment.USED).sum(axis=1)
    for level in range(widest - 1, -1, -1):
        groups = _standing_alone([each[level] for each in names], used)
        priors = [Prior(chosen[rows[0]].fit.parameters) for rows in groups.values()]
        for found, rows in zip(_fits(panel, groups, priors, level, screen), groups.values(), strict=True):
            for row in rows.tolist():
                chosen[row] = found
    return tuple(chosen)


def _standing_alone(names: Sequence[str], used: Whole) -> dict[str, Whole]:
    """Rows of each group that is big enough, by its name."""
    kinds, number = np.unique(np.array(names), return_inverse=True)
    valves = np.bincount(number, used > 0, len(kinds))
    readings = np.bincount(number, used, len(kinds))
    enough = (valves >= ENOUGH_VALVES) & (readings >= ENOUGH_READINGS)
    return {str(kinds[each]): np.flatnonzero(number == each) for each in np.flatnonzero(enough)}


def _fits(
    panel: Panel, groups: Mapping[str, Whole], priors: Sequence[Prior], level: int, screen: Screen
) -> list[GroupFit]:
    """Fit groups side by side; of a big one that narrower groups lean on, valves evenly spread."""
    if not groups:
        return []
    taken = [_spread(rows) if level else rows for rows in groups.values()]
    number = np.repeat(np.arange(len(taken)), [len(rows) for rows in taken])
    fits = fit_each(panel.rows(np.concatenate(taken)), number, priors, screen=screen)
    return [GroupFit(name, level, fit) for name, fit in zip(groups, fits, strict=True)]


def _spread(rows: Whole) -> Whole:
    return rows[:: -(-len(rows) // MOST_VALVES)]

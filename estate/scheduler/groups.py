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
from estate.scheduler.fit import ASSUMED, Fit, Prior, fit_each, fit_steps
from estate.scheduler.panel import Panel
from estate.scheduler.screening import SCREEN, Screen, Treatment
from estate.scheduler.states import DriftParameters
from estate.scheduler.steps import Steps, in_panel_order, steps_of
from estate.scheduler.track import trail

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


def fit_groups(
    panel: Panel, names: Sequence[Sequence[str]], screen: Screen = SCREEN, steps: Steps | None = None
) -> tuple[GroupFit, ...]:
    """Fit the groups of an estate and choose one for each valve.

    Args:
        panel: n valves.
        names: for each valve its groups, narrowest first, equally many for all; each group lies wholly
            in one of the next wider, and the last is the whole estate.
        screen: when a reading is not taken at its word.
        steps: the panel turned on its side, where that has been done.

    Returns:
        One for each valve, in order; valves of one group share one `GroupFit`.
    """
    return fit_estate_and_groups(panel, names, screen, steps)[1] if names else ()


def fit_estate_and_groups(
    panel: Panel, names: Sequence[Sequence[str]], screen: Screen = SCREEN, steps: Steps | None = None
) -> tuple[GroupFit, tuple[GroupFit, ...]]:
    """The same with the fit of the whole estate first; there is at least one valve."""
    every = _Estate(panel, steps_of(panel) if steps is None else steps, screen)
    widest = len(names[0]) - 1
    everyone = np.arange(len(names))
    estate = every.fits({names[0][widest]: everyone}, [Prior(ASSUMED)], widest)[0]
    chosen = [estate] * len(names)
    used = every.readings_used(estate.fit.parameters)
    for level in range(widest - 1, -1, -1):
        groups = _standing_alone([each[level] for each in names], used)
        priors = [Prior(chosen[rows[0]].fit.parameters) for rows in groups.values()]
        for found, rows in zip(every.fits(groups, priors, level), groups.values(), strict=True):
            for row in rows.tolist():
                chosen[row] = found
    return estate, tuple(chosen)


@dataclass(frozen=True, slots=True)
class _Estate:
    """The readings of all valves, as they are and turned on their side."""

    panel: Panel
    steps: Steps
    screen: Screen

    def readings_used(self, parameters: DriftParameters) -> Whole:
        """(n,) readings of each valve that are compared with a prediction."""
        run = trail(self.steps, parameters, self.screen)
        used = (run.treatment == Treatment.USED).sum(axis=0)
        return in_panel_order(self.steps, used)

    def fits(self, groups: Mapping[str, Whole], priors: Sequence[Prior], level: int) -> list[GroupFit]:
        """Fit groups side by side; of a big one that narrower groups lean on, valves evenly spread."""
        if not groups:
            return []
        taken = [_spread(rows) if level else rows for rows in groups.values()]
        rows = np.concatenate(taken)
        number = np.repeat(np.arange(len(taken)), [len(each) for each in taken])
        if len(rows) == len(self.panel.count):
            group = np.empty_like(number)
            group[rows] = number
            fits = fit_steps(self.steps, group, priors, screen=self.screen)
        else:
            fits = fit_each(self.panel.rows(rows), number, priors, screen=self.screen)
        return [GroupFit(name, level, fit) for name, fit in zip(groups, fits, strict=True)]


def _standing_alone(names: Sequence[str], used: Whole) -> dict[str, Whole]:
    """Rows of each group that is big enough, by its name; in order of the alphabet."""
    kinds = {name: place for place, name in enumerate(sorted(set(names)))}
    number = np.fromiter((kinds[name] for name in names), np.int64, len(names))
    valves = np.bincount(number, used > 0, len(kinds))
    readings = np.bincount(number, used, len(kinds))
    enough = (valves >= ENOUGH_VALVES) & (readings >= ENOUGH_READINGS)
    return {name: np.flatnonzero(number == place) for name, place in kinds.items() if enough[place]}


def _spread(rows: Whole) -> Whole:
    return rows[:: -(-len(rows) // MOST_VALVES)]

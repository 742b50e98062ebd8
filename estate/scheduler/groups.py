"""Which valves learn from each other: model at the site's water, widened while a group is too small.

Readings of one valve alone can hardly ever justify an interval (INT-11). A group stands alone from
`ENOUGH_VALVES` valves and `ENOUGH_READINGS` readings that were compared with a prediction; a smaller one
takes the parameters of the next wider group. A group that stands alone still leans a little on the wider
one (a `Prior`), so that nothing jumps on the day it becomes big enough, and the estate leans on what is
assumed; with hundreds of readings neither can be seen.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Whole
from estate.scheduler.fit import ASSUMED, Fit, Prior, fit_pooled
from estate.scheduler.panel import Panel
from estate.scheduler.screening import SCREEN, Screen

ENOUGH_VALVES = 20
ENOUGH_READINGS = 100


@dataclass(frozen=True, slots=True)
class GroupFit:
    """The group that a valve's parameters are taken from.

    Attributes:
        name: of the group.
        level: 0 for the narrowest grouping, the highest for the widest.
        fit: its parameters and what they rest on.
    """

    name: str
    level: int
    fit: Fit


def fit_groups(panel: Panel, names: Sequence[Sequence[str]], screen: Screen = SCREEN) -> tuple[GroupFit, ...]:
    """Fit the groups of an estate and choose one for each valve.

    Args:
        panel: n valves.
        names: for each valve its groups, narrowest first, equally many for all; the last is the estate.
        screen: when a reading is not taken at its word.

    Returns:
        One for each valve, in order. Valves of one group share one `GroupFit`.
    """
    chosen: list[GroupFit | None] = [None] * len(names)
    if not names:
        return ()
    widest = len(names[0]) - 1
    for level in range(widest, -1, -1):
        for name, rows in _members([groups[level] for groups in names]).items():
            for wider, part in _by_parent(chosen, rows):
                ...
    return tuple(each for each in chosen if each is not None)

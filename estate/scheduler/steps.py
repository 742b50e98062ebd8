"""A panel turned on its side for the recursions: one row a visit, the longest histories first."""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.panel import Panel

T = TypeVar("T", np.float64, np.int64)

ENOUGH_OF_ITS_OWN = 3
"""Readings from which a valve's usual temperature is its own median."""

RESTART_SD_K = (0.5, 1.0, 2.0)
"""Least, usual and greatest spread assumed for a re-adjustment that was not measured, K (assumed)."""

ENOUGH_RESTARTS = 10


@dataclass(frozen=True, slots=True)
class Steps:
    """Visits of n valves in the order of the recursions, all (m, n) unless said otherwise.

    Attributes:
        order: (n,) row of the panel that stands in each column here.
        active: (m,) number of valves that have a visit of that number; they are the first columns.
        elapsed: weeks since the valve's visit before, 0 at the first.
        found, left: °C, NaN where there is none.
        reset: whether a new level began.
        usual: (n,) temperature that the valve is usually read at, °C.
        restart_sd_k: spread assumed for a re-adjustment that was not measured, K.
    """

    order: Whole
    active: Whole
    elapsed: Floats
    found: Floats
    left: Floats
    reset: Flags
    usual: Floats
    restart_sd_k: float

    def columns(self, chosen: Whole) -> "Steps":
        """The steps of some of the valves, given by their columns here in rising order."""
        if len(chosen) == len(self.order):
            return self
        return Steps(
            order=self.order[chosen],
            active=np.searchsorted(chosen, self.active),
            elapsed=self.elapsed[:, chosen],
            found=self.found[:, chosen],
            left=self.left[:, chosen],
            reset=self.reset[:, chosen],
            usual=self.usual[chosen],
            restart_sd_k=self.restart_sd_k,
        )


def steps_of(panel: Panel) -> Steps:
    """Turn a panel on its side."""
    order = np.argsort(-panel.count, kind="stable")
    counts = panel.count[order]
    width = panel.weeks.shape[1]
    active = np.searchsorted(-counts, -np.arange(width), side="left")
    weeks = panel.weeks[order]
    elapsed = np.diff(weeks, axis=1, prepend=weeks[:, :1])
    found, left, reset = panel.found[order], panel.left[order], panel.reset[order]
    return Steps(
        order=order,
        active=active,
        elapsed=np.ascontiguousarray(np.nan_to_num(elapsed).T),
        found=np.ascontiguousarray(found.T),
        left=np.ascontiguousarray(left.T),
        reset=np.ascontiguousarray(reset.T),
        usual=_usual(found, left),
        restart_sd_k=_restart_sd(left, reset),
    )


def in_panel_order(steps: Steps, sideways: npt.NDArray[T]) -> npt.NDArray[T]:
    """Results of a recursion, (m, n) or (n,), put back as (n, m) or (n,) in the panel's order."""
    back = np.empty_like(sideways.T)
    back[steps.order] = sideways.T
    return back


def _usual(found: Floats, left: Floats) -> Floats:
    """Median of a valve's own readings where there are enough, else of all."""
    both = np.where(np.isnan(found), left, found)
    known = ~np.isnan(both)
    everyone = float(np.median(both[known])) if known.any() else 0.0
    count = known.sum(axis=1)
    ranked, rows = np.sort(both, axis=1), np.arange(len(both))
    lower = ranked[rows, np.maximum((count - 1) // 2, 0)]
    upper = ranked[rows, np.minimum(count // 2, both.shape[1] - 1)]
    return np.where(count >= ENOUGH_OF_ITS_OWN, (lower + upper) / 2, everyone)


def _restart_sd(left: Floats, reset: Flags) -> float:
    """How far re-adjustments end from the one before, in this panel, robustly."""
    least, usual, greatest = RESTART_SD_K
    rows, columns = np.nonzero(reset & ~np.isnan(left))
    values = left[rows, columns]
    moves = np.abs(np.diff(values)[np.diff(rows) == 0])
    if len(moves) < ENOUGH_RESTARTS:
        return usual
    return float(np.clip(1.4826 * np.median(moves) / np.sqrt(2), least, greatest))

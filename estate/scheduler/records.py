"""The records of a simulated estate, as its register would hold them."""

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.panel import Panel

_MORE = 16


class Records:
    """Visits of n valves, commissioned in week 0 and written down as they happen."""

    def __init__(self, valves: int, set_c: float) -> None:
        self._grids = np.full((3, valves, _MORE), np.nan)
        self._flags = np.zeros((2, valves, _MORE), np.bool_)
        self._count = np.ones(valves, np.int64)
        self._grids[0, :, 0], self._grids[2, :, 0] = 0.0, set_c
        self._flags[:, :, 0] = True

    def panel(self, rows: Whole | None = None) -> Panel:
        """The records of some of the valves, or of all."""
        weeks, found, left = self._grids
        reset, sets_reference = self._flags
        whole = Panel(weeks, found, left, reset, sets_reference, self._count)
        return whole.rows(np.arange(len(self._count)) if rows is None else rows)

    def add(self, rows: Whole, week: float, found: Floats, left: Floats, sets_reference: Flags) -> None:
        """Write down one visit of each of some valves.

        Args:
            rows: (k,) valves.
            week: of the visit.
            found, left: (k,) °C; `left` is NaN where nothing was adjusted.
            sets_reference: (k,) whether it was a service.
        """
        if self._count[rows].max() == self._grids.shape[2]:
            self._grids = np.pad(self._grids, ((0, 0), (0, 0), (0, _MORE)), constant_values=np.nan)
            self._flags = np.pad(self._flags, ((0, 0), (0, 0), (0, _MORE)))
        place = self._count[rows]
        self._grids[:, rows, place] = np.stack((np.full(len(rows), week), found, left))
        self._flags[:, rows, place] = np.stack((~np.isnan(left), sets_reference))
        self._count[rows] += 1

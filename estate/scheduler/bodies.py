"""The visits of every valve body of a register, from the columns of a database or the visits in hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from estate.domain.visits import VisitDraft
from estate.scheduler.arrays import Whole
from estate.scheduler.visit_table import (
    Measured,
    VisitTable,
    days_of,
    kinds_of,
    table_in_order,
    table_of_visits,
)


@dataclass(frozen=True, slots=True)
class Bodies:
    """Visits by valve body.

    Attributes:
        table: one row a body, and an empty one at the end.
        row_of: row of each body that has visits, by the valve's id.
    """

    table: VisitTable
    row_of: Mapping[int, int]

    def of(self, valve_ids: Sequence[int]) -> VisitTable:
        """The visits of some bodies in the order given; a body without visits gives an empty row."""
        return self.table.of([self.row_of.get(each, len(self.row_of)) for each in valve_ids])


def bodies_of(
    valve_ids: Sequence[int], days: Sequence[date | str], kinds: Sequence[str], measured: Sequence[Measured]
) -> Bodies:
    """Lay out the visits that count.

    Args:
        valve_ids: (N,) of each visit; those of one valve and day in the order in which they were entered.
        days: (N,) as the database gives them.
        kinds: (N,) in words.
        measured: the other columns of a `VisitTable`, each (N,), in its order.
    """
    bodies, row = _rows(valve_ids)
    table = table_in_order(row, len(bodies) + 1, days_of(days), kinds_of(kinds), *measured)
    return Bodies(table, bodies)


def bodies_visited(visits: Sequence[VisitDraft]) -> Bodies:
    """Lay out the visits that count; those of one valve and day in the order in which they were entered."""
    bodies, row = _rows([each.valve_id for each in visits])
    return Bodies(table_of_visits(row, len(bodies) + 1, visits), bodies)


def _rows(valve_ids: Sequence[int]) -> tuple[dict[int, int], Whole]:
    """The row of each body, and of each visit, in order of the bodies' ids."""
    bodies, row = np.unique(np.array(valve_ids, np.int64), return_inverse=True)
    return {valve_id: place for place, valve_id in enumerate(bodies.tolist())}, row

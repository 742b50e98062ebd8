"""What the planner knows of many valves side by side: the twin of `ValveLife`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

import numpy as np

from estate.domain.findings import Judgement
from estate.domain.visits import VisitKind
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import Panel, panel_from
from estate.scheduler.regulation import supplies_of
from estate.scheduler.steps import Steps, steps_of
from estate.scheduler.visit_table import KINDS, VisitTable, table_of


@dataclass(frozen=True)
class Lives:
    """n valves in place.

    Attributes:
        table: their visits that count.
        fitted_on: day of fitting of each; None where not recorded.
        judgements: of the last visit of each; None where never visited.
        with_strainers: of each; False only where it is recorded that there are none.
    """

    table: VisitTable
    fitted_on: Sequence[date | None]
    judgements: Sequence[Judgement | None]
    with_strainers: Sequence[bool]

    @cached_property
    def panel(self) -> Panel:
        """Their readings side by side."""
        return panel_from(self.table)

    @cached_property
    def steps(self) -> Steps:
        """The same turned on their side."""
        return steps_of(self.panel)

    @cached_property
    def supplies(self) -> tuple[Floats, Floats]:
        """Hot and cold supplies, °C, in the places of the panel."""
        return supplies_of(self.table)

    @cached_property
    def has_strainers(self) -> Flags:
        """(n,) whether there are strainers to be cleaned, as far as is recorded."""
        return np.array(self.with_strainers, np.bool_)

    @cached_property
    def visited(self) -> Flags:
        """(n,) whether there was a visit."""
        return self.table.count > 0

    @cached_property
    def last(self) -> Whole:
        """(n,) place in the table of the last visit of each valve; -1 for a valve without one."""
        return np.where(self.visited, self.table.first + self.table.count - 1, -1)

    @cached_property
    def last_day(self) -> Whole:
        """(n,) ordinal number of the day of the last visit; 0 for a valve without one."""
        return np.append(self.table.day, 0)[self.last]

    @cached_property
    def cleaned_day(self) -> Floats:
        """(n,) last day on which the strainers are known to have been clean (new ones at fitting count).

        NaN where that is not known; what `ValveLife.strainers_cleaned_on` says.
        """
        table = self.table
        fitted = np.array([each.toordinal() if each else np.nan for each in self.fitted_on])
        first_day = np.append(table.day, 0)[np.where(self.visited, table.first, -1)]
        clean = np.where(np.isnan(fitted), np.where(self.visited, first_day, np.nan), fitted)
        cleaned = table.strainers_cleaned == 1
        clean[table.row[cleaned]] = table.day[cleaned]
        return clean

    def last_on(self, row: int) -> date:
        """Day of the last visit of a valve that has one."""
        return date.fromordinal(int(self.last_day[row]))

    def kind_of(self, visit: int) -> VisitKind:
        """Kind of a visit of the table."""
        return KINDS[int(self.table.kind[visit])]


def lives_of(lives: Sequence[ValveLife]) -> Lives:
    """Lay n lives side by side."""
    return Lives(
        table_of(lives),
        [life.fitted_on for life in lives],
        [life.judgement for life in lives],
        [life.has_strainers for life in lives],
    )

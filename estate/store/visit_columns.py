"""Visits that count as plain columns: for working out a whole estate, where values would cost too much."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select, type_coerce
from sqlalchemy.orm import Session
from sqlalchemy.types import NullType

from estate.store.visit_records import uncollected
from estate.store.visit_schema import VisitRow, VisitVoidRow

MEASURED = (
    *("found_c", "left_c", "adjusted", "hot_c", "cold_c"),
    *("cold_isolated_residual_ml_min", "cold_isolated_said_to_shut", "strainers_cleaned"),
)
"""The columns of what was measured or seen."""

_COLUMNS = ("id", "valve_id", "visited_on", "kind", *MEASURED)


@dataclass(frozen=True, slots=True)
class VisitColumns:
    """Visits that count, by valve, day and id; each column as the driver gives it.

    Attributes:
        ids, valve_ids, days, kinds: of each visit; a day may be a date or its ISO 8601 words.
        measured: the columns `MEASURED`; None where not entered, yes and no as 1 and 0.
    """

    ids: Sequence[int]
    valve_ids: Sequence[int]
    days: Sequence[date | str]
    kinds: Sequence[str]
    measured: tuple[Sequence[float | None], ...]

    def day(self, place: int) -> date:
        """The day of a visit."""
        told = self.days[place]
        return date.fromisoformat(told) if isinstance(told, str) else told


def counting_columns(session: Session, on: date) -> VisitColumns:
    """Read the visits that count.

    Args:
        session: an open session.
        on: later visits are left out.
    """
    table = VisitRow.__table__
    void = select(VisitVoidRow.visit_id)
    corrected = select(VisitRow.corrects).where(VisitRow.corrects.is_not(None), VisitRow.id.not_in(void))
    # Untyped, so that no day and no tick costs a call in Python.
    plain = [type_coerce(table.c[name], NullType()).label(name) for name in _COLUMNS]
    counts = (table.c.id.not_in(void), table.c.id.not_in(corrected), table.c.visited_on <= on)
    query = select(*plain).where(*counts).order_by(table.c.valve_id, table.c.visited_on, table.c.id)
    with uncollected():
        columns: list[tuple[Any, ...]] = list(zip(*session.execute(query).all(), strict=True))
    ids, valve_ids, days, kinds, *measured = columns or [()] * len(_COLUMNS)
    return VisitColumns(ids, valve_ids, days, kinds, tuple(measured))

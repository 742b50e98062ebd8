"""Parameters fitted to groups of valves; kept for good, so that a past date can be explained again."""

from collections.abc import Sequence
from dataclasses import asdict, fields
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.learned import GroupParameters
from estate.store.schema import GroupFitRow
from estate.store.transaction import Transaction

_COLUMNS = tuple(each.name for each in fields(GroupParameters))


def add_fits(tx: Transaction, fits: Sequence[GroupParameters]) -> None:
    """Keep the fits of one day."""
    tx.insert_many(GroupFitRow, [{**asdict(each), "fitted_at": tx.at} for each in fits])


def fits_as_of(session: Session, on: date) -> dict[str, GroupParameters]:
    """The fits made together last, on or before a day, by the group's name; empty before the first."""
    last = select(func.max(GroupFitRow.fitted_on)).where(GroupFitRow.fitted_on <= on).scalar_subquery()
    latest = select(func.max(GroupFitRow.fitted_at)).where(GroupFitRow.fitted_on == last).scalar_subquery()
    query = (
        select(*(getattr(GroupFitRow, name) for name in _COLUMNS))
        .where(GroupFitRow.fitted_on == last, GroupFitRow.fitted_at == latest)
        .order_by(GroupFitRow.id)
    )
    return {row.name: GroupParameters(**row._mapping) for row in session.execute(query)}

"""Parameters fitted to groups of valves; kept for good, so that a past date can be explained again."""

from collections.abc import Sequence
from dataclasses import asdict, fields
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.learned import GroupParameters
from estate.store.schema import GroupFitRow
from estate.store.transaction import Transaction

NO_GROUP = ""
"""Stands in place of a group's name where fits are withdrawn."""

_COLUMNS = tuple(each.name for each in fields(GroupParameters))


def may_be_added(session: Session) -> bool:
    """Whether the login may add fits: a recorder on a server, who keeps to some buildings, may not."""
    if session.connection().dialect.name != "postgresql":
        return True
    return bool(session.execute(select(func.has_table_privilege("group_fit", "INSERT"))).scalar_one())


def add_fits(tx: Transaction, fits: Sequence[GroupParameters]) -> None:
    """Keep the fits of one day."""
    tx.insert_many(GroupFitRow, [{**asdict(each), "fitted_at": tx.at} for each in fits])


def withdraw_fits(tx: Transaction, on: date) -> None:
    """Keep that from a day on no fit counts, because no reading is left; those before it stay on record."""
    if not may_be_added(tx.session):
        return
    nothing = dict.fromkeys(_COLUMNS, 0) | {"name": NO_GROUP, "version": "", "fitted_on": on}
    tx.insert_many(GroupFitRow, [{**nothing, "fitted_at": tx.at}])


def fits_as_of(session: Session, on: date) -> dict[str, GroupParameters]:
    """The fits made together last, on or before a day, by the group's name.

    Empty before the first, and after they were withdrawn.
    """
    last = select(func.max(GroupFitRow.fitted_on)).where(GroupFitRow.fitted_on <= on).scalar_subquery()
    latest = select(func.max(GroupFitRow.fitted_at)).where(GroupFitRow.fitted_on == last).scalar_subquery()
    query = (
        select(*(getattr(GroupFitRow, name) for name in _COLUMNS))
        .where(GroupFitRow.fitted_on == last, GroupFitRow.fitted_at == latest)
        .order_by(GroupFitRow.id)
    )
    found: dict[str, GroupParameters] = {}
    for row in session.execute(query):
        if row.name == NO_GROUP:
            found.clear()
        else:
            found[row.name] = GroupParameters(**row._mapping)
    return found

"""Why visits count though their instrument was out of date: added, or taken back by a further row."""

from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.judging.justifying import Justification
from estate.domain.phrases import phrase
from estate.errors import EntryFault, NotFoundFault
from estate.store.life_schema import VisitJustificationRow
from estate.store.transaction import Transaction


def justifications(session: Session, visit_ids: Collection[int] | None = None) -> dict[int, Justification]:
    """What counts of it, by the visit's id.

    Args:
        visit_ids: visits asked for, at most a few hundred; None gives all.
    """
    query = select(VisitJustificationRow).order_by(VisitJustificationRow.id)
    if visit_ids is not None:
        query = query.where(VisitJustificationRow.visit_id.in_(sorted(visit_ids)))
    rows = session.scalars(query).all()
    back = {row.withdraws for row in rows if row.withdraws is not None}
    return {
        row.visit_id: Justification(row.who, row.at, row.why, row.id)
        for row in rows
        if row.withdraws is None and row.id not in back
    }


def add_justification(tx: Transaction, visit_id: int, why: str) -> int:
    """Say why a visit counts; returns the row's id.

    Raises:
        EntryFault: it is said already.
    """
    if visit_id in justifications(tx.session, [visit_id]):
        raise EntryFault(
            "It is justified already",
            phrase("visit {visit_id}.", visit_id=visit_id),
            "Take that back first if it is wrong.",
        )
    row = VisitJustificationRow(visit_id=visit_id, who=tx.who, at=tx.at, why=why.strip(), withdraws=None)
    return tx.insert(row)


def take_back_justification(tx: Transaction, visit_id: int, why: str) -> None:
    """Take it back with a reason: the visit is in doubt again.

    Raises:
        NotFoundFault: nothing is said of the visit.
    """
    found = justifications(tx.session, [visit_id]).get(visit_id)
    if found is None:
        raise NotFoundFault(
            "It is not justified",
            phrase("visit {visit_id}.", visit_id=visit_id),
            "There is nothing to take back.",
        )
    row = VisitJustificationRow(visit_id=visit_id, who=tx.who, at=tx.at, why=why.strip(), withdraws=found.id)
    tx.insert(row)

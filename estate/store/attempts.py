"""Attempted visits: added, and voided with a reason; never changed."""

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.domain.visits import Attempt, AttemptDraft
from estate.errors import EntryFault
from estate.store.records import source_of, source_values
from estate.store.transaction import Transaction
from estate.store.visit_schema import AttemptRow, AttemptVoidRow


def attempts(
    session: Session, outlet_id: int | None = None, *, batch_id: int | None = None
) -> tuple[Attempt, ...]:
    """Attempts by outlet, day and id, void ones too; of one outlet or one batch if asked."""
    query = (
        select(*AttemptRow.__table__.columns, AttemptVoidRow.reason)
        .outerjoin(AttemptVoidRow, AttemptVoidRow.attempt_id == AttemptRow.id)
        .order_by(AttemptRow.outlet_id, AttemptRow.attempted_on, AttemptRow.id)
    )
    if outlet_id is not None:
        query = query.where(AttemptRow.outlet_id == outlet_id)
    if batch_id is not None:
        query = query.where(AttemptRow.batch_id == batch_id)
    return tuple(
        Attempt(
            row.id,
            AttemptDraft(
                row.outlet_id,
                row.attempted_on,
                row.why,
                row.person,
                source_of(row.source_file, row.source_sheet, row.source_row, row.source_cells),
            ),
            row.recorded_at,
            row.recorded_by,
            row.batch_id,
            row.reason or "",
        )
        for row in session.execute(query)
    )


def add_attempts(tx: Transaction, drafts: Sequence[AttemptDraft], batch_id: int | None) -> range:
    """Add attempts; returns their ids in the order of `drafts`."""
    entry = {"recorded_at": tx.at, "recorded_by": tx.who, "batch_id": batch_id}
    rows = [
        {
            "outlet_id": draft.outlet_id,
            "attempted_on": draft.on,
            "why": draft.why,
            "person": draft.person,
            **source_values(draft.source),
            **entry,
        }
        for draft in drafts
    ]
    tx.touch(outlets=[draft.outlet_id for draft in drafts])
    return tx.insert_many(AttemptRow, rows, each=True)


def void_attempts_of_batch(tx: Transaction, batch_id: int, reason: str) -> int:
    """Void the attempts of a batch that still count: they stay readable; returns how many.

    Raises:
        EntryFault: no reason is given.
    """
    if not reason.strip():
        raise EntryFault(
            "A reason is needed",
            phrase("batch {batch_id}.", batch_id=batch_id),
            "Say why its entries no longer count.",
        )
    void = select(AttemptVoidRow.attempt_id)
    query = select(AttemptRow.id, AttemptRow.outlet_id).where(AttemptRow.batch_id == batch_id)
    found = tx.session.execute(query.where(AttemptRow.id.not_in(void)).order_by(AttemptRow.id)).all()
    said = {"reason": reason.strip(), "who": tx.who, "at": tx.at}
    tx.insert_many(AttemptVoidRow, [{"attempt_id": row.id, **said} for row in found], each=True)
    tx.touch(outlets=[row.outlet_id for row in found])
    return len(found)

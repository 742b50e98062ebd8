"""Keys of people and signatures in the register: added, withdrawn by a further row, never changed."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.signatures import Key, OwnKey, Withdrawal
from estate.store.batch_schema import BatchRow, BatchUndoRow
from estate.store.parting import parts
from estate.store.transaction import Transaction
from estate.store.trust_schema import PersonKeyRow, SignatureRow
from estate.store.visit_schema import VisitRow, VisitVoidRow


def keys(session: Session) -> tuple[Key, ...]:
    """Every key, withdrawn ones too, in the order in which they were added."""
    rows = session.execute(select(*PersonKeyRow.__table__.columns).order_by(PersonKeyRow.id)).all()
    withdrawn = {row.withdraws: _withdrawal(row) for row in reversed(rows) if row.withdraws is not None}
    return tuple(
        Key(
            *(row.id, row.person, row.key, row.fingerprint, row.made_at, row.added_by, row.at),
            withdrawn.get(row.id),
        )
        for row in rows
        if row.withdraws is None
    )


def _withdrawal(row: Any) -> Withdrawal:
    return Withdrawal(row.withdrawn_at or row.at, row.added_by, row.at, row.why)


def add_key(tx: Transaction, own: OwnKey) -> int:
    """Add a person's public key."""
    told = {"person": own.person, "key": own.public, "fingerprint": own.fingerprint, "made_at": own.made_at}
    return tx.insert(PersonKeyRow(**told, added_by=tx.who, at=tx.at))


def withdraw_key(tx: Transaction, key: Key, since: datetime, why: str) -> None:
    """Note that a key no longer counts from a moment on."""
    told = {"person": key.person, "key": key.public, "fingerprint": key.fingerprint, "made_at": key.made_at}
    entry = {"added_by": tx.who, "at": tx.at, "withdraws": key.id, "withdrawn_at": since, "why": why}
    tx.insert(PersonKeyRow(**told, **entry))


def add_signatures(tx: Transaction, rows: Sequence[Mapping[str, Any]]) -> None:
    """Add signatures: ``noun``, ``row_id``, ``digest``, ``person_key_id``, ``signature`` and ``role``."""
    tx.insert_many(SignatureRow, [{**row, "at": tx.at, "who": tx.who} for row in rows])


def outlets_of_visits(session: Session, ids: Collection[int]) -> frozenset[int]:
    """The outlets that visits were made to."""
    queries = [select(VisitRow.outlet_id).where(VisitRow.id.in_(part)) for part in parts(ids)]
    return frozenset(found for query in queries for found in session.execute(query).scalars())


def there_and_void(session: Session, noun: str, ids: Collection[int]) -> tuple[set[int], set[int]]:
    """Which visits or batches are there, and which of all are void or undone."""
    of_batches = noun == "batch"
    there = BatchRow.id if of_batches else VisitRow.id
    void = BatchUndoRow.batch_id if of_batches else VisitVoidRow.visit_id
    found: list[set[int]] = [set(), set()]
    for part in parts(ids):
        for kept, column in zip(found, (there, void), strict=True):
            kept.update(session.execute(select(column).where(column.in_(part))).scalars())
    return found[0], found[1]

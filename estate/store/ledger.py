"""The ledger: one entry for every change, in the same transaction as the change."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, not_, select
from sqlalchemy.orm import Session

from estate.store.bulk import insert_rows
from estate.store.canonical import text_of
from estate.store.chain import COLUMNS, Change, Doing, chained, head
from estate.store.schema import LedgerEntryRow


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """One change.

    Attributes:
        noun: the table.
        row_id: the row; None for several rows at once, whose ids `after` then tells.
        action: ``added``, ``added many``, ``amended`` or ``removed``; ``stood`` of rows that were there
            when the trail began, ``trail begins`` of the older entries.
        after: JSON of the values written; of an added row without empty ones.
        local_at: the moment by the clock on the wall, ISO with its offset.
        program: the program that wrote it, with its version.
        before: JSON of what an amendment changed, and of the whole row where one was removed.
        previous, digest: hex; empty in entries older than the chain.
    """

    id: int
    at: datetime
    who: str
    what: str
    noun: str
    row_id: int | None
    action: str
    after: str
    local_at: str
    program: str
    batch_id: int | None
    before: str
    why: str
    previous: str
    digest: str


def written(values: Mapping[str, Any], keep_empty: bool = False) -> str:
    """Values as JSON with keys in order; bytes are left out (their digest stands beside them)."""
    return text_of(
        {
            key: value
            for key, value in values.items()
            if (keep_empty or value is not None) and type(value) is not bytes
        }
    )


def append(session: Session, doing: Doing, changes: Sequence[Change]) -> None:
    """Add an entry for each change, chained to the newest one.

    `estate.store.transaction` calls it once, before it commits. The numbers are given here, not by the
    database, so that they have no gaps.
    """
    if changes:
        rows = list(chained(head(session), doing, changes))
        insert_rows(session.connection(), LedgerEntryRow.metadata.tables["ledger_entry"], COLUMNS, rows)
        session.info.setdefault("first_entry", rows[0][0])
        session.info["last_entry"] = (rows[-1][0], rows[-1][-1])  # asked for where a commit is not answered


def entries(session: Session, noun: str | None = None, row_id: int | None = None) -> tuple[LedgerEntry, ...]:
    """Ledger entries, oldest first; of one table or one row if asked."""
    query = select(*LedgerEntryRow.__table__.columns).order_by(LedgerEntryRow.id)
    if noun is not None:
        query = query.where(LedgerEntryRow.noun == noun)
    if row_id is not None:
        query = query.where(LedgerEntryRow.row_id == row_id)
    return tuple(LedgerEntry(**row._mapping) for row in session.execute(query))


@dataclass(frozen=True, slots=True)
class Doings:
    """One transaction, or several alike of one moment: who did what, and when.

    Attributes:
        at: UTC.
        local_at: the same by the clock on the wall of whoever did it, ISO; empty where it was not kept.
    """

    who: str
    what: str
    at: datetime
    local_at: str


def done_since(session: Session, entry: int, but: Sequence[range]) -> tuple[Doings, ...]:
    """What was done after an entry, oldest first.

    Args:
        session: reads.
        entry: the id of the entry.
        but: ids of entries that are left out.
    """
    columns = (LedgerEntryRow.who, LedgerEntryRow.what, LedgerEntryRow.at, LedgerEntryRow.local_at)
    query = select(*columns).where(LedgerEntryRow.id > entry)
    for each in but:
        query = query.where(not_(LedgerEntryRow.id.between(each[0], each[-1])))
    query = query.group_by(*columns).order_by(func.max(LedgerEntryRow.id))
    return tuple(Doings(*row) for row in session.execute(query))


def newest(session: Session) -> int:
    """The id of the newest entry; it moves with every change of the register."""
    return session.execute(select(func.coalesce(func.max(LedgerEntryRow.id), 0))).scalar_one()

"""The ledger: one entry for every change, in the same transaction as the change."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.store.bulk import insert_rows
from estate.store.schema import LedgerEntryRow

COLUMNS: Final = ("at", "who", "what", "noun", "row_id", "action", "after")


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """One change.

    Attributes:
        noun: the table.
        row_id: the row; None for several rows at once, whose ids `after` then tells.
        action: ``added``, ``added many``, ``amended`` or ``removed``.
        after: JSON of the values written, without empty ones and without files' bytes; of a removed row
            the values that it had.
    """

    id: int
    at: datetime
    who: str
    what: str
    noun: str
    row_id: int | None
    action: str
    after: str


def _plain(value: object) -> str:
    if isinstance(value, date | datetime):
        return value.isoformat()
    raise TypeError(f"no JSON for {type(value).__name__}")


_JSON: Final = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":"), default=_plain)


def written(values: Mapping[str, Any], keep_empty: bool = False) -> str:
    """Values as JSON with keys in order; bytes are left out (their digest stands beside them)."""
    kept = {
        key: value
        for key, value in values.items()
        if (keep_empty or value is not None) and type(value) is not bytes
    }
    return _JSON.encode(kept)


def append(session: Session, entries: Sequence[tuple[Any, ...]]) -> None:
    """Add entries, each with its values in the order of `COLUMNS`.

    `estate.store.transaction` calls it once, before it commits.
    """
    insert_rows(session.connection(), LedgerEntryRow.metadata.tables["ledger_entry"], COLUMNS, entries)


def entries(session: Session, noun: str | None = None, row_id: int | None = None) -> tuple[LedgerEntry, ...]:
    """Ledger entries, oldest first; of one table or one row if asked."""
    query = select(*LedgerEntryRow.__table__.columns).order_by(LedgerEntryRow.id)
    if noun is not None:
        query = query.where(LedgerEntryRow.noun == noun)
    if row_id is not None:
        query = query.where(LedgerEntryRow.row_id == row_id)
    return tuple(LedgerEntry(**row._mapping) for row in session.execute(query))


def newest(session: Session) -> int:
    """The id of the newest entry; it moves with every change of the register."""
    return session.execute(select(func.coalesce(func.max(LedgerEntryRow.id), 0))).scalar_one()

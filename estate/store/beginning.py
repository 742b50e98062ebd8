"""The beginning of the trail in a register that is older than the chain: every row as it stood."""

from collections.abc import Iterator
from typing import Any, Final

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from estate.store.bulk import insert_rows
from estate.store.canonical import converters, settled, text_of
from estate.store.chain import COLUMNS, Change, Doing, chained, head
from estate.store.covering import cover_of, lines
from estate.store.raw_rows import raw_rows, tables
from estate.store.schema import EVIDENCE, LedgerEntryRow

BEGINS: Final = "trail begins"
STOOD: Final = "stood"
OLD_COLUMNS: Final = ("id", "at", "who", "what", "noun", "row_id", "action", "after")
"""What the entries older than the chain have."""


def begin_where_unchained(session: Session, doing: Doing) -> None:
    """Let the trail begin where the register has entries and none is chained; else do nothing.

    `estate.store.upgrade` alone calls it: at any other time it would hide that the digests were wiped.
    """
    last = head(session)
    if last.entry_id == 0 or last.digest:
        return
    any_chained = select(LedgerEntryRow.id).where(LedgerEntryRow.digest != "").limit(1)
    if session.execute(any_chained).first() is not None:
        return
    rows = list(chained(last, doing, list(_as_it_stood(session))))
    insert_rows(session.connection(), LedgerEntryRow.metadata.tables["ledger_entry"], COLUMNS, rows)


def _as_it_stood(session: Session) -> Iterator[Change]:
    ledger = LedgerEntryRow.metadata.tables["ledger_entry"]
    yield Change(ledger.name, None, BEGINS, "", _covered(session, ledger, OLD_COLUMNS), None)
    for table in tables():
        if table.name in EVIDENCE:
            told = _covered(session, table, tuple(table.columns.keys()))
        else:
            told = _whole_rows(session, table)
        yield Change(table.name, None, STOOD, "", told, None)


def _covered(session: Session, table: Table, names: tuple[str, ...]) -> str:
    ids: list[int] = []

    def taken() -> Iterator[tuple[Any, ...]]:
        for row in raw_rows(session, table, names):
            ids.append(row[0])
            yield row

    return cover_of(lines(table, names, taken()), ids, names)


def _whole_rows(session: Session, table: Table) -> str:
    """Every row of a table whose rows may be changed, as JSON."""
    names = tuple(table.columns.keys())
    rows = settled(raw_rows(session, table, names), converters(table, names))
    return text_of({"rows": [dict(zip(names, row, strict=True)) for row in rows]})

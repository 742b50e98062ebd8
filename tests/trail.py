"""A register's content, table by table, for tests that compare two."""

from typing import Any

from estate.store.database import Database
from estate.store.raw_rows import tables
from estate.store.schema import LedgerEntryRow

Content = dict[str, list[tuple[Any, ...]]]


def content(database: Database) -> Content:
    """Every row of every table, with the values that the program reads."""
    found: Content = {}
    with database.reading() as session:
        for table in (*tables(), LedgerEntryRow.metadata.tables["ledger_entry"]):
            rows = session.execute(table.select().order_by(table.c.id))
            found[table.name] = [tuple(row) for row in rows]
    return found

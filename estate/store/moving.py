"""Every row of a register into another database, ids and ledger whole, and the proof that they arrived."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from sqlalchemy import Table, func, insert, select, text
from sqlalchemy.orm import Session

from estate.store.columns import rows_at_once
from estate.store.covering import lines
from estate.store.raw_rows import raw_rows, tables
from estate.store.schema import LedgerEntryRow, RegisterRow
from estate.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class TableCount:
    """A table's rows and the digest (SHA-256, hex) over their canonical lines."""

    table: str
    rows: int
    digest: str


def every_table() -> tuple[Table, ...]:
    """The tables in the order in which they can be filled, the ledger last."""
    return (*tables(), LedgerEntryRow.metadata.tables["ledger_entry"])


def copy_rows(source: Session, target: Session, told: Callable[[str], None]) -> None:
    """Copy every row; the target's tables are empty, and stay empty where this fails.

    Args:
        source: read from.
        target: written to.
        told: called with each table's name before it is copied.
    """
    for table in every_table():
        told(table.name)
        for part in _parts(source, table):
            target.connection().execute(insert(table), part)
    set_sequences(target)


def _parts(source: Session, table: Table) -> Iterator[list[dict[str, Any]]]:
    # By pages of ids, and not by one open cursor: a batch holds its file's bytes.
    last = 0
    while True:
        query = (
            select(*table.columns).where(table.c.id > last).order_by(table.c.id).limit(rows_at_once(table))
        )
        part = [dict(row._mapping) for row in source.execute(query)]
        if not part:
            return
        yield part
        last = part[-1]["id"]


def _set_sequence(target: Session, table: Table) -> None:
    highest = select(func.max(table.c.id))
    ledger = LedgerEntryRow.metadata.tables["ledger_entry"]
    # The number of a removed row is not given again: a printed sheet may still name it.
    told = select(func.max(ledger.c.row_id)).where(ledger.c.noun == table.name)
    found = [target.execute(query).scalar_one() for query in (highest, told)]
    last = max((each for each in found if each is not None), default=None)
    if last is not None:
        target.execute(text(f"SELECT setval('{table.name}_id_seq', {int(last)})"))


def set_sequences(target: Session) -> None:
    """Let a server number new rows after every row there is or was; a file needs none of it."""
    if target.connection().dialect.name == "postgresql":
        for table in every_table():
            _set_sequence(target, table)


def note_move(tx: Transaction) -> None:
    """Let the ledger tell of the move, by an entry that changes nothing of the register."""
    name = tx.session.execute(select(RegisterRow.name)).scalar_one()
    tx.amend(RegisterRow, 1, name=name)


def counts(session: Session) -> tuple[TableCount, ...]:
    """Rows and digest of every table."""
    return tuple(_count(session, table) for table in every_table())


def _count(session: Session, table: Table) -> TableCount:
    names = tuple(table.columns.keys())
    whole, rows = sha256(), 0
    for line in lines(table, names, raw_rows(session, table, names)):
        whole.update(line)
        rows += 1
    return TableCount(table.name, rows, whole.hexdigest())

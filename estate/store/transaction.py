"""The one way to change the register: one transaction, all of it or nothing, with its ledger entries."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from typing import Any

from sqlalchemy import Table, func, insert, select, text, update
from sqlalchemy.orm import Session

from estate.domain.changes import ChangeSet
from estate.store import ledger
from estate.store.columns import Row
from estate.store.database import Database
from estate.store.schema import EVIDENCE


def _table(row_class: type[Row]) -> Table:
    table = row_class.__table__
    if not isinstance(table, Table):
        raise TypeError(f"{row_class.__name__} is not kept in a table")
    return table


class Transaction:
    """Changes in the making.

    Attributes:
        session: for looking things up; changes go through the methods.
        who, what, at: who does what and when (UTC), for the ledger.
    """

    def __init__(self, session: Session, who: str, what: str, at: datetime) -> None:
        self.session = session
        self.who = who
        self.what = what
        self.at = at
        self._entries: list[dict[str, Any]] = []
        self._touched: dict[str, set[int]] = {
            "outlets": set(),
            "valves": set(),
            "visits": set(),
            "batches": set(),
        }
        self._rules = False
        self._everything = False

    @property
    def changes(self) -> ChangeSet:
        """What was changed so far."""
        ids = {noun: frozenset(found) for noun, found in self._touched.items()}
        return ChangeSet(rules=self._rules, everything=self._everything, **ids)

    def touch(
        self,
        *,
        outlets: Iterable[int] = (),
        valves: Iterable[int] = (),
        visits: Iterable[int] = (),
        batches: Iterable[int] = (),
        rules: bool = False,
        everything: bool = False,
    ) -> None:
        """Say what a change bears on, for the change set."""
        asked = {"outlets": outlets, "valves": valves, "visits": visits, "batches": batches}
        for noun, ids in asked.items():
            self._touched[noun].update(ids)
        self._rules |= rules
        self._everything |= everything

    def insert(self, row: Row) -> int:
        """Add one row.

        Args:
            row: a new row; its id is given by the database unless it is set.

        Returns:
            Its id.
        """
        table = _table(type(row))
        values = {column.name: getattr(row, column.name) for column in table.columns}
        if values["id"] is None:
            del values["id"]
        row_id: int = (
            self.session.connection().execute(insert(table).returning(table.c.id), values).scalar_one()
        )
        self._note(table.name, row_id, "added", ledger.written(values))
        return row_id

    def insert_many(
        self, row_class: type[Row], rows: Sequence[Mapping[str, Any]], each: bool = False
    ) -> range:
        """Add many rows of one table, fast.

        Args:
            row_class: the table.
            rows: values by column, without ids.
            each: True writes a ledger entry for every row instead of one for all.

        Returns:
            Their ids, in the order of `rows`.
        """
        if not rows:
            return range(0)
        table = _table(row_class)
        ids = self._reserve(table, len(rows))
        numbered = [{"id": row_id, **row} for row_id, row in zip(ids, rows, strict=True)]
        self.session.connection().execute(insert(table), numbered)
        if each:
            for row_id, row in zip(ids, rows, strict=True):
                self._note(table.name, row_id, "added", ledger.written(row))
        else:
            span = {"rows": len(rows), "first_id": ids[0], "last_id": ids[-1]}
            self._note(table.name, None, "added many", ledger.written(span))
        return ids

    def amend(self, row_class: type[Row], row_id: int, **fields: Any) -> None:
        """Change fields of one row that is not evidence.

        Raises:
            ValueError: the row is evidence, or there is no such row (both defects of the caller).
        """
        table = _table(row_class)
        if table.name in EVIDENCE:
            raise ValueError(f"evidence is never changed: {table.name}")
        if not fields:
            return
        result = self.session.connection().execute(update(table).where(table.c.id == row_id), fields)
        if result.rowcount != 1:
            raise ValueError(f"no row {row_id} in {table.name}")
        self._note(table.name, row_id, "amended", ledger.written(fields, keep_empty=True))

    def finish(self) -> None:
        """Write the ledger entries; `writing` calls it before it commits."""
        ledger.append(self.session, self._entries)
        self._entries = []

    def _note(self, noun: str, row_id: int | None, action: str, after: str) -> None:
        self._entries.append(
            {
                "at": self.at,
                "who": self.who,
                "what": self.what,
                "noun": noun,
                "row_id": row_id,
                "action": action,
                "after": after,
            }
        )

    def _reserve(self, table: Table, count: int) -> range:
        # One writer at a time (see Database.changing), so the numbers after the last one are free.
        connection = self.session.connection()
        last = connection.execute(select(func.coalesce(func.max(table.c.id), 0))).scalar_one()
        if connection.dialect.name == "postgresql":
            sequence = f"pg_get_serial_sequence('{table.name}', 'id')"
            used = connection.execute(text(f"SELECT nextval({sequence})")).scalar_one()
            last = max(last, used - 1)
            connection.execute(text(f"SELECT setval({sequence}, {last + count})"))
        return range(last + 1, last + 1 + count)


@contextmanager
def writing(database: Database, who: str, what: str, at: datetime) -> Iterator[Transaction]:
    """Change the register: everything done inside is kept together, or nothing is.

    Args:
        database: the open register.
        who: the person's name.
        what: what is being done, in a few words, such as ``recorded a visit``.
        at: now, with its time zone.

    Raises:
        RegisterFault: the register is in use, read-only, damaged or out of reach; nothing was written.
    """
    with database.changing() as session:
        transaction = Transaction(session, who, what, at)
        yield transaction
        transaction.finish()

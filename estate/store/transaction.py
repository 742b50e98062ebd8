"""The one way to change the register: one transaction, all of it or nothing, with its ledger entries."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from operator import itemgetter
from typing import Any

from sqlalchemy import DefaultClause, Table, delete, func, insert, select, text, update
from sqlalchemy.orm import Session

from estate.domain.changes import ChangeSet
from estate.store import ledger
from estate.store.batch_schema import WrittenRow
from estate.store.beginning import begin_where_unchained
from estate.store.bulk import insert_rows
from estate.store.canonical import UNTOLD, told
from estate.store.chain import Change, Doing
from estate.store.columns import Row
from estate.store.covering import cover
from estate.store.database import Database
from estate.store.listening import notify
from estate.store.schema import EVIDENCE, REMOVABLE, LedgerEntryRow

_IDS_AT_ONCE = 500


def _table(row_class: type[Row]) -> Table:
    table = row_class.__table__
    if not isinstance(table, Table):
        raise TypeError(f"{row_class.__name__} is not kept in a table")
    return table


def _values(row: Row, table: Table) -> dict[str, Any]:
    """What is written of a new row; what it leaves open is what the database would give it."""
    values = {column.name: getattr(row, column.name) for column in table.columns}
    for column in table.columns:
        default = column.server_default
        if values[column.name] is None and isinstance(default, DefaultClause):
            values[column.name] = column.type.python_type(str(default.arg))
    if values["id"] is None:
        del values["id"]
    return values


class Transaction:
    """Changes in the making.

    Attributes:
        session: for looking things up; changes go through the methods.
        who, what, at: who does what and when (UTC), for the ledger.
    """

    def __init__(self, session: Session, doing: Doing) -> None:
        self.session = session
        self.who = doing.who
        self.what = doing.what
        self.at = doing.at
        self._doing = doing
        self._entries: list[Change] = []
        self._batch_id: int | None = None
        self._written: list[dict[str, Any]] = []
        self._last_ids: dict[str, int] = {}
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

    def write_for(self, batch_id: int) -> None:
        """Note from now on what is added and changed of places and valves as written by a batch."""
        self._batch_id = batch_id

    def insert(self, row: Row) -> int:
        """Add one row.

        Args:
            row: a new row; its id is given by the database unless it is set.

        Returns:
            Its id.
        """
        table = _table(type(row))
        values = _values(row, table)
        after = told(values)
        values |= self._fresh_id(table)
        row_id = self._inserted(table, values)
        self._note(table.name, row_id, "added", "", after)
        self._note_written(table.name, row_id, "added")
        return row_id

    def insert_many(
        self, row_class: type[Row], rows: Sequence[Mapping[str, Any]], each: bool = False
    ) -> range:
        """Add many rows of one table, fast.

        Args:
            row_class: the table.
            rows: values by column, without ids; at least two columns, the same ones in each row.
            each: True writes a ledger entry for every row instead of one for all; so it is always where
                rows may be changed later.

        Returns:
            Their ids, in the order of `rows`.
        """
        if not rows:
            return range(0)
        table = _table(row_class)
        ids = self._reserve(table, len(rows))
        names = tuple(rows[0])
        values = itemgetter(*names)
        numbered = [(row_id, *values(row)) for row_id, row in zip(ids, rows, strict=True)]
        insert_rows(self.session.connection(), table, ("id", *names), numbered)
        if each or table.name not in EVIDENCE:
            for row_id, row in zip(ids, rows, strict=True):
                self._note(table.name, row_id, "added", "", told(row))
        else:
            self._note(table.name, None, "added many", "", cover(table, ("id", *names), numbered))
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
        before = self._held(table, row_id, fields)
        written = {**fields, UNTOLD: table.c[UNTOLD] + 1}
        self.session.connection().execute(update(table).where(table.c.id == row_id).values(written))
        texts = (ledger.written(values, keep_empty=True) for values in (before, fields))
        self._note(table.name, row_id, "amended", *texts)
        changed = {key: value for key, value in before.items() if value != fields[key]}
        if changed:
            after = {key: fields[key] for key in changed}
            self._note_written(table.name, row_id, "changed", changed, after)

    def remove(self, row_class: type[Row], row_id: int) -> None:
        """Remove one row that is not evidence; the ledger keeps the values that it had.

        Raises:
            ValueError: the row is evidence, or there is no such row (both defects of the caller).
        """
        self.remove_many(row_class, [row_id])

    def remove_many(self, row_class: type[Row], row_ids: Collection[int]) -> None:
        """Remove rows that are not evidence, as `remove` does, the latest first.

        Raises:
            ValueError: the rows are evidence, or one is not there (both defects of the caller).
        """
        table = _table(row_class)
        if table.name in EVIDENCE:
            raise ValueError(f"evidence is never removed: {table.name}")
        wanted = sorted(row_ids, reverse=True)
        for start in range(0, len(wanted), _IDS_AT_ONCE):
            part = wanted[start : start + _IDS_AT_ONCE]
            asked = table.c.id.in_(part)
            connection = self.session.connection()
            held = connection.execute(select(table).where(asked).order_by(table.c.id.desc())).all()
            if gone := set(part) - {row.id for row in held}:
                raise ValueError(f"no row {min(gone)} in {table.name}")
            connection.execute(delete(table).where(asked))
            for row in held:
                self._note(table.name, row.id, "removed", ledger.written(row._asdict()), "")

    def finish(self) -> None:
        """Write what was noted, and the ledger entries; `writing` calls it before it commits."""
        self.insert_many(WrittenRow, self._written)
        self._written = []
        ledger.append(self.session, self._doing, self._entries)
        self._entries = []

    def _note(self, noun: str, row_id: int | None, action: str, before: str, after: str) -> None:
        self._entries.append(Change(noun, row_id, action, before, after, self._batch_id))

    def _noted(self, noun: str) -> bool:
        return self._batch_id is not None and noun in REMOVABLE

    def _note_written(
        self,
        noun: str,
        row_id: int,
        action: str,
        before: Mapping[str, Any] | None = None,
        after: Mapping[str, Any] | None = None,
    ) -> None:
        if self._noted(noun):
            entry = {"batch_id": self._batch_id, "noun": noun, "row_id": row_id, "action": action}
            texts = (ledger.written(values or {}, keep_empty=True) for values in (before, after))
            self._written.append(entry | dict(zip(("before", "after"), texts, strict=True)))

    def _held(self, table: Table, row_id: int, columns: Iterable[str]) -> dict[str, Any]:
        query = select(*(table.c[name] for name in columns)).where(table.c.id == row_id)
        row = self.session.connection().execute(query).one_or_none()
        if row is None:
            raise ValueError(f"no row {row_id} in {table.name}")
        return dict(row._mapping)

    def _inserted(self, table: Table, values: Mapping[str, Any]) -> int:
        connection = self.session.connection()
        if "id" in values:
            insert_rows(connection, table, tuple(values), [tuple(values.values())])
            told: int = values["id"]
        else:
            told = connection.execute(insert(table).returning(table.c.id), values).scalar_one()
        return told

    def _fresh_id(self, table: Table) -> dict[str, int]:
        # SQLite would give the number of a removed row again, which a printed sheet may still name.
        connection = self.session.connection()
        if table.name not in REMOVABLE or connection.dialect.name == "postgresql":
            return {}
        if table.name not in self._last_ids:
            there = select(func.coalesce(func.max(table.c.id), 0)).scalar_subquery()
            told = select(func.coalesce(func.max(LedgerEntryRow.row_id), 0))
            query = select(there, told.where(LedgerEntryRow.noun == table.name).scalar_subquery())
            self._last_ids[table.name] = max(connection.execute(query).one())
        self._last_ids[table.name] += 1
        return {"id": self._last_ids[table.name]}

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
def writing(database: Database, who: str, what: str, at: datetime, *, why: str = "") -> Iterator[Transaction]:
    """Change the register: everything done inside is kept together, or nothing is.

    Args:
        database: the open register.
        who: the person's name.
        what: what is being done, in a few words, such as ``recorded a visit``.
        at: now, with its time zone.
        why: the reason, where one was given.

    Raises:
        RegisterFault: the register is in use, read-only, damaged or out of reach; nothing was written.
    """
    doing = Doing(who, what, at, why, database.stamp)
    with database.changing() as session:
        begin_where_unchained(session, doing)
        transaction = Transaction(session, doing)
        yield transaction
        transaction.finish()
        notify(session, transaction.changes)

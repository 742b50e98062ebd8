"""The one way to change the register: one transaction, all of it or nothing, with its ledger entries."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from operator import itemgetter
from typing import Any, NamedTuple

from sqlalchemy import DefaultClause, Table, delete, func, insert, select, text, update
from sqlalchemy.orm import Session

from estate.domain.changes import ChangeSet
from estate.domain.editing import Written
from estate.store import ledger
from estate.store.batch_schema import WrittenRow
from estate.store.bulk import insert_rows
from estate.store.canonical import UNTOLD, teller, told, told_rows
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


def _sequence(table: Table) -> str:
    return f"pg_get_serial_sequence('{table.name}', 'id')"


class NewRow(NamedTuple):
    """A row to be written: its table, its id and its values by column."""

    kind: type[Row]
    id: int
    values: Mapping[str, Any]


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

    @property
    def written(self) -> Written:
        """The first and the last entry of the ledger that it wrote; only after something was, and is kept."""
        told = self.session.info
        return Written(told["first_entry"], told["last_entry"][0])

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

    def put_back(self, row_class: type[Row], row_id: int, values: Mapping[str, Any]) -> None:
        """Add a row again that was removed, under the number that it had.

        Args:
            row_class: a table of places or valves.
            row_id: the number; the row is not there.
            values: by column, as they stood when it was removed.
        """
        table = _table(row_class)
        begun = {name: value for name, value in values.items() if name not in ("id", UNTOLD)}
        insert_rows(self.session.connection(), table, ("id", *begun), [(row_id, *begun.values())])
        self._note(table.name, row_id, "added", "", told(begun))

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
        names = tuple(rows[0])
        values = itemgetter(*names)
        return self.insert_rows(row_class, names, [values(row) for row in rows], each)

    def insert_rows(
        self, row_class: type[Row], names: Sequence[str], rows: Sequence[tuple[Any, ...]], each: bool = False
    ) -> range:
        """The same as `insert_many`, with the rows' values in the order of their columns' names."""
        if not rows:
            return range(0)
        table = _table(row_class)
        ids = self._reserve(table, len(rows))
        numbered = [(row_id, *row) for row_id, row in zip(ids, rows, strict=True)]
        insert_rows(self.session.connection(), table, ("id", *names), numbered)
        if each or table.name not in EVIDENCE:
            for row_id, after in zip(ids, told_rows(names, rows), strict=True):
                self._note(table.name, row_id, "added", "", after)
        else:
            self._note(table.name, None, "added many", "", cover(table, ("id", *names), numbered))
        return ids

    def number(self, row_class: type[Row]) -> int:
        """The id of the next row of a table of places or valves, to be written with `insert_numbered`."""
        return self._next_id(_table(row_class))

    def insert_numbered(self, rows: Sequence[NewRow]) -> None:
        """Add rows of several tables of places and valves, fast, with an entry for each in their order.

        Args:
            rows: with their ids from `number`; those of one table with the same columns.
        """
        by_table: dict[str, list[NewRow]] = {}
        tellers: dict[str, Callable[[Sequence[Any]], str]] = {}
        for row in rows:
            name = _table(row.kind).name
            by_table.setdefault(name, []).append(row)
            if name not in tellers:
                tellers[name] = teller(tuple(row.values))
            self._note(name, row.id, "added", "", tellers[name](tuple(row.values.values())))
            self._note_written(name, row.id, "added")
        connection = self.session.connection()
        for table in Row.metadata.sorted_tables:
            if found := by_table.get(table.name):
                names = ("id", *found[0].values)
                insert_rows(connection, table, names, [(row.id, *row.values.values()) for row in found])
                self._leave_off_at(table, self._last_ids[table.name])

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
            told = [ledger.written(each, keep_empty=True) if each else "{}" for each in (before, after)]
            self._written.append(entry | {"before": told[0], "after": told[1]})

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
        if table.name not in REMOVABLE or self.session.connection().dialect.name == "postgresql":
            return {}
        return {"id": self._next_id(table)}

    def _next_id(self, table: Table) -> int:
        if table.name not in self._last_ids:
            self._last_ids[table.name] = self._last_id(table)
        self._last_ids[table.name] += 1
        return self._last_ids[table.name]

    def _reserve(self, table: Table, count: int) -> range:
        # One writer at a time (see Database.changing), so the numbers after the last one are free.
        last = self._last_id(table)
        self._leave_off_at(table, last + count)
        return range(last + 1, last + 1 + count)

    def _last_id(self, table: Table) -> int:
        """The last id that was given; where rows may be removed, the last that ever was."""
        connection = self.session.connection()
        asked = [select(func.coalesce(func.max(table.c.id), 0))]
        if connection.dialect.name == "postgresql":
            asked.append(select(func.nextval(text(_sequence(table))) - 1))
        elif table.name in REMOVABLE:
            told = select(func.coalesce(func.max(LedgerEntryRow.row_id), 0))
            asked.append(told.where(LedgerEntryRow.noun == table.name))
        found: list[int] = [connection.execute(query).scalar_one() for query in asked]
        return max(found)

    def _leave_off_at(self, table: Table, last: int) -> None:
        """Let the server go on numbering after the last id that was given here."""
        connection = self.session.connection()
        if connection.dialect.name == "postgresql":
            connection.execute(text(f"SELECT setval({_sequence(table)}, {last})"))


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
        transaction = Transaction(session, doing)
        yield transaction
        transaction.finish()
        notify(session, transaction.changes)

"""A register as it stood at a past moment: a copy of its own, from which later entries are taken back."""

import json
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from sqlalchemy import (
    Date,
    Engine,
    StaticPool,
    Table,
    create_engine,
    delete,
    func,
    insert,
    select,
    text,
    update,
)
from sqlalchemy.engine import Connection
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store.bulk import insert_rows
from estate.store.canonical import UNTOLD
from estate.store.columns import Row, UtcMoment, rows_at_once
from estate.store.covering import read_cover
from estate.store.database import Database
from estate.store.raw_rows import tables
from estate.store.schema import EVIDENCE, LedgerEntryRow

_AT_ONCE: Final = 1000
_PAGES: Final = 4000
MOST_IN_MEMORY_BYTES: Final = 1_000_000_000
_COPYING: Final = "Copying the register into memory"
_LEDGER: Final[Table] = LedgerEntryRow.metadata.tables["ledger_entry"]


class PastDatabase(Database):
    """A register's past: read as the register itself is, and never written.

    It lies in memory; where the register is large, in a folder that only the person can enter, and that goes
    when it is closed.
    """

    def __init__(
        self, register: Database, engine: Engine, folder: TemporaryDirectory[str] | None, moment: datetime
    ) -> None:
        self._folder = folder
        self.url = register.url
        self.stamp = register.stamp
        self._engine = engine
        self._reader = engine.execution_options()
        self._shown = f"{register.shown} as known at {moment.astimezone(UTC):%Y-%m-%d %H:%M} UTC"

    @property
    def shown(self) -> str:
        """The address as people may see it, with the moment."""
        return self._shown

    def close(self) -> None:
        """Free the memory, or take the folder away."""
        super().close()
        if self._folder is not None:
            self._folder.cleanup()

    @contextmanager
    def changing(self) -> Iterator[Session]:
        """Refuse.

        Raises:
            RegisterFault: always.
        """
        remedy = phrase("Go back to the register as it is now, and change it there.")
        raise RegisterFault("The past can't be changed", f"{self.shown}.", remedy)
        yield


Told = Callable[[int, int, str], None]


def as_it_stood(register: Database, moment: datetime, told: Told) -> Database:
    """A database of its own that holds what was known at a moment.

    Known are the entries before the first one that was made later; so one that was dated back by a wrong
    clock does not show what came in between.

    Args:
        register: the open register.
        moment: with its time zone.
        told: how far the work is, of how much, with words; what it raises stops the work.

    Raises:
        RegisterFault: the register or its trail began later.
    """
    with register.reading() as session:
        last = _last_known(session, moment)
        large = _size_bytes(session) > MOST_IN_MEMORY_BYTES
        folder = TemporaryDirectory(prefix="estate-past-") if large else None
        address = f"sqlite:///{Path(folder.name) / 'past.db'}" if folder is not None else "sqlite://"
        engine = create_engine(address, poolclass=StaticPool, connect_args={"check_same_thread": False})
        done = False
        try:
            _copy(session, engine, told)
            _take_back_later(session, engine, last, told)
            done = True
        finally:
            if not done:
                PastDatabase(register, engine, folder, moment).close()
    return PastDatabase(register, engine, folder, moment)


def _size_bytes(session: Session) -> int:
    if session.connection().dialect.name == "sqlite":
        query = "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size"
    else:
        query = (
            "SELECT sum(pg_table_size(c.oid))::bigint FROM pg_class c "
            "WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r'"
        )
    return int(session.execute(text(query)).scalar_one())


def _take_back_later(session: Session, engine: Engine, last: int, told: Told) -> None:
    with engine.begin() as connection:
        guards = _without_guards(connection)
        _unwind(session, connection, last, told)
        for guard in guards:
            connection.exec_driver_sql(guard)
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA query_only = ON")


def _last_known(session: Session, moment: datetime) -> int:
    later = session.execute(select(func.min(_LEDGER.c.id)).where(_LEDGER.c.at > moment)).scalar()
    known = select(func.max(_LEDGER.c.id))
    last = session.execute(known if later is None else known.where(_LEDGER.c.id < later)).scalar()
    begun = session.execute(select(func.min(_LEDGER.c.id)).where(_LEDGER.c.digest != "")).scalar()
    if last is not None and begun is not None and last >= begun:
        return int(last)
    first = session.execute(select(_LEDGER.c.at).where(_LEDGER.c.id == begun)).scalar()
    began = (
        phrase("with its next change")
        if first is None
        else phrase("on {astimezone:%d %b %Y at %H:%M} UTC", astimezone=first.astimezone(UTC))
    )
    detail = phrase(
        "Asked for {astimezone:%d %b %Y at %H:%M} UTC; the trail begins {began}.",
        astimezone=moment.astimezone(UTC),
        began=began,
    )
    raise RegisterFault("Nothing is known of that moment", detail, "Ask for a later moment.")


def _copy(session: Session, engine: Engine, told: Told) -> None:
    told(0, 1, _COPYING)
    source = session.connection().connection.driver_connection
    if isinstance(source, sqlite3.Connection):
        with engine.connect() as connection:
            copy = connection.connection.driver_connection
            assert isinstance(copy, sqlite3.Connection)
            source.backup(copy, pages=_PAGES, progress=lambda _, left, of: told(of - left, of, _COPYING))
        return
    with engine.begin() as connection:
        Row.metadata.create_all(connection)
        connection.exec_driver_sql("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)")
        for revision in session.execute(text("SELECT version_num FROM alembic_version")).scalars():
            connection.exec_driver_sql("INSERT INTO alembic_version VALUES (?)", (revision,))
        for table in (*tables(), _LEDGER):
            told(0, 1, f"{_COPYING}: {table.name}")
            query = (
                select(*table.columns).order_by(table.c.id).execution_options(yield_per=rows_at_once(table))
            )
            for part in session.execute(query).partitions():
                rows = [tuple(row) for row in part]
                insert_rows(connection, table, tuple(table.columns.keys()), rows)


def _without_guards(connection: Connection) -> list[str]:
    query = text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    guards = connection.execute(query).all()
    for name, _ in guards:
        connection.exec_driver_sql(f'DROP TRIGGER "{name}"')
    return [str(sql) for _, sql in guards]


def _unwind(session: Session, connection: Connection, last: int, told: Told) -> None:
    first_later: dict[str, int] = {}
    for entry in _later(session, last, told):
        if entry.noun in EVIDENCE:
            first = read_cover(entry.after).first_id if entry.row_id is None else entry.row_id
            first_later[entry.noun] = first
        else:
            _take_back(connection, Row.metadata.tables[entry.noun], entry)
    # Rows of evidence are numbered in the order of their entries.
    for noun, first in first_later.items():
        table = Row.metadata.tables[noun]
        connection.execute(delete(table).where(table.c.id >= first))
    connection.execute(delete(_LEDGER).where(_LEDGER.c.id > last))


def _later(session: Session, last: int, told: Told) -> Iterator[Any]:
    """Entries after the last one known, the newest first."""
    count = select(func.count()).select_from(_LEDGER).where(_LEDGER.c.id > last)
    of = session.execute(count).scalar_one()
    query = select(_LEDGER).where(_LEDGER.c.id > last).order_by(_LEDGER.c.id.desc())
    with session.execute(query.execution_options(yield_per=_AT_ONCE)) as found:
        for number, entry in enumerate(found):
            if number % _AT_ONCE == 0:
                told(number, of, f"Taking back what was entered later: {number} of {of}")
            yield entry
    told(of, of, "Taking back what was entered later")


def _take_back(connection: Connection, table: Table, entry: Any) -> None:
    at = table.c.id == entry.row_id
    if entry.action == "added":
        connection.execute(delete(table).where(at))
    elif entry.action == "removed":
        connection.execute(insert(table).values(_values(table, json.loads(entry.before))))
    else:
        before = _values(table, json.loads(entry.before))
        connection.execute(update(table).where(at).values({**before, UNTOLD: table.c[UNTOLD] - 1}))


def _values(table: Table, told: Mapping[str, Any]) -> dict[str, Any]:
    return {name: _value(table, name, value) for name, value in told.items()}


def _value(table: Table, name: str, value: Any) -> Any:
    kind = table.c[name].type
    if isinstance(value, str) and isinstance(kind, Date):
        return date.fromisoformat(value)
    if isinstance(value, str) and isinstance(kind, UtcMoment):
        return datetime.fromisoformat(value)
    return value

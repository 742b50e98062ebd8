"""What others write on a server, told as it is kept: NOTIFY with each commit, LISTEN in whoever watches."""

import json
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import fields
from typing import Any, Final, Protocol

from sqlalchemy import text
from sqlalchemy.orm import Session

from estate.domain.changes import ChangeSet
from estate.store.database import Database
from estate.store.faults import out_of_reach, told_plainly

_MOST_BYTES: Final = 7000  # the server takes less than 8000
_CHANNEL: Final = "SELECT 'estate_' || 'ledger_entry'::regclass::oid"


def notify(session: Session, changes: ChangeSet) -> None:
    """Tell whoever listens, once the transaction in hand is kept; a file tells nobody."""
    connection = session.connection()
    if connection.dialect.name == "postgresql":
        statement = text(f"SELECT pg_notify(({_CHANNEL}), :told)")
        connection.execute(statement, {"told": written(changes)})


def written(changes: ChangeSet) -> str:
    """A change set as JSON; one too long for a message says that everything had better be read afresh."""
    told: dict[str, Any] = {each.name: getattr(changes, each.name) for each in fields(changes)}
    whole = json.dumps(
        {key: sorted(value) if isinstance(value, frozenset) else value for key, value in told.items()}
    )
    if len(whole) <= _MOST_BYTES:
        return whole
    return json.dumps({"rules": changes.rules, "everything": True})


def read(told: str) -> ChangeSet:
    """What `written` wrote."""
    values: dict[str, Any] = json.loads(told)
    sets: dict[str, Any] = {
        key: frozenset(each) if isinstance(each, list) else each for key, each in values.items()
    }
    return ChangeSet(**sets)


def listen(database: Database, timeout_s: float) -> Iterator[ChangeSet]:
    """Change sets of commits, this program's own too, until none came for a while.

    Args:
        database: a register on a server.
        timeout_s: how long to wait for all of them together.

    Raises:
        RegisterFault: the server is out of reach.
    """
    with told_plainly(database.shown), database.listening() as connection:
        channel = connection.execute(text(_CHANNEL)).scalar_one()
        connection.exec_driver_sql(f'LISTEN "{channel}"')
        driver: Any = connection.connection.dbapi_connection
        yield ChangeSet()
        for each in driver.notifies(timeout=timeout_s):
            yield read(each.payload)


class Ear(Protocol):
    """Hears whether anything was kept, without reading the register."""

    def stirred(self) -> bool:
        """Whether anything was kept since it was last asked.

        Raises:
            RegisterFault: the register is out of reach; another ear is needed then.
        """

    def close(self) -> None:
        """Give back the connection."""


class FileEar:
    """Hears changes of a file, on a network share too: SQLite counts those of other connections."""

    def __init__(self, database: Database) -> None:
        self._where = database.shown
        self._held = ExitStack()
        with told_plainly(self._where):
            self._cursor = self._held.enter_context(database.beside()).cursor()
            self._last = self._count()

    def _count(self) -> int:
        return int(self._cursor.execute("PRAGMA data_version").fetchone()[0])

    def stirred(self) -> bool:
        """Whether anything was kept since it was last asked."""
        before = self._last
        with told_plainly(self._where):
            self._last = self._count()
        return self._last != before

    def close(self) -> None:
        """Give back the connection."""
        self._held.close()


class ServerEar:
    """Hears the server's own word of every commit."""

    def __init__(self, database: Database) -> None:
        self._where = database.shown
        self._errors = database.driver_errors
        self._held = ExitStack()
        with told_plainly(self._where):
            connection = self._held.enter_context(database.beside())
        try:
            connection.autocommit = True
            channel = connection.execute(_CHANNEL).fetchone()[0]
            connection.execute(f'LISTEN "{channel}"')
        except self._errors as error:
            self.close()
            raise out_of_reach(error, self._where) from error
        self._wire = connection.pgconn

    def stirred(self) -> bool:
        """Whether anything was kept since it was last asked."""
        heard = False
        try:
            for _ in range(2):  # the first look at a wire that was cut may only meet the server's last words
                self._wire.consume_input()
                while self._wire.notifies() is not None:
                    heard = True
        except self._errors as error:
            raise out_of_reach(error, self._where) from error
        return heard

    def close(self) -> None:
        """Give back the connection."""
        self._held.close()


def ear(database: Database) -> Ear:
    """An ear for a register, wherever it lies.

    Raises:
        RegisterFault: it is out of reach.
    """
    return FileEar(database) if database.is_file else ServerEar(database)

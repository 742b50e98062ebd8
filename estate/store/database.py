"""The open database of a register: SQLite in one file, or PostgreSQL for a team."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url, text
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store.addresses import address_of, without_password
from estate.store.chain import Stamp
from estate.store.faults import told_plainly
from estate.store.location import lies_on_network_share

__all__ = ["Database", "Session", "engine_of", "normal_url", "shown", "sqlite_path"]

BUSY_SECONDS = 15
_SERVER_PATIENCE = {
    "connect_timeout": 10,
    "keepalives_idle": 20,
    "keepalives_interval": 10,
    "keepalives_count": 3,
    "tcp_user_timeout": 40_000,  # in milliseconds, the others in seconds
}


def normal_url(path_or_url: str | Path) -> str:
    """The URL of a register.

    Args:
        path_or_url: a file, or a URL that starts with ``sqlite://`` or ``postgresql``.

    Raises:
        RegisterFault: the URL names another kind of database or can't be read.
    """
    written = str(path_or_url)
    if "://" not in written or isinstance(path_or_url, Path):
        path = Path(path_or_url).expanduser().absolute()
        return URL.create("sqlite", database=str(path)).render_as_string(hide_password=False)
    return address_of(written).render_as_string(hide_password=False)


def sqlite_path(url: str) -> Path | None:
    """The file of a SQLite register; None for a server."""
    parsed = make_url(url)
    if parsed.get_backend_name() != "sqlite" or not parsed.database:
        return None
    return Path(parsed.database.removeprefix("file:"))


def program() -> str:
    """The program's name and version, as the ledger tells it."""
    try:
        return f"estate-register {version('estate-register')}"
    except PackageNotFoundError:
        return "estate-register"


def shown(url: str) -> str:
    """A register's address as people may see it and it may be kept: a path, or a URL without any password."""
    path = sqlite_path(url)
    return str(path) if path else without_password(url)


def engine_of(url: str, foreign_keys: bool = True) -> Engine:
    """An engine whose connections are set up as the register needs them.

    Args:
        url: from `normal_url`.
        foreign_keys: False only while the schema is upgraded, when tables are rebuilt.

    Raises:
        RegisterFault: PostgreSQL's driver is not installed.
    """
    path = sqlite_path(url)
    if path is not None:
        engine = create_engine(url, connect_args={"timeout": BUSY_SECONDS})
        journal = "DELETE" if lies_on_network_share(path) else "WAL"
        _set_up_sqlite(engine, journal, foreign_keys)
        return engine
    try:
        return create_engine(url, pool_pre_ping=True, connect_args=_patience(url))
    except ModuleNotFoundError as error:
        remedy = phrase("Install it: pip install 'estate-register[postgresql]'.")
        raise RegisterFault("PostgreSQL's driver is missing", f"{shown(url)}: {error}.", remedy) from error


def _patience(url: str) -> dict[str, int]:
    """How long a server is waited for, unless the address says so: a dead wire is noticed within a minute."""
    asked = make_url(url).query
    return {key: value for key, value in _SERVER_PATIENCE.items() if key not in asked}


CACHE_KIB = 16_384
"""Of a file's pages so much is held in memory: a big batch that outgrows it is written to the disk twice."""


def _set_up_sqlite(engine: Engine, journal: str, foreign_keys: bool) -> None:
    @event.listens_for(engine, "connect")
    def _on_connect(connection: Any, record: object) -> None:
        # The driver's own way of starting transactions leaves reads and DDL outside of them.
        connection.isolation_level = None
        connection.execute(f"PRAGMA foreign_keys = {'ON' if foreign_keys else 'OFF'}")
        connection.execute(f"PRAGMA journal_mode = {journal}")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute(f"PRAGMA cache_size = -{CACHE_KIB}")

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Connection) -> None:
        writing = connection.get_execution_options().get("register_writing", True)
        connection.exec_driver_sql(f"PRAGMA query_only = {'OFF' if writing else 'ON'}")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def await_turn(connection: Connection) -> None:
    """Wait on a server until nobody else writes, and let nobody write before this transaction ends."""
    connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{BUSY_SECONDS}s'")
    # Not LOCK TABLE: that asks for rights which let a recorder change the ledger.
    connection.exec_driver_sql("SELECT pg_advisory_xact_lock('ledger_entry'::regclass::bigint)")


class Database:
    """A register's database, open.

    Attributes:
        url: where it is, from `normal_url`; may hold a password.
        stamp: what the ledger tells of the program that writes, and of the clock on the wall.
    """

    def __init__(self, url: str, stamp: Stamp | None = None) -> None:
        self.url = url
        self.stamp = stamp or Stamp(program())
        engine = engine_of(url)
        reading: dict[str, Any] = {"register_writing": False}
        if engine.dialect.name == "postgresql":
            reading |= {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        self._own: list[range] = []
        self._engine = engine
        self._reader = engine.execution_options(**reading)

    @property
    def shown(self) -> str:
        """The address as people may see it."""
        return shown(self.url)

    def close(self) -> None:
        """Give back file handles and connections."""
        self._engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees the register as it stood at its first query, and can't write.

        Raises:
            RegisterFault: the register is in use, damaged or out of reach.
        """
        with told_plainly(self.shown), Session(self._reader) as session:
            yield session

    @contextmanager
    def listening(self) -> Iterator[Connection]:
        """A connection of its own, outside of transactions; for `estate.store.listening` alone."""
        with self._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.detach()  # one that listens must not go back to the others
            yield connection

    @contextmanager
    def beside(self) -> Iterator[Any]:
        """The driver's own connection, apart from all others; for `estate.store.listening` alone."""
        pooled = self._engine.raw_connection()
        connection: Any = pooled.driver_connection
        pooled.detach()
        try:
            yield connection
        finally:
            connection.close()  # not the pool's way, which first asks a server that may be gone

    @property
    def driver_errors(self) -> type[Exception]:
        """What the driver raises."""
        found: type[Exception] = self._engine.dialect.loaded_dbapi.Error
        return found

    @property
    def is_file(self) -> bool:
        """Whether it lies in a file, not on a server."""
        return self._engine.dialect.name == "sqlite"

    def own_entries(self, after: int) -> tuple[range, ...]:
        """Ids of ledger entries after one that were written through this very object."""
        return tuple(each for each in self._own if each[-1] > after)

    def _note_own(self, first: int | None, last: int) -> None:
        if first is None:
            return
        if self._own and self._own[-1].stop == first:
            first = self._own.pop().start
        self._own.append(range(first, last + 1))

    @contextmanager
    def changing(self) -> Iterator[Session]:
        """A session that writes, one writer at a time; for `estate.store.transaction` alone.

        Raises:
            RegisterFault: the register is in use, read-only, damaged or out of reach.
        """
        with told_plainly(self.shown), Session(self._engine) as session:
            connection = session.connection()  # begins now, so that one who waits sees what the other wrote
            if connection.dialect.name == "postgresql":
                await_turn(connection)
            yield session
            try:
                session.commit()
            except DBAPIError as error:
                if not error.connection_invalidated:
                    raise
                self._must_be_kept(session.info.get("last_entry"), error)
            self._note_own(session.info.get("first_entry"), session.info.get("last_entry", (0, ""))[0])

    def _must_be_kept(self, last_entry: tuple[int, str] | None, error: DBAPIError) -> None:
        """Ask the ledger whether a commit without an answer was kept; it is never done again by itself."""
        kept = None
        with suppress(DBAPIError), Session(self._reader) as session:
            query = text("SELECT digest FROM ledger_entry WHERE id = :id")
            number, digest = last_entry or (0, "")
            kept = session.execute(query, {"id": number}).scalar_one_or_none() == digest
        if kept:
            return
        if kept is None:
            detail = phrase(
                "{shown} does not answer; whether the last change was kept is not known.", shown=self.shown
            )
            remedy = phrase(
                "Look, when it answers again, whether the change is there before you do it again."
            )
        else:
            detail = phrase("{shown} broke off before the change was kept.", shown=self.shown)
            remedy = phrase("Do it again; nothing was written.")
        raise RegisterFault("The connection was lost", detail, remedy) from error

"""Making a register and opening one: the revision is checked first, and an older one brought up to date."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, inspect, text
from sqlalchemy.orm import Session

from estate.assets import migrations
from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store.backup import back_up, backup_folder
from estate.store.beginning import begin_where_unchained
from estate.store.chain import Doing, Stamp
from estate.store.database import Database, await_turn, engine_of, normal_url, program, shown, sqlite_path
from estate.store.faults import told_plainly
from estate.store.roles import renew_groups
from estate.store.schema import RegisterRow
from estate.store.transaction import writing

_MAGIC = b"SQLite format 3\x00"
_OTHER_FILE = phrase("Choose a register; its file was made by this program.")


def known_revisions(scripts: Path | None = None) -> tuple[str, ...]:
    """Every schema revision this program knows, oldest first, from the names of the migrations."""
    folder = (scripts or migrations()) / "versions"
    return tuple(sorted(path.name.partition("_")[0] for path in folder.glob("[0-9]*_*.py")))


def newest_revision(scripts: Path | None = None) -> str:
    """The schema revision that registers are kept at.

    Args:
        scripts: another folder of migrations than the program's own.
    """
    return known_revisions(scripts)[-1]


def create(
    url: str | Path,
    name: str,
    identifier: str,
    made_at: datetime,
    *,
    rule_set: str = "uk-healthcare",
    who: str = "",
    stamp: Stamp | None = None,
) -> Database:
    """Make an empty register and open it.

    Args:
        url: a file that does not exist yet, or an empty PostgreSQL database.
        name: what the estate calls it.
        identifier: tells two registers of one name apart.
        made_at: now, with its time zone.
        rule_set: id of the rule set of the whole estate.
        who: the person who makes it.
        stamp: what the ledger tells of program and clock; this program's and machine's when None.

    Raises:
        RegisterFault: something is there already, or the place can't be written.
    """
    address = normal_url(url)
    path = sqlite_path(address)
    if path is not None:
        _must_be_free(path)
    made = False
    try:
        _make_tables(address)
        database = Database(address, stamp)
        with writing(database, who, "made the register", made_at) as tx:
            row = RegisterRow(id=1, name=name, identifier=identifier, made_at=made_at, rule_set=rule_set)
            tx.insert(row)
        made = True
        return database
    finally:
        if not made and path is not None:
            _clear_away(path)


@contextmanager
def made_empty(address: str) -> Iterator[Database]:
    """A new register without a single row, to be filled; nothing of it is left where that fails.

    Raises:
        RegisterFault: something is there already, or the place can't be written.
    """
    path = sqlite_path(address)
    if path is not None:
        _must_be_free(path)
    _make_tables(address)
    database = Database(address)
    filled = False
    try:
        yield database
        filled = True
    finally:
        database.close()
        if not filled:
            _take_away(address, path)


def _take_away(address: str, path: Path | None) -> None:
    if path is not None:
        _clear_away(path)
        return
    engine = engine_of(address)
    try:
        with told_plainly(shown(address)), engine.begin() as connection:
            for table in sorted(_tables(connection)):  # the schema held none before: see _make_tables
                connection.exec_driver_sql(f"DROP TABLE {table} CASCADE")
            connection.exec_driver_sql("DROP FUNCTION refuse_change_of_evidence()")
    finally:
        engine.dispose()


def _must_be_free(path: Path) -> None:
    if path.exists():
        remedy = phrase("Open it, or give another name; nothing was changed.")
        raise RegisterFault("There is a file of that name already", f"{path}.", remedy)
    if not path.parent.is_dir():
        remedy = phrase("Make the folder first, or choose another.")
        raise RegisterFault("There is no such folder", f"{path.parent}.", remedy)


def _clear_away(path: Path) -> None:
    for suffix in ("", "-wal", "-shm", "-journal"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)


def _make_tables(address: str) -> None:
    engine = engine_of(address)
    try:
        with told_plainly(shown(address)), engine.begin() as connection:
            if inspect(connection).get_table_names():
                remedy = phrase("Open it, or have an empty database made for the register.")
                raise RegisterFault("The database is not empty", f"{shown(address)}.", remedy)
            _migrate(connection, migrations())
    finally:
        engine.dispose()


def open_existing(
    url: str | Path, *, scripts: Path | None = None, backups: Path | None = None, is_copy: bool = False
) -> Database:
    """Open a register; an older one is backed up and brought up to date first.

    On PostgreSQL the server's own backups count: none is made here, and the whole upgrade is one transaction.

    Args:
        url: the register's file or address.
        scripts: another folder of migrations than the program's own.
        backups: the folder for the backup; beside the register when None.
        is_copy: True for a copy that was just made of a backup, which needs no further one.

    Raises:
        RegisterFault: it is missing, no register, damaged, newer than the program, or out of reach.
    """
    address = normal_url(url)
    path = sqlite_path(address)
    if path is not None:
        _must_be_sqlite(path)
    engine = engine_of(address)
    try:
        with told_plainly(shown(address)):
            found = _revision(engine, shown(address))
    finally:
        engine.dispose()
    _must_be_known(found, known_revisions(scripts), shown(address))
    if found != newest_revision(scripts):
        if path is not None and not is_copy:
            back_up(path, backups or backup_folder(path), reason="before an upgrade")
        _upgrade(address, scripts or migrations())
    return Database(address)


def _must_be_sqlite(path: Path) -> None:
    if not path.is_file():
        remedy = phrase("Check the path, or make a new register there.")
        raise RegisterFault("There is no register", phrase("{path} does not exist.", path=path), remedy)
    try:
        with path.open("rb") as file:
            start = file.read(len(_MAGIC))
    except OSError as error:
        remedy = phrase("Ask for the right to read the file.")
        raise RegisterFault("The register can't be read", f"{path}: {error.strerror}.", remedy) from error
    if start != _MAGIC:
        detail = phrase("{path} does not begin as a register does.", path=path)
        remedy = phrase(
            "{other_file} If it is one, it is damaged: go on from the latest backup.", other_file=_OTHER_FILE
        )
        raise RegisterFault("That is not a register", detail, remedy)


def _revision(engine: Engine, where: str) -> str:
    """Read the revision by plain SQL, which costs a fraction of what importing alembic costs."""
    with engine.execution_options(register_writing=False).connect() as connection:
        if not {"alembic_version", "register", "ledger_entry"} <= _tables(connection):
            raise RegisterFault(
                "That is not a register", phrase("{where} holds other tables.", where=where), _OTHER_FILE
            )
        rows = connection.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
        named = connection.execute(text("SELECT count(*) FROM register")).scalar_one()
    if len(rows) != 1 or named != 1:
        remedy = phrase("Keep it as it is and go on from the latest backup.")
        raise RegisterFault(
            "The register is damaged", phrase("{where} does not say what it is.", where=where), remedy
        )
    return str(rows[0])


def _tables(connection: Connection) -> set[str]:
    if connection.dialect.name == "sqlite":
        query = "SELECT name FROM sqlite_master WHERE type = 'table'"
    else:
        query = "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()"
    return set(connection.execute(text(query)).scalars())


def _must_be_known(found: str, known: tuple[str, ...], where: str) -> None:
    if found in known:
        return
    detail = phrase(
        "{where} has revision {found}; this program knows up to {known}.",
        where=where,
        found=found,
        known=known[-1],
    )
    remedy = phrase("Install the newest version of the program and open it with that; nothing was changed.")
    raise RegisterFault("The register is newer than this program", detail, remedy)


def _upgrade(address: str, scripts: Path) -> None:
    # Rebuilding a SQLite table drops the old one, which foreign keys would forbid while it is done.
    engine = engine_of(address, foreign_keys=False)
    try:
        with told_plainly(shown(address)), engine.begin() as connection:
            if connection.dialect.name == "postgresql":
                await_turn(connection)
            _migrate(connection, scripts)
            if (
                connection.dialect.name == "sqlite"
                and connection.exec_driver_sql("PRAGMA foreign_key_check").all()
            ):
                remedy = phrase("Nothing was changed; go on with the program you had and report this.")
                raise RegisterFault(
                    "The upgrade failed",
                    phrase("{shown}: rows lost their place.", shown=shown(address)),
                    remedy,
                )
            _begin_trail(connection)
    finally:
        engine.dispose()


def _begin_trail(connection: Connection) -> None:
    # In the same transaction: a register of this revision without a trail is one whose trail was wiped.
    doing = Doing("the program", "brought up to date", datetime.now(UTC), "", Stamp(program()))
    with Session(connection) as session:
        begin_where_unchained(session, doing)
        renew_groups(session)


def _migrate(connection: Connection, scripts: Path) -> None:
    from alembic import command  # noqa: PLC0415 - its import costs more than opening a register
    from alembic.config import Config  # noqa: PLC0415 - as above

    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def fresh_schema() -> dict[str, str | None]:
    """What SQLite says of a new register's tables, indexes and triggers: their definitions, by name."""
    engine = create_engine("sqlite://")
    try:
        with engine.begin() as connection:
            _migrate(connection, migrations())
            rows = connection.exec_driver_sql("SELECT name, sql FROM sqlite_master").all()
            return {str(row[0]): row[1] for row in rows}
    finally:
        engine.dispose()

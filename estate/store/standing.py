"""What a register's file holds, by plain SQLite, so that files of any revision can be compared."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store.faults import told_plainly

MAGIC: Final = b"SQLite format 3\x00"
BUSY_S = 15.0
_NEEDED: Final = {"alembic_version", "register", "ledger_entry"}


@dataclass(frozen=True, slots=True)
class Standing:
    """How a register stands.

    Attributes:
        identifier: made once with the register.
        revision: of its tables.
        head: the newest ledger entry, every column; empty where there is none.
        entries: how many ledger entries there are.
    """

    identifier: str
    name: str
    revision: str
    head: tuple[Any, ...]
    entries: int


@contextmanager
def opened(path: Path, busy_s: float | None = None) -> Iterator[sqlite3.Connection]:
    """A file, opened as it lies; never made by opening it.

    Raises:
        RegisterFault: there is no such file, it is no register's, or it can't be read.
    """
    if not path.is_file():
        remedy = phrase("Check the path, and whether the folder is there.")
        raise RegisterFault("There is no such file", f"{path}.", remedy)
    if not begins_well(path):
        remedy = phrase(
            "Choose another file; if this should be one, it is damaged: keep it and go on from another."
        )
        raise RegisterFault(
            "That is not a register", phrase("{path} does not begin as a register does.", path=path), remedy
        )
    # Opened for writing, or SQLite would leave the log's files beside the register.
    source = f"{path.absolute().as_uri()}?mode=rw"
    with told_plainly(str(path)):
        connection = sqlite3.connect(
            source, uri=True, timeout=BUSY_S if busy_s is None else busy_s, isolation_level=None
        )
        with closing(connection):
            yield connection


def begins_well(path: Path) -> bool:
    """Whether a file begins as a register's does.

    Raises:
        RegisterFault: it can't be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(len(MAGIC)) == MAGIC
    except OSError as error:
        remedy = phrase("Ask for the right to read the file.")
        raise RegisterFault("The file can't be read", f"{path}: {error.strerror}.", remedy) from error


def standing(connection: sqlite3.Connection, where: Path) -> Standing:
    """How the register of an open file stands.

    Raises:
        RegisterFault: it holds no register.
    """
    if _NEEDED - set(tables(connection)):
        raise RegisterFault(
            "That is not a register",
            phrase("{where} holds other tables.", where=where),
            "Choose another file.",
        )
    named = connection.execute("SELECT identifier, name FROM register").fetchall()
    revisions = connection.execute("SELECT version_num FROM alembic_version").fetchall()
    if len(named) != 1 or len(revisions) != 1:
        remedy = phrase("Keep it as it is and go on from the latest backup.")
        raise RegisterFault(
            "The register is damaged", phrase("{where} does not say what it is.", where=where), remedy
        )
    head = connection.execute("SELECT * FROM ledger_entry ORDER BY id DESC LIMIT 1").fetchone()
    entries = connection.execute("SELECT count(*) FROM ledger_entry").fetchone()[0]
    identifier, name = named[0]
    return Standing(identifier, name, revisions[0][0], head or (), entries)


def standing_of(path: Path) -> Standing:
    """How the register in a file stands.

    Raises:
        RegisterFault: it holds none, or can't be read.
    """
    with opened(path) as connection:
        return standing(connection, path)


def counts(connection: sqlite3.Connection) -> dict[str, int]:
    """How many rows each table has."""
    return {
        table: connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()[0]
        for table in tables(connection)
    }


def tables(connection: sqlite3.Connection) -> list[str]:
    """The names of the tables."""
    query = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
    return [name for (name,) in connection.execute(query)]


def unsound(connection: sqlite3.Connection) -> str:
    """What is wrong with a file; empty where it is whole."""
    try:
        said: str = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if said == "ok" and connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
            said = "rows point to rows that are not there"
    except sqlite3.DatabaseError as error:
        if "malformed" not in str(error):
            raise
        said = str(error)
    return "" if said == "ok" else said

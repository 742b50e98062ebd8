"""What one register's file holds that another of the same register does not."""

import sqlite3
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any, Final

from estate.domain.dates import day_words
from estate.store.standing import opened

_OLD_LEDGER: Final = ("id", "at", "who", "what", "noun", "row_id", "action", "after")
"""What ledger entries of every revision have."""

_DOCUMENT: Final = ("id", "noun", "row_id", "name", "sha256", "who", "at")


@dataclass(frozen=True, slots=True)
class Only:
    """Rows of one kind that one of two files has and the other has not.

    Attributes:
        noun: ``visit``, ``batch``, ``outlet``, ``document`` or ``ledger entry``.
        count: how many.
        newest: the newest of them in words.
    """

    noun: str
    count: int
    newest: str


def differences(path: Path, other: Path) -> tuple[tuple[Only, ...], tuple[Only, ...]]:
    """What a file has that the other has not, and the other way round; kinds without any are left out.

    Raises:
        RegisterFault: one of them can't be read.
    """
    with opened(other), opened(path) as connection:
        connection.execute("ATTACH ? AS other", (f"{other.absolute().as_uri()}?mode=rw",))
        return _only(connection, "main", "other"), _only(connection, "other", "main")


def _only(connection: sqlite3.Connection, one: str, two: str) -> tuple[Only, ...]:
    shared = _shared(connection, "visit")
    batch = [name for name in _shared(connection, "batch") if name != "content"]
    found = (
        _of(connection, one, two, "visit", shared, "visited_on DESC, id DESC"),
        _of(connection, one, two, "batch", batch, "at DESC, id DESC"),
        _of(connection, one, two, "outlet", ("id", "reference"), "id DESC"),
        _documents(connection, one, two),
        _of(connection, one, two, "ledger_entry", _OLD_LEDGER, "id DESC"),
    )
    return tuple(each for each in found if each is not None)


def _documents(connection: sqlite3.Connection, one: str, two: str) -> Only | None:
    """Documents; a file of an earlier revision has no table of them."""
    query = "SELECT count(*) FROM {}.sqlite_master WHERE name = 'document'"
    there = {schema: connection.execute(query.format(schema)).fetchone()[0] for schema in (one, two)}
    if not there[one]:
        return None
    if not there[two]:
        two, only = one, "WHERE false"
    else:
        only = ""
    names = ", ".join(_DOCUMENT)
    query = f"SELECT {names} FROM {one}.document EXCEPT SELECT {names} FROM {two}.document {only}"
    return _newest(connection, one, "document", _DOCUMENT, query, "id DESC")


def _shared(connection: sqlite3.Connection, table: str) -> list[str]:
    """The columns that a table has in both files, which may be of different revisions."""
    query = "SELECT name FROM pragma_table_info(?, ?)"
    there = {name for (name,) in connection.execute(query, (table, "other"))}
    return [name for (name,) in connection.execute(query, (table, "main")) if name in there]


def _of(
    connection: sqlite3.Connection, one: str, two: str, table: str, columns: Any, order: str
) -> Only | None:
    names = ", ".join(columns)
    only = f"SELECT {names} FROM {one}.{table} EXCEPT SELECT {names} FROM {two}.{table}"
    return _newest(connection, one, table, columns, only, order)


def _newest(
    connection: sqlite3.Connection, one: str, table: str, columns: Any, only: str, order: str
) -> Only | None:
    newest = f"SELECT *, count(*) OVER () FROM ({only}) ORDER BY {order} LIMIT 1"
    found = connection.execute(newest).fetchone()
    if found is None:
        return None
    row = dict(zip(columns, found, strict=False))
    return Only(table.replace("_", " "), found[-1], _words(connection, one, table, row))


def _words(connection: sqlite3.Connection, schema: str, table: str, row: dict[str, Any]) -> str:
    if table == "outlet":
        return str(row["reference"])
    if table == "visit":
        query = f"SELECT reference FROM {schema}.outlet WHERE id = ?"
        outlet = connection.execute(query, (row["outlet_id"],)).fetchone()[0]
        return f"{row['kind']} of {outlet} on {day_words(date.fromisoformat(row['visited_on']))}"
    moment = datetime.fromisoformat(row["at"])
    who = row["who"] or "nobody named"
    when = f"{day_words(moment.date())}, {moment:%H:%M} UTC"
    if table == "document":
        return f"{row['name']}, added by {who} on {when}"
    if table == "batch":
        return f"{row['file']}, {row['accepted']} rows, brought in by {who} on {when}"
    return f"{row['what']}, by {who} on {when}"

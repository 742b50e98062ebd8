"""Many rows of one table at once, handed to the driver as they are."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, Date, Dialect, Table

from estate.store.columns import UtcMoment


def insert_rows(
    connection: Connection, table: Table, names: Sequence[str], rows: Sequence[tuple[Any, ...]]
) -> None:
    """Add rows to a table.

    SQLAlchemy would walk every value of every row again; here only days and moments are, whose kinds differ
    between the drivers and of which a batch has few distinct ones.

    Args:
        connection: inside the transaction.
        table: the table.
        names: its columns, in the order in which `rows` have their values.
        rows: the values.
    """
    if not rows:
        return
    quote = connection.dialect.identifier_preparer.quote
    mark = "?" if connection.dialect.paramstyle == "qmark" else "%s"
    columns, marks = ", ".join(quote(name) for name in names), ", ".join([mark] * len(names))
    statement = f"INSERT INTO {quote(table.name)} ({columns}) VALUES ({marks})"
    connection.exec_driver_sql(statement, list(_as_driven(connection.dialect, table, names, rows)))


class _Written(dict[Any, Any]):
    """Values as the driver takes them; each distinct one is worked out once."""

    def __init__(self, write: Callable[[Any], Any]) -> None:
        self._write = write

    def __missing__(self, value: Any) -> Any:
        written = self[value] = self._write(value)
        return written


def _as_driven(
    dialect: Dialect, table: Table, names: Sequence[str], rows: Sequence[tuple[Any, ...]]
) -> Iterator[tuple[Any, ...]]:
    writers: list[tuple[int, _Written]] = []
    for place, name in enumerate(names):
        kind = table.c[name].type
        told = isinstance(kind, Date | UtcMoment)
        write = kind.dialect_impl(dialect).bind_processor(dialect) if told else None
        if write is not None:
            writers.append((place, _Written(write)))
    for row in rows:
        values = list(row)
        for place, written in writers:
            values[place] = written[values[place]]
        yield tuple(values)

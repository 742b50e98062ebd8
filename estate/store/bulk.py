"""Many rows of one table at once, handed to the driver as they are."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from sqlalchemy import Column, Connection, Date, Dialect, Table

from estate.store.columns import UtcMoment, is_filled

AT_ONCE = 10_000
"""So many rows are handed to the driver at once."""


def insert_rows(
    connection: Connection, table: Table, names: Sequence[str], rows: Sequence[tuple[Any, ...]]
) -> None:
    """Add rows to a table.

    SQLAlchemy would walk every value of every row again; here only days and moments are, whose kinds differ
    between the drivers and of which a batch has few distinct ones. A column in which nothing stands is not
    told at all: a visit has dozens of them.

    Args:
        connection: inside the transaction.
        table: the table.
        names: its columns, in the order in which `rows` have their values.
        rows: the values.
    """
    columns = [table.c[name] for name in names]
    for first in range(0, len(rows), AT_ONCE):
        values = zip(*rows[first : first + AT_ONCE], strict=True)
        _insert(connection, table, dict(zip(columns, values, strict=True)))


def _insert(connection: Connection, table: Table, values: dict[Column[Any], tuple[Any, ...]]) -> None:
    dialect = connection.dialect
    quote = dialect.identifier_preparer.quote
    told = {column: each for column, each in values.items() if _is_told(column, each)}
    mark = "?" if dialect.paramstyle == "qmark" else "%s"
    columns, marks = ", ".join(quote(column.name) for column in told), ", ".join([mark] * len(told))
    statement = f"INSERT INTO {quote(table.name)} ({columns}) VALUES ({marks})"
    written = [_as_driven(dialect, column, each) for column, each in told.items()]
    connection.exec_driver_sql(statement, list(zip(*written, strict=True)))


def _is_told(column: Column[Any], values: tuple[Any, ...]) -> bool:
    """Whether anything stands in a column, or the database would put something there by itself."""
    return column.server_default is not None or is_filled(values)


class _Written(dict[Any, Any]):
    """Values as the driver takes them; each distinct one is worked out once."""

    def __init__(self, write: Callable[[Any], Any]) -> None:
        self._write = write

    def __missing__(self, value: Any) -> Any:
        written = self[value] = self._write(value)
        return written


def _as_driven(dialect: Dialect, column: Column[Any], values: Iterable[Any]) -> Iterable[Any]:
    kind = column.type
    told = isinstance(kind, Date | UtcMoment)
    write = kind.dialect_impl(dialect).bind_processor(dialect) if told else None
    return values if write is None else map(_Written(write).__getitem__, values)

"""Rows as the driver gives them, page by page: nothing that was put in place of a value is smoothed over."""

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import Table, literal_column, select
from sqlalchemy.orm import Session

import estate.store.batch_schema
import estate.store.document_schema
import estate.store.life_schema
import estate.store.trust_schema
import estate.store.visit_schema  # noqa: F401 - these modules put their tables into the metadata
from estate.store.columns import Row, rows_at_once


def tables() -> tuple[Table, ...]:
    """Every table but the ledger, those that others refer to first."""
    return tuple(each for each in Row.metadata.sorted_tables if each.name != "ledger_entry")


def raw_rows(
    session: Session, table: Table, names: Sequence[str], above: int | None = None, up_to: int | None = None
) -> Iterator[tuple[Any, ...]]:
    """Rows by id, the id first.

    Args:
        names: the columns wanted; the first is the id.
        above: only rows with a greater id.
        up_to: only rows with at most this id.
    """
    quote = session.connection().dialect.identifier_preparer.quote
    # Columns without a type: SQLAlchemy would turn a day that is none into an error, and a 2 into True.
    columns: list[Any] = [literal_column(quote(name)) for name in names]
    last, at_once = above, rows_at_once(table)
    while True:
        query = select(*columns).select_from(table).order_by(table.c.id).limit(at_once)
        if last is not None:
            query = query.where(table.c.id > last)
        if up_to is not None:
            query = query.where(table.c.id <= up_to)
        rows = session.execute(query).all()
        yield from (tuple(row) for row in rows)
        if len(rows) < at_once:
            return
        last = rows[-1][0]

"""Every table as it stands, for exports."""

from collections.abc import Iterator
from typing import Any

from sqlalchemy import LargeBinary, Table, select
from sqlalchemy.orm import Session

import estate.store.batch_schema
import estate.store.document_schema
import estate.store.life_schema
import estate.store.schema
import estate.store.trust_schema
import estate.store.visit_schema  # noqa: F401 - these modules put their tables into the metadata
from estate.store.columns import Row

_ROWS_AT_ONCE = 2000


def every_table(session: Session) -> Iterator[tuple[str, list[str], Iterator[tuple[Any, ...]]]]:
    """Each table's name, its columns and its rows by id; a file's bytes are left out.

    The rows of a table must be taken before the next table is asked for.
    """
    for table in Row.metadata.sorted_tables:
        columns = [column for column in table.columns if not isinstance(column.type, LargeBinary)]
        yield table.name, [column.name for column in columns], _rows(session, table, columns)


def _rows(session: Session, table: Table, columns: list[Any]) -> Iterator[tuple[Any, ...]]:
    query = select(*columns).order_by(table.c.id).execution_options(yield_per=_ROWS_AT_ONCE)
    for row in session.execute(query):
        yield tuple(row)

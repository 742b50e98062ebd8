"""Column types and naming shared by every table."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Date, DateTime, Dialect, Double, LargeBinary, MetaData, Table, Text, TypeDecorator
from sqlalchemy.orm import DeclarativeBase

NAMING = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}


class UtcMoment(TypeDecorator[datetime]):
    """A moment kept in UTC; one without a time zone is refused, because its meaning would be a guess."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn into UTC before it is written."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a moment needs a time zone: {value.isoformat()}")
        return value.astimezone(UTC)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """Give back in UTC; SQLite keeps no time zone."""
        if value is None:
            return None
        moment: datetime = value
        return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)


class Row(DeclarativeBase):
    """Base of all tables: every one has a number of its own as primary key."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map = {  # noqa: RUF012 - the base class reads it once, as SQLAlchemy documents
        str: Text(),
        float: Double(),
        date: Date(),
        datetime: UtcMoment(),
        bytes: LargeBinary(),
    }


_ROWS_AT_ONCE = 1000
_FILES_AT_ONCE = 4


def rows_at_once(table: Table) -> int:
    """How many rows of a table are taken at once; few where each may hold a whole file."""
    whole_files = any(isinstance(each.type, LargeBinary) for each in table.columns)
    return _FILES_AT_ONCE if whole_files else _ROWS_AT_ONCE


def is_filled(values: Sequence[Any]) -> bool:
    """Whether anything stands in a column of rows, at least one."""
    return values[0] is not None or values.count(None) < len(values)

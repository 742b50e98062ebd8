"""Visits from rows of `visit`: written for hundreds of thousands of rows at a time."""

import gc
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import Any, Final

from sqlalchemy import Select, select, type_coerce
from sqlalchemy.types import NullType

from estate.domain.visits import Isolation, Readings, Standing, Visit, VisitDraft, VisitKind
from estate.store.records import SOURCE_COLUMNS, reading_columns, source_of
from estate.store.visit_schema import VisitRow

_READINGS = reading_columns()
VISIT_COLUMNS: Final = (
    *("id", "valve_id", "outlet_id", "kind", "visited_on"),
    *("person", "instrument_id", "instrument_words", "remarks"),
    *_READINGS,
    *("recorded_at", "recorded_by", "batch_id", "corrects"),
    *SOURCE_COLUMNS,
)
"""The columns in the order that `visits_of` reads them by place."""

_FIRST = 9
_COLD = _FIRST + _READINGS.index("cold_isolated_max_c")
_HOT = _FIRST + _READINGS.index("hot_isolated_max_c")
_SEEN = _HOT + (_HOT - _COLD)
_ENTRY = _FIRST + len(_READINGS)
_SOURCE = _ENTRY + 4
_KINDS: Final = {kind.value: kind for kind in VisitKind}
_NOTHING: Final = Isolation()
_RECORDED: Final = Standing.RECORDED
_TIMES: Final = ("visited_on", "recorded_at")
_NO_ISOLATION: Final = (None,) * (_HOT - _COLD)


def _isolation(values: Sequence[Any]) -> Isolation:
    return _NOTHING if values == _NO_ISOLATION else Isolation(*values)


def _readings(row: Sequence[Any]) -> Readings:
    isolations = (_isolation(row[_COLD:_HOT]), _isolation(row[_HOT:_SEEN]))
    return Readings(*(*row[_FIRST:_COLD], *isolations, *row[_SEEN:_ENTRY]))


@contextmanager
def uncollected() -> Iterator[None]:
    """Make many values at once: they hold no cycles, and the collector would walk them again and again."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            # What was made meanwhile is put with the long-lived values, else it would be walked at once.
            gc.freeze()
            gc.unfreeze()
            gc.enable()


def visit_query(sources: bool) -> Select[Any]:
    """All visits, by valve, day and id; days and moments come as the driver gives them.

    Args:
        sources: whether to read where entries came from.
    """
    table = VisitRow.__table__
    columns = [table.c[name] for name in VISIT_COLUMNS[: None if sources else _SOURCE]]
    plain = [
        type_coerce(each, NullType()).label(each.name) if each.name in _TIMES else each for each in columns
    ]
    return select(*plain).order_by(table.c.valve_id, table.c.visited_on, table.c.id)


class _Days(dict[Any, date]):
    """Days as the driver gives them to dates; each of the few distinct ones is read once."""

    def __missing__(self, told: date | str) -> date:
        day = self[told] = date.fromisoformat(told) if isinstance(told, str) else told
        return day


class _Moments(dict[Any, datetime]):
    """Moments as the driver gives them to UTC."""

    def __missing__(self, told: datetime | str) -> datetime:
        moment = datetime.fromisoformat(told) if isinstance(told, str) else told
        utc = self[told] = moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
        return utc


def visits_of(
    rows: Iterable[Sequence[Any]], reasons: Mapping[int, str], corrected: Collection[int], sources: bool
) -> list[Visit]:
    """Visits from rows of `visit_query`.

    Args:
        rows: values in the order of `VISIT_COLUMNS`.
        reasons: why entries are void, by their id.
        corrected: ids of entries that a later one corrects.
        sources: whether the rows tell where entries came from.
    """
    days, moments = _Days(), _Moments()
    found: list[Visit] = []
    for row in rows:
        visit_id = row[0]
        source = source_of(*row[_SOURCE:]) if sources else None
        said = (*row[5:_FIRST], source)
        draft = VisitDraft(row[1], row[2], _KINDS[row[3]], days[row[4]], _readings(row), *said)
        recorded_at, recorded_by, batch_id, corrects = row[_ENTRY:_SOURCE]
        standing, reason = _RECORDED, ""
        if visit_id in reasons:
            standing, reason = Standing.VOID, reasons[visit_id]
        elif visit_id in corrected:
            standing = Standing.CORRECTED
        moment = moments[recorded_at]
        found.append(Visit(visit_id, draft, moment, recorded_by, batch_id, standing, corrects, reason))
    return found

"""Taking back what a batch wrote to places and valves: what leans on it, and the way back."""

import json
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy import Column, Date, Table, select
from sqlalchemy.orm import Session

from estate.domain.register import WrittenEntry
from estate.store import documents, ledger
from estate.store.batch_schema import BatchUndoRow, WrittenRow
from estate.store.canonical import UNTOLD
from estate.store.columns import Row
from estate.store.parting import parts
from estate.store.schema import (
    BuildingRow,
    FittingRow,
    LedgerEntryRow,
    LevelRow,
    OutletRow,
    PositionRow,
    RoomRow,
    SiteRow,
    ValveRow,
)
from estate.store.transaction import Transaction

ROW_CLASSES: Final[Mapping[str, type[Row]]] = {
    each.__tablename__: each
    for each in (SiteRow, BuildingRow, LevelRow, RoomRow, PositionRow, OutletRow, ValveRow, FittingRow)
}
"""Tables of places and valves by their names."""
_SHARED: Final = ("site", "building", "level", "room")


@dataclass(frozen=True, slots=True)
class Tie:
    """A row from outside a batch that refers to a row which the batch added.

    Attributes:
        noun, row_id: the row that the batch added.
        by, by_id: the table and row that refers to it.
    """

    noun: str
    row_id: int
    by: str
    by_id: int


@dataclass(frozen=True, slots=True)
class LaterChange:
    """A row that no longer is as a batch left it.

    Attributes:
        columns: what differs, with what stands there now.
        who, at, what: the last change of the row, as the ledger tells it.
    """

    noun: str
    row_id: int
    columns: tuple[tuple[str, object], ...]
    who: str
    at: datetime
    what: str


def ties(session: Session, entries: Sequence[WrittenEntry], shared: bool = False) -> tuple[Tie, ...]:
    """What refers to the outlets, positions and valves that a batch or a change by hand added.

    Sites, buildings, levels and rooms are shared: one that others use stays when the batch is undone.

    Args:
        session: reads.
        entries: what it wrote.
        shared: True asks for sites, buildings, levels and rooms as well.
    """
    added, moved = _added(entries), _moved(entries)
    found: list[Tie] = []
    for noun in (*(_SHARED if shared else ()), "outlet", "position", "valve"):
        for column in _referring(noun):
            by = column.table.name
            own = added[by] | moved[by, column.name]
            for row_id, by_id in _pairs(session, column, added[noun]):
                if by_id not in own:
                    found.append(Tie(noun, row_id, by, by_id))
        kept = documents.owners_with_documents(session, noun, added[noun])
        found += [Tie(noun, row_id, "document", document_id) for row_id, document_id in kept]
    return tuple(found)


def _added(entries: Iterable[WrittenEntry]) -> defaultdict[str, set[int]]:
    found: defaultdict[str, set[int]] = defaultdict(set)
    for each in entries:
        if each.action == "added":
            found[each.noun].add(each.row_id)
    return found


def _moved(entries: Iterable[WrittenEntry]) -> defaultdict[tuple[str, str], set[int]]:
    """Rows of which the batch changed a column, by table and column: they are put back first."""
    found: defaultdict[tuple[str, str], set[int]] = defaultdict(set)
    for each in entries:
        for column, _ in each.before:
            found[each.noun, column].add(each.row_id)
    return found


def _referring(noun: str) -> list[Column[Any]]:
    return [
        key.parent
        for table in Row.metadata.sorted_tables
        for key in sorted(table.foreign_keys, key=lambda each: each.parent.name)
        if key.column.table.name == noun
    ]


def _pairs(session: Session, column: Column[Any], ids: Collection[int]) -> Iterator[tuple[int, int]]:
    for part in parts(ids):
        query = select(column, column.table.c.id).where(column.in_(part)).order_by(column.table.c.id)
        yield from (tuple(row) for row in session.execute(query))


def changed_since(session: Session, entries: Sequence[WrittenEntry]) -> tuple[LaterChange, ...]:
    """Rows that a batch added or changed and that stand otherwise now than it left them."""
    left: dict[str, dict[int, dict[str, object]]] = {noun: {} for noun in ROW_CLASSES}
    for noun, ids in _added(entries).items():
        left[noun] = as_added(session, noun, ids)
    for each in entries:
        left[each.noun].setdefault(each.row_id, {}).update(each.after)
    return tuple(
        _told(session, noun, row_id, differing)
        for noun, rows in left.items()
        for row_id, held in _held(session, noun, rows)
        if (differing := _differing(rows[row_id], held))
    )


def as_added(session: Session, noun: str, ids: Collection[int]) -> dict[int, dict[str, object]]:
    """What the ledger tells of rows when they were added; a column without a value is not told there."""
    blank = dict.fromkeys(_table(noun).columns.keys())
    for own in ("id", UNTOLD):
        del blank[own]
    found: dict[int, dict[str, object]] = {}
    for part in parts(ids):
        query = select(LedgerEntryRow.row_id, LedgerEntryRow.after).where(
            LedgerEntryRow.noun == noun, LedgerEntryRow.row_id.in_(part), LedgerEntryRow.action == "added"
        )
        rows = session.execute(query)
        found |= {row_id: blank | json.loads(after) for row_id, after in rows if row_id is not None}
    return found


def _held(session: Session, noun: str, ids: Collection[int]) -> Iterator[tuple[int, dict[str, object]]]:
    table = _table(noun)
    for part in parts(ids):
        for row in session.execute(select(*table.columns).where(table.c.id.in_(part)).order_by(table.c.id)):
            yield row.id, json.loads(ledger.written(row._asdict(), keep_empty=True))


def _differing(left: Mapping[str, object], held: Mapping[str, object]) -> tuple[tuple[str, object], ...]:
    return tuple((column, held[column]) for column, value in left.items() if held[column] != value)


def _told(session: Session, noun: str, row_id: int, differing: tuple[tuple[str, object], ...]) -> LaterChange:
    last = ledger.entries(session, noun, row_id)[-1]
    return LaterChange(noun, row_id, differing, last.who, last.at, last.what)


def take_back(tx: Transaction, entries: Sequence[WrittenEntry]) -> None:
    """Take back what a batch wrote: rows that it added are removed, columns that it changed put back.

    A site, building, level or room that an undone batch added goes when nothing lies in it any more; one in
    which something of others lies stays.
    """
    added, there = _added(entries), _there(tx.session, entries)
    # Fittings first, so that the one before is free to be in place again; what others refer to comes last.
    for noun in ("fitting", "outlet"):
        tx.remove_many(ROW_CLASSES[noun], added[noun])
    for entry in reversed(entries):
        changed = entry.action == "changed" and entry.row_id in there[entry.noun]
        if changed and entry.row_id not in added[entry.noun]:
            before = values_of(_table(entry.noun), entry.before)
            tx.amend(ROW_CLASSES[entry.noun], entry.row_id, **before)
    for noun in ("valve", "position"):
        tx.remove_many(ROW_CLASSES[noun], added[noun])
    for noun in reversed(_SHARED):
        tx.remove_many(ROW_CLASSES[noun], _left_empty(tx.session, noun))
    tx.touch(everything=bool(entries))


def _there(session: Session, entries: Iterable[WrittenEntry]) -> defaultdict[str, set[int]]:
    """Rows of a batch that are there still; an outlet without a valve may have been removed by hand."""
    wanted: defaultdict[str, set[int]] = defaultdict(set)
    for each in entries:
        wanted[each.noun].add(each.row_id)
    found: defaultdict[str, set[int]] = defaultdict(set)
    for noun, ids in wanted.items():
        for part in parts(ids):
            query = select(_table(noun).c.id).where(_table(noun).c.id.in_(part))
            found[noun].update(session.execute(query).scalars())
    return found


def _left_empty(session: Session, noun: str) -> set[int]:
    """Rows that batches added which are undone, and to which nothing refers."""
    query = (
        select(_table(noun).c.id)
        .join(WrittenRow, (WrittenRow.noun == noun) & (WrittenRow.row_id == _table(noun).c.id))
        .join(BatchUndoRow, BatchUndoRow.batch_id == WrittenRow.batch_id)
        .where(WrittenRow.action == "added")
    )
    there = set(session.execute(query).scalars())
    used = {row_id for column in _referring(noun) for row_id, _ in _pairs(session, column, there)}
    used |= {row_id for row_id, _ in documents.owners_with_documents(session, noun, there)}
    return there - used - _moved_out_of(session, noun)


def _moved_out_of(session: Session, noun: str) -> set[int]:
    """Rooms from which a batch moved something: it comes back there when that batch is undone."""
    column = f"{noun}_id"
    undone = select(BatchUndoRow.batch_id)
    query = select(WrittenRow.before).where(
        WrittenRow.action == "changed",
        WrittenRow.batch_id.not_in(undone),
        WrittenRow.before.contains(f'"{column}"', autoescape=True),
    )
    return {json.loads(before)[column] for before in session.execute(query).scalars()}


def values_of(table: Table, before: Iterable[tuple[str, object]]) -> dict[str, Any]:
    """The values of columns as they are written, from those that the trail tells."""
    return {
        name: date.fromisoformat(value)
        if isinstance(table.c[name].type, Date) and isinstance(value, str)
        else value
        for name, value in before
    }


def _table(noun: str) -> Table:
    return Row.metadata.tables[noun]
